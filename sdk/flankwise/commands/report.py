"""A plan as text for people, from the reply as it came."""

from __future__ import annotations

from typing import Any

MARKS = {"passed": "ok     ", "caution": "caution", "refused": "REFUSED", "accepted": "accepted"}


def report(plan: dict[str, Any]) -> str:
    """Return the whole plan as text: limits to program."""
    parts = (
        _head, _limits, _bar_and_blank, _cutter, _passes, _form, _time, _gauging, _checks,
        _assumed, _program, _cautions,
    )  # fmt: skip
    return "\n\n".join(part(plan) for part in parts)


def _head(plan: dict[str, Any]) -> str:
    limits = plan["limits"]
    name = plan["name"] or "job"
    line = f"{name}: {limits['designation']}, {limits['side']}, {limits['hand']}-hand"
    return f"{line}\n{'=' * len(line)}\nverdict: {plan['verdict']}   ({plan['made_by']})"


def _limits(plan: dict[str, Any]) -> str:
    limits, unit = plan["limits"], plan["unit"]
    lines = [f"Limits of size ({unit})"]
    for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
        span = limits[name]
        low, high = _length(span["min"], unit), _length(span["max"], unit)
        lines.append(f"  {name.replace('_', ' '):<16}{low:>10} to {high}")
    lines.append(f"  {'allowance':<16}{_length(limits['allowance'], unit):>10}")
    lines += [f"  source: {_source(source)}" for source in limits["source"]]
    return "\n".join(lines)


def _source(source: dict[str, Any]) -> str:
    place = ", ".join(filter(None, (source["document"], source["edition"], source["place"])))
    return f"{place} ({source['standing']})"


def _bar_and_blank(plan: dict[str, Any]) -> str:
    bar, blank, unit = plan["bar"], plan["blank"], plan["unit"]
    what = "across flats" if bar["shape"] == "hexagon" else "diameter"
    lines = [
        "Stock and blank",
        f"  {plan['material']}, {bar['shape']} {_length(bar['size'], unit)} {unit} {what}"
        + (" (proposed)" if bar["proposed"] else ""),
    ]
    if bar["across_corners"] is not None:
        lines.append(f"  across corners {_length(bar['across_corners'], unit)} {unit}")
    if bar["corner_stand_out"] is not None:
        lines.append(f"  stands out beyond the boss by {_length(bar['corner_stand_out'], unit)}")
    lines.append(f"  wall beyond the thread {_length(bar['wall'], unit)}, "
                 f"{bar['mass_per_length']:.4g} {bar['mass_unit']}")  # fmt: skip
    lines.append(
        f"  {blank['kind']} {_length(blank['diameter'], unit)} (allowed "
        f"{_length(blank['least'], unit)} to {_length(blank['greatest'], unit)})"
        f"{_taper(plan)}, {_length(blank['depth'], unit)} deep"
    )
    if blank["budget"] is not None:
        budget = blank["budget"]
        lines.append(
            f"  depth needed {_length(budget['needed'], unit)}, "
            f"spare {_length(budget['spare'], unit)}"
        )
    return "\n".join(lines)


def _taper(plan: dict[str, Any]) -> str:
    taper = plan["limits"]["basic"]["taper"]
    return f" at the face, tapering 1:{1 / taper:g} on the diameter" if taper else ""


def _cutter(plan: dict[str, Any]) -> str:
    cutter, motion, unit = plan["cutter"], plan["motion"], plan["unit"]
    return "\n".join((
        "Cutter and motion",
        f"  T{cutter['number']} {cutter['name']}: {_length(cutter['diameter'], unit)} {unit}, "
        f"{cutter['flutes']} flutes, {cutter['substance']}, {cutter['rows']} row(s)",
        f"  {motion['milling']} milling, {motion['sense']}, {motion['motion']}; "
        f"lead {_length(motion['lead'], unit)}, {motion['turns']:.4g} turns of thread",
        f"  {motion['turns_cut']:.4g} turns of the cutter in a run, {motion['runs']} run(s) a pass",
        f"  in by {motion['lead_in'].replace('_', ' ')}, out by "
        f"{motion['lead_out'].replace('_', ' ')}",
        f"  spindle {plan['speed']['speed']:.0f} rev/min clockwise",
    ))  # fmt: skip


