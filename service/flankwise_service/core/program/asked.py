"""Whether a program can be written as asked: every fault of setup, tools and segments at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    plain,
    plain_greatest,
    plain_least,
)
from flankwise_service.core.path.segment import Segment, above_one_another
from flankwise_service.core.program.arcs import MIDDLE_ROOM, middle_apart, sweep_as_read
from flankwise_service.core.program.columns import AT_ONCE, Columns, columns, rest
from flankwise_service.core.program.offset_spans import offset_faults
from flankwise_service.core.program.setup import (
    WORK_OFFSETS,
    Operation,
    Setup,
    Tool,
    UnitCodes,
)
from flankwise_service.core.program.sound import Limits, sound
from flankwise_service.core.units import UNITS, Unit, limit_from_mm

REACH_MM = 2500.0
"""No coordinate beyond it: larger than any mill's travel this is meant for (memory)."""
FEWEST_DECIMALS: dict[Unit, int] = {"in": 4, "mm": 3}
MOST_DECIMALS: dict[Unit, int] = {"in": 6, "mm": 5}
GREATEST_NUMBER = 9999
GREATEST_FEED_MM = 100_000.0
GREATEST_SPINDLE_SPEED = 200_000.0
GREATEST_SWEEP = 360.0 + 1e-9
GREATEST_SWEEP_BY_RADIUS = 165.0
"""RS274/NGC calls R good up to 165 and from 195 to 345 degrees (NISTIR 6556, 3.5.3.1, memory)."""
LEAST_STRAIGHT_LEAD = 10
"""In counts: the piece that switches a radius offset has to be there once rounded."""
LEAST_RADIUS = 10
"""In counts of the last printed digit."""
MOST_SEGMENTS = 200_000
MOST_OPERATIONS = 20
MOST_FAULTS = 50
UNIT_CODES: tuple[UnitCodes, ...] = ("G20 G21", "G70 G71")


def check_asked(setup: Setup, operations: Sequence[Operation]) -> Columns | None:
    """Return the paths in columns, None for long ones, when a program can be written.

    Errors: `BadInput` with every fault.

    >>> check_asked(Setup("mm", 25.0), [])
    Traceback (most recent call last):
    flankwise_service.core.errors.BadInput: 0 operations can't make one program
    """
    faults = Faults()
    if setup.unit not in UNITS:
        _choice(faults, "/setup/unit", "unit", setup.unit, UNITS)
        faults.raise_any(BadInput)
    _check_setup(faults, setup)
    faults.need(
        1 <= len(operations) <= MOST_OPERATIONS, "/operations", "operations",
        f"{len(operations)} operations can't make one program",
        f"give from 1 to {MOST_OPERATIONS} operations", len(operations),
    )  # fmt: skip
    limits = _limits(setup)
    is_sound, paths = _glance(operations[:MOST_OPERATIONS], limits)
    for index, operation in enumerate(operations[:MOST_OPERATIONS]):
        prefix = f"/operations/{index}"
        _check_tool(faults, f"{prefix}/tool", operation.tool, setup)
        _check_count(faults, f"{prefix}/segments", operation.segments)
        if not is_sound:
            _look_at_each(faults, f"{prefix}/segments", operation.segments, setup, limits)
        _check_ends(faults, prefix, operation, setup)
        if not faults.found:
            for fault in offset_faults(operation, LEAST_STRAIGHT_LEAD * 10.0**-setup.places):
                faults.add(fault.under(prefix))
    faults.raise_any(BadInput)
    return paths


def _choice(faults: Faults, pointer: str, name: str, value: object, choices: Sequence[str]) -> None:
    """Note a fault unless `value` is one of `choices`."""
    faults.need(
        value in choices, pointer, "unknown_choice", f"{name} {str(value)[:40]!r} isn't known",
        f"give one of {', '.join(choices)}", str(value)[:40],
    )  # fmt: skip


def _number(
    faults: Faults, pointer: str, name: str, value: int | None, least: int, greatest: int
) -> None:
    """Note a fault unless `value` is None or a whole number in its range."""
    if value is not None:
        faults.within(pointer, value, least=least, greatest=greatest, name=name)


def _check_setup(faults: Faults, setup: Setup) -> None:
    """Note the faults of the setup itself."""
    _choice(faults, "/setup/work_offset", "work offset", setup.work_offset, WORK_OFFSETS)
    _choice(faults, "/setup/unit_codes", "pair of unit codes", setup.unit_codes, UNIT_CODES)
    _choice(faults, "/setup/arc_form", "arc form", setup.arc_form, ("centre", "radius"))
    _choice(faults, "/setup/end", "end of program", setup.end, ("M30", "M02"))
    _number(faults, "/setup/program_number", "program number", setup.program_number, 1, 9999)
    _number(faults, "/setup/line_number_step", "line number step", setup.line_number_step, 0, 1000)
    least, most = FEWEST_DECIMALS[setup.unit], MOST_DECIMALS[setup.unit]
    _number(faults, "/setup/decimals", "decimals", setup.decimals, least, most)
    reach = limit_from_mm(REACH_MM, setup.unit)
    faults.within(
        "/setup/safe_height", setup.safe_height, least=0.0, greatest=reach, name="safe height",
        unit=setup.unit,
    )  # fmt: skip


