"""ISO 228-1:2000: parallel pipe threads G, the whole of Table 1.

Read in a transcription of BS EN ISO 228-1 by an open thread library (24 sizes); millimetres.
Pitch, height and diameters are as printed: the height is rounded first, then taken off.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from flankwise_service.core.threads.model import Source

EDITION = "2000"
SOURCE = Source("ISO 228-1", EDITION, "Table 1", "seen")


class ParallelSize(NamedTuple):
    """One size of ISO 228-1; tolerances as absolute values."""

    name: str
    threads_per_inch: int
    pitch: Decimal
    height: Decimal
    major: Decimal
    pitch_diameter: Decimal
    minor: Decimal
    pitch_tolerance: Decimal
    """Of internal threads and of external class A; class B has twice as much."""
    minor_tolerance: Decimal
    major_tolerance: Decimal


_TABLE_1 = """
1/16;28;0.907;0.581;7.723;7.142;6.561;0.107;0.282;0.214
1/8;28;0.907;0.581;9.728;9.147;8.566;0.107;0.282;0.214
1/4;19;1.337;0.856;13.157;12.301;11.445;0.125;0.445;0.250
3/8;19;1.337;0.856;16.662;15.806;14.950;0.125;0.445;0.250
1/2;14;1.814;1.162;20.955;19.793;18.631;0.142;0.541;0.284
5/8;14;1.814;1.162;22.911;21.749;20.587;0.142;0.541;0.284
3/4;14;1.814;1.162;26.441;25.279;24.117;0.142;0.541;0.284
7/8;14;1.814;1.162;30.201;29.039;27.877;0.142;0.541;0.284
1;11;2.309;1.479;33.249;31.770;30.291;0.180;0.640;0.360
1 1/8;11;2.309;1.479;37.897;36.418;34.939;0.180;0.640;0.360
1 1/4;11;2.309;1.479;41.910;40.431;38.952;0.180;0.640;0.360
1 1/2;11;2.309;1.479;47.803;46.324;44.845;0.180;0.640;0.360
1 3/4;11;2.309;1.479;53.746;52.267;50.788;0.180;0.640;0.360
2;11;2.309;1.479;59.614;58.135;56.656;0.180;0.640;0.360
2 1/4;11;2.309;1.479;65.710;64.231;62.752;0.217;0.640;0.434
2 1/2;11;2.309;1.479;75.184;73.705;72.226;0.217;0.640;0.434
2 3/4;11;2.309;1.479;81.534;80.055;78.576;0.217;0.640;0.434
3;11;2.309;1.479;87.884;86.405;84.926;0.217;0.640;0.434
3 1/2;11;2.309;1.479;100.330;98.851;97.372;0.217;0.640;0.434
4;11;2.309;1.479;113.030;111.551;110.072;0.217;0.640;0.434
4 1/2;11;2.309;1.479;125.730;124.251;122.772;0.217;0.640;0.434
5;11;2.309;1.479;138.430;136.951;135.472;0.217;0.640;0.434
5 1/2;11;2.309;1.479;151.130;149.651;148.172;0.217;0.640;0.434
6;11;2.309;1.479;163.830;162.351;160.872;0.217;0.640;0.434
"""


def _size(line: str) -> ParallelSize:
    name, threads, *cells = line.split(";")
    return ParallelSize(name, int(threads), *(Decimal(cell) for cell in cells))


SIZES: tuple[ParallelSize, ...] = tuple(_size(line) for line in _TABLE_1.split("\n") if line)
BY_MAJOR = {size.major: size for size in SIZES}
