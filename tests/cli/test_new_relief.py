"""A relief that no edition has, through the commands: nothing but the trial's file is given."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from marram.cli.main import marram
from marram.core.errors import MarramError
from tests.support.inventions import HEATHER

ROOT = Path(__file__).resolve().parents[2]
COURSE = str(ROOT / "examples" / "courses" / "thimble-moor.geojson")
TRIAL = str(ROOT / "examples" / "trials" / "divot-holes.toml")
INCIDENT = str(ROOT / "examples" / "trials" / "incidents" / "divot-hole-4.toml")
BOOK = f"2023+{TRIAL}"


def run(*words: str) -> Result:
    done = CliRunner().invoke(marram, list(words))
    if isinstance(done.exception, MarramError):
        raise done.exception
    return done


def answer(*words: str) -> dict[str, object]:
    done = run(*words, "--json")
    assert done.exit_code == 0, done.output
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


@pytest.fixture
def heather(tmp_path: Path) -> str:
    file = tmp_path / "heather.toml"
    file.write_text(HEATHER, encoding="utf-8")
    return str(file)


def test_rule_gives_option_area_and_drawing_and_the_other_book_what_is_left(tmp_path: Path) -> None:
    drawing = tmp_path / "divot.svg"
    told = answer("rule", INCIDENT, "--course", COURSE, "--book", "2023", "--book", BOOK, "--draw", str(drawing))["books"]
    assert isinstance(told, list)
    alone, with_it = told
    (option,) = with_it["options"]
    assert (option["procedure"], option["penalty_strokes"], option["ball"]["put"]) == ("divot-hole-fairway", 0, "place")
    assert option["relief_area"]["area_m2"] == pytest.approx(0.0365, abs=0.001)
    assert alone["options"] == []
    assert "not in this book" in alone["not_available"][0]["because"]
    assert "Free relief from the divot hole" in drawing.read_text(encoding="utf-8")


def test_its_condition_is_not_known_without_it() -> None:
    with pytest.raises(MarramError, match=r"conditions 1\.kind: There is no condition of the kind 'divot-hole'"):
        run("rule", INCIDENT, "--course", COURSE, "--book", "2023")


@pytest.mark.parametrize("words", ["ball in a divot hole", "free drop out of a divot hole on the fairway"])
def test_ask_finds_it_under_the_trial_alone(words: str) -> None:
    found = answer("ask", words, "--book", BOOK)["answers"]
    assert isinstance(found, list)
    assert {"situation.divot-hole", "relief.divot-hole-fairway"} & {entry["id"] for entry in found[:3]}
    without = answer("ask", words, "--book", "2023")["answers"]
    assert isinstance(without, list)
    assert not {"situation.divot-hole", "relief.divot-hole-fairway"} & {entry["id"] for entry in without}


def test_show_and_compare_tell_both_books() -> None:
    shown = answer("book", "show", "relief.divot-hole-fairway.size", "--book", BOOK, "--book", "2019")["books"]
    assert isinstance(shown, list)
    assert [entry["value"] for entry in shown] == [{"inches": 6}, None]
    assert shown[1]["why_none"] == "not in this book"
    compared = run("book", "compare", "2023", BOOK)
    assert "2 differences" in compared.output
    assert "6 inches" in compared.output


def test_places_suppose_a_divot_hole_and_an_incident_file_of_one_can_be_ruled_on(tmp_path: Path) -> None:
    places = ("course", "places", COURSE, "--procedure", "divot-hole-fairway", "--book", BOOK, "--count", "1")
    done = run(*places, "--incidents", str(tmp_path))
    assert "supposed there" in done.output
    file = next(tmp_path.glob("*.toml"))
    told = answer("rule", str(file), "--course", COURSE, "--book", BOOK)["books"]
    assert isinstance(told, list)
    assert [option["procedure"] for option in told[0]["options"]] == ["divot-hole-fairway"]


def test_a_trial_is_checked_shown_and_has_its_situation_listed(heather: str) -> None:
    assert run("trial", "check", TRIAL).exit_code == 0
    shown = answer("trial", "show", heather)["books"]
    assert isinstance(shown, list)
    change = shown[-1]["changes"][0]
    assert change["situations"] == ["heather"]
    assert set(change["procedures"]) == {"heather-wide", "heather-line"}
    assert change["adds_conditions"] == ["heather"]
    listed = run("rule", "--situations", "--book", f"2023+{heather}").output
    assert "heather" in listed
    assert "heather" not in run("rule", "--situations").output


def test_a_guide_shows_it_at_a_place_of_the_course(tmp_path: Path) -> None:
    done = run("trial", "guide", TRIAL, "--course", COURSE, "-o", str(tmp_path), "--form", "phone")
    assert done.exit_code == 0, done.output
    page = next(tmp_path.glob("*.html")).read_text(encoding="utf-8")
    assert "no such relief" in page.lower()
    assert "divot hole" in page
    assert "change 1" in page.lower()
