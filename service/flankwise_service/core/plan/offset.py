"""The correction from a measured part: what it brings, and where it can't be made at the control.

The form of an ideal machine says nothing of a part that a real one made. So a correction is judged
by the part it corrects: its size moved on by what the offset moves the path.
"""

from __future__ import annotations

from flankwise_service.core.errors import Fault, Impossible, Refusal, plain
from flankwise_service.core.form.model import Cut
from flankwise_service.core.form.offset import GREATEST_SHARE_OF_PITCH, diameter_per_depth
from flankwise_service.core.form.pitchline import pitch_line
from flankwise_service.core.plan.check import Check
from flankwise_service.core.plan.job import Job
from flankwise_service.core.plan.sizes import Sizes


def check_radius_offset(job: Job) -> None:
    """Refuse a radius offset at the control along a path of straight lines.

    It goes on in a straight lead and stays on along arcs that join without a corner
    (core/program/offset_spans.py); between lines there is a corner at each.
    """
    number = job.program.radius_offset
    if number is not None and not job.machine.helical_arcs:
        raise Impossible(
            Fault(
                "/program/radius_offset", "offset_needs_arcs",
                f"radius offset D{number} would never be switched on: the path is made of straight "
                "lines, which meet in corners",
                "leave program.radius_offset out and correct by cutting.radius_offset, or set "
                "machine.helical_arcs to true where the control takes helical arcs", number,
            )
        )  # fmt: skip


def offset_cant_follow(job: Job, refusal: Refusal) -> Refusal:
    """Return a refusal of the program; of a path that the control's offset can't follow, in one.

    A taper thread's arcs each have a centre of their own and meet in small corners.

    >>> from flankwise_service.core.plan.job import StockAsked, ThreadAsked
    >>> job = Job("mm", ThreadAsked("R 1/2", 12.0), StockAsked("6082"))
    >>> other = Impossible(Fault("/program", "too_long", "", ""))
    >>> offset_cant_follow(job, other) is other
    True
    """
    corners = [one.value for one in refusal.faults if one.code == "corner_under_offset"]
    sizes_of = [value for value in corners if isinstance(value, float)]
    if not sizes_of:
        return refusal
    number = job.program.radius_offset
    return Impossible(
        Fault(
            "/program/radius_offset", "offset_cant_follow",
            f"radius offset D{number} can't follow this path: its arcs meet in corners of up to "
            f"{plain(max(sizes_of), 2)} degrees, as those of a taper thread do",
            "leave program.radius_offset out and correct by cutting.radius_offset, then plan again",
            number,
        )
    )  # fmt: skip


def expected_cut(job: Job, sizes: Sizes, ideal: Cut) -> Cut:
    """Return the cut that is to be expected with the job's correction.

    Without a measured part that is the ideal one with its path moved. A measured part says how far
    the machine cuts beside its path: the depth, to be added to every path, that brings the ideal
    form to the pitch diameter measured.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> from flankwise_service.core.plan.job import CuttingAsked, MeasuredPart
    >>> from flankwise_service.core.plan.job import HoleAsked, StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> thread, stock = ThreadAsked("M20x1.5-6H", 16.0), StockAsked("6082")
    >>> ideal = single(Tooth(30.0, 30.0, 0.1875, 1.0), 6.0, "internal", 1.5, 4.05)
    >>> small = CuttingAsked(radius_offset=-0.05, measured=MeasuredPart(19.0, 0.0))
    >>> job = Job("mm", thread, stock, hole=HoleAsked(22.0), cutting=small)
    >>> cut = expected_cut(job, sizes(thread, "mm"), ideal)
    >>> round(2 * pitch_line(cut).radius, 3)
    19.1
    """
    asked, measured = job.cutting, job.cutting.measured
    if measured is None:
        return ideal.moved(-asked.radius_offset)
    then = ideal.moved(-measured.radius_offset)
    off = measured.pitch_diameter - 2 * pitch_line(then).radius
    beside = sizes.outward * off / diameter_per_depth(then)
    most = GREATEST_SHARE_OF_PITCH * sizes.pitch
    if abs(beside) > most:
        raise Impossible(
            Fault(
                "/cutting/measured/pitch_diameter", "correction_absurd",
                f"the part measured is {off:+.4g} {job.unit} off the size its path should leave: "
                "no wear or deflection does that",
                "check the reading, the wires, the tool and the offset it was cut with",
                measured.pitch_diameter, measured.pitch_diameter - off - 2 * most,
                measured.pitch_diameter - off + 2 * most, job.unit,
            )
        )  # fmt: skip
    return ideal.moved(beside - asked.radius_offset)


def offset_checks(job: Job, sizes: Sizes) -> tuple[Check, ...]:
    """Return how far the path is corrected, and whether it is corrected twice.

    Nothing where it isn't corrected at all.

    >>> from flankwise_service.core.plan.job import StockAsked, ThreadAsked
    >>> from flankwise_service.core.plan.sizes import sizes
    >>> thread = ThreadAsked("M20x1.5-6H", 16.0)
    >>> offset_checks(Job("mm", thread, StockAsked("6082")), sizes(thread, "mm"))
    ()
    """
    amount, number = job.cutting.radius_offset, job.program.radius_offset
    if amount == 0:
        return ()
    most, unit = GREATEST_SHARE_OF_PITCH * sizes.pitch, job.unit
    said = correction_words(job)
    if abs(amount) > most:
        return (
            Check(
                "radius_offset", "refused", f"{said}: more than a tenth of the pitch, {most:.4g} "
                f"{unit}; no wear or deflection does that", abs(amount), most, unit,
                "take cutting.radius_offset back, and check reading, wires, pitch and tool",
            ),
        )  # fmt: skip
    if number is not None:
        return (
            Check(
                "radius_offset", "caution", f"{said}, and radius offset D{number} comes on top",
                amount, None, unit,
                f"set D{number} to 0 before the first part: what it holds from the part before is "
                "in the path already",
            ),
        )  # fmt: skip
    if job.cutting.measured is None:
        return (
            Check(
                "radius_offset", "caution", f"{said}, and no part is stated that asks for it",
                amount, None, unit,
                "state cutting.measured, the part's pitch diameter and the radius offset it was "
                "cut with, or take the correction back",
            ),
        )  # fmt: skip
    return (Check("radius_offset", "passed", said, amount, None, unit),)


def correction_words(job: Job) -> str:
    """Return how the path is corrected, in words.

    >>> from flankwise_service.core.plan.job import CuttingAsked, StockAsked, ThreadAsked
    >>> thread, deeper = ThreadAsked("M20x1.5-6H", 16.0), CuttingAsked(radius_offset=-0.01)
    >>> correction_words(Job("mm", thread, StockAsked("6082"), cutting=deeper))
    'the path is corrected by 0.01 mm on the radius, deeper into the part'
    """
    amount = job.cutting.radius_offset
    way = "deeper into the part" if amount < 0 else "farther off the part"
    return f"the path is corrected by {abs(amount):.4g} {job.unit} on the radius, {way}"
