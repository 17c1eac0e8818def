"""A check of a plan: what was compared, with its figures, and what to change."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from flankwise_service.core.errors import at_least as reaches
from flankwise_service.core.errors import at_most as keeps
from flankwise_service.core.units import limit_written, written

State = Literal["passed", "caution", "refused", "accepted"]


@dataclass(frozen=True, slots=True)
class Check:
    """One check. `figure` is what came out, `limit` what it is held against."""

    code: str
    state: State
    detail: str
    figure: float | None = None
    limit: float | None = None
    unit: str | None = None
    change: str = ""
    acceptable: bool = False
    """A caller may accept the refusal by its code; a collision, say, can't be accepted."""


def at_most(
    code: str, figure: float, limit: float, name: str, unit: str, change: str,
    *, acceptable: bool = False, caution_share: float = 1.0,
) -> Check:  # fmt: skip
    """Return a check that `figure <= limit`; between `caution_share * limit` and it, a caution.

    >>> at_most("feed", 900.0, 1000.0, "feed", "mm/min", "").state
    'passed'
    >>> at_most("feed", 1200.0, 1000.0, "feed", "mm/min", "slow down").detail
    'feed 1200 mm/min is above the limit, 1000 mm/min'
    """
    said, bound = f"{written(figure, unit, 5)} {unit}", f"{written(limit, unit, 5)} {unit}"
    if not keeps(figure, limit):
        detail = f"{name} {said} is above the limit, {bound}"
        return Check(code, "refused", detail, figure, limit, unit, change, acceptable)
    if figure > caution_share * limit:
        detail = f"{name} {said} comes close to the limit, {bound}"
        return Check(code, "caution", detail, figure, limit, unit, change, acceptable)
    detail = f"{name} {said} is within the limit, {bound}"
    return Check(code, "passed", detail, figure, limit, unit)


def at_least(
    code: str, figure: float, limit: float, name: str, unit: str, change: str,
    *, acceptable: bool = False,
) -> Check:  # fmt: skip
    """Return a check that `figure >= limit`.

    >>> at_least("reach", 0.5, 0.75, "reach", "in", "take a longer cutter").detail
    'reach 0.5 in is less than needed, 0.75 in: 0.25 in is missing'
    """
    if not reaches(figure, limit):
        detail = (
            f"{name} {written(figure, unit, 5)} {unit} is less than needed, "
            f"{written(limit, unit, 5)} {unit}: "
            f"{written(limit - figure, unit)} {unit} is missing"
        )
        return Check(code, "refused", detail, figure, limit, unit, change, acceptable)
    detail = (
        f"{name} {written(figure, unit, 5)} {unit} covers what is needed, "
        f"{written(limit, unit, 5)} {unit}"
    )
    return Check(code, "passed", detail, figure, limit, unit)


def inside(
    code: str, figure: float, least: float | None, greatest: float | None, name: str, unit: str,
    change: str,
) -> Check:  # fmt: skip
    """Return a check that `figure` is inside a pair of limits of size, either of which may be open.

    What was solved for a limit itself comes out of it by the last bits of a double: that is at it.

    >>> inside("pitch_diameter", 0.824, 0.8216, 0.827, "pitch diameter", "in", "").state
    'passed'
    """
    low = least is not None and not reaches(figure, least)
    high = greatest is not None and not keeps(figure, greatest)
    span = limits_said(least, greatest, unit)
    if low or high:
        limit = least if low else greatest
        detail = f"{name} {written(figure, unit, 6)} {unit} is outside its limits, {span}"
        return Check(code, "refused", detail, figure, limit, unit, change)
    detail = f"{name} {written(figure, unit, 6)} {unit} is inside its limits, {span}"
    return Check(code, "passed", detail, figure, None, unit)


def limits_said(least: float | None, greatest: float | None, unit: str) -> str:
    """Return a pair of limits in words.

    >>> limits_said(8.0, None, "mm"), limits_said(None, 0.4152, "in")
    ('at least 8.000 mm', 'at most 0.4152 in')
    >>> limits_said(7.042, 7.16, "mm"), limits_said(None, None, "mm")
    ('7.042 to 7.160 mm', 'none set')
    """
    if least is None and greatest is None:
        return "none set"
    low, high = (None if one is None else limit_written(one, unit) for one in (least, greatest))
    if high is None:
        return f"at least {low} {unit}"
    return f"at most {high} {unit}" if low is None else f"{low} to {high} {unit}"


def accepted(check: Check, codes: tuple[str, ...]) -> Check:
    """Return the check, turned to "accepted" where it is refused, acceptable, and named in `codes`.

    >>> accepted(Check("x", "refused", "", acceptable=True), ("x",)).state
    'accepted'
    >>> accepted(Check("x", "refused", "", acceptable=False), ("x",)).state
    'refused'
    """
    if check.state == "refused" and check.acceptable and check.code in codes:
        return replace(check, state="accepted")
    return check
