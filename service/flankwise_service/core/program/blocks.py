"""Program text taken apart into blocks and words, strictly: what isn't understood is a fault.

Runs in time proportional to the text; no input makes it raise.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from flankwise_service.core.program.plain import Shape, shapes

GREATEST_TEXT = 1_000_000
"""Longest program text read, in characters."""
LONGEST_BLOCK = 256
"""NISTIR 6556, 3.1 (memory)."""
SHOWN = 60
FEWEST = 16
"""Plain lines in a row from which on it pays to take them at once."""

_PIECE = re.compile(
    r"(?P<letter>[A-Za-z])[ \t]*"
    r"(?P<number>[+-]?(?:[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12}))(?![0-9.])"
    r"|\((?P<comment>[^()]*)\)"
    r"|;(?P<rest>.*)"
    r"|(?P<blank>[ \t]+)"
)

_USUAL = re.compile(
    r"[A-Z]-?[0-9]{1,12}(?:\.[0-9]{0,12})?(?: [A-Z]-?[0-9]{1,12}(?:\.[0-9]{0,12})?)*"
)
"""Blocks as most programs have them: upper case, one blank between words. A shorter way only."""
_REMARK = re.compile(r"\(([\t -'*-~]*)\)")
"""Blocks that are one comment, nothing else. A shorter way only."""


Word = tuple[str, float]
"""One word: its letter, upper case, and its value."""


class Block(NamedTuple):
    """One line: its place in the text from 1, its line number if any, words and comments."""

    line: int
    number: int | None
    words: tuple[Word, ...]
    comments: tuple[str, ...]
    text: str


class BlockFault(NamedTuple):
    """What is wrong with one block, by its place in the text from 1."""

    line: int
    code: str
    detail: str
    change: str
    text: str = ""


def blocks(text: str) -> Iterator[Block | BlockFault]:
    """Yield each block with words or comments, or the fault that keeps it from being read.

    >>> [block.words for block in blocks("N10 G01 X-.5 (cut)")]
    [(('G', 1.0), ('X', -0.5))]
    >>> next(blocks("G01 X1..5")).code
    'not_a_word'
    """
    for piece in pieces(text):
        if isinstance(piece, Stretch):
            yield from piece.blocks()
        else:
            yield piece


class Stretch(NamedTuple):
    """Plain lines one after the other, the first at `line` of the text, not yet taken apart."""

    line: int
    lines: list[str]
    forms: list[Shape | None]
    """Of all its lines: none is None."""

    def after(self, count: int) -> Stretch:
        """Return the lines after the first so many."""
        return Stretch(self.line + count, self.lines[count:], self.forms[count:])

    def blocks(self) -> Iterator[Block | BlockFault]:
        """Yield its lines one by one."""
        for index, raw in enumerate(self.lines, start=self.line):
            yield _block(index, raw.removesuffix("\r"))


def pieces(text: str) -> Iterator[Block | BlockFault | Stretch]:
    """Yield each block as `blocks` does, but longer rows of plain lines as one stretch.

    >>> [type(piece).__name__ for piece in pieces("M03\\n" + "G01 X1. F9.\\n" * 20)]
    ['Block', 'Stretch']
    """
    if len(text) > GREATEST_TEXT:
        yield BlockFault(0, "text_too_long", f"the text has {len(text)} characters",
                         f"send at most {GREATEST_TEXT}")  # fmt: skip
        return
    lines, forms = text.split("\n"), shapes(text)
    plain = bytes(map(bool, forms)) + b"\0"
    marks = at = 0
    while at < len(lines):
        end = plain.find(b"\0", at)
        if end - at >= FEWEST and marks < 2:
            yield Stretch(at + 1, lines[at:end], forms[at:end])
            at = end
            continue
        line = lines[at].removesuffix("\r").strip(" \t")
        at += 1
        if line == "%":
            marks += 1
        elif marks > 1 and line:
            yield BlockFault(at, "after_end", "text after the closing %", "end the text there",
                             line[:SHOWN])  # fmt: skip
            return
        elif line:
            yield _block(at, line)


def _block(index: int, line: str) -> Block | BlockFault:
    """Return one line's words, or its first fault."""
    if len(line) <= LONGEST_BLOCK and _USUAL.fullmatch(line):
        usual = [(word[0], float(word[1:])) for word in line.split(" ")]
        return _numbered(index, line, usual, ())
    if len(line) <= LONGEST_BLOCK and (remark := _REMARK.fullmatch(line)):
        return Block(index, None, (), (remark[1],), line)
    if len(line) > LONGEST_BLOCK:
        return BlockFault(index, "block_too_long", f"a block of {len(line)} characters",
                          f"keep blocks to {LONGEST_BLOCK} characters", line[:SHOWN])  # fmt: skip
    if not (line.isascii() and line.replace("\t", " ").isprintable()):
        return BlockFault(index, "not_printable", "a character outside printable ASCII",
                          "take it out", ascii(line[:SHOWN]))  # fmt: skip
    words: list[Word] = []
    comments: list[str] = []
    at = 0
    while at < len(line):
        found = _PIECE.match(line, at)
        if found is None:
            return _unreadable(index, line, at)
        at = found.end()
        if found["letter"]:
            words.append((found["letter"].upper(), float(found["number"])))
        elif found["blank"] is None:
            comments.append(found["comment"] if found["rest"] is None else found["rest"])
    return _numbered(index, line, words, tuple(comments))


def _unreadable(index: int, line: str, at: int) -> BlockFault:
    """Return the fault of text that is neither word nor comment."""
    if line[at] == "(":
        return BlockFault(index, "open_comment", "a comment that isn't closed, or opened twice",
                          "close each comment by one )", line[at : at + SHOWN])  # fmt: skip
    if line[at] == "/":
        return BlockFault(
            index, "optional_block", "an optional block: its switch at the control decides",
            "leave it in or take it out", line[:SHOWN],
        )  # fmt: skip
    return BlockFault(index, "not_a_word", f"{line[at : at + 12]!r} is no word of a letter "
                      "and a number", "correct the word", line[:SHOWN])  # fmt: skip


def _numbered(
    index: int, line: str, words: list[Word], comments: tuple[str, ...]
) -> Block | BlockFault:
    """Return the block with its line number taken off."""
    number = None
    if words and words[0][0] == "N":
        value = words.pop(0)[1]
        if not (value.is_integer() and 0 <= value <= 99999):
            return BlockFault(index, "line_number", "a line number that isn't one from 0 to 99999",
                              "correct it", line[:SHOWN])  # fmt: skip
        number = int(value)
    return Block(index, number, tuple(words), comments, line)
