"""What would bring a form that is outside its limits inside them, found by trying it out.

Nothing here is tried while every diameter is inside: `advised` then gives the checks back.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from flankwise_service.core.cutting.cutter import Cutter
from flankwise_service.core.errors import Refusal, plain
from flankwise_service.core.form.offset import diameter_per_depth
from flankwise_service.core.form.section import Section
from flankwise_service.core.plan import offset, shape
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes, between
from flankwise_service.core.plan.tooth import is_assumed
from flankwise_service.core.units import written, written_down

AIMS = tuple(step / 20 for step in range(21))
"""The aims tried: each twentieth of the tolerance, its ends as well."""
HALVINGS = 20
SHARES = tuple(1 - step / 20 for step in range(1, 13))
"""Cutter diameters tried, over the one at hand: down to four tenths."""


class Tried(NamedTuple):
    """What a form is tried with."""

    job: Job
    sizes: Sizes
    cutter: Cutter
    blank_diameter: float

    @property
    def assumed(self) -> bool:
        """Whether the plan itself chose the tooth."""
        return is_assumed(self.job)

    def aiming(self, aim: float) -> Tried:
        """Return the same with another aim of the pitch diameter."""
        thread = replace(self.job.thread, pitch_diameter_aim=aim)
        return self._replace(job=replace(self.job, thread=thread))

    def tipped(self, width: float) -> Tried:
        """Return the same with another tip of the tooth."""
        tooth = replace(self.cutter.tooth, tip_width=width)
        return self._replace(cutter=replace(self.cutter, tooth=tooth))

    def sized(self, diameter: float) -> Tried:
        """Return the same with another cutter diameter, and the same tooth."""
        return self._replace(cutter=replace(self.cutter, diameter=diameter))

    def section(self) -> Section:
        """Return the form this leaves. Errors: what the form's own steps refuse."""
        _, cut = shape.correction(self.job, self.sizes, self.cutter)
        cut = offset.expected_cut(self.job, self.sizes, cut)
        return shape.as_cut(self.sizes, self.cutter, cut, self.blank_diameter)

    def lands(self, *others: str) -> bool:
        """Return whether every diameter is inside, apart from the checks of these codes."""
        try:
            checks = shape.form_checks(self.sizes, self.section())
        except Refusal:
            return False
        return all(one.state == "passed" or one.code in others for one in checks)


