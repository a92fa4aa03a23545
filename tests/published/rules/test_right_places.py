"""Where a ball was played from, held against answers worked out by hand from the rules."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import box

from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Choice, Incident, Player, PreviousStroke, rule_on
from marram.rulings.case.ruling import RightPlace
from tests.support.ground import course, feature, pond

HELD = tomllib.loads(Path(__file__).with_name("right_places.toml").read_text(encoding="utf-8"))
CASES = [(case, edition) for case in HELD["cases"] for edition in case["answers"]]
SAID = {True: "yes", False: "no", None: "cannot"}
BALLS = {"unplayable": (0.0, -100.0), "penalty-area": (0.0, -60.0), "moved-by-outside-influence": (44.0, -150.0)}


def at(place: tuple[float, float] | list[float]) -> Position:
    return Position(x_m=place[0], y_m=place[1])


def ground(case: dict[str, Any]) -> Course:
    more = {
        "bunker": [feature("sand", FeatureKind.BUNKER, box(1, -110, 6, -95))],
        "other green": [feature("green-2", FeatureKind.PUTTING_GREEN, box(1, -110, 6, -95), holes=(2,))],
        "zone": [feature("zone", FeatureKind.DROPPING_ZONE, box(20, -60, 24, -56), holes=(1,))],
    }
    return course(pond(), *more.get(case.get("ground", ""), []))


def incident(case: dict[str, Any]) -> Incident:
    tee = PreviousStroke(at=at((2.0, -379.0)), area=Area.TEEING_AREA)
    return Incident(
        hole=1,
        situation=case["situation"],
        form=Form.STROKE_PLAY,
        ball=at(case.get("ball", BALLS[case["situation"]])),
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON),
        facts={"dropping_zone_here": case.get("ground") == "zone", "previous_stroke_from_penalty_area": False} | case.get("facts", {}),
        crossed_at=at(case.get("crossed", (0.0, -70.0))) if case["situation"] == "penalty-area" else None,
        previous_stroke=tee if case.get("ground") == "tee" else PreviousStroke(at=at((0.0, -250.0)), area=Area.GENERAL_AREA),
        estimated_at=at((40.0, -150.0)),
        played_from=at(case["played"]),
        first_touch=at(case["touch"]) if "touch" in case else None,
        choice=Choice(back_m=case.get("back_m")),
    )


def judged(case: dict[str, Any], edition: str) -> RightPlace:
    ruling = rule_on(incident(case), ground(case), read_book(edition))
    (option,) = [option for option in ruling.options if option.procedure == case["procedure"]]
    assert option.right_place is not None
    return option.right_place


@pytest.mark.parametrize(("case", "edition"), CASES, ids=[f"{edition} {case['why'][:50]} {case['played']}" for case, edition in CASES])
def test_each_place_is_judged_as_the_edition_does(case: dict[str, Any], edition: str) -> None:
    place = judged(case, edition)
    assert SAID[place.is_right] == case["answers"][edition], place
    assert place.citations
    assert bool(place.question) == (place.is_right is None)


def test_every_case_names_its_sources() -> None:
    for case in HELD["cases"]:
        assert set(case["sources"]) <= set(HELD["sources"])
        assert case["sources"]


def test_a_margin_within_the_survey_is_left_to_the_ground() -> None:
    """The course is surveyed to 5 cm, two standard deviations are 10 cm; 4 cm beyond two club-lengths is within that, 50 cm is not."""
    case = next(case for case in HELD["cases"] if case["procedure"] == "unplayable-lateral")
    assert judged(case | {"played": [2.286 + 0.04, -100.2]}, "2023").must_measure_on_ground
    assert not judged(case | {"played": [2.286 + 0.50, -100.2]}, "2023").must_measure_on_ground


def test_where_nothing_was_stated_nothing_is_answered() -> None:
    case = HELD["cases"][0]
    ruling = rule_on(replace(incident(case), played_from=None), ground(case), read_book("2023"))
    assert {option.right_place for option in ruling.options} == {None}
