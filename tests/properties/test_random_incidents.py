"""Random balls over the demo course: always an answer or a clear refusal, never an unsound area."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marram.core.errors import IncidentError
from marram.core.terms import Club, Form, Hand
from marram.course.frame import Position
from marram.interchange.course_geojson import read_course
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Player, PreviousStroke, rule_on

COURSE = read_course(Path(__file__).resolve().parents[2] / "examples" / "courses" / "thimble-moor.geojson")
BOOKS = [open_book(edition, [], packaged_catalogue()) for edition in packaged_catalogue().editions]


@st.composite
def incidents(draw: st.DrawFn) -> Incident:
    water = draw(st.sampled_from(COURSE.penalty_areas)).geometry
    edge = water.boundary.interpolate(draw(st.floats(0, 1)), normalized=True)
    obstruction = draw(st.sampled_from([f for f in COURSE.features if f.kind.value == "immovable-obstruction"]))
    rim = obstruction.geometry.boundary.interpolate(draw(st.floats(0, 1)), normalized=True)
    situation = draw(st.sampled_from(["penalty-area", "unplayable", "immovable-obstruction", "lost"]))
    near = rim if situation == "immovable-obstruction" else edge
    aside = st.floats(-2, 2)
    ball = Position(x_m=near.x + draw(aside), y_m=near.y + draw(aside))
    return Incident(
        hole=draw(st.integers(1, 18)),
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=None if situation == "lost" else ball,
        player=Player(hand=draw(st.sampled_from(Hand)), longest_club_in=draw(st.floats(40, 48)), club=draw(st.sampled_from(Club))),
        crossed_at=Position(x_m=edge.x, y_m=edge.y),
        previous_stroke=PreviousStroke(at=Position(x_m=draw(st.floats(-300, 300)), y_m=draw(st.floats(-200, 200))), area=None),
        choice=Choice(back_m=draw(st.sampled_from([None, 5.0, 30.0]))),
    )


@given(incidents())
@settings(max_examples=120)
def test_answer_or_clear_refusal(incident: Incident) -> None:
    for book in BOOKS:
        try:
            ruling = rule_on(incident, COURSE, book)
        except IncidentError:
            continue
        for option in ruling.options:
            assert option.citations
            if option.relief_area is None:
                continue
            outline = option.relief_area.outline()
            assert outline.is_valid
            assert outline.area <= option.relief_area.area_m2 + 1e-6
            assert sum(part.area_m2 for part in option.relief_area.parts) == pytest.approx(option.relief_area.area_m2)
            for reference in option.references:
                assert reference.clearance_m is None or reference.clearance_m > -2e-3