def advised(tried: Tried, found: Section, checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return the checks of the form; those refused now say what would help, with figures.

    Those that passed are given back as they are, and nothing is tried for them:

    >>> from flankwise_service.core.plan.job import ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> port = sizes(ThreadAsked("M20x1.5-6H", 16.0), "mm")
    >>> passed = Check("major_diameter_as_cut", "passed", "20.07 is at least 20.000 mm")
    >>> advised(Tried(None, port, None, 18.526), None, (passed,)) == (passed,)
    True
    """
    crest, root = "major_diameter_as_cut", "minor_diameter_as_cut"
    if tried.sizes.side == "internal":
        crest, root = root, crest
    if tried.job is not None and (tried.job.cutting.radius_offset or tried.job.cutting.measured):
        return tuple(_blaming_the_offset(tried, found, one) for one in checks)
    words: dict[str, Callable[[], str]] = {
        "functional_diameter_as_cut": lambda: _functional(tried, found, crest),
        root: lambda: _root(tried, _too_shallow(tried.sizes, found), crest),
        crest: lambda: _crest(tried, found),
    }
    return tuple(
        replace(one, change=words[one.code]())
        if one.state == "refused" and one.code in words
        else one
        for one in checks
    )


def _blaming_the_offset(tried: Tried, found: Section, one: Check) -> Check:
    """Return a check that is refused with what to do about the correction that brought it there."""
    if one.state != "refused":
        return one
    job, sizes = tried.job, tried.sizes
    if job.cutting.measured is None:
        return replace(one, change=(
            "the correction (cutting.radius_offset) brings it there: state the measured part it "
            "answers in cutting.measured, or take it back"
        ))  # fmt: skip
    aim = between(sizes.pitch_diameter, job.thread.pitch_diameter_aim)
    _, ideal = shape.correction(job, sizes, tried.cutter)
    missing = sizes.outward * (aim - found.pitch_diameter) / diameter_per_depth(ideal)
    right = round(job.cutting.radius_offset - missing, 4 if job.unit == "mm" else 5)
    return replace(one, change=(
        f"with the part measured, cutting.radius_offset {plain(right)} {job.unit} brings the pitch "
        f"diameter to its aim, {plain(aim)} {job.unit}"
    ))  # fmt: skip


def _too_shallow(sizes: Sizes, found: Section) -> bool:
    """Return whether the root isn't cut deep enough; else it is too deep."""
    least, greatest = sizes.root_diameter
    if sizes.side == "internal":
        return least is not None and found.major_diameter < least
    return greatest is not None and found.minor_diameter > greatest


def _crest(tried: Tried, found: Section) -> str:
    """Return what to do about a crest outside its limits."""
    external = tried.sizes.side == "external"
    crest = found.major_diameter if external else found.minor_diameter
    if abs(crest - tried.blank_diameter) <= 1e-6 * tried.blank_diameter:
        return "the crest is the blank's own surface, as far off as the blank"
    return (
        "the flanks meet below the crest: bring the blank nearer its limit, or take a cutter with "
        "a narrower tip"
    )


def _functional(tried: Tried, found: Section, crest: str) -> str:
    """Return what to do about flanks that are bent too far for the tolerance."""
    aim = _aim_that_lands(tried, crest)
    if aim is not None:
        return f"set pitch_diameter_aim to {aim:g}: the bent flanks then stay inside (tried out)"
    roomy = tried.aiming(0.0 if tried.sizes.side == "external" else 1.0)
    try:
        bent = _bend(tried, roomy.section())
    except Refusal:  # the root has no room for that aim
        bent = _bend(tried, found)
    cause = "the lead bends the flanks"
    if tried.cutter.rows > 1 and tried.cutter.row_pitch != tried.sizes.pitch:
        cause = "the lead, and rows off the pitch, bend the flanks"
    return (
        f"{cause} by {bent:.0f} % of the pitch diameter's tolerance: no aim brings them inside, "
        "and no other diameter of a straight-flanked cutter does. Take a cutter ground for this "
        "lead, a wider class, or turn the thread"
    )


def _bend(tried: Tried, found: Section) -> float:
    """Return what the flanks' form takes of the pitch diameter's tolerance, in percent."""
    apart = abs(found.functional_diameter - found.pitch_diameter)
    return 100 * apart / tried.sizes.pitch_diameter_tolerance


def _root(tried: Tried, shallow: bool, crest: str) -> str:
    """Return what to do about a root outside its limits: tip, aim or cutter, each tried out."""
    unit = tried.sizes.unit
    way = "narrower, so that it cuts deeper" if shallow else "wider, so that it cuts less deep"
    said = [f"take a cutter whose tip is {way}"]
    width = _tip_that_lands(tried, shallow, crest)
    if width is not None:
        bound = "at most" if shallow else "at least"
        said[0] += (
            f": {bound} {written(width, unit)} {unit} "
            f"({written(tried.cutter.tooth.tip_width, unit)} now)"
        )
    aim = _aim_that_lands(tried, crest)
    if aim is not None:
        said.append(f"set pitch_diameter_aim to {aim:g}")
    smaller = _smaller_that_lands(tried, crest)
    if smaller is not None:
        said.append(
            f"take a cutter of the same tooth of at most {written_down(smaller, unit)} {unit} "
            "diameter"
        )
    own = ""
    if tried.assumed:
        own = "the tooth's tip was assumed: state your cutter's own (cutter.tooth). Otherwise "
    return f"{own}{', or '.join(said)} (each tried out)" if len(said) > 1 else own + said[0]


def _aim_that_lands(tried: Tried, crest: str) -> float | None:
    """Return the aim nearest to the one asked for with which every diameter is inside, or None."""
    wanted = tried.job.thread.pitch_diameter_aim
    nearest = sorted(AIMS, key=lambda aim: abs(aim - wanted))
    return next((aim for aim in nearest if tried.aiming(aim).lands(crest)), None)


def _tip_that_lands(tried: Tried, shallow: bool, crest: str) -> float | None:
    """Return the tip nearest to the present one with which every diameter is inside, or None."""
    near = tried.cutter.tooth.tip_width
    far = 0.0 if shallow else tried.sizes.pitch / 2
    lands = next(
        (
            width
            for step in range(1, 21)
            if tried.tipped(width := near + (far - near) * step / 20).lands(crest)
        ),
        None,
    )
    if lands is None:
        return None
    for _ in range(HALVINGS):
        middle = (near + lands) / 2
        near, lands = (near, middle) if tried.tipped(middle).lands(crest) else (middle, lands)
    return _printable(tried, lands, shallow, crest)


def _printable(tried: Tried, width: float, shallow: bool, crest: str) -> float | None:
    """Return a tip in whole counts that still lands: rounded to the safe side, or None."""
    count = 0.001 if tried.sizes.unit == "mm" else 0.0001
    counts = math.floor(width / count) if shallow else math.ceil(width / count)
    rounded = round(counts * count, 6)
    return rounded if tried.tipped(rounded).lands(crest) else None


def _smaller_that_lands(tried: Tried, crest: str) -> float | None:
    """Return the greatest smaller cutter diameter, in handy steps, that lands, or None."""
    step = 0.1 if tried.sizes.unit == "mm" else 0.005
    for share in SHARES:
        diameter = round(int(tried.cutter.diameter * share / step) * step, 6)
        if diameter > 2 * tried.cutter.tooth.depth and tried.sized(diameter).lands(crest):
            return diameter
    return None
