"""The materials flankwise knows, with the standing of every figure.

Designations and hardness: recalled from EN 10025, EN 10083, EN 10087, EN 10088, EN ISO 4957, EN
1561, EN 1563, EN 573, EN 12164, SAE J403/J404 and the UNS (memory). kc1.1 and mc of E295, E335,
16MnCr5, 18CrNi6, 42CrMo4 and EN-GJL-250: values of Kienzle and Victor (memory), tested against RN
1391 Table 2 (seen); C45, C60, St37 and 51CrV4 of the same (memory, untested); the rest are group
values (memory, +-25 %). For austenitic stainless recalled values run from 1750 to 2350 N/mm2;
these stand between. Speeds and chip loads: where shops start with thread mills (common practice,
no source).
"""

from __future__ import annotations

from typing import Literal

from flankwise_service.core.cutting.materials import (
    CuttingWindow,
    Figure,
    Group,
    Material,
    Window,
    material,
    plain,
)
from flankwise_service.core.threads.model import Source

HARDNESS = Source("material standard of the designation", "", "as commonly delivered", "memory")
DENSITY = Source("material standard of the designation", "", "density at 20 degrees C", "memory")
SPEEDS = Source("thread milling, where shops start", "", "", "common practice, no source")
KIENZLE = Source("Kienzle and Victor, VDI-Z", "1952 to 1969", "kc1.1 and mc", "memory")
GROUP_FORCE = Source("kc1.1 and mc of the material's group", "", "", "memory")

_CHIP_SHARE: dict[Group, tuple[float, float]] = {
    "P": (0.004, 0.008), "M": (0.003, 0.006), "K": (0.004, 0.009), "N": (0.005, 0.010),
    "S": (0.002, 0.004), "H": (0.001, 0.0025),
}  # fmt: skip


def _row(
    group: Group,
    description: str,
    designations: str,
    hardness: tuple[float, float],
    density: float,
    force: tuple[float, float] | None,
    carbide: tuple[float, float],
    steel: tuple[float, float] | None,
    *,
    scale: Literal["HB", "HRC", "Shore D"] = "HB",
    kienzle: bool = False,
    notes: tuple[str, ...] = (),
) -> Material:
    names = tuple(name.strip() for name in designations.split("|"))
    share = Window(*_CHIP_SHARE[group], SPEEDS)
    windows = [CuttingWindow("carbide", _window(carbide, SPEEDS), share)]
    if steel is not None:
        windows.append(CuttingWindow("high speed steel", _window(steel, SPEEDS), share))
    source, spread = (KIENZLE, 0.15) if kienzle else (GROUP_FORCE, 0.25)
    return Material(
        name=names[0],
        group=group,
        description=description,
        designations=names,
        hardness=_window(hardness, HARDNESS),
        hardness_scale=scale,
        density_g_per_cm3=Figure(density, DENSITY),
        kc11_n_per_mm2=None if force is None else Figure(float(force[0]), source, spread),
        mc=None if force is None else Figure(float(force[1]), source),
        windows=tuple(windows),
        notes=notes,
    )


def _window(pair: tuple[float, float], source: Source) -> Window:
    return Window(float(pair[0]), float(pair[1]), source)


_TITANIUM = (
    "titanium chips can burn: flood coolant, clear chips, keep a class D extinguisher at hand "
    "and follow local rules",
)
_MAGNESIUM = (
    "magnesium chips burn and react with water: ask the coolant's maker, clear chips, keep a "
    "class D extinguisher at hand and follow local rules",
)
_BERYLLIUM = ("dust of copper beryllium harms the lungs: cut wet and follow local rules",)
_HARDENS = ("hardens as it is cut: never rub, keep the chip load up",)

