"""Numbers and comments of a program: exact digits, and no text that means something to a control."""

from __future__ import annotations

import random
import re
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.program.blocks import Block, BlockFault, blocks
from flankwise_service.core.program.interpreter import read_program
from flankwise_service.core.program.printing import LETTERS, printed
from flankwise_service.core.program.words import (
    COMMENT_LENGTH,
    comment,
    counts,
    decimal,
    plain,
    tame,
)
from support.program_jobs import texts

SAFE = re.compile(r"[A-Za-z0-9 .,+\-/*='_]*")
LOOSE_WORD = re.compile(r"(?<![A-Za-z])[A-Za-z][ \t_=]*[+-]?[.]?\d")


@pytest.mark.parametrize(
    ("count", "places", "text"),
    [(0, 3, "0.000"), (1, 4, "0.0001"), (-1, 4, "-0.0001"), (-12345, 4, "-1.2345"),
     (10000, 4, "1.0000"), (99999999, 3, "99999.999")],
)  # fmt: skip
def test_a_count_is_printed_with_all_its_digits(count: int, places: int, text: str) -> None:
    assert decimal(count, places) == text


def test_rounding_to_counts_is_to_the_nearest() -> None:
    assert counts(0.00006, 4) == 1
    assert counts(-0.00004, 4) == 0
    assert counts(1.23456, 4) == 12346


@given(st.integers(-(10**9), 10**9), st.integers(3, 6))
@settings(deadline=None)
def test_printing_and_reading_a_count_gives_it_back(count: int, places: int) -> None:
    text = decimal(count, places)
    assert counts(float(text), places) == count
    assert Decimal(text) == Decimal(count).scaleb(-places)
    assert len(text.partition(".")[2]) == places


@given(
    st.lists(st.tuples(*[st.none() | st.integers(-(10**11), 10**11)] * 7), min_size=1, max_size=9),
    st.integers(3, 6), st.randoms(use_true_random=False),
)  # fmt: skip
@settings(deadline=None)
def test_blocks_printed_at_once_are_those_printed_word_by_word(
    rows: list[tuple[int | None, ...]], places: int, rng: random.Random
) -> None:
    codes = [rng.randrange(4) for _ in rows]
    wanted = [
        f"G0{code}" + "".join(
            f" {letter}{decimal(count, places)}"
            for letter, count in zip(LETTERS, row, strict=True)
            if count is not None
        )
        for code, row in zip(codes, rows, strict=True)
    ]  # fmt: skip
    counted = np.array([[count or 0 for count in row] for row in rows], np.int64).T
    shown = np.array([[count is not None for count in row] for row in rows]).T
    assert printed(np.array(codes, np.int64), counted, shown, places) == wanted


@pytest.mark.parametrize(
    ("text", "safe"),
    [
        ("adapter)G0 Z-50", "adapter_G'0 Z'-50"),
        ("rev 2; M30", "rev 2_ M'30"),
        ("%\r\nG00", "___G'00"),
        ("\uff08G1 X5\uff09", "_G'1 X'5_"),
        ("\u0421\u0410M8", "__M'8"),
        ("a\u202eb", "a_b"),
        ("[#1=5]", "__1=5_"),
        ("pitch diameter 0.8216 to 0.8270", "pitch diameter 0.8216 to 0.8270"),
        ("Wei\u00dfk\u00f6rner", "Wei_korner"),
        ("x_5", "x'5"),
        ("X=5", "X'5"),
        ("C45", "C'45"),
        ("S355J2+N", "S'355J'2+N"),
    ],
)  # fmt: skip
def test_text_is_tamed(text: str, safe: str) -> None:
    assert tame(text) == safe


@given(texts, st.sampled_from(["JOB", "-", "TOOL 7"]))
@settings(deadline=None, max_examples=400)
def test_no_text_leaves_its_comment_or_brings_a_word_into_it(text: str, label: str) -> None:
    made = comment(label, text)
    inside = made[1:-1]
    assert made[0] == "("
    assert made[-1] == ")"
    assert len(inside) <= COMMENT_LENGTH
    assert SAFE.fullmatch(inside)
    assert not LOOSE_WORD.search(inside.removeprefix(label))
    assert inside.startswith(label)
    # Read as a block, it is one comment and nothing else.
    (block,) = blocks(made)
    assert isinstance(block, Block)
    assert block.words == ()
    assert block.comments == (inside,)
    # A control that lost the parentheses would find nothing to carry out, or refuse the block.
    (bare,) = [*blocks(inside), Block(1, None, (), (), "")][:1]
    assert isinstance(bare, BlockFault) or not bare.words


@given(texts)
@settings(deadline=None, max_examples=200)
def test_taming_twice_is_taming_once(text: str) -> None:
    assert tame(tame(text)) == tame(text)
    assert plain(plain(text)) == plain(text)


@given(texts)
@settings(deadline=None, max_examples=200)
def test_a_comment_in_a_program_moves_nothing(text: str) -> None:
    head = "G21 G17 G90 G94\n"
    reading = read_program(f"{head}{comment('JOB', text)}\nM30\n")
    assert reading.faults == ()
    assert reading.motions == ()
