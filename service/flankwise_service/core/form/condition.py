"""What a spindle's runout and a worn tooth do to the pitch diameter."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from flankwise_service.core.errors import BadInput, Faults
from flankwise_service.core.form.model import Cut, checked
from flankwise_service.core.form.pitchline import pitch_line

MOST_FLUTES = 100


@dataclass(frozen=True, slots=True)
class ConditionEffect:
    """Pitch diameter with the cutter as it runs, against a true and sharp one on the same path."""

    pitch_diameter: float
    """Of the true and sharp cutter."""
    pitch_diameter_least: float
    pitch_diameter_greatest: float
    """With runout and wear. How high the highest tooth stands depends on where the runout lies
    among the flutes, so there are two figures."""
    by_runout_least: float
    by_runout_greatest: float
    """Change of pitch diameter by the runout alone; signed."""
    by_wear: float
    """Change of pitch diameter by the wear alone; signed."""
    deeper_least: float
    deeper_greatest: float
    """How much deeper the highest tooth cuts than a true and sharp one: signed, radial."""


def highest_tooth(runout: float, flutes: int) -> tuple[float, float]:
    """Return the least and greatest height of the highest tooth over a true running one.

    A spindle that reads `runout` on a full turn of the dial (total indicator reading) carries the
    cutter `runout`/2 off its axis. The highest of z teeth stands between cos(180/z) and 1 times
    that off: a single tooth may even cut short. Lengths in one unit.

    >>> [round(height, 6) for height in highest_tooth(0.02, 3)]
    [0.005, 0.01]
    >>> highest_tooth(0.02, 1)
    (-0.01, 0.01)
    """
    faults = Faults()
    faults.within("/runout", runout, least=0.0, greatest=1e5, name="runout")
    faults.within("/flutes", flutes, least=1, greatest=MOST_FLUTES, name="flutes")
    faults.raise_any(BadInput)
    off_axis = runout / 2
    return off_axis * math.cos(math.pi / flutes), off_axis


def condition_effect(
    cut: Cut, *, flutes: int, runout: float = 0.0, radial_wear: float = 0.0
) -> ConditionEffect:
    """Return what runout and wear do to the pitch diameter of `cut`, from the exact form.

    `runout`: total indicator reading at the teeth. `radial_wear`: how far the tooth's profile has
    receded toward the cutter's axis; both at most the depth of the tooth. Lengths in one unit.
    Raises BadInput, Impossible.

    >>> from flankwise_service.core.cutting.cutter import Tooth
    >>> from flankwise_service.core.form.model import single
    >>> cut = single(Tooth(30.0, 30.0, 0.15625, 0.9), 3.0, "internal", 1.25, 1.0)
    >>> effect = condition_effect(cut, flutes=3, runout=0.02, radial_wear=0.008)
    >>> round(effect.by_runout_greatest, 4), round(effect.by_wear, 4)
    (0.0201, -0.0161)
    """
    checked(cut)
    faults = Faults()
    deepest = cut.tooth.depth
    faults.within("/runout", runout, least=0.0, greatest=deepest, name="runout")
    faults.within("/radial_wear", radial_wear, least=0.0, greatest=deepest / 2, name="radial wear")
    faults.raise_any(BadInput)
    least, greatest = highest_tooth(runout, flutes)
    true = _pitch_diameter(cut, 0.0)
    worn = [_pitch_diameter(cut, height - radial_wear) for height in (least, greatest)]
    return ConditionEffect(
        pitch_diameter=true,
        pitch_diameter_least=min(worn),
        pitch_diameter_greatest=max(worn),
        by_runout_least=_pitch_diameter(cut, least) - true,
        by_runout_greatest=_pitch_diameter(cut, greatest) - true,
        by_wear=_pitch_diameter(cut, -radial_wear) - true,
        deeper_least=least - radial_wear,
        deeper_greatest=greatest - radial_wear,
    )


def _pitch_diameter(cut: Cut, larger: float) -> float:
    return 2 * pitch_line(checked(replace(cut, cutter_radius=cut.cutter_radius + larger))).radius
