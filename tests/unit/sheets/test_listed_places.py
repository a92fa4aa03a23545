"""Places of a list beside a drawing: each in a square with its number, beside its place and joined to it where it stands off."""

from __future__ import annotations

import re

from shapely.geometry import Point

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.frame import Position
from marram.sheets.drawn.course_drawing import draw_course
from marram.sheets.scene.rendering import Rendering
from tests.support.ground import course, feature

SQUARE = re.compile(r'<g class="place"><rect x="([-\d.]+)" y="([-\d.]+)" width="([\d.]+)" height="([\d.]+)"/><text[^>]*>(\d+)</text></g>')
WIDE, NARROW = Rendering(is_map_alone=True, on_page="w"), Rendering(is_map_alone=True, on_page="n", width_px=360.0)
HERE = (0.0, -150.0)


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def squares(ground: Course, *places: tuple[str, Position], rendering: Rendering = WIDE) -> list[tuple[str, ...]]:
    return SQUARE.findall(draw_course(ground, hole=None, listed=places, rendering=rendering))


def test_each_place_in_sight_has_its_number_and_one_beyond_has_none() -> None:
    drawn = squares(course(), ("1", at(*HERE)), ("2", at(100.0, -300.0)), ("3", at(5000.0, 0.0)))
    assert sorted(square[4] for square in drawn) == ["1", "2"]


def test_a_square_stands_beside_its_place_and_covers_neither_it_nor_another() -> None:
    places = [(str(number), at(HERE[0] + 3.0 * number, HERE[1])) for number in range(1, 7)]
    boxes = [tuple(map(float, square[:4])) for square in squares(course(), *places)]
    assert len(boxes) == len(places)
    for one, (x, y, width, height) in enumerate(boxes):
        for other_x, other_y, other_width, other_height in boxes[one + 1 :]:
            assert x + width <= other_x or other_x + other_width <= x or y + height <= other_y or other_y + other_height <= y


def test_a_number_of_three_digits_has_room() -> None:
    one, many = squares(course(), ("1", at(*HERE)))[0], squares(course(), ("123", at(*HERE)))[0]
    assert float(many[2]) > float(one[2])
    assert one[2] == one[3] == "20.0"


def test_on_a_phone_the_numbers_go_before_names_of_what_waits_for_one() -> None:
    ground = course(feature("green-x1", FeatureKind.PUTTING_GREEN, Point(150, 0).buffer(10)))
    place = ("1", at(*HERE))
    assert "green-x1" in draw_course(ground, hole=None, listed=[place], rendering=WIDE)
    assert "green-x1" in draw_course(ground, hole=None, rendering=NARROW)
    assert "green-x1" not in draw_course(ground, hole=None, listed=[place], rendering=NARROW)
    assert [square[4] for square in squares(ground, place, rendering=NARROW)] == ["1"]
