"""What goes with every plan, program and sheet, whatever it says."""

from __future__ import annotations

CAUTIONS: tuple[str, ...] = (
    "Prove the program out in air, above the work, before it cuts.",
    "Check tool numbers, tool lengths, offsets and the work zero at the machine.",
    "Keep guards and doors shut; wear eye protection.",
    "Speeds and feeds are starting values: listen, look, and slow down when in doubt.",
    "The machine's manual, the cutter maker's data, local rules and a qualified person come first.",
)