def _passes(plan: dict[str, Any]) -> str:
    unit = plan["unit"]
    lines = [f"Passes ({unit}, {unit}/min)",
             "   no  depth     centre radius  feed: path    edge     power kW"]  # fmt: skip
    for one in plan["passes"]:
        work = one["work"]
        spring = "  spring" if one["spring"] else ""
        lines.append(
            f"  {one['number']:>3}  {_length(work['depth_after'], unit):<9} "
            f"{_length(one['centre_radius'], unit):<14} {work['feed']['path_feed']:>9.2f} "
            f"{work['feed']['edge_feed']:>9.2f} {work['force']['power_kw']:>9.3f}{spring}"
        )
    return "\n".join(lines)


def _form(plan: dict[str, Any]) -> str:
    form, unit = plan["form"], plan["unit"]
    used = form["tolerance_used"]
    lines = [
        "The form really cut",
        f"  pitch diameter {_length(form['pitch_diameter'], unit)}, functional "
        f"{_length(form['functional_diameter'], unit)}",
        f"  major {_length(form['major_diameter'], unit)}, minor "
        f"{_length(form['minor_diameter'], unit)}",
        f"  overcut would shift the pitch diameter by {form['overcut_effect']:+.5f} {unit}; the "
        "centre path allows for it",
    ]
    if used is not None:
        lines.append(f"  the bend of the flanks takes {used:.1%} of the pitch diameter tolerance")
    return "\n".join(lines)


def _time(plan: dict[str, Any]) -> str:
    time, cost = plan["time"], plan["cost"]
    lines = [f"Time: {time['total_s']:.0f} s a part ({time['cutting_s']:.0f} s cutting)"]
    if cost is not None:
        lines.append(
            f"  {plan['quantity']} parts: {cost['batch_hours']:.2f} h, {cost['per_part']:.2f} each"
        )
    return "\n".join(lines)


def _gauging(plan: dict[str, Any]) -> str:
    gauging, unit = plan["gauging"], plan["unit"]
    if gauging is None:
        told = next(check["detail"] for check in plan["checks"] if check["code"] == "gauging")
        return f"Gauging: {told}"
    lines = [
        "Gauging",
        f"  {gauging['method']}, {gauging['wire']:.5g} {unit}: "
        f"{gauging['least_reading']:.5f} to {gauging['greatest_reading']:.5f}, aim "
        f"{gauging['aimed_reading']:.5f}",
        "  reading      what to do",
    ]
    lines += [f"  {row['reading']:<11.5f}  {row['words']}" for row in gauging["table"]]
    return "\n".join(lines)


def _checks(plan: dict[str, Any]) -> str:
    lines = ["Checks"]
    for check in plan["checks"]:
        lines.append(f"  {MARKS[check['state']]} {check['detail']}")
        if check["state"] != "passed" and check["change"]:
            lines.append(f"          change: {check['change']}")
    return "\n".join(lines)


def _assumed(plan: dict[str, Any]) -> str:
    return "\n".join(("Assumed", *(f"  {line}" for line in plan["assumed"] or ("nothing",))))


def _program(plan: dict[str, Any]) -> str:
    program = plan["program"]
    if program is None:
        return "No program: a check refuses this plan."
    return f"Program ({program['blocks']} blocks, {program['bytes']} bytes)\n{program['text']}"


def _cautions(plan: dict[str, Any]) -> str:
    return "\n".join(("Cautions", *(f"  {line}" for line in plan["cautions"])))


def _length(value: float | None, unit: str) -> str:
    if value is None:
        return "-"
    return f"{value:.4f}" if unit == "in" else f"{value:.3f}"
