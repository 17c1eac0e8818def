"""The subject threads over HTTP: the fixed lookup, reading, the list, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest
from flask.testing import FlaskClient

from flankwise_service.config import Settings
from flankwise_service.core.threads import designations
from flankwise_service.web.app import build_app
from support.published import cells, rows


@pytest.fixture(scope="module")
def web() -> FlaskClient:
    return build_app(Settings(access_log=False), ("threads",)).test_client()


def get(web: FlaskClient, path: str, status: int = 200, **query: object) -> dict[str, Any]:
    reply = web.get(f"/v1/threads{path}", query_string=query)
    assert reply.status_code == status, reply.get_data(as_text=True)
    found: dict[str, Any] = reply.get_json()
    return found


def faults(problem: dict[str, Any]) -> list[tuple[str, str]]:
    return [(fault["pointer"], fault["code"]) for fault in problem["faults"]]


def test_the_lookup_that_other_shops_script(web: FlaskClient) -> None:
    reply = web.get("/v1/threads/limits?designation=7/8-14%20UNF-2A&unit=in")
    assert reply.status_code == 200
    found = reply.get_json()
    assert found["designation"] == "7/8-14 UNF-2A"
    assert found["unit"] == found["rounded_in"] == "in"
    assert found["allowance"] == 0.0016
    assert found["major_diameter"] == {"min": 0.8631, "max": 0.8734}
    assert found["pitch_diameter"] == {"min": 0.8216, "max": 0.827}
    assert found["minor_diameter"] == {"min": None, "max": 0.7961}
    assert found["basic"]["pitch_diameter"] == 0.8286
    assert found["tolerances"]["pitch_diameter"] == 0.00542
    assert found["source"][0]["document"] == "ASME B1.1"
    assert (found["side"], found["hand"], found["starts"]) == ("external", "right", 1)


@pytest.mark.parametrize("row", [r for r in rows("unified.csv") if r["grade"] == "A"][::5], ids=lambda r: r["designation"])  # fmt: skip
def test_published_row_comes_out_as_printed(web: FlaskClient, row: dict[str, str]) -> None:
    """Sources in each row; the 1989 edition, which those rows are of."""
    name = f"{row['designation']}-{row['thread_class']}"
    found = get(web, "/limits", designation=name, unit="in", edition="ASME B1.1-1989")
    if found["side"] == "external":
        places = {"allowance": found["allowance"], "d_max": found["major_diameter"]["max"], "d_min": found["major_diameter"]["min"], "d2_max": found["pitch_diameter"]["max"], "d2_min": found["pitch_diameter"]["min"]}  # fmt: skip
    else:
        places = {"D1_min": found["minor_diameter"]["min"], "D1_max": found["minor_diameter"]["max"], "D2_min": found["pitch_diameter"]["min"], "D2_max": found["pitch_diameter"]["max"], "D_min": found["major_diameter"]["min"]}  # fmt: skip
    for column, printed in cells(row, tuple(places)):
        assert places[column] == float(printed), column


def test_the_other_unit_is_a_conversion_of_the_printed_figures(web: FlaskClient) -> None:
    inch = get(web, "/limits", designation="M20x1.5-6H", unit="in")
    metric = get(web, "/limits", designation="M20x1.5-6H", unit="mm")
    assert inch["rounded_in"] == "mm"
    assert inch["pitch_diameter"]["max"] == pytest.approx(metric["pitch_diameter"]["max"] / 25.4)
    assert metric["pitch_diameter"] == {"min": 19.026, "max": 19.216}


def test_side_and_default_class(web: FlaskClient) -> None:
    found = get(web, "/limits", designation="M8", unit="mm", side="internal")
    assert (found["designation"], found["thread_class"]) == ("M8-6H", "6H")
    assert "no class given" in found["notes"][0]


@pytest.mark.parametrize(
    ("query", "expected"),
    [
        ({"designation": "15/16-18 UN", "unit": "in"}, [("/designation", "not_in_series")]),
        ({"designation": "7/8-14 UNF", "unit": "in"}, [("/designation", "class_missing")]),
        ({"designation": "M8", "unit": "mm"}, [("/side", "side_missing")]),
        ({"designation": "M8-6g", "unit": "mm", "side": "internal"}, [("/side", "side_differs")]),
        ({"designation": "M8-5g", "unit": "mm"}, [("/designation", "no_tolerance")]),
        ({"designation": "M8-6g", "unit": "mm", "edition": "x"}, [("/edition", "unknown_edition")]),
        ({"designation": "M8-6g"}, [("/unit", "missing")]),
        ({"unit": "mm"}, [("/designation", "missing")]),
        ({"designation": "M8-6g", "unit": "cm"}, [("/unit", "not_one_of")]),
        ({"designation": "", "unit": "mm"}, [("/designation", "wrong_length")]),
        ({"designation": "9" * 61, "unit": "mm"}, [("/designation", "wrong_length")]),
        ({"designation": "M8\0", "unit": "mm"}, [("/designation", "hidden_character")]),
        ({"designation": "7/8-14 UNF-2\u0410", "unit": "in"}, [("/designation", "unknown_thread")]),
        ({"designation": "M8-6g", "unit": "mm", "colour": "red"}, [("/colour", "unknown_field")]),
    ],
)
def test_refusals(web: FlaskClient, query: dict[str, str], expected: list[tuple[str, str]]) -> None:
    problem = get(web, "/limits", 422, **query)
    assert faults(problem) == expected
    assert all(fault["change"] for fault in problem["faults"])


def test_refusal_names_the_nearest(web: FlaskClient) -> None:
    [fault] = get(web, "/limits", 422, designation="15/16-18 UN", unit="in")["faults"]
    assert fault["near"] == ["15/16-12 UN", "15/16-16 UN", "15/16-20 UNEF", "15/16-18 UNS"]


def test_read(web: FlaskClient) -> None:
    found = get(web, "/read", designation="0.875-14 unf-2a-lh", unit="mm")
    assert found["designation"] == "7/8-14 UNF-2A-LH"
    assert (found["diameter"], found["rounded_in"]) == (22.225, "in")
    assert found["classes"]["internal"] == ["1B", "2B", "3B"]
    assert found["editions"][0] == "ASME B1.1-2019"


def test_list_in_pages(web: FlaskClient) -> None:
    whole = get(web, "", limit=5000)
    assert whole["total"] == len(whole["threads"]) == len(list(designations()))
    second = get(web, "", limit=100, offset=100)
    assert second["threads"] == whole["threads"][100:200]
    assert get(web, "")["threads"] == whole["threads"][:100]
    assert get(web, "", family="metric_j", limit=1)["threads"][0]["designation"] == "MJ1.6x0.35"


def test_list_searched(web: FlaskClient) -> None:
    found = get(web, "", search="m20x1.5")
    assert [line["designation"] for line in found["threads"]] == ["M20x1.5"]
    nothing = get(web, "", search="M8x1.1")
    assert (nothing["total"], nothing["threads"]) == (0, [])
    assert "M8x1" in nothing["near"]


@pytest.mark.parametrize(
    ("query", "pointer"),
    [({"limit": "0"}, "/limit"), ({"limit": "5001"}, "/limit"), ({"offset": "-1"}, "/offset"), ({"limit": "x"}, "/limit"), ({"family": "inch"}, "/family"), ({"search": "x" * 61}, "/search")],
)  # fmt: skip
def test_list_refuses(web: FlaskClient, query: dict[str, str], pointer: str) -> None:
    assert [fault["pointer"] for fault in get(web, "", 422, **query)["faults"]] == [pointer]


def test_modified_crest_in_either_unit(web: FlaskClient) -> None:
    inch = get(web, "/limits", designation="3/8-24 UNF-3A MOD", unit="in", crest_least=0.3648, crest_greatest=0.372)  # fmt: skip
    assert inch["major_diameter"] == {"min": 0.3648, "max": 0.372}
    assert inch["modified"] is True
    metric = get(web, "/limits", designation="3/8-24 UNF-3A MOD", unit="mm", crest_least=9.26592, crest_greatest=9.4488)  # fmt: skip
    assert metric["major_diameter"] == {"min": 9.26592, "max": 9.4488}
    problem = get(web, "/limits", 422, designation="3/8-24 UNF-3A MOD", unit="in")
    assert faults(problem) == [("/crest_least", "missing"), ("/crest_greatest", "missing")]
