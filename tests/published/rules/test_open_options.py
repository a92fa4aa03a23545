"""What a player may do and what is closed, held against answers worked out by hand from the rules."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Point, box

from marram.core.terms import Area, Club, FeatureKind, Form, Hand, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Incident, Player, PreviousStroke, rule_on
from marram.rulings.case.ruling import Ruling
from tests.support.ground import course, feature, pond

HELD = tomllib.loads(Path(__file__).with_name("open_options.toml").read_text(encoding="utf-8"))
CASES = [(case, edition, offer["options"]) for case in HELD["cases"] for offer in case["offers"] for edition in offer["editions"]]
WATER_EDGE = (0.0, -70.0)
PLACES = {
    "water": (0.0, -60.0),
    "yellow water": (0.0, -60.0),
    "grass": (60.0, -150.0),
    "sand": (87.0, -152.0),
    "green": (3.0, -3.0),
    "out": (0.0, -460.0),
    "other green": (-100.0, -150.0),
    "beside other green": (-92.7, -150.0),
}
"""The green of hole 2 reaches from x = -107 to x = -93; 0.3 m beside it a right-hander, who faces the ball from the west, stands on it."""


def ground(case: dict[str, Any]) -> Course:
    more = [
        feature("sand", FeatureKind.BUNKER, box(80, -160, 95, -145)),
        feature("green-2", FeatureKind.PUTTING_GREEN, box(-107, -160, -93, -140), holes=(2,)),
    ]
    if case.get("zone"):
        more.append(feature("zone", FeatureKind.DROPPING_ZONE, box(20, -60, 24, -56), holes=(1,)))
    if "thing" in case:
        x_m, y_m = PLACES.get(case["at"], PLACES["grass"])
        more.append(feature("thing", FeatureKind(case["thing"]), Point(x_m, y_m).buffer(0.6, quad_segs=16)))
    return course(pond(Mark.YELLOW if case["at"].startswith("yellow") else Mark.RED), *more)


def at(place: tuple[float, float]) -> Position:
    return Position(x_m=place[0], y_m=place[1])


def ruling(case: dict[str, Any], edition: str) -> Ruling:
    from_water = case.get("from_water", False)
    previous = (5.0, -65.0) if from_water else (20.0, -250.0)
    crossed = (60.0, -150.6) if case.get("crossed") == "thing" else WATER_EDGE
    incident = Incident(
        hole=1,
        situation=case["situation"],
        form=Form.STROKE_PLAY,
        ball=at(PLACES[case["at"]]) if case["at"] in PLACES else None,
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON),
        facts={"previous_stroke_from_penalty_area": from_water} | case.get("facts", {}),
        crossed_at=at(crossed),
        previous_stroke=PreviousStroke(at=at(previous), area=None if from_water else Area.GENERAL_AREA),
        last_stroke_outside=PreviousStroke(at=at((20.0, -250.0)), area=Area.GENERAL_AREA),
        estimated_at=at((40.0, -150.0)),
    )
    book = f"{edition}+{case['local_rule']}" if "local_rule" in case else edition
    return rule_on(incident, ground(case), read_book(book))


def named(case: dict[str, Any], edition: str) -> str:
    return f"{edition} {case['situation']} {case['at']}: {case['why'][:60]}"


@pytest.mark.parametrize(("case", "edition", "options"), CASES, ids=[named(case, edition) for case, edition, _ in CASES])
def test_what_is_open_and_what_is_closed(case: dict[str, Any], edition: str, options: dict[str, int | list[int]]) -> None:
    given = ruling(case, edition)
    offered: dict[str, set[int]] = {}
    for option in given.options:
        offered.setdefault(option.procedure, set()).add(option.penalty_strokes)
    due = {name: {strokes} if isinstance(strokes, int) else set(strokes) for name, strokes in options.items()}
    assert offered == due, [(entry.procedure, entry.because) for entry in given.not_available]
    asked = {question.fact for question in given.facts_needed}
    if "asks" in case:
        assert case["asks"] in asked
    assert options or given.not_available or asked, "nothing is offered and nobody is told why"


def test_every_case_names_its_sources() -> None:
    for case in HELD["cases"]:
        assert set(case["sources"]) <= set(HELD["sources"])
        assert case["sources"]


def test_there_are_cases_for_most_situations() -> None:
    assert len({case["situation"] for case in HELD["cases"]}) >= 14
    assert len(HELD["cases"]) >= 40