_P = (
    _row("P", "free-cutting low carbon steel",
         "1215 | G12150 | 1.0715 | 11SMn30 | 9SMn28 | 1.0718 | 11SMnPb30 | 12L14 | G12144",
         (110, 170), 7.85, (1300, 0.20), (90, 150), (35, 46)),
    _row("P", "low carbon steel",
         "1018 | G10180 | 1020 | G10200 | C15E | 1.1141 | C15 | 1.0401",
         (110, 180), 7.85, (1820, 0.22), (80, 130), (30, 34)),
    _row("P", "structural steel", "S235JR | 1.0038 | A36 | K02600 | St37-2 | Fe360B",
         (105, 150), 7.85, (1780, 0.17), (80, 130), (26, 34), kienzle=True),
    _row("P", "structural steel", "S355J2 | 1.0577 | S355JR | 1.0045 | A572",
         (140, 190), 7.85, (1990, 0.26), (70, 120), (24, 30)),
    _row("P", "engineering steel, plain", "E295 | 1.0050 | St50-2",
         (140, 180), 7.85, (1990, 0.26), (70, 120), (24, 30), kienzle=True),
    _row("P", "engineering steel, plain", "E335 | 1.0060 | St60-2",
         (170, 210), 7.85, (2110, 0.17), (60, 110), (20, 27), kienzle=True),
    _row("P", "medium carbon steel", "1045 | G10450 | C45E | 1.1191 | C45 | 1.0503 | Ck45",
         (165, 220), 7.85, (2220, 0.14), (60, 110), (20, 27), kienzle=True),
    _row("P", "medium carbon steel", "1060 | G10600 | C60E | 1.1221 | C60 | 1.0601 | Ck60",
         (180, 240), 7.85, (2130, 0.18), (55, 100), (17, 24), kienzle=True),
    _row("P", "free-cutting medium carbon steel", "1144 | G11440 | 44SMn28 | 1.0762",
         (180, 240), 7.85, (1900, 0.20), (70, 120), (24, 34)),
    _row("P", "case hardening steel, soft", "16MnCr5 | 1.7131 | 5115 | G51150 | 16MnCrS5 | 1.7139",
         (140, 205), 7.85, (2100, 0.26), (70, 120), (21, 30), kienzle=True),
    _row("P", "case hardening steel, soft", "8620 | G86200 | 20NiCrMo2-2 | 1.6523",
         (150, 210), 7.85, (2100, 0.26), (70, 120), (21, 30)),
    _row("P", "case hardening steel, soft", "18CrNi8 | 1.5920 | 18CrNi6",
         (160, 230), 7.85, (2260, 0.30), (65, 110), (18, 26), kienzle=True),
    _row("P", "alloy steel, annealed",
         "4140 | G41400 | 42CrMo4 | 1.7225 | 42CrMoS4 | 1.7227 | 708M40 | SCM440",
         (180, 245), 7.85, (2500, 0.26), (60, 100), (15, 23), kienzle=True),
    _row("P", "alloy steel, quenched and tempered",
         "4140 HT | 42CrMo4+QT | 1.7225+QT | 4140 prehard | 4140 PH",
         (270, 330), 7.85, (2600, 0.26), (45, 80), (9, 15)),
    _row("P", "alloy steel", "4130 | G41300 | 25CrMo4 | 1.7218",
         (160, 220), 7.85, (2240, 0.21), (60, 105), (18, 26)),
    _row("P", "alloy steel, annealed", "4340 | G43400 | 34CrNiMo6 | 1.6582",
         (210, 260), 7.85, (2500, 0.26), (55, 90), (12, 20)),
    _row("P", "spring steel, annealed", "50CrV4 | 1.8159 | 51CrV4 | 6150 | G61500",
         (190, 250), 7.85, (2220, 0.26), (55, 90), (12, 20), kienzle=True),
    _row("P", "bearing steel, annealed", "52100 | G52986 | 100Cr6 | 1.3505",
         (180, 210), 7.85, (2300, 0.26), (55, 90), (14, 20)),
    _row("P", "mould steel, prehardened", "P20 | T51620 | 40CrMnNiMo8-6-4 | 1.2738 | 1.2311",
         (280, 330), 7.85, (2500, 0.26), (45, 80), (9, 15)),
    _row("P", "hot work tool steel, annealed", "H13 | T20813 | X40CrMoV5-1 | 1.2344",
         (185, 235), 7.80, (2300, 0.25), (50, 85), (12, 18)),
    _row("P", "cold work tool steel, annealed", "O1 | T31501 | 100MnCrW4 | 1.2510",
         (180, 230), 7.85, (2300, 0.25), (50, 85), (12, 18)),
    _row("P", "cold work tool steel, annealed", "D2 | T30402 | X153CrMoV12 | 1.2379",
         (210, 255), 7.70, (2500, 0.25), (40, 70), (8, 14)),
    _row("P", "stainless, ferritic free-cutting", "430F | S43020 | X14CrMoS17 | 1.4104",
         (170, 230), 7.70, (1900, 0.21), (70, 120), (24, 32)),
    _row("P", "stainless, martensitic free-cutting", "416 | S41600 | X12CrS13 | 1.4005",
         (155, 260), 7.70, (1900, 0.21), (70, 120), (24, 32)),
    _row("P", "stainless, martensitic, annealed", "420 | S42000 | X20Cr13 | 1.4021",
         (180, 230), 7.70, (2100, 0.21), (55, 95), (15, 23)),
    _row("P", "stainless, martensitic, tempered", "431 | S43100 | X17CrNi16-2 | 1.4057",
         (240, 295), 7.70, (2300, 0.21), (45, 80), (12, 18)),
    _row("P", "stainless, martensitic, annealed", "440C | S44004 | X105CrMo17 | 1.4125",
         (230, 285), 7.70, (2400, 0.21), (40, 65), (9, 14)),
    _row("P", "stainless, precipitation hardening",
         "17-4PH | S17400 | 630 | X5CrNiCuNb16-4 | 1.4542",
         (290, 375), 7.80, (2500, 0.21), (40, 70), (8, 14)),
)  # fmt: skip

