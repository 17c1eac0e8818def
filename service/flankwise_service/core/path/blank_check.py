"""What makes a boss or a hole impossible to mill as asked, each said with its figure."""

from __future__ import annotations

import math

from flankwise_service.core.errors import (
    BadInput,
    Fault,
    Faults,
    Impossible,
    at_most,
    plain,
    plain_beyond,
    plain_greatest,
    plain_least,
)
from flankwise_service.core.path.blank_request import (
    MOTIONS,
    Bore,
    Boss,
    bore_radii,
    ramp_angle,
)
from flankwise_service.core.path.lengths import (
    GREATEST_FEED,
    GREATEST_LENGTH,
    LEAST_LENGTH,
    choose,
    refuse_too_many,
)
from flankwise_service.core.path.request import SWEEPS
from flankwise_service.core.path.spiral import chord_angle

MOST_LEVELS = 10_000
MOST_ROUNDS = 1_000


def _lengths(faults: Faults, of: Boss | Bore, *names: str) -> None:
    for name in names:
        value = getattr(of, name)
        if value is not None:
            faults.within(
                f"/{name}",
                value,
                least=1e-7 if name == "chord_tolerance" else LEAST_LENGTH,
                greatest=GREATEST_FEED if name.endswith("feed") else GREATEST_LENGTH,
                name=name.replace("_", " "),
            )


def _check_common(of: Boss | Bore, faults: Faults) -> None:
    _lengths(
        faults, of, "diameter", "depth", "cutter_diameter", "edge_feed", "clearance",
        "clearance_height", "width_per_pass", "chord_tolerance", "plunge_feed",
    )  # fmt: skip
    choose(faults, "milling", of.milling, ("climb", "conventional"))
    choose(faults, "greatest_sweep", of.greatest_sweep, SWEEPS)
    faults.within(
        "/finish_allowance", of.finish_allowance, least=0, greatest=GREATEST_LENGTH,
        name="finish allowance",
    )  # fmt: skip
    for index in (0, 1):
        faults.within(
            f"/centre/{index}", of.centre[index], least=-GREATEST_LENGTH,
            greatest=GREATEST_LENGTH, name="centre",
        )  # fmt: skip


def check_boss(boss: Boss) -> None:
    """Raise a refusal with the faults of a boss; else return.

    >>> check_boss(Boss(20.0, 15.0, 18.0, 16.0, 600.0, 5.0, 1.0, 5.0))
    Traceback (most recent call last):
    flankwise_service.core.errors.Impossible: stock of 18 leaves nothing to mill round a boss of 20
    """
    faults = Faults()
    _check_common(boss, faults)
    _lengths(faults, boss, "stock_diameter", "depth_per_level")
    choose(faults, "motion", boss.motion, MOTIONS)
    faults.raise_any(BadInput)
    least = boss.diameter + 2 * boss.finish_allowance
    faults.need(
        boss.stock_diameter > least,
        "/stock_diameter",
        "no_stock",
        f"stock of {plain(boss.stock_diameter)} leaves nothing to mill round a boss of "
        f"{plain(least)}",
        f"give stock greater than {plain(least)}; for a hexagon its size across corners",
        boss.stock_diameter,
    )
    faults.raise_any(Impossible)
    width = boss.width_per_pass or boss.cutter_diameter / 2
    _refuse_post(width, boss.cutter_diameter, faults)
    rounds = (boss.stock_diameter - least) / (2 * width)
    _check_count(of=boss, rounds=rounds, levels=boss.depth / boss.depth_per_level, faults=faults)


