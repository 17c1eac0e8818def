"""The words the interpreter knows, by modal group: one of a group in a block, no more.

Sources: Kramer, Proctor, Messina: NISTIR 6556 (2000), table 4 (modal groups); ISO 6983-1:2009 for
G70 and G71; from memory.
"""

from __future__ import annotations

G_GROUPS: dict[str, tuple[float, ...]] = {
    "motion": (0, 1, 2, 3, 80),
    "plane": (17, 18, 19),
    "unit": (20, 21, 70, 71),
    "distance": (90, 91),
    "arc centre": (91.1,),
    "feed mode": (93, 94, 95),
    "radius offset": (40, 41, 42),
    "length offset": (43, 49),
    "work offset": (54, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3),
    "path control": (61, 61.1, 64),
    "dwell": (4,),
}
M_GROUPS: dict[str, tuple[float, ...]] = {
    "spindle": (3, 4, 5),
    "coolant": (7, 8, 9),
    "tool change": (6,),
    "stop": (0, 1, 2, 30),
}
GROUP_OF: dict[tuple[str, float], str] = {
    (letter, float(code)): group
    for letter, groups in (("G", G_GROUPS), ("M", M_GROUPS))
    for group, known in groups.items()
    for code in known
}
ONCE = frozenset("DFHIJKOPRSTXYZ")
"""Letters that may stand once in a block. N is taken off before; every other letter is unknown."""
REPEATED = frozenset("GM")
"""Letters that may stand more than once."""
PLANES: dict[float, tuple[int, int, int]] = {17: (0, 1, 2), 18: (2, 0, 1), 19: (1, 2, 0)}
"""Axes of each plane, in the order that makes counter-clockwise positive, then the one across."""