_M = (
    _row("M", "stainless, austenitic free-cutting",
         "303 | S30300 | X8CrNiS18-9 | 1.4305 | 303S31 | SUS303",
         (160, 240), 7.90, (1850, 0.21), (65, 110), (24, 34), notes=_HARDENS),
    _row("M", "stainless, austenitic",
         "304 | S30400 | X5CrNi18-10 | 1.4301 | 304L | S30403 | 1.4307 | X2CrNi18-9 | SUS304",
         (140, 215), 7.90, (2050, 0.21), (50, 90), (18, 24), notes=_HARDENS),
    _row("M", "stainless, austenitic with molybdenum",
         "316 | S31600 | X5CrNiMo17-12-2 | 1.4401 | 316L | S31603 | 1.4404 | X2CrNiMo17-12-2",
         (140, 215), 8.00, (2100, 0.21), (45, 80), (15, 21), notes=_HARDENS),
    _row("M", "stainless, austenitic stabilised",
         "321 | S32100 | X6CrNiTi18-10 | 1.4541 | 316Ti | S31635 | 1.4571",
         (140, 215), 7.90, (2100, 0.21), (45, 80), (15, 21), notes=_HARDENS),
    _row("M", "stainless, duplex", "2205 | S32205 | S31803 | X2CrNiMoN22-5-3 | 1.4462",
         (220, 270), 7.80, (2400, 0.21), (35, 60), (9, 14), notes=_HARDENS),
)  # fmt: skip