def _check_tool(faults: Faults, pointer: str, tool: Tool, setup: Setup) -> None:
    """Note the faults of one tool."""
    _number(faults, f"{pointer}/number", "tool number", tool.number, 1, GREATEST_NUMBER)
    _number(faults, f"{pointer}/length_offset", "length offset", tool.length_offset, 1, 9999)
    _number(faults, f"{pointer}/radius_offset", "radius offset", tool.radius_offset, 1, 9999)
    _choice(faults, f"{pointer}/coolant", "coolant", tool.coolant, ("off", "mist", "flood"))
    _choice(faults, f"{pointer}/radius_side", "radius side", tool.radius_side, ("left", "right"))
    faults.within(
        f"{pointer}/spindle_speed", tool.spindle_speed, least=1.0,
        greatest=GREATEST_SPINDLE_SPEED, name="spindle speed", unit="rev/min",
    )  # fmt: skip
    faults.within(
        f"{pointer}/tip_to_tooth", tool.tip_to_tooth, least=0.0,
        greatest=limit_from_mm(REACH_MM, setup.unit), name="tip to tooth", unit=setup.unit,
    )  # fmt: skip


def _check_count(faults: Faults, pointer: str, segments: Sequence[Segment]) -> None:
    """Note a path of no segments, or of too many."""
    faults.need(
        1 <= len(segments) <= MOST_SEGMENTS, pointer, "segments",
        f"a path of {len(segments)} segments can't be written",
        f"give from 1 to {MOST_SEGMENTS} segments", len(segments),
    )  # fmt: skip


def _glance(operations: Sequence[Operation], limits: Limits) -> tuple[bool, Columns | None]:
    """Return whether no path can have a fault, and all in columns where they aren't long."""
    paths = [operation.segments[:MOST_SEGMENTS] for operation in operations]
    if not paths or not all(paths):
        return False, None
    if sum(map(len, paths)) > AT_ONCE:
        return all(sound(columns([rest(path), *path]), [], limits) for path in paths), None
    begins = list(accumulate((len(path) + 1 for path in paths[:-1]), initial=0))
    found = columns([piece for path in paths for piece in (rest(path), *path)])
    return sound(found, begins, limits), found


def _limits(setup: Setup) -> Limits:
    """Return what the segments must keep to."""
    reach, last_digit = limit_from_mm(REACH_MM, setup.unit), 10.0**-setup.places
    return Limits(
        reach, 0.5 * last_digit, LEAST_RADIUS * last_digit, 0.5 * last_digit,
        GREATEST_SWEEP_BY_RADIUS if setup.arc_form == "radius" else GREATEST_SWEEP,
        MIDDLE_ROOM * last_digit,
        (10.0**-setup.feed_places, limit_from_mm(GREATEST_FEED_MM, setup.unit)),
    )  # fmt: skip


def _look_at_each(
    faults: Faults, pointer: str, segments: Sequence[Segment], setup: Setup, limits: Limits
) -> None:
    """Note the faults of segments, one after the other."""
    before: Segment | None = None
    for index, segment in enumerate(segments[:MOST_SEGMENTS]):
        if len(faults.found) >= MOST_FAULTS:
            return
        fault = (
            _place_fault(segment, limits.reach)
            or _feed_fault(segment, *limits.feeds)
            or _kind_fault(segment, setup)
            or (before and _joint_fault(before, segment, limits.joint))
        )
        if fault:
            faults.add(fault.under(f"{pointer}/{index}"))
        before = None if fault and fault.code != "path_breaks" else segment


def _place_fault(segment: Segment, reach: float) -> Fault | None:
    """Return the fault of a place that isn't a number within reach, or None."""
    x, y, z = segment.begin
    to_x, to_y, to_z = segment.end
    if (
        -reach <= x <= reach and -reach <= y <= reach and -reach <= z <= reach
        and -reach <= to_x <= reach and -reach <= to_y <= reach and -reach <= to_z <= reach
    ):  # fmt: skip
        return None
    return Fault(
        "", "out_of_range", "this piece of the path is beyond the mill's reach",
        f"give coordinates from {plain_least(-reach)} to {plain_greatest(reach)}",
        None, -reach, reach,
    )  # fmt: skip


def _feed_fault(segment: Segment, least: float, greatest: float) -> Fault | None:
    """Return the fault of a feed that is missing, too many or out of range, or None."""
    if segment.kind == "rapid":
        if segment.feed is None:
            return None
        return Fault("/feed", "rapid_with_feed", "a rapid has no feed", "leave the feed out")
    if segment.feed is not None and least <= segment.feed <= greatest:
        return None
    return Fault(
        "/feed", "out_of_range", "a cut needs a feed that can be printed",
        f"give a feed from {plain_least(least)} to {plain_greatest(greatest)} a minute",
        None, least, greatest,
    )  # fmt: skip


