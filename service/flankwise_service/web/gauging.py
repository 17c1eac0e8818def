"""Gauging: over wires and balls, go and no-go, and the correction from a measurement."""

from __future__ import annotations

from typing import Any

from flask import Blueprint

from flankwise_service.core.gauging.correction import correction
from flankwise_service.core.gauging.gauges import gauges
from flankwise_service.core.gauging.groove import Groove
from flankwise_service.core.gauging.inspection import Inspection, inspection, table_for
from flankwise_service.core.gauging.limits_over import choose_wire, wire_sizes
from flankwise_service.core.gauging.measure import (
    flank_angle_of_two,
    measured,
    measured_over,
    narrow,
    verdict,
)
from flankwise_service.core.gauging.over_wires import reading_over
from flankwise_service.core.gauging.response import response
from flankwise_service.core.threads import limits, limits_in
from flankwise_service.core.threads.model import StatedLimits
from flankwise_service.core.threads.sized import pitch_limits
from flankwise_service.web.dump import in_unit
from flankwise_service.web.operation import operation
from flankwise_service.web.schemas import gauging as schemas

blueprint = Blueprint("gauging", __name__)
_THREAD = {"/limits": "/designation", "/basic": "/designation"}
_GROOVE = {"/lead": "/starts"}


def _stated(asked: dict[str, Any]) -> StatedLimits:
    """Return the limits of the thread asked for, in the unit asked for."""
    found = limits(asked.pop("designation"), side=asked.pop("side"))
    return limits_in(found, asked["unit"])


def inspected(asked: dict[str, Any]) -> Inspection:
    """Return what a reading over wires tells of the thread asked for."""
    return inspection(_stated(asked), **asked)


def _groove(asked: dict[str, Any]) -> Groove:
    pitch = asked.pop("pitch")
    return Groove(
        pitch,
        pitch * asked.pop("starts"),
        asked.pop("flank_angle_upper"),
        asked.pop("flank_angle_lower"),
        asked.pop("side"),
    )


@operation(
    blueprint,
    "GET",
    "/gauging/wires",
    id="gauging_wires",
    tag="gauging",
    asks=schemas.GaugedThreadQuery,
    replies=schemas.WiresReply,
    summary="Best, least and greatest wire for a thread",
    pointers=_THREAD,
)
def gauging_wires(asked: dict[str, Any]) -> object:
    """The wires, or balls for an internal thread, that can measure it anywhere inside its limits.

    Least: flush with the crest. Greatest: touching at the crest's edge. Best: touching at
    the pitch line, where an error of the flank angle doesn't shift the reading. Parallel threads.
    """
    return in_unit(asked["unit"], wire_sizes(_stated(asked)))


@operation(
    blueprint,
    "POST",
    "/gauging/over-wires",
    id="gauging_over_wires",
    tag="gauging",
    asks=schemas.OverWiresAsk,
    replies=schemas.OverWiresReply,
    summary="Limits over the wires at hand",
    pointers={**_THREAD, "/wire": "/wires"},
)
def gauging_over_wires(asked: dict[str, Any]) -> object:
    """What the gauge may read, with the best of the wires at hand, and why others can't be used.

    `reading` is exact: the wire at rest on both helicoidal flanks. Beside it stands what the
    handbook's formulas give and how far they are off. Nothing is rounded: round the
    least reading up and the greatest down.
    """
    chosen = choose_wire(_stated(asked), asked["wires"], asked["method"], asked["line"])
    return in_unit(asked["unit"], chosen)


@operation(
    blueprint,
    "POST",
    "/gauging/reading",
    id="gauging_reading",
    tag="gauging",
    asks=schemas.ReadingAsk,
    replies=schemas.OverReadingReply,
    summary="Reading over wires in a thread of any form",
    pointers=_GROOVE,
)
def gauging_reading(asked: dict[str, Any]) -> object:
    """What a gauge reads over wires or balls in a groove of given pitch, angles and size.

    Equal or unequal flanks, any number of starts. Exact, with the handbook's figures beside.
    """
    groove = _groove(asked)
    read = reading_over(
        groove, asked["pitch_diameter"], asked["wire"], asked["method"], asked["line"]
    )
    return in_unit(asked["unit"], read)


@operation(
    blueprint,
    "POST",
    "/gauging/pitch-diameter",
    id="gauging_pitch_diameter",
    tag="gauging",
    asks=schemas.PitchDiameterAsk,
    replies=schemas.MeasuredOverReply,
    summary="Pitch diameter from a reading over wires",
    pointers=_GROOVE,
)
def gauging_pitch_diameter(asked: dict[str, Any]) -> object:
    """The pitch diameter of a groove from a reading, exact, and what its uncertainty is made of.

    Uncertainties of reading, wire and flank angle are independent, and are added in squares.
    """
    unit = asked.pop("unit")
    return in_unit(unit, measured_over(_groove(asked), **asked))


@operation(
    blueprint,
    "POST",
    "/gauging/inspection",
    id="gauging_inspection",
    tag="gauging",
    asks=schemas.InspectionAsk,
    replies=schemas.InspectionReply,
    summary="From a reading to verdict and radius offset",
    pointers={**_THREAD, "/pitch_diameter": "/reading"},
)
def gauging_inspection(asked: dict[str, Any]) -> object:
    """A standard thread's reading over wires taken to pitch diameter, verdict and correction.

    The verdict is in, out, or can't be told because of the gauge's uncertainty. A correction of
    more than a tenth of the pitch is refused: that is a wrong wire, thread or tool. Trust
    the gauge only after its zero is checked, and stop the spindle before you reach in.
    """
    unit = asked["unit"]
    return in_unit(unit, inspected(asked))


