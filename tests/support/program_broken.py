"""Programs and paths broken a little, as an edit, a bad wire or a mistake of ours might do it."""

from __future__ import annotations

import math
import random
import re

from flankwise_service.core.path.segment import Segment

MOVING = re.compile(r"\bG0[0-3]\b")
ENDINGS = (" X1.", " K1.0", " F0", " F-1.", " R5.", " G90", " G04 P1.", " M08", "\r", "\t", " ;no",
           "\nG91", "\nG20", "\nG18", "\nM05", "\nM30", "\n%", "\nF5.", "\nX1. X2.")  # fmt: skip
ODD = (math.nan, math.inf, -math.inf, 1e9, -1e9, 0.0, -1.0)


def broken_text(text: str, rng: random.Random) -> str:
    """Return a program with one to three lines changed, mostly ones that move."""
    lines = text.split("\n")
    for _ in range(rng.choice([1, 1, 1, 2, 3])):
        moving = [at for at, line in enumerate(lines) if MOVING.search(line)]
        at = rng.choice(moving) if moving and rng.random() < 0.8 else rng.randrange(len(lines))
        lines[at : at + 1] = _broken_line(lines, at, rng)
    return "\n".join(lines)


def _broken_line(lines: list[str], at: int, rng: random.Random) -> list[str]:
    """Return what stands in a line's place."""
    line = lines[at]
    words = line.split(" ")
    place = rng.randrange(len(line) + 1)
    digits = [found.start() for found in re.finditer(r"\d", line)] or [0]
    digit = rng.choice(digits)
    word = rng.randrange(len(words))
    return rng.choice([
        [line[:digit] + str(rng.randrange(10)) + line[digit + 1 :]],
        [line[:digit] + str(rng.randrange(10)) + line[digit + 1 :]],
        [" ".join(words[:word] + words[word + 1 :])],
        [" ".join([*words, words[word]])],
        [" ".join(rng.sample(words, len(words)))],
        [MOVING.sub(f"G0{rng.randrange(5)}", line)],
        [line[:place] + rng.choice("XYZIJKFGNRM-.+ 0159\t(%;\u0661") + line[place + 1 :]],
        [line + rng.choice(ENDINGS)],
        [line.replace("G0", "G", 1)],
        [],
        [line, line],
        [lines[(at + 1) % len(lines)], line],
    ])  # fmt: skip


def broken_path(path: list[Segment], rng: random.Random) -> list[Segment]:
    """Return a path with one to three pieces changed: by little, by much, or into nonsense."""
    found = list(path)
    for _ in range(rng.choice([1, 1, 1, 2, 3])):
        at = rng.randrange(len(found))
        piece = found[at]
        off = rng.choice([1e-12, 1e-6, 4e-4, 6e-4, 0.01, 1.0, -1e-12, -0.01])
        end = list(piece.end)
        end[rng.randrange(3)] += off
        begin = list(piece.begin)
        begin[rng.randrange(3)] = rng.choice([*ODD, begin[0] + off])
        changes = rng.choice([
            {"end": type(piece.end)(*end)},
            {"begin": type(piece.begin)(*begin)},
            {"feed": rng.choice([None, *ODD, 5.0])},
            {"sweep": rng.choice([*ODD, piece.sweep + off, 170.0, 360.0, 360.0 + 1e-8])},
            {"sense": rng.choice([None, "clockwise", "counterclockwise", "up"])},
            {"centre": rng.choice([None, (0.0, 0.0), (math.nan, 0.0), (math.inf, 0.0), (off, 9e9)])},
            {"kind": rng.choice(["rapid", "line", "arc", "spline"])},
        ])  # fmt: skip
        found[at] = piece._replace(**changes)  # type: ignore[arg-type]
    return found