def check_bore(bore: Bore) -> None:
    """Raise a refusal with the faults of a hole; else return.

    >>> check_bore(Bore(20.0, 10.0, 20.0, 600.0, 2.5, 1.0, 5.0))
    Traceback (most recent call last):
    flankwise_service.core.errors.Impossible: a cutter of 20 can't go round in a hole of 20
    """
    faults = Faults()
    _check_common(bore, faults)
    _lengths(faults, bore, "depth_per_turn")
    faults.within(
        "/pilot_diameter", bore.pilot_diameter, least=0, greatest=GREATEST_LENGTH,
        name="pilot diameter",
    )  # fmt: skip
    if bore.greatest_ramp_angle is not None:
        faults.within(
            "/greatest_ramp_angle", bore.greatest_ramp_angle, least=0.01, greatest=90,
            name="greatest ramp angle",
        )  # fmt: skip
    faults.raise_any(BadInput)
    roughed = bore.diameter - 2 * bore.finish_allowance
    faults.need(
        bore.cutter_diameter < roughed,
        "/cutter_diameter",
        "does_not_fit",
        f"a cutter of {plain(bore.cutter_diameter)} can't go round in a hole of {plain(roughed)}",
        f"take a cutter smaller than {plain(roughed)}",
        bore.cutter_diameter,
    )
    faults.need(
        bore.pilot_diameter < roughed,
        "/pilot_diameter",
        "no_stock",
        f"a pilot hole of {plain(bore.pilot_diameter)} leaves nothing to bore to {plain(roughed)}",
        f"give a pilot hole smaller than {plain(roughed)}, or leave it out for none",
        bore.pilot_diameter,
    )
    faults.raise_any(Impossible)
    faults.need(
        bore.clearance <= bore.clearance_height,
        "/clearance_height",
        "too_low",
        f"free motion at {plain(bore.clearance_height)} is below where the rounds begin, "
        f"{plain(bore.clearance)} above the face",
        f"give a clearance height of at least {plain_least(bore.clearance)}",
        bore.clearance_height,
    )
    width = bore.width_per_pass or bore.cutter_diameter / 2
    _refuse_post(width, bore.cutter_diameter, faults)
    levels = (bore.depth + bore.clearance) / bore.depth_per_turn
    _check_count(of=bore, rounds=bore.diameter / (2 * width), levels=levels, faults=faults)
    _refuse_steep(bore)


def _refuse_post(width: float, cutter_diameter: float, faults: Faults) -> None:
    faults.need(
        width <= cutter_diameter,
        "/width_per_pass",
        "leaves_material",
        f"rounds {plain(width)} apart leave material standing between them",
        f"give a width of at most the cutter's diameter, {plain_greatest(cutter_diameter)}",
        width,
    )
    faults.raise_any(Impossible)


def _refuse_steep(bore: Bore) -> None:
    angle = ramp_angle(bore)
    steepest = bore.greatest_ramp_angle
    if steepest is None or angle <= steepest:
        return
    least = bore_radii(bore)[0] - bore.cutter_diameter / 2
    step = 2 * math.pi * least * math.tan(math.radians(steepest))
    if not at_most(bore.depth_per_turn, step):
        raise Impossible(
            Fault(
                "/depth_per_turn",
                "too_steep",
                f"the way down, {plain_beyond(angle, plain(steepest), 4)} degrees, is steeper "
                "than the "
                f"{plain(steepest)} allowed",
                f"give at most {plain_greatest(step, 4)} of depth per turn",
                bore.depth_per_turn,
                greatest=step,
            )
        )


def _check_count(of: Boss | Bore, rounds: float, levels: float, faults: Faults) -> None:
    for value, most, pointer, name in (
        (rounds, MOST_ROUNDS, "/width_per_pass", "rounds"),
        (levels, MOST_LEVELS, "/depth", "levels or turns"),
    ):
        faults.need(
            value <= most,
            pointer,
            "too_many",
            f"this takes {plain(value)} {name}; at most {most} are made",
            f"take deeper or wider cuts: at most {most} {name}",
            value,
        )
    faults.raise_any(Impossible)
    each = 360 / of.greatest_sweep
    if of.chord_tolerance is not None:
        widest = (of.stock_diameter if isinstance(of, Boss) else of.diameter) / 2
        each = 360 / chord_angle(widest + of.cutter_diameter, of.chord_tolerance)
    refuse_too_many((rounds + 2) * (levels + 4) * (each + 3), "/depth")
