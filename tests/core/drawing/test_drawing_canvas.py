"""Elements, escapes, dimension lines."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise_service.core.drawing.canvas import (
    Box,
    Canvas,
    View,
    clean,
    element,
    fitted,
    length_text,
    number,
)
from flankwise_service.core.drawing.part import round_length
from support.svg import SVG, of_class, parsed, places


def canvas() -> Canvas:
    made = Canvas("try", "A title", 400, 300)
    made.say("What it shows.")
    return made


@given(st.text(max_size=300))
@settings(deadline=None)
def test_any_text_stays_text(text: str) -> None:
    made = Canvas("try", text + " title", 4000, 300)
    made.say(text + " said")
    made.write((10, 20), text)
    made.add("rect", x=1.0, y=1.0, class_="paper", id=clean(text))
    root = ET.fromstring(made.text())
    assert {node.tag for node in root.iter()} <= {
        f"{SVG}{tag}" for tag in ("svg", "title", "desc", "style", "rect", "text")
    }
    shown = root.find(f"{SVG}text")
    assert shown is not None
    assert (shown.text or "") == clean(text)


def test_hostile_text_is_escaped() -> None:
    made = canvas()
    made.write((5, 5), "</text><script>alert(1)</script><image href='http://x'/>&lt;\x00\u202e")
    text = made.text()
    assert "<script" not in text
    assert "<image" not in text
    assert "\x00" not in text
    assert "\u202e" not in text
    assert 'class="&quot;' not in element("g", class_="a'b")


def test_long_text_is_cut_and_says_so() -> None:
    assert clean("x" * 201) == "x" * 199 + "\u2026"
    assert clean("x" * 200) == "x" * 200


def test_numbers_and_lengths() -> None:
    assert [number(value) for value in (1.005, -1.0, 1e-9, -1e-9, 12345.678)] == [
        "1", "-1", "0", "0", "12345.68"
    ]  # fmt: skip
    assert length_text(1.25, "in") == "1.2500 in"
    assert length_text(31.75, "mm") == "31.750 mm"


def test_attributes_left_out_and_renamed() -> None:
    assert element("text", "a", text_anchor=None, class_="halo") == '<text class="halo">a</text>'
    assert element("text", "a", text_anchor="end") == '<text text-anchor="end">a</text>'


@pytest.mark.parametrize(
    ("box", "high", "view"),
    [
        (Box(0, 0, 100, 50), (1.0, 1.0), View(50.0, 25.0, 50.0)),
        (Box(10, 20, 50, 100), (1.0, 1.0), View(50.0, 10.0, 95.0)),
    ],
)
def test_a_view_fits_and_centres(box: Box, high: tuple[float, float], view: View) -> None:
    assert fitted(box, (0.0, 0.0), high) == view
    shifted = fitted(box, (5.0, 7.0), (5.0 + high[0], 7.0 + high[1]))
    assert shifted.spot(5.0, 7.0) == pytest.approx(view.spot(0.0, 0.0))


def test_a_wide_dimension_has_its_arrows_and_label_inside() -> None:
    made = canvas()
    made.across(300, 100, 200, "20.000 mm", (150, 120))
    root = parsed(made.text())
    tips = sorted(places(node)[0][0] for node in of_class(root, "arrow"))
    assert tips == [100, 300]
    (label,) = root.iter(f"{SVG}text")
    assert (label.get("x"), label.get("text-anchor")) == ("200", "middle")
    extensions = [places(node) for node in of_class(root, "dim", "line")]
    assert [(100.0, 123.0), (100.0, 205.0)] in extensions
    assert [(300.0, 153.0), (300.0, 205.0)] in extensions


def test_a_narrow_dimension_has_its_arrows_outside() -> None:
    made = canvas()
    made.across(100, 120, 200, "20.000 mm", (200, 200))
    root = parsed(made.text())
    (label,) = root.iter(f"{SVG}text")
    assert label.get("text-anchor") is None
    assert float(label.get("x") or 0) > 120
    for node in of_class(root, "arrow"):
        tip, *back = places(node)
        away = -1 if tip[0] == 100 else 1
        assert all((spot[0] - tip[0]) * away > 0 for spot in back)
    middle = canvas()
    middle.across(100, 150, 200, "20.000 mm", (100, 100))
    (label,) = parsed(middle.text()).iter(f"{SVG}text")
    assert label.get("text-anchor") == "middle"


def test_upright_dimensions_have_their_label_along_them() -> None:
    made = canvas()
    made.upright(250, 50, 200, "20.000 mm", (100, 100))
    root = parsed(made.text())
    (label,) = root.iter(f"{SVG}text")
    assert "rotate(-90" in (label.get("transform") or "")
    assert sorted(places(node)[0][1] for node in of_class(root, "arrow")) == [50, 250]
    short = canvas()
    short.upright(50, 80, 200, "20.000 mm", (200, 200))
    (label,) = parsed(short.text()).iter(f"{SVG}text")
    assert label.get("transform") == "rotate(-90 220 65)", "beyond the extension lines"
    ahead = canvas()
    ahead.upright(50, 80, 200, "20.000 mm", (200, 200), ahead=True)
    (label,) = parsed(ahead.text()).iter(f"{SVG}text")
    assert (label.get("y"), label.get("transform")) == ("26", None)


@pytest.mark.parametrize(
    ("starts", "height"), [((260, 250), 190.0), ((100, 120), 222.0), ((150, 150), 222.0)]
)
def test_a_label_longer_than_its_dimension_stands_beyond_the_extension_lines(
    starts: tuple[float, float], height: float
) -> None:
    made = canvas()
    assert made.across(100, 150, 200, "diameter 20.000 mm", starts) == height
    (label,) = parsed(made.text()).iter(f"{SVG}text")
    assert (label.get("x"), label.get("y")) == ("125", f"{height:g}")
    assert canvas().across(100, 300, 200, "20.000 mm", starts) == 192.0


def test_labels_of_dimensions_are_drawn_after_all_lines() -> None:
    made = canvas()
    made.across(100, 300, 200, "20.000 mm", (150, 120))
    made.line((0, 0), (9, 9), "line")
    root = parsed(made.text())
    assert [node.tag for node in root][-1] == f"{SVG}text"


@pytest.mark.parametrize(
    ("longest", "length"), [(0.37, 0.2), (0.5, 0.5), (9.99, 5.0), (1.0, 1.0), (250.0, 200.0)]
)
def test_the_scale_bar_has_a_round_length(longest: float, length: float) -> None:
    assert round_length(longest) == pytest.approx(length)
