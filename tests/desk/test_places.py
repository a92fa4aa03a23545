"""What may have happened at a place, and which hole it belongs to: places whose ground the incidents of the examples state in words."""

from __future__ import annotations

import re

from marram.course.frame import Position
from marram.desk.pages.page import Desk
from marram.office.at_desk.asked_facts import asked_facts
from marram.office.at_desk.lies_here import Here, lies_here, nearest_hole, what_may_be
from marram.office.at_desk.stated_case import StatedCase, open_books, open_ground, rule_on_case
from marram.office.play.draw_beside import draw_beside
from marram.rulebook.facts import Settled


def here(desk: Desk, x_m: float, y_m: float, hole: int | None = None, day: str = "") -> Here:
    ground = open_ground(desk.room, desk.folder, "thimble-moor", day)
    return lies_here(ground.course, open_books(desk.room, desk.folder, ("2023",))[0], Position(x_m=x_m, y_m=y_m), hole)


def likely(found: Here) -> list[str]:
    return [entry.situation for entry in found.likely]


def test_the_middle_of_a_line_of_play_belongs_to_its_hole(examples_desk: Desk) -> None:
    course = open_ground(examples_desk.room, examples_desk.folder, "thimble-moor").course
    for number, hole in course.holes.items():
        assert hole.line is not None
        middle = hole.line.interpolate(0.5, normalized=True)
        assert nearest_hole(course, Position(x_m=middle.x, y_m=middle.y)) == number


def test_in_the_pond_a_penalty_area_is_meant_and_no_unplayable_ball(examples_desk: Desk) -> None:
    found = here(examples_desk, -383.38, 117.50)
    assert likely(found)[0] == "penalty-area"
    assert "unplayable" not in likely(found)  # Rule 19.1 (January 2023): not in a penalty area
    assert "unplayable" in [entry.situation for entry in found.others]


def test_on_a_path_an_obstruction_is_meant_and_far_from_any_it_is_not(examples_desk: Desk) -> None:
    assert likely(here(examples_desk, 378.26, -216.09, 15))[0] == "immovable-obstruction"
    open_ground_here = here(examples_desk, -380.0, 20.0, 7)
    assert likely(open_ground_here) == ["unplayable", "lost"]


def test_a_condition_counts_within_two_metres_and_not_beyond(examples_desk: Desk) -> None:
    """The puddle of the day is a disc of 4 m about a place 30 m before the ninth green, 3 m right of the line."""
    ground = open_ground(examples_desk.room, examples_desk.folder, "thimble-moor", "2026-06-13")
    middle = ground.course.hole(9).before_green(30.0, 3.0)
    assert middle is not None
    for away_m, is_near in ((0.0, True), (5.9, True), (6.2, False)):
        found = here(examples_desk, middle.x_m + away_m, middle.y_m, 9, "2026-06-13")
        assert ("temporary-water" in likely(found)) is is_near


def test_beyond_the_boundary_nothing_else_is_meant(examples_desk: Desk) -> None:
    assert likely(here(examples_desk, -900.0, 0.0)) == ["out-of-bounds"]


def test_what_may_be_and_what_is_left_are_all_that_a_book_knows(examples_desk: Desk) -> None:
    found = here(examples_desk, -383.38, 117.50)
    known = what_may_be(open_books(examples_desk.room, examples_desk.folder, ("2023",))[0])
    assert sorted(entry.situation for entry in (*found.likely, *found.others)) == sorted(entry.situation for entry in known)
    assert all(entry.citations for entry in known)


def pond(**facts: object) -> StatedCase:
    ball = {"x_m": -383.38, "y_m": 117.5}
    incident = {"hole": 7, "situation": "penalty-area", "ball": ball, "player": {"longest_club_in": 45}, "facts": facts}
    return StatedCase(course="thimble-moor", books=("2016", "2023"), incident=incident)


def test_a_question_is_settled_by_what_its_fact_is(examples_desk: Desk) -> None:
    rulings = rule_on_case(examples_desk.room, examples_desk.folder, pond(crossed_at={"x_m": -388.38, "y_m": 113.5}))
    asked = {fact.fact: fact for fact in asked_facts(rulings)}
    assert asked["previous_stroke"].settled is Settled.PLACE
    assert asked["previous_stroke"].member == "facts.previous_stroke"
    assert asked["previous_stroke"].books == ("2016", "2023")


def test_small_drawings_show_the_area_of_the_book_in_force_whole(examples_desk: Desk) -> None:
    """Two club-lengths of 45 in are 2.286 m: at 260 px the area reaches at least a third of the way from its point to the frame."""
    rulings = rule_on_case(examples_desk.room, examples_desk.folder, pond(crossed_at={"x_m": -388.38, "y_m": 113.5}))
    drawings = draw_beside(rulings)
    assert list(drawings) == ["2016", "2023"]
    for svg in drawings.values():
        width, height = map(float, re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)[0])
        path = svg.partition('class="relief"')[2].partition(' d="')[2].partition('"')[0]
        numbers = [float(number) for number in re.findall(r"-?\d+\.?\d*", path)]
        across, down = numbers[::2], numbers[1::2]
        assert 0 < min(across) < max(across) < width
        assert 0 < min(down) < max(down) < height
        assert max(across) - min(across) > width / 8
