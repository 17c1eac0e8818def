"""Cost of a batch, from time, rates and how long a cutter lasts.

Source: cost accounting by machine hour rate (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass

from flankwise_service.core.cutting.ranges import refuse_outside


@dataclass(frozen=True, slots=True)
class BatchCost:
    """Money in whatever currency the rates were given in."""

    machine_per_part: float
    cutter_per_part: float
    material_per_part: float
    setup_per_part: float
    per_part: float
    batch: float
    batch_hours: float
    cutters_used: float


def batch_cost(
    seconds_per_part: float,
    parts: int,
    *,
    hourly_rate: float,
    setup_minutes: float = 0.0,
    cutter_price: float = 0.0,
    cutter_life_minutes: float | None = None,
    cutting_seconds_per_part: float | None = None,
    material_per_part: float = 0.0,
) -> BatchCost:
    """Return the cost of a batch and of one part of it.

    per part = rate * time + setup/parts + cutter_price * cutting time/life + material. The life
    is minutes in cut; None (or price 0) counts no cutters. `cutting_seconds_per_part` defaults to
    the whole time, which errs to the dear side.

    >>> round(batch_cost(90.0, 10, hourly_rate=80.0, setup_minutes=30.0).per_part, 2)
    6.0
    """
    cutting = seconds_per_part if cutting_seconds_per_part is None else cutting_seconds_per_part
    life = 1.0 if cutter_life_minutes is None else cutter_life_minutes
    refuse_outside(
        seconds_per_part=(seconds_per_part, 0, 1e7, "s"),
        parts=(parts, 1, 1e7, None),
        hourly_rate=(hourly_rate, 0, 1e6, None),
        setup_minutes=(setup_minutes, 0, 1e6, "min"),
        cutter_price=(cutter_price, 0, 1e6, None),
        cutter_life_minutes=(life, 0.01, 1e6, "min"),
        cutting_seconds_per_part=(cutting, 0, 1e7, "s"),
        material_per_part=(material_per_part, 0, 1e7, None),
    )
    rate = float(hourly_rate) / 3600
    worn = 0.0 if cutter_life_minutes is None else float(cutting) / 60 / float(life)
    machine = rate * float(seconds_per_part)
    setup = rate * float(setup_minutes) * 60 / float(parts)
    per_part = machine + setup + worn * float(cutter_price) + float(material_per_part)
    return BatchCost(
        machine_per_part=machine,
        cutter_per_part=worn * float(cutter_price),
        material_per_part=float(material_per_part),
        setup_per_part=setup,
        per_part=per_part,
        batch=per_part * float(parts),
        batch_hours=(float(seconds_per_part) * float(parts) / 60 + float(setup_minutes)) / 60,
        cutters_used=worn * float(parts),
    )
