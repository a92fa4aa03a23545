"""Reliefs that no edition has, composed of data alone: what was worked out by hand before the program was asked."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from marram.core.units import BALL_RADIUS_M
from marram.course.frame import Position
from marram.rulebook import Book
from marram.rulings import Incident, rule_on
from tests.support.ground import course
from tests.support.inventions import DIVOT, HEATHER, books, incident_in

COURSE = course()
INCH_M = 0.0254


def divot_incident(book: Book) -> Incident:
    """The hole is at 0, 0; the ball lies 0.05 m behind the middle of a divot hole 150 m south of it."""
    ball, middle = Position(x_m=0.0, y_m=-150.05), Position(x_m=0.0, y_m=-150.0)
    return incident_in(COURSE, book, "divot-hole", "divot-hole", ball, middle, 0.08)


def heather_incident(book: Book, **facts: bool) -> Incident:
    at = Position(x_m=0.0, y_m=-150.0)
    return replace(incident_in(COURSE, book, "heather", "heather", at, at, 1.0), facts=facts)


def test_a_ball_in_a_divot_hole_is_placed_beside_it() -> None:
    """By hand: the ball leaves the disc of 0.08 m with its edge, straight back; half a disc of 6 in about that spot is free of it."""
    book, _ = books(DIVOT, "divot")
    (option,) = rule_on(divot_incident(book), COURSE, book).options
    (reference,) = option.references
    assert reference.distance_m == pytest.approx(0.08 + BALL_RADIUS_M - 0.05, abs=0.003)
    assert reference.position.x_m == pytest.approx(0.0, abs=0.01)
    assert reference.position.y_m < -150.05
    assert (option.penalty_strokes, option.put, option.which) == (0, "place", "any")
    assert option.relief_area is not None
    assert option.relief_area.area_m2 == pytest.approx(math.pi * (6 * INCH_M) ** 2 / 2, abs=0.0006)
    assert {citation.overlay for citation in option.citations} == {"Free relief from divot holes"}


def test_steps_and_reasons_speak_of_what_the_trial_says_and_of_nothing_else() -> None:
    book, _ = books(DIVOT, "divot")
    ruling = rule_on(divot_incident(book), COURSE, book)
    steps = " ".join(ruling.options[0].steps)
    assert "divot hole is out of the way of the ball." in steps
    assert "stance" not in steps
    assert "6 inches" in steps
    assert "Place the ball" in steps
    assert not [line.text for line in ruling.lines if "nowhere to drop" in line.text]


def test_a_book_without_it_says_so_and_what_is_left() -> None:
    with_it, alone = books(DIVOT, "divot")
    ruling = rule_on(divot_incident(with_it), COURSE, alone)
    assert ruling.options == ()
    (closed,) = ruling.not_available
    assert "not in this book" in closed.because
    assert "play the ball as it lies" in ruling.lines[-1].text
    assert ruling.facts_needed == ()


def test_a_ball_beside_the_divot_hole_gets_none_and_is_played_as_it_lies() -> None:
    book, _ = books(DIVOT, "divot")
    beside = replace(divot_incident(book), ball=Position(x_m=0.0, y_m=-151.0))
    ruling = rule_on(beside, COURSE, book)
    assert ruling.options == ()
    assert "play the ball as it lies" in ruling.lines[-1].text


@pytest.mark.parametrize("edition", ["2016", "2023"])
def test_out_of_the_heather_for_one_stroke_sideways(edition: str) -> None:
    """By hand: half a disc of three 45 in clubs is 18.47 m²; the circle about the hole, 150 m away, bends 0.09 m² more into it."""
    book, _ = books(HEATHER, "heather", edition)
    ruling = rule_on(heather_incident(book, embedded=False), COURSE, book)
    (option,) = ruling.options
    assert (option.procedure, option.penalty_strokes, option.put) == ("heather-wide", 1, "drop")
    assert option.relief_area is not None
    assert option.relief_area.area_m2 == pytest.approx(18.56, abs=0.03)
    (closed,) = ruling.not_available
    assert closed.procedure == "heather-line"


def test_the_second_way_waits_for_its_fact_and_is_a_line_back() -> None:
    book, _ = books(HEATHER, "heather")
    asked = rule_on(heather_incident(book), COURSE, book)
    assert [entry.fact for entry in asked.facts_needed] == ["embedded"]
    line = rule_on(heather_incident(book, embedded=True), COURSE, book).options[1]
    assert (line.procedure, line.penalty_strokes, line.which) == ("heather-line", 2, "original")
    assert line.line is not None
    assert line.relief_area is not None
    assert line.relief_area.area_m2 > 100
