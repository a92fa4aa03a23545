"""Names as people write them: very long, from right to left, with markup or pictures. Nothing breaks and nothing is cut unsaid."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.drawn.course_paper import Paper, draw_course_on_paper
from marram.sheets.ruled.ruling_drawing import draw_rulings
from tests.support.drawn_places import DrawnPlace, courses, drawn_places
from tests.support.drawn_words import SVG, covered, cut_off, overlaps, read_drawing

NAMES = {
    "long": "Upper Whinmoor and Lower Saltmarsh Links of the Old Harbour " * 4,
    "long word": "w" * 200,
    "hebrew": "מועדון הגולף של העמק הירוק 9",
    "arabic": "نادي الواحة الخضراء للغولف",
    "markup": "<script>alert('1')</script> & \"Moor\" <b>",
    "pictures": "Moor ⛳🏌️‍♀️ Links 👨‍👩‍👧‍👦",
    "wide": "海辺の丘ゴルフ倶楽部" * 4,
    "marks": "Z̵̡a̴͎l̶͙g̷̰o̶ Moor",
}
SEED_OF = ("penalty-area", "immovable-obstruction", "ground-under-repair", "wrong-green")


def named(course: Course, name: str) -> Course:
    """The course, its areas and its things, all called by one name."""
    features = tuple(replace(each, what=name) if each.kind is not FeatureKind.BOUNDARY else each for each in course.features)
    return replace(course, name=name, features=features)


def faults_of(svg: str) -> list[str]:
    drawn = read_drawing(svg)
    return [*overlaps(drawn), *cut_off(drawn), *covered(drawn)]


def places() -> list[DrawnPlace]:
    return [next(each for each in drawn_places(60) if each.incident.situation == situation) for situation in SEED_OF]


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_a_ruling_is_drawn_whole_whatever_the_names_are(name: str, is_paper: bool) -> None:
    for place in places():
        svg = draw_rulings(place.incident, named(place.course, name), place.given, is_paper=is_paper)
        assert not faults_of(svg)
        assert_told(svg, name)


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_a_course_and_a_hole_are_drawn_whole_whatever_the_names_are(name: str) -> None:
    course = named(courses()[1], name)
    for hole in (None, 1):
        for svg in (draw_course(course, hole=hole), draw_course_on_paper(course, hole=hole, paper=Paper.A4, scale=None)):
            assert not faults_of(svg)
            assert_told(svg, name)


def assert_told(svg: str, name: str) -> None:
    """The whole name is told to those who cannot see; on the drawing it stands whole, or begins and ends in an ellipsis."""
    root = ET.fromstring(svg)
    assert not list(root.iter(f"{SVG}b")) + list(root.iter(f"{SVG}script"))
    assert name in (root.findtext(f"{SVG}title") or "")
    shown = ["".join(each.itertext()) for each in root.iter(f"{SVG}tspan")]
    assert shown
    for words in shown:
        begun = words.partition("…")[0].strip()
        assert begun.lower()[:4] == name.lower()[: len(begun.lower()[:4])]
        assert "…" in words or name.lower().strip() in words.lower()


@pytest.mark.parametrize("name", ["hebrew", "arabic"])
def test_a_name_from_right_to_left_is_kept_apart_from_what_stands_beside_it(name: str) -> None:
    place = places()[0]
    svg = draw_rulings(place.incident, named(place.course, NAMES[name]), place.given, is_paper=False)
    assert "unicode-bidi:plaintext" in svg
    heading = next(each for each in ET.fromstring(svg).iter(f"{SVG}text") if each.attrib.get("text-anchor") == "end")
    (span,) = heading.iter(f"{SVG}tspan")
    assert span.attrib["class"] == "name"
    assert span.text == NAMES[name]
    assert (span.tail or "").startswith(" · ")
