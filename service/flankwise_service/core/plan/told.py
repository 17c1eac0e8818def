"""What a plan says in words for the sheet and the page alike."""

from __future__ import annotations

from flankwise_service.core.plan.result import MotionPlan


def turns_words(motion: MotionPlan, rows: int) -> str:
    """Return the turns of the thread, and those that the cutter really makes, in words.

    >>> from dataclasses import replace
    >>> one = MotionPlan("external", "left", "climb", "counterclockwise", "upward", 0.125, 1, 8.0,
    ...                  8.46, 1, "half_arc", "half_arc", 0.02)
    >>> turns_words(one, 1)
    '8 turns of thread; the cutter makes 8.46, run-in and run-out with them'
    >>> turns_words(replace(one, starts=2, runs=2), 1)[-70:]
    'the cutter makes 8.46, run-in and run-out with them, in each of 2 runs'
    >>> turns_words(replace(one, turns_cut=1.028, runs=2), 5)
    '8 turns of thread; the cutter makes 1.03, its 5 rows cutting side by side, in each of 2 runs'
    """
    how = "run-in and run-out with them"
    if rows > 1:
        how = f"its {rows} rows cutting side by side"
    runs = f", in each of {motion.runs} runs" if motion.runs > 1 else ""
    return (
        f"{round(motion.turns, 2):g} turns of thread; the cutter makes "
        f"{round(motion.turns_cut, 2):g}, {how}{runs}"
    )