_K = (
    _row("K", "grey cast iron", "EN-GJL-250 | EN-JL1040 | 5.1301 | GG25 | A48-35 | F12401 | GJL250",
         (180, 250), 7.20, (1160, 0.26), (70, 120), (20, 27), kienzle=True),
    _row("K", "grey cast iron", "EN-GJL-200 | EN-JL1030 | 5.1300 | GG20 | A48-30 | F12101",
         (150, 220), 7.15, (1020, 0.25), (75, 130), (21, 29)),
    _row("K", "ductile cast iron, ferritic",
         "EN-GJS-400-15 | EN-JS1030 | 5.3106 | GGG40 | 60-40-18 | F32800",
         (135, 180), 7.10, (1080, 0.24), (70, 120), (20, 27)),
    _row("K", "ductile cast iron", "EN-GJS-500-7 | EN-JS1050 | 5.3200 | GGG50 | 65-45-12 | F33100",
         (170, 230), 7.10, (1350, 0.26), (60, 110), (18, 25)),
    _row("K", "ductile cast iron, pearlitic",
         "EN-GJS-700-2 | EN-JS1070 | 5.3300 | GGG70 | 100-70-03 | F34800",
         (225, 305), 7.20, (1550, 0.26), (45, 85), (12, 18)),
)  # fmt: skip

_N = (
    _row("N", "aluminium, wrought",
         "6082 | EN AW-6082 | A96082 | 3.2315 | AlSi1MgMn | AW6082-T6",
         (75, 100), 2.70, (700, 0.25), (150, 350), (60, 120)),
    _row("N", "aluminium, wrought", "6061 | EN AW-6061 | A96061 | 3.3211 | AlMg1SiCu | 6061-T6",
         (80, 100), 2.70, (700, 0.25), (150, 350), (60, 120)),
    _row("N", "aluminium, wrought, high strength",
         "7075 | EN AW-7075 | A97075 | 3.4365 | AlZn5.5MgCu | 7075-T6",
         (130, 165), 2.80, (800, 0.25), (150, 350), (60, 110)),
    _row("N", "aluminium, wrought, high strength", "2024 | EN AW-2024 | A92024 | 3.1355 | AlCu4Mg1",
         (110, 140), 2.78, (800, 0.25), (150, 350), (60, 110)),
    _row("N", "aluminium, wrought, free-cutting", "2011 | EN AW-2011 | A92011 | AlCu6BiPb | 3.1655",
         (95, 120), 2.83, (650, 0.25), (180, 400), (75, 140)),
    _row("N", "aluminium, wrought, soft", "5083 | EN AW-5083 | A95083 | AlMg4.5Mn0.7 | 3.3547",
         (70, 95), 2.66, (700, 0.25), (150, 350), (60, 120)),
    _row("N", "aluminium, cast", "A356 | A13560 | EN AC-42100 | AlSi7Mg0.3",
         (60, 95), 2.68, (750, 0.25), (120, 260), (45, 90)),
    _row("N", "aluminium, die cast", "AlSi10Mg | EN AC-43000 | A360 | A03600 | 3.2381",
         (70, 100), 2.65, (800, 0.25), (110, 240), (40, 80)),
    _row("N", "brass, free-cutting",
         "CW614N | CuZn39Pb3 | C38500 | 2.0401 | C36000 | CuZn36Pb3 | CW603N | Ms58",
         (90, 150), 8.47, (780, 0.18), (120, 250), (45, 75)),
    _row("N", "brass, without lead", "CW508L | CuZn37 | C27200 | 2.0321 | CW510L | CuZn42",
         (65, 150), 8.44, (1180, 0.15), (90, 180), (35, 60)),
    _row("N", "copper", "C11000 | CW004A | Cu-ETP | 2.0065 | C10100 | CW009A",
         (45, 100), 8.93, (1100, 0.20), (80, 160), (25, 45)),
    _row("N", "copper beryllium", "C17200 | CW101C | CuBe2 | 2.1247",
         (180, 400), 8.25, (1700, 0.22), (40, 80), (12, 20), notes=_BERYLLIUM),
    _row("N", "tin bronze", "CW453K | CuSn8 | C52100 | 2.1030 | C93200 | CC493K | CuSn7Zn4Pb7",
         (65, 180), 8.80, (1000, 0.20), (70, 140), (25, 45)),
    _row("N", "aluminium bronze", "C95400 | C63000 | CW307G | CuAl10Ni5Fe4 | 2.0966",
         (140, 220), 7.60, (1500, 0.22), (50, 100), (15, 26)),
    _row("N", "magnesium", "AZ91 | M11916 | EN-MC21120 | AZ31 | M11311",
         (50, 75), 1.80, (400, 0.20), (180, 400), (75, 150), notes=_MAGNESIUM),
    _row("N", "plastic, polyoxymethylene", "POM | POM-C | acetal",
         (78, 86), 1.41, None, (150, 300), (75, 150), scale="Shore D"),
    _row("N", "plastic, polyetheretherketone", "PEEK",
         (83, 90), 1.31, None, (100, 200), (50, 100), scale="Shore D"),
    _row("N", "plastic, polyamide", "PA66 | PA6 | nylon",
         (74, 84), 1.14, None, (150, 300), (75, 150), scale="Shore D"),
)  # fmt: skip

