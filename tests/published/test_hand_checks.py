"""Numbers of the service against arithmetic done here from literal figures, formula and source beside.

Nothing of the service is used to work a figure out: each is a formula of a standard or a handbook
with its numbers put in, so that a slip in the service can't repeat itself in the check. Formulas
are those of the documents named; "geometry" needs none.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from flask.testing import FlaskClient

Asked = tuple[str, str, dict[str, Any]]
"""Method, path, query or body."""


def limits(designation: str, unit: str, side: str | None = None) -> Asked:
    asked = {"designation": designation, "unit": unit}
    return "GET", "/v1/threads/limits", asked if side is None else {**asked, "side": side}


def post(path: str, **body: Any) -> Asked:
    return "POST", path, body


def get(path: str, **query: Any) -> Asked:
    return "GET", path, query


def groove(angle: float, other: float, **more: Any) -> dict[str, Any]:
    body = {"unit": "mm", "pitch": 1.0, "flank_angle_upper": angle, "flank_angle_lower": other}
    return {**body, "side": "external", "method": "three wires", **more}


P14, P13 = 1 / 14, 1 / 13
UNF, UNF_NUT = limits("7/8-14 UNF-2A", "in"), limits("7/8-14 UNF-2B", "in")
# ASME B1.1: Td2(2A) = 0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), LE = D for UNF.
TD2 = 0.0015 * 0.875 ** (1 / 3) + 0.0015 * 0.875**0.5 + 0.015 * P14 ** (2 / 3)
UNEF = 0.0015 * 0.5 ** (1 / 3) + 0.0015 * (9 / 28) ** 0.5 + 0.015 * (1 / 28) ** (2 / 3)
SCREW, NUT = limits("M10-6g", "mm"), limits("M10-6H", "mm")
NPT = limits("1/2-14 NPT", "in", "external")
ACME = limits("1/2-10 ACME-2G", "in", "external")
PITCH_ACME = 0.006 * 0.5**0.5 + 0.030 * 0.1**0.5
TR = limits("Tr 40x14(P7)-7e", "mm")
BSW = limits("1 BSW medium bolt", "in")
T_BSW = 0.002 + 0.003 + 0.005 * 0.125**0.5
BA = limits("2 BA close", "mm")
HEX = post("/v1/stock/hexagon", unit="mm", circumscribed_radius=30, density_g_per_cm3=7.9)
FEED = post(
    "/v1/cutting/feed", unit="mm", side="internal", diameter_cut=20, cutter_diameter=12,
    speed=3000, flutes=3, feed_per_tooth=0.05, lead=1.5,
)  # fmt: skip
FEED_OUT = post(
    "/v1/cutting/feed", unit="in", side="external", diameter_cut=0.875, cutter_diameter=0.5,
    speed=2000, flutes=4, feed_per_tooth=0.002, lead=1 / 14,
)  # fmt: skip
JOINT = get(
    "/v1/threads/strength", external="1/2-13 UNC-2A", internal="1/2-13 UNC-2B", unit="in",
    engagement=0.5, external_strength=120000, internal_strength=45000,
)  # fmt: skip
PLATED = get(
    "/v1/threads/plating", designation="1/2-13 UNC-2A", unit="in", least_thickness=0.0002,
    greatest_thickness=0.0003,
)  # fmt: skip
MATED = get(
    "/v1/threads/mating", external="M10-6g", internal="M10-6H", unit="mm",
)  # fmt: skip
DRILL = post("/v1/stock/drill", unit="in", designation="1/4-20 UNC-2B", percent=75)
SPEED_IN = post("/v1/cutting/speed", unit="in", diameter=0.5, surface_speed=300)
SPEED_MM = post("/v1/cutting/speed", unit="mm", diameter=12, surface_speed=250)
BUTTRESS = get("/v1/gauging/wires", designation="2-4 BUTT-2A", unit="in")


def shear(n: float, length: float, at: float, height: float) -> float:
    """ASME B1.1, Appendix B: pi n Le at (1/(2n) + 0.57735 height)."""
    return math.pi * n * length * at * (1 / (2 * n) + 0.57735 * height)


CHECKS: dict[str, tuple[Asked, str, float, float]] = {
    # name: request, where in the reply, figure worked out here, half width allowed
    # ASME B1.1-2003, sections 5 and 8; each limit rounds to 4 decimals (3 for a 2B minor).
    "UNF 2A pitch tolerance": (UNF, "tolerances.pitch_diameter", TD2, 6e-7),
    "UNF 2A allowance 0.3 Td2": (UNF, "allowance", 0.3 * TD2, 5.1e-5),
    "UNF 2A major tolerance 0.06 P^(2/3)": (UNF, "tolerances.major_diameter", 0.06 * P14 ** (2 / 3), 6e-7),
    "UNF 2A major max": (UNF, "major_diameter.max", 0.875 - 0.0016, 1e-9),
    "UNF 2A major min": (UNF, "major_diameter.min", 0.8734 - 0.06 * P14 ** (2 / 3), 5.1e-5),
    "UNF 2A pitch max": (UNF, "pitch_diameter.max", 0.8734 - 0.64951905 * P14, 5.1e-5),
    "UNF 2A pitch min": (UNF, "pitch_diameter.min", 0.8270 - TD2, 5.1e-5),
    "UNF 2A flat minor max": (UNF, "minor_diameter.max", 0.8734 - 1.08253175 * P14, 5.1e-5),
    "UNRF 2A minor max": (limits("7/8-14 UNRF-2A", "in"), "minor_diameter.max", 0.8734 - 1.19078493 * P14, 5.1e-5),
    "UNF 2B pitch max, 1.3 Td2": (UNF_NUT, "pitch_diameter.max", 0.8286 + 1.3 * TD2, 5.1e-5),
    "UNF 2B minor min": (UNF_NUT, "minor_diameter.min", 0.875 - 1.08253175 * P14, 5.1e-4),
    "UNF 2B minor max, 0.25 P - 0.4 P^2": (UNF_NUT, "minor_diameter.max", 0.875 - 1.08253175 * P14 + 0.25 * P14 - 0.4 * P14**2, 5.1e-4),
    "UNF 3B pitch max, 0.975 Td2": (limits("7/8-14 UNF-3B", "in"), "pitch_diameter.max", 0.8286 + 0.975 * TD2, 5.1e-5),
    "UNF 1A pitch min, 1.5 Td2": (limits("7/8-14 UNF-1A", "in"), "pitch_diameter.min", 0.8270 - 1.5 * TD2, 5.1e-5),
    "UNEF 2A tolerance, LE = 9 P": (limits("1/2-28 UNEF-2A", "in"), "tolerances.pitch_diameter", UNEF, 6e-7),
    # ISO 965-1, tables (M10: es 32, Td 236, Td2 132; TD1 300, TD2 180 um) and ISO 724.
    "M10-6g major max": (SCREW, "major_diameter.max", 10 - 0.032, 1e-9),
    "M10-6g major min": (SCREW, "major_diameter.min", 10 - 0.032 - 0.236, 1e-9),
    "M10-6g pitch max": (SCREW, "pitch_diameter.max", 10 - 0.649519 * 1.5 - 0.032, 5.1e-4),
    "M10-6g pitch min": (SCREW, "pitch_diameter.min", 10 - 0.649519 * 1.5 - 0.032 - 0.132, 5.1e-4),
    "M10-6H minor max": (NUT, "minor_diameter.max", 10 - 1.082532 * 1.5 + 0.300, 5.1e-4),
    "M10-6H pitch max": (NUT, "pitch_diameter.max", 10 - 0.649519 * 1.5 + 0.180, 5.1e-4),
    "M10 height H": (NUT, "basic.fundamental_height", math.sqrt(3) / 2 * 1.5, 1e-9),
    # ASME B1.20.1: E0 = D - (0.05 D + 1.1) p; L2 = (0.8 D + 6.8) p; E1 = E0 + L1/16; V = 3.47 p.
    "NPT E0": (NPT, "extra.pitch_diameter_at_small_end", 0.84 - (0.05 * 0.84 + 1.1) / 14, 5.1e-6),
    "NPT L2": (NPT, "extra.effective_length", (0.8 * 0.84 + 6.8) / 14, 5.1e-5),
    "NPT E1": (NPT, "extra.pitch_diameter_at_hand_tight_plane", 0.75843 + 0.320 / 16, 1.1e-5),
    "NPT vanish, cut off in the table": (NPT, "extra.vanish_length", 3.47 / 14, 1e-4),
    "NPT diameter in one turn": (NPT, "extra.diameter_increase_per_thread", 1 / 16 / 14, 5.1e-6),
    # ASME B1.5: allowance 0.008 sqrt(D), tolerance 0.006 sqrt(D) + 0.030 sqrt(1/n), minor 1.5 of it.
    "Acme allowance": (ACME, "allowance", 0.008 * 0.5**0.5, 5.1e-5),
    "Acme pitch max": (ACME, "pitch_diameter.max", 0.5 - 0.05 - 0.008 * 0.5**0.5, 5.1e-5),
    "Acme pitch min": (ACME, "pitch_diameter.min", 0.45 - 0.0057 - PITCH_ACME, 5.1e-5),
    "Acme minor min": (ACME, "minor_diameter.min", 0.38 - 1.5 * PITCH_ACME, 5.1e-5),
    # ISO 2901 and 2904 (memory): d2 = d - P/2, d3 = d - P - 2 ac, H = 1.866 P, lead = starts P.
    "Tr pitch diameter": (TR, "basic.pitch_diameter", 40 - 3.5, 1e-9),
    "Tr minor max": (TR, "minor_diameter.max", 40 - 7 - 2 * 0.5, 1e-9),
    "Tr height H": (TR, "basic.fundamental_height", 7 / (2 * math.tan(math.radians(15))), 1e-9),
    "Tr lead": (TR, "lead", 2 * 7, 1e-9),
    # BS 84 (memory): depth 0.640327 p, T = 0.002 D^(1/3) + 0.003 L^(1/2) + 0.005 p^(1/2), L = D.
    "BSW effective": (BSW, "basic.pitch_diameter", 1 - 0.640327 / 8, 5.1e-5),
    "BSW effective tolerance": (BSW, "tolerances.pitch_diameter", T_BSW, 5.1e-5),
    "BSW major tolerance": (BSW, "tolerances.major_diameter", T_BSW + 0.01 * 0.125**0.5, 5.1e-5),
    # BS 93 (Machinery's Handbook 31, p. 2115), pitch 0.81: 0.08 p + 0.02 and 0.15 p.
    "BA effective min": (BA, "pitch_diameter.min", 4.215 - 0.08 * 0.81 - 0.02, 5.1e-4),
    "BA major min": (BA, "major_diameter.min", 4.7 - 0.15 * 0.81, 6e-4),
    # Geometry of the hexagon; 7.9 g/cm3.
    "hexagon drawn with 30 mm radius, corners": (HEX, "hexagon.across_corners", 60, 1e-12),
    "hexagon drawn with 30 mm radius, flats": (HEX, "hexagon.across_flats", 30 * 3**0.5, 1e-9),
    "its area": (HEX, "hexagon.area", 1.5 * 3**0.5 * 30**2, 1e-9),
    "its mass for a metre": (HEX, "mass.kilograms_per_metre", 1.5 * 3**0.5 * 30**2 * 7.9 / 1000, 1e-9),
    # n = V / (pi D), 12 V / (pi D) for ft/min and in; geometry.
    "300 ft/min on 1/2 in": (SPEED_IN, "spindle.speed", 12 * 300 / (math.pi * 0.5), 1e-6),
    "250 m/min on 12 mm": (SPEED_MM, "spindle.speed", 250000 / (math.pi * 12), 1e-6),
    # Feed on an arc: vf (D - d)/D inside, (D + d)/D outside; helix sqrt((pi Dc)^2 + L^2)/(pi Dc).
    "feed at the edge": (FEED, "arc.edge_feed", 3000 * 3 * 0.05, 1e-9),
    "feed at the centre, inside": (FEED, "arc.centre_feed", 450 * 8 / 20, 1e-9),
    "feed along the helix, inside": (FEED, "arc.path_feed", 180 * math.hypot(math.pi * 8, 1.5) / (math.pi * 8), 1e-6),
    "feed at the centre, outside": (FEED_OUT, "arc.centre_feed", 16 * 1.375 / 0.875, 1e-9),
    # Percent of thread (D - hole) n / 1.299; Machinery's Handbook.
    "hole for 75 percent": (DRILL, "hole", 0.25 - 0.75 * 1.29903811 / 20, 1e-7),
    "percent a #7 drill leaves": (DRILL, "choices.0.percent", (0.25 - 0.201) * 20 / 0.0129903811, 1e-4),
    # Coat: 4 t on the pitch diameter, 2 t on crests; ASME B1.1, section 7 (memory).
    "before plating, pitch max": (PLATED, "before.pitch_diameter.max", 0.4500 - 4 * 0.0003, 1e-9),
    "before plating, pitch min": (PLATED, "before.pitch_diameter.min", 0.4435 - 4 * 0.0002, 1e-9),
    "before plating, major max": (PLATED, "before.major_diameter.max", 0.5 - 2 * 0.0003, 1e-9),
    # Geometry of a fit.
    "M10 6H/6g least clearance": (MATED, "pitch_diameter.least", 9.026 - 8.994, 1e-9),
    "M10 6H/6g greatest clearance": (MATED, "pitch_diameter.greatest", 9.206 - 8.862, 1e-9),
    "M10 6H/6g least overlap": (MATED, "least_overlap", (9.732 - 8.676) / 2, 1e-9),
    # Tensile area pi (E/2 - 3 H/16)^2, 0.1419 printed; shear areas of ASME B1.1, Appendix B, with printed limits.
    "1/2-13 tensile area": (JOINT, "tensile_stress_area", math.pi * (0.45 / 2 - 3 / 16 * 0.8660254 * P13) ** 2, 1e-7),
    "1/2-13 screw shears": (JOINT, "external_shear_area", shear(13, 0.5, 0.434, 0.4435 - 0.434), 1e-5),
    "1/2-13 nut shears": (JOINT, "internal_shear_area", shear(13, 0.5, 0.4876, 0.4876 - 0.4565), 1e-5),
    "1/2-13 breaking load": (JOINT, "breaking_load", 120000 * 0.141875, 1.0),
    # Best wire p/(2 cos a): 0.57735 and 0.51645 P in handbooks.
    "best wire, 60 degrees": (get("/v1/gauging/wires", designation="M10-6g", unit="mm"), "best", 0.57735 * 1.5, 1e-5),
    "best wire, Acme": (get("/v1/gauging/wires", designation="1/2-10 ACME-2G", unit="in", side="external"), "best", 0.051645, 1e-6),
    # Buttress: 0.54147 P (NBS Handbook H28; memory) aims at nearly the same; ours is derived.
    "best wire, buttress": (BUTTRESS, "best", 0.54147 / 4, 0.0013 * 0.54147 / 4),
    # M = E + w (1 + 1/sin a) - p/2 cot a; unequal flanks of 7 and 45 degrees E + 3.15689 w - 0.89064 p.
    "over wires, 60 degrees": (post("/v1/gauging/reading", **groove(30, 30, pitch_diameter=9.0, wire=0.6)), "handbook", 9 - 0.866025 + 3 * 0.6, 1e-5),
    "over wires, 55 degrees": (post("/v1/gauging/reading", **groove(27.5, 27.5, pitch_diameter=9.0, wire=0.6)), "handbook", 9 - 0.960491 + 3.16568 * 0.6, 1e-4),
    "over wires, 29 degrees": (post("/v1/gauging/reading", **groove(14.5, 14.5, pitch_diameter=9.0, wire=0.52)), "handbook", 9 - 1.933357 + 4.9939 * 0.52, 1e-4),
    "over wires, buttress": (post("/v1/gauging/reading", **groove(7, 45, pitch_diameter=9.0, wire=0.55)), "handbook", 9 - 0.89064 + 3.15689 * 0.55, 1e-4),
    "lead angle": (post("/v1/gauging/reading", **groove(30, 30, pitch_diameter=9.0, wire=0.6, starts=2)), "lead_angle", math.degrees(math.atan(2 / (math.pi * 9))), 1e-9),
}  # fmt: skip


@pytest.mark.parametrize(("asked", "where", "worked", "allowed"), CHECKS.values(), ids=CHECKS)
def test_figure_equals_arithmetic_done_by_hand(
    web: FlaskClient, asked: Asked, where: str, worked: float, allowed: float
) -> None:
    method, path, given = asked
    reply = web.get(path, query_string=given) if method == "GET" else web.post(path, json=given)
    found = reply.get_json()
    assert reply.status_code == 200, found
    for step in where.split("."):
        found = found[int(step)] if step.isdigit() else found[step]
    assert found == pytest.approx(worked, rel=0, abs=allowed)


def test_there_are_forty_at_least() -> None:
    assert len(CHECKS) >= 40