def _kind_fault(segment: Segment, setup: Setup) -> Fault | None:
    """Return the fault of a segment whose kind and figures don't go together, or None."""
    if segment.kind == "arc":
        return _arc_fault(segment, setup)
    if segment.kind not in ("rapid", "line"):
        return Fault("/kind", "unknown_choice", "this kind of segment isn't known",
                     "give rapid, line or arc")  # fmt: skip
    level = above_one_another(segment.begin, segment.end)
    if segment.kind == "rapid" and segment.rise and not level:
        return Fault(
            "/end", "slanted_rapid",
            "a rapid in Z together with X or Y takes another way on many machines",
            "move in Z alone, then in X and Y, or the other way round",
        )  # fmt: skip
    return None


def _arc_fault(segment: Segment, setup: Setup) -> Fault | None:
    """Return the fault of an arc that no block can say, or None."""
    if segment.centre is None or segment.sense not in ("clockwise", "counterclockwise"):
        return Fault("/centre", "arc_without_centre", "an arc needs its centre and its sense",
                     "give both")  # fmt: skip
    if not 0.0 < segment.sweep <= GREATEST_SWEEP:
        return Fault(
            "/sweep", "out_of_range", "one block turns by no more than a full turn",
            "split the arc", None, 0.0, 360.0, "degree",
        )  # fmt: skip
    reach = limit_from_mm(10 * REACH_MM, setup.unit)
    (x, y, _), (to_x, to_y, _), (cx, cy) = segment.begin, segment.end, segment.centre
    if not (-reach <= cx <= reach and -reach <= cy <= reach):
        return Fault("/centre", "out_of_range", "the arc's centre is beyond reach",
                     "write it as straight lines", None, -reach, reach)  # fmt: skip
    first, last = math.hypot(x - cx, y - cy), math.hypot(to_x - cx, to_y - cy)
    if abs(first - last) > 0.5 * 10.0**-setup.places:
        return Fault("/end", "radius_changes", "the arc's radius isn't the same at both ends",
                     "give an arc of one radius, or straight lines", abs(first - last))  # fmt: skip
    if first < LEAST_RADIUS * 10.0**-setup.places:
        return Fault("/centre", "arc_too_small", "the arc is too small for the printed digits",
                     "write it as straight lines", first)  # fmt: skip
    led = sweep_as_read((x, y), (to_x, to_y), segment.centre, segment.sense)
    if middle_apart(first, segment.sweep, led) > MIDDLE_ROOM * 10.0**-setup.places:
        return Fault(
            "/sweep", "sweep_elsewhere",
            f"{plain(segment.sweep)} degrees {segment.sense} don't lead from begin to end "
            f"({plain(led, 4)} do)",
            f"give a sweep of {plain(led)} degrees, or correct begin, end, centre or sense",
            segment.sweep, None, None, "degree",
        )  # fmt: skip
    if setup.arc_form == "radius" and segment.sweep > GREATEST_SWEEP_BY_RADIUS:
        return Fault(
            "/sweep", "sweep_too_wide_for_radius",
            f"an arc of {plain(segment.sweep)} degrees given by its radius is too sensitive to "
            "rounding",
            "take arcs of at most 90 degrees, or write them by their centre", segment.sweep,
            0.0, GREATEST_SWEEP_BY_RADIUS, "degree",
        )  # fmt: skip
    return None


def _joint_fault(before: Segment, segment: Segment, joint: float) -> Fault | None:
    """Return the fault of a segment that doesn't begin where the one before it ended, or None."""
    if before.end == segment.begin:
        return None
    gap = max(abs(a - b) for a, b in zip(before.end, segment.begin, strict=True))
    if gap <= joint:
        return None
    return Fault("/begin", "path_breaks", f"the path breaks here by {plain(gap)}",
                 "begin each segment where the one before it ended", gap)  # fmt: skip


def _check_ends(faults: Faults, prefix: str, operation: Operation, setup: Setup) -> None:
    """Note a path that begins or ends where the tool may not come or leave by a rapid.

    A place beyond the mill's reach, or a safe height that can't be used, is told by itself.
    """
    tip, reach = operation.tool.tip_to_tooth, limit_from_mm(REACH_MM, setup.unit)
    if not operation.segments or not 0.0 <= setup.safe_height <= reach:
        return
    ends = {
        "segments/0/begin/z": operation.segments[0].begin.z,
        f"segments/{len(operation.segments) - 1}/end/z": operation.segments[-1].end.z,
    }
    highest = setup.safe_height + 10.0**-setup.places
    for name, z in ends.items():
        height = z - tip
        if abs(z) <= reach and not 0.0 <= height <= highest:
            faults.add(Fault(
                f"{prefix}/{name}", "rapid_inside",
                f"the tool's tip is at Z {plain(height)}, not between the part's face, Z 0, and "
                "the "
                f"safe height, {plain(setup.safe_height)}",
                "begin and end the path above the face and give a safe height above that",
                z, tip, setup.safe_height + tip, setup.unit,
            ))  # fmt: skip