_S = (
    _row("S", "titanium alloy, annealed",
         "Ti-6Al-4V | R56400 | 3.7165 | Ti6Al4V | TiAl6V4 | Grade 5 titanium | 3.7164",
         (300, 360), 4.43, (1400, 0.23), (30, 55), (9, 14), notes=_TITANIUM),
    _row("S", "titanium, commercially pure", "Ti grade 2 | R50400 | 3.7035 | Grade 2 titanium",
         (145, 215), 4.51, (1300, 0.23), (40, 75), (15, 24), notes=_TITANIUM),
    _row("S", "nickel alloy, aged", "Alloy 718 | N07718 | 2.4668 | NiCr19Fe19Nb5Mo3",
         (330, 440), 8.20, (2800, 0.25), (18, 35), (3, 6), notes=_HARDENS),
    _row("S", "nickel alloy, annealed", "Alloy 625 | N06625 | 2.4856 | NiCr22Mo9Nb",
         (180, 260), 8.44, (2600, 0.25), (20, 38), (4, 8), notes=_HARDENS),
    _row("S", "nickel copper alloy", "Alloy 400 | N04400 | 2.4360 | NiCu30Fe",
         (110, 180), 8.80, (2200, 0.25), (35, 60), (11, 17), notes=_HARDENS),
    _row("S", "iron-base heat-resistant alloy", "A286 | S66286 | 1.4980 | X6NiCrTiMoVB25-15-2",
         (250, 340), 7.94, (2600, 0.25), (25, 45), (6, 10), notes=_HARDENS),
)  # fmt: skip

_H = (
    _row("H", "hot work tool steel, hardened",
         "H13 hardened | X40CrMoV5-1+QT | 1.2344+QT | 1.2344 hardened",
         (44, 52), 7.80, (3500, 0.25), (30, 55), None, scale="HRC"),
    _row("H", "alloy steel, hardened", "4340 hardened | 34CrNiMo6 hardened | 4140 hardened",
         (44, 52), 7.85, (3500, 0.25), (30, 55), None, scale="HRC"),
    _row("H", "cold work tool steel, hardened", "D2 hardened | 1.2379 hardened",
         (56, 62), 7.70, (4500, 0.25), (18, 32), None, scale="HRC"),
)  # fmt: skip

MATERIALS: tuple[Material, ...] = _P + _M + _K + _N + _S + _H


def find_material(designation: str) -> Material:
    """Return the material of this designation: EN, UNS, AISI/SAE number or short name.

    Unknown: NoSource, naming those that look alike.

    >>> find_material("AISI 303").designations[2]
    'X8CrNiS18-9'
    >>> find_material("en aw-6082").group
    'N'
    """
    return material(designation, MATERIALS)


def list_materials(search: str = "", group: Group | None = None) -> tuple[Material, ...]:
    """Return the materials of a group that have a designation or description holding `search`.

    >>> [found.name for found in list_materials("1.4305")]
    ['303']
    >>> [found.name for found in list_materials("ductile", "K")][:1]
    ['EN-GJS-400-15']
    """
    wanted, words = plain(search), search.strip().casefold()
    return tuple(
        found
        for found in MATERIALS
        if group in (None, found.group)
        and (words in found.description or any(wanted in plain(n) for n in found.designations))
    )
