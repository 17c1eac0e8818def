"""ASME B1.20.1-1983 (R2006): American National Standard pipe threads, the cells that govern.

The hand-tight length L1 is tabulated, not computed. Checked at 23 of the 24 sizes against a scan of
Table 2 (NPT 1/8 to 24 OD); E0, E1, L2 and E2 follow from the formulas of the standard.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source

EDITION = "1983 (R2006)"
FORMULAS = Source("ASME B1.20.1", EDITION, "section 3, formulas of E0, L2; form of Fig. 1")
HAND_TIGHT_SEEN = Source("ASME B1.20.1", EDITION, "Table 2, column L1", "seen")
HAND_TIGHT_REMEMBERED = Source("ASME B1.20.1", EDITION, "Table 2, column L1", "memory")
TRUNCATION = Source("ASME B1.20.1", EDITION, "Table 1, truncation; Table 2, vanish length", "seen")
COUPLING = Source(
    "ASME B1.20.1",
    "2013",
    "4.1.2: pitch diameter limits are 1 1/2 turns large and small of E1",
    "seen",
)
COUPLING_MINOR = Source("ASME B1.20.1", EDITION, "Table 4, minor diameter", "memory")
MECHANICAL_JOINT = Source(
    "Machinery's Handbook 27, p. 1865, Table 5", "ASME B1.20.1-1983 (R2001)", "NPSM", "seen"
)


class PipeSize(NamedTuple):
    """One nominal pipe size of NPT."""

    name: str
    outside_diameter: Decimal
    threads_per_inch: Decimal
    hand_tight_length: Decimal
    seen: bool
    """L1 was read on a page of the standard or of a pipe supplier, not only recalled."""


_TABLE_2 = """
1/16;0.3125;27;0.160;m
1/8;0.405;27;0.1615;s
1/4;0.540;18;0.2278;s
3/8;0.675;18;0.240;s
1/2;0.840;14;0.320;s
3/4;1.050;14;0.339;s
1;1.315;11.5;0.400;s
1 1/4;1.660;11.5;0.420;s
1 1/2;1.900;11.5;0.420;s
2;2.375;11.5;0.436;s
2 1/2;2.875;8;0.682;s
3;3.500;8;0.766;s
3 1/2;4.000;8;0.821;s
4;4.500;8;0.844;s
5;5.563;8;0.937;s
6;6.625;8;0.958;s
8;8.625;8;1.063;m
10;10.750;8;1.210;m
12;12.750;8;1.360;m
14 OD;14.000;8;1.562;m
16 OD;16.000;8;1.812;m
18 OD;18.000;8;2.000;s
20 OD;20.000;8;2.125;m
24 OD;24.000;8;2.375;m
"""


def _pipe_size(line: str) -> PipeSize:
    name, outside, threads, length, mark = line.split(";")
    return PipeSize(name, Decimal(outside), Decimal(threads), Decimal(length), mark == "s")


NPT: tuple[PipeSize, ...] = tuple(_pipe_size(line) for line in _TABLE_2.split("\n") if line)
NPT_BY_DIAMETER = {size.outside_diameter: size for size in NPT}

VANISH_LENGTH = {
    Decimal(27): Decimal("0.1285"), Decimal(18): Decimal("0.1928"), Decimal(14): Decimal("0.2478"),
    Decimal("11.5"): Decimal("0.3017"), Decimal(8): Decimal("0.4337"),
}  # fmt: skip
"""V, about 3.47 p; the printed cells of 14 and 8 threads are 0.0001 under the rounded product."""
TRUNCATION_MAX = {
    Decimal(27): Decimal("0.0036"), Decimal(18): Decimal("0.0049"), Decimal(14): Decimal("0.0056"),
    Decimal("11.5"): Decimal("0.0063"), Decimal(8): Decimal("0.0078"),
}  # fmt: skip
THREAD_HEIGHT_PITCHES = Decimal("0.800")
FUNDAMENTAL_PITCHES = Decimal("0.866025")
TRUNCATION_MIN_PITCHES = (FUNDAMENTAL_PITCHES - THREAD_HEIGHT_PITCHES) / 2
"""0.033 p as printed; taken so that the greatest height is 0.800 p to the last digit."""


class MechanicalJoint(NamedTuple):
    """Limits of one NPSM size: straight pipe thread for free-fitting mechanical joints."""

    allowance: Decimal
    external_major_max: Decimal
    external_major_min: Decimal
    external_pitch_max: Decimal
    external_pitch_min: Decimal
    internal_minor_min: Decimal
    internal_minor_max: Decimal
    internal_pitch_min: Decimal
    internal_pitch_max: Decimal


_TABLE_5 = """
1/8;0.0011;0.397;0.390;0.3725;0.3689;0.358;0.364;0.3736;0.3783
1/4;0.0013;0.526;0.517;0.4903;0.4859;0.468;0.481;0.4916;0.4974
3/8;0.0014;0.662;0.653;0.6256;0.6211;0.603;0.612;0.6270;0.6329
1/2;0.0015;0.823;0.813;0.7769;0.7718;0.747;0.759;0.7784;0.7851
3/4;0.0016;1.034;1.024;0.9873;0.9820;0.958;0.970;0.9889;0.9958
1;0.0017;1.293;1.281;1.2369;1.2311;1.201;1.211;1.2386;1.2462
1 1/4;0.0018;1.638;1.626;1.5816;1.5756;1.546;1.555;1.5834;1.5912
1 1/2;0.0018;1.877;1.865;1.8205;1.8144;1.785;1.794;1.8223;1.8302
2;0.0019;2.351;2.339;2.2944;2.2882;2.259;2.268;2.2963;2.3044
2 1/2;0.0022;2.841;2.826;2.7600;2.7526;2.708;2.727;2.7622;2.7720
3;0.0023;3.467;3.452;3.3862;3.3786;3.334;3.353;3.3885;3.3984
3 1/2;0.0023;3.968;3.953;3.8865;3.8788;3.835;3.848;3.8888;3.8988
4;0.0023;4.466;4.451;4.3848;4.3771;4.333;4.346;4.3871;4.3971
5;0.0024;5.528;5.513;5.4469;5.4390;5.395;5.408;5.4493;5.4598
6;0.0024;6.585;6.570;6.5036;6.4955;6.452;6.464;6.5060;6.5165
"""


def _mechanical_joint(line: str) -> tuple[str, MechanicalJoint]:
    name, *cells = line.split(";")
    return name, MechanicalJoint(*(Decimal(cell) for cell in cells))


NPSM: dict[str, MechanicalJoint] = dict(
    _mechanical_joint(line) for line in _TABLE_5.split("\n") if line
)
NPSC_SIZES = ("1/8", "1/4", "3/8", "1/2", "3/4", "1", "1 1/4", "1 1/2", "2", "2 1/2", "3",
              "3 1/2", "4")  # fmt: skip
