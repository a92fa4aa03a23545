"""Files that once ended in a traceback: each gets one clear error."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box

from marram.core.errors import IncidentError, RuleDataError, SurveyError
from marram.core.terms import FeatureKind, Form
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.field.incident_file import parse_incident
from marram.interchange.maps.map_import import MapOptions, import_map
from marram.rulebook import open_book, packaged_catalogue, read_overlay
from marram.rulebook.values import nearest_names
from marram.rulings import Incident, rule_on
from tests.support.ground import HOLE, course, feature, pond
from tests.support.mapped import Map

CATALOGUE = packaged_catalogue()
DEEP = "a = " + "[" * 50_000
LONG = "hole = " + "9" * 5_000
CHANGE = 'title = "t"\ndated = 2026-01-01\n[[change]]\nkey = "{key}"\nwas = {was}\nnow = {now}\nbecause = "b"\n'


@pytest.mark.parametrize("text", [DEEP, LONG])
def test_absurd_toml(text: str) -> None:
    with pytest.raises(IncidentError, match="nested too deeply|not TOML"):
        parse_incident(text, course(), where="i.toml", known_facts=frozenset())
    with pytest.raises(RuleDataError, match="nested too deeply|not TOML"):
        read_overlay(text, name="o", catalogue=CATALOGUE)


def test_absurd_json() -> None:
    with pytest.raises(SurveyError, match="not JSON"):
        parse_course('{"a": ' + "9" * 5_000 + "}", where="c.geojson")


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ('"kind": "penalty-area"', '"kind": ["x"]', "kind is"),
        ('"mark": "red"', '"mark": {}', "mark is"),
        ('"coordinates": [[[', '"coordinates": {"a": 1}, "x": [[[', "cannot be read"),
    ],
)
def test_course_members_of_the_wrong_shape(was: str, now: str, words: str) -> None:
    text = write_course(course(pond()))
    assert was in text
    with pytest.raises(SurveyError, match=words):
        parse_course(text.replace(was, now), where="c.geojson")


def test_course_smaller_than_any_hole() -> None:
    with pytest.raises(SurveyError, match="larger than"):
        parse_course(write_course(course(boundary=box(0, 0, 0.05, 0.05))), where="c.geojson")


def test_standing_that_is_a_list() -> None:
    text = CHANGE.format(key="search.limit_min", was="3", now="2") + 'standing = ["x"]\n'
    with pytest.raises(RuleDataError, match="standing"):
        read_overlay(text, name="o", catalogue=CATALOGUE)


@pytest.mark.parametrize("target", ["search.limit_min", "relief.lateral.sizes"])
def test_size_that_follows_no_size(target: str) -> None:
    text = CHANGE.format(key="relief.lateral.size", was="{ club_lengths = 2 }", now=f'"{target}"')
    with pytest.raises(RuleDataError, match="cannot follow"):
        open_book("2023", [read_overlay(text, name="o", catalogue=CATALOGUE)], CATALOGUE)


@pytest.mark.parametrize("edition", CATALOGUE.editions)
def test_unplayable_ball_at_the_hole_has_no_line(edition: str) -> None:
    ground = course(feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(50, 50, 60, 60)))
    incident = Incident(hole=1, situation="unplayable", form=Form.STROKE_PLAY, ball=HOLE)
    ruling = rule_on(incident, ground, open_book(edition, [], CATALOGUE))
    assert "unplayable-back-on-line" in [entry.procedure for entry in ruling.not_available]


@pytest.mark.parametrize("ball", ["before_green_m = nan", "before_green_m = 3, right_m = inf"])
def test_a_distance_along_the_hole_that_is_no_number(ball: str) -> None:
    text = f'hole = 1\nsituation = "unplayable"\nball = {{ {ball} }}\n'
    with pytest.raises(IncidentError, match="is no place"):
        parse_incident(text, course(), where="i.toml", known_facts=frozenset())


@pytest.mark.parametrize("number", ["9" * 400, "-" + "9" * 400, "1e999", "NaN", "-Infinity", "[" * 900 + "]" * 900])
@pytest.mark.parametrize("place", ['"coordinates": [[[', '"sigma_m": ', '"origin": [', '"holes": ['])
def test_numbers_that_no_measure_holds(number: str, place: str) -> None:
    text = write_course(course(pond()))
    assert place in text
    with pytest.raises(SurveyError) as told:
        parse_course(text.replace(place, f"{place}{number}, " if place.endswith("[") else f'{place}{number}, "x": ', 1), where="c.geojson")
    assert told.value.hint
    assert len(str(told.value)) < 30_000


@pytest.mark.parametrize(("was", "now"), [('id="1"', 'id="99999999999999999999"'), ('lat="', 'lat="north'), ('lon="', 'lon="1,5')])
def test_ids_and_coordinates_that_map_data_cannot_have(tmp_path: Path, was: str, now: str) -> None:
    made = Map(tmp_path / "a.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    path = made.write()
    assert was in path.read_text(encoding="utf-8")
    path.write_text(path.read_text(encoding="utf-8").replace(was, now, 1), encoding="utf-8")
    with pytest.raises(SurveyError, match="cannot be read to its end") as told:
        import_map(path, MapOptions())
    assert told.value.where == "a.osm"


@given(st.text(alphabet="ab.-relif", max_size=14), st.lists(st.text(alphabet="ab.-relif", max_size=14), max_size=30))
def test_nearest_names_are_those_that_comparing_each_one_finds(name: str, names: list[str]) -> None:
    assert nearest_names(name, names) == difflib.get_close_matches(name, names, n=3, cutoff=0.5)


def test_the_name_of_a_row_may_be_absurdly_long() -> None:
    assert nearest_names("search.limit" * 10_000, list(CATALOGUE.keys)) is not None


def test_half_a_letter_is_refused_and_a_whole_one_is_read() -> None:
    text = write_course(course(pond()))
    with pytest.raises(SurveyError, match="half a letter"):
        parse_course(text.replace('"what": "pond"', r'"what": "\ud83c"'), where="c.geojson")
    whole = parse_course(text.replace('"what": "pond"', r'"what": "\ud83c\udfcc"'), where="c.geojson")
    assert "\U0001f3cc" in write_course(whole)


@pytest.mark.parametrize("number", ["9" * 400, "inf", "nan", "-" + "9" * 400])
@pytest.mark.parametrize(
    ("key", "was", "now", "more"),
    [
        ("search.limit_min", "{}", "2", ""),
        ("search.limit_min", "3", "{}", ""),
        ("relief.lateral.size", "{{ club_lengths = 2 }}", "{{ club_lengths = {} }}", ""),
        ("search.limit_min", "3", "2", 'expects = {{ outcome = "search_s", direction = "down", matters = {} }}\n'),
        ("search.limit_min", "3", "2", 'guards = [{{ outcome = "strokes", margin = {} }}]\n'),
    ],
)
def test_numbers_that_no_rule_holds(number: str, key: str, was: str, now: str, more: str) -> None:
    text = CHANGE.format(key=key, was=was.format(number), now=now.format(number)) + more.format(number)
    with pytest.raises(RuleDataError, match="expected|takes") as told:
        read_overlay(text, name="o", catalogue=CATALOGUE)
    assert len(str(told.value)) < 3_000