@operation(
    blueprint,
    "POST",
    "/gauging/correction",
    id="gauging_correction",
    tag="gauging",
    asks=schemas.OffsetCorrectionAsk,
    replies=schemas.OffsetCorrectionReply,
    summary="Radius offset from a measured pitch diameter",
    pointers=_THREAD,
)
def gauging_correction(asked: dict[str, Any]) -> object:
    """The change of the cutter's radius offset that brings the pitch diameter to its aim.

    Smaller cuts more, inside and outside. Where metal is missing already, the reply says that
    the change is for the next part.
    """
    stated = _stated(asked)
    least, greatest = pitch_limits(stated)
    change = correction(
        measured(asked.pop("pitch_diameter"), asked.pop("uncertainty")),
        least,
        greatest,
        side=stated.side,
        pitch=float(stated.pitch),
        **asked,
    )
    return in_unit(stated.unit, change)


@operation(
    blueprint,
    "POST",
    "/gauging/response",
    id="gauging_response",
    tag="gauging",
    asks=schemas.OffsetResponseAsk,
    replies=schemas.OffsetResponseReply,
    summary="Next correction from two measurements",
    pointers={**_THREAD, "/sizes/0": "/before", "/sizes/1": "/after"},
)
def gauging_response(asked: dict[str, Any]) -> object:
    """How the pitch diameter answered a change of the radius offset, and what to change next.

    A sharp cutter on a rigid machine answers 2 for 1. A thread that didn't answer, or the wrong
    way, is refused: another offset was changed, or another part measured.
    """
    stated = _stated(asked)
    least, greatest = pitch_limits(stated)
    sizes = [measured(**asked.pop("before")), measured(**asked.pop("after"))]
    answered = response(
        sizes,
        asked.pop("changed_by"),
        least,
        greatest,
        side=stated.side,
        pitch=float(stated.pitch),
        **asked,
    )
    return in_unit(stated.unit, answered)


@operation(
    blueprint,
    "POST",
    "/gauging/correction-table",
    id="gauging_correction_table",
    tag="gauging",
    asks=schemas.CorrectionTableAsk,
    replies=schemas.CorrectionTableReply,
    summary="Table of readings and offset changes",
    pointers=_THREAD,
)
def gauging_correction_table(asked: dict[str, Any]) -> object:
    """The table to lay beside the machine: this reading, that change of the radius offset.

    From one tolerance below the limits to one above, at readings the gauge can show.
    """
    stated = _stated(asked)
    return {
        "designation": stated.designation,
        "unit": stated.unit,
        "wire": asked["wire"],
        "rows": table_for(stated, **asked),
    }


@operation(
    blueprint,
    "POST",
    "/gauging/narrow",
    id="gauging_narrow",
    tag="gauging",
    asks=schemas.NarrowAsk,
    replies=schemas.NarrowReply,
    summary="One pitch diameter from several measurements",
    pointers=_THREAD,
)
def gauging_narrow(asked: dict[str, Any]) -> object:
    """Where the pitch diameter lies when several measurements of it all hold, and the verdict.

    Measurements that disagree by more than their uncertainties are refused: one of them is wrong,
    and a mean wouldn't make it right.
    """
    stated = _stated(asked)
    found = narrow([measured(**one) for one in asked["measurements"]])
    return {
        "unit": stated.unit,
        "measured": found,
        "verdict": verdict(found, *pitch_limits(stated)),
    }


@operation(
    blueprint,
    "POST",
    "/gauging/flank-angle",
    id="gauging_flank_angle",
    tag="gauging",
    asks=schemas.FlankAngleAsk,
    replies=schemas.FlankAngleReply,
    summary="Flank angle from two sizes of wire",
    pointers=_GROOVE,
)
def gauging_flank_angle(asked: dict[str, Any]) -> object:
    """The flank angle at which readings over two sizes of wire agree, equal on both flanks.

    Tells a worn or wrong cutter from a wrong size.
    """
    pitch = asked["pitch"]
    groove = Groove(pitch, pitch * asked["starts"], 30.0, 30.0, asked["side"])
    angle, size = flank_angle_of_two(
        groove, tuple(asked["readings"]), tuple(asked["wires"]), asked["method"]
    )
    return {"unit": asked["unit"], "flank_angle": angle, "pitch_diameter": size}


@operation(
    blueprint,
    "GET",
    "/gauging/gauges",
    id="gauging_gauges",
    tag="gauging",
    asks=schemas.GaugedThreadQuery,
    replies=schemas.GaugesReply,
    summary="Go and no-go gauges of a thread",
    pointers=_THREAD,
)
def gauging_gauges(asked: dict[str, Any]) -> object:
    """Go and no-go sizes by the principle of limit gauging, without the gauge maker's tolerance.

    Go is the mating thread at maximum material and checks everything; no-go checks the pitch
    diameter alone.
    """
    stated = _stated(asked)
    return {
        "designation": stated.designation,
        "unit": stated.unit,
        "gauges": gauges(stated),
    }
