"""Words on a scene drawn by hand: clear of lines and points, whole lengths only, letters on their own ground, the rest told beneath."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.lettering import Lettering, letter_view
from marram.sheets.scene.palette import DAY
from marram.sheets.scene.scene import Dimension, Item, Label, LabelKind, Role, Scene, Spot, SpotKind, Window
from marram.sheets.scene.style import page_of
from marram.sheets.scene.svg import View, draw_view
from tests.support.drawn_words import Drawn, Words, covered, cut_off, overlaps, read_drawing

MIDDLE = Position(x_m=0.0, y_m=0.0)
VIEW = View(window=Window(middle=MIDDLE, width_m=20.0, height_m=10.0), x=0.0, y=0.0, units_per_m=40.0, name="test")
"""20 m by 10 m at 40 units a metre: 800 by 400 units, the middle at 400, 200."""


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def fact(text: str, where: Position = MIDDLE, *, must_show: bool = True) -> Label:
    return Label(lines=(text,), kind=LabelKind.FACT, anchor=where, must_show=must_show)


def read(scene: Scene, *blocked: Rectangle, view: View = VIEW) -> Drawn:
    body = list(draw_view(scene, view, list(blocked)))
    frame = view.box
    body.append(f'<rect class="neat" x="{frame.x}" y="{frame.y}" width="{frame.width}" height="{frame.height}"/>')
    drawn = read_drawing(page_of(body, DAY, frame.width, frame.height, size='width="1" height="1"', title="test"))
    assert not [*overlaps(drawn), *cut_off(drawn), *covered(drawn)]
    return drawn


def lettered(scene: Scene, *blocked: Rectangle) -> Lettering:
    return letter_view(scene, VIEW, blocked)


def words(drawn: Drawn, text: str) -> Words:
    (found,) = (each for each in drawn.words if each.text == text)
    return found


@pytest.mark.parametrize("turn_deg", range(0, 180, 15))
def test_words_of_a_point_on_a_line_stand_off_the_line_at_any_bearing(turn_deg: int) -> None:
    reach = (20 * math.cos(math.radians(turn_deg)), 20 * math.sin(math.radians(turn_deg)))
    edge = Item(role=Role.RED_EDGE, geometry=LineString([(-reach[0], -reach[1]), reach]))
    drawn = read(Scene(items=(edge,), spots=(Spot(kind=SpotKind.STATION, position=MIDDLE),), labels=(fact("crossing point"),)))
    assert words(drawn, "crossing point").is_on_map


def test_words_that_stand_far_have_a_line_from_their_point_to_them() -> None:
    crowd = Item(role=Role.FOOT, geometry=Point(0, 0).buffer(1.4))
    drawn = read(Scene(items=(crowd,), spots=(Spot(kind=SpotKind.BALL, position=MIDDLE),), labels=(fact("ball"),)))
    (leader,) = (shape for name, shape in drawn.lines if name == "leader")
    start, end = (Point(*place) for place in (leader.coords[0], leader.coords[-1]))
    assert start.distance(Point(400, 200)) < 20
    assert 0 < end.distance(words(drawn, "ball").outline) < 4


@pytest.mark.parametrize(("length_m", "is_drawn"), [(0.64, False), (0.66, True), (4.0, True)])
def test_a_measured_length_under_26_units_is_not_drawn(length_m: float, is_drawn: bool) -> None:
    drawn = read(Scene(items=(), dimensions=(Dimension(start=MIDDLE, end=at(length_m, 0), text="1.14 m"),)))
    assert bool([name for name, _ in drawn.lines if name == "dim"]) is is_drawn
    assert [each.text for each in drawn.words] == ["1.14 m"] * is_drawn


@pytest.mark.parametrize("end", [at(10.5, 0), at(0, 5.2), at(-10.1, 0), at(3, -5.1)])
def test_a_measured_length_that_leaves_the_window_is_not_drawn_in_part(end: Position) -> None:
    drawn = read(Scene(items=(), dimensions=(Dimension(start=MIDDLE, end=end, text="1.14 m"),)))
    assert not drawn.words
    assert not [name for name, _ in drawn.lines if name == "dim"]


def test_a_measured_length_is_not_drawn_under_the_title_block() -> None:
    scene = Scene(items=(), dimensions=(Dimension(start=MIDDLE, end=at(4, 0), text="4.00 m"),))
    assert lettered(scene).lengths
    assert not lettered(scene, Rectangle(x=500, y=150, width=100, height=100)).lengths


@pytest.mark.parametrize("turn_deg", range(0, 360, 30))
def test_the_number_of_a_length_stands_along_its_line_and_never_upside_down(turn_deg: int) -> None:
    end = at(4 * math.cos(math.radians(turn_deg)), 4 * math.sin(math.radians(turn_deg)))
    number = words(read(Scene(items=(), dimensions=(Dimension(start=MIDDLE, end=end, text="4.00 m"),))), "4.00 m")
    right, _, _, left, _ = shapely.get_coordinates(number.outline).tolist()  # upper right, lower right, lower left, upper left
    assert right[0] - left[0] > -1e-6
    assert number.outline.distance(LineString([VIEW.place(0, 0), VIEW.place(*end.xy)])) < 4


@pytest.mark.parametrize("length_m", [0.7, 1.0, 1.3, 1.6, 2.0, 4.0])
def test_a_number_along_its_line_is_no_longer_than_it_and_else_stands_level_beside_it(length_m: float) -> None:
    end = at(0, length_m)
    number = words(read(Scene(items=(), dimensions=(Dimension(start=MIDDLE, end=end, text="1.14 m"),))), "1.14 m").outline
    left, top, right, bottom = number.bounds
    if bottom - top > right - left:  # along the upright line
        assert top >= 200 - 40 * length_m
        assert bottom <= 200
    else:
        assert right - left > 40 * length_m - 12


def test_words_keep_off_the_title_block_and_the_flag() -> None:
    block = Rectangle(x=410, y=0, width=390, height=400)
    drawn = read(Scene(items=(), spots=(Spot(kind=SpotKind.HOLE, position=MIDDLE),), labels=(fact("hole", at(-0.2, 0.3)),)), block)
    assert not words(drawn, "hole").outline.intersects(block.outline)


def test_what_finds_no_place_is_told_and_not_drawn() -> None:
    everywhere = Rectangle(x=0, y=0, width=800, height=400)
    arrow = ((at(0, 500), "hole"),)
    found = lettered(Scene(items=(), labels=(fact("crossing point"), fact("ball")), away=arrow), everywhere)
    assert not found.marks
    assert found.left == ("hole, 500 m", "crossing point", "ball")


def test_names_of_ground_and_of_books_are_left_to_the_legend() -> None:
    everywhere = Rectangle(x=0, y=0, width=800, height=400)
    ground = Label(lines=("path",), kind=LabelKind.GROUND, anchor=MIDDLE, is_inside=True, ground=box(-3, -3, 3, 3))
    book = Label(lines=("draft",), kind=LabelKind.BOOK, anchor=MIDDLE, names=Role.OTHER_BOOK, along=LineString([(-3, 0), (3, 0)]))
    assert lettered(Scene(items=(), labels=(ground, book)), everywhere) == Lettering()


def letter(ground: BaseGeometry) -> Label:
    place = ground.representative_point()
    return Label(lines=("C",), kind=LabelKind.LETTER, anchor=at(place.x, place.y), is_inside=True, ground=ground)


def test_a_letter_stands_on_its_own_area_beside_what_is_measured_there() -> None:
    area = Point(0, 0).buffer(2.2)
    items = (Item(role=Role.RELIEF, geometry=area),)
    lengths = (Dimension(start=MIDDLE, end=at(2.2, 0), text="2.20 m"),)
    drawn = read(Scene(items=items, labels=(letter(area),), dimensions=lengths, spots=(Spot(kind=SpotKind.STATION, position=MIDDLE),)))
    assert Point(400, 200).buffer(88).covers(words(drawn, "C").outline)


def test_a_letter_too_large_for_its_area_stands_off_it_with_a_line() -> None:
    area = Point(0, 0).buffer(0.2)  # 16 units across, for a letter of 22
    drawn = read(Scene(items=(Item(role=Role.RELIEF, geometry=area),), labels=(letter(area),)))
    (leader,) = (shape for name, shape in drawn.lines if name == "leader")
    assert leader.intersects(Point(400, 200).buffer(8.1))
    assert not words(drawn, "C").outline.intersects(Point(400, 200).buffer(8))


def test_a_letter_stands_sooner_on_free_ground_than_on_the_area_of_another_option() -> None:
    tiny, other = Point(0, 0).buffer(0.1), box(0.3, -5, 9, 5)
    items = (Item(role=Role.RELIEF, geometry=tiny), Item(role=Role.RELIEF_SECOND, geometry=other))
    drawn = read(Scene(items=items, labels=(letter(tiny),)))
    assert words(drawn, "C").outline.bounds[2] < 400 + 0.3 * 40


def test_a_name_stands_wholly_on_its_ground_or_not_at_all() -> None:
    wide, narrow = box(-4, -1, 4, 1), box(-0.4, -4, 0.4, 4)  # 32 units hold no name of five letters
    labels = [Label(lines=("bunker",), kind=LabelKind.GROUND, anchor=MIDDLE, is_inside=True, ground=ground) for ground in (wide, narrow)]
    on_wide = words(read(Scene(items=(Item(role=Role.BUNKER, geometry=wide),), labels=(labels[0],))), "bunker")
    assert box(240, 160, 560, 240).covers(on_wide.outline)
    assert not lettered(Scene(items=(), labels=(labels[1],))).placed


def test_the_name_of_a_book_breaks_its_own_edge_and_no_other() -> None:
    own, other = LineString([(-8, 0), (8, 0)]), LineString([(0, -5), (0, 5)])
    items = (Item(role=Role.OTHER_BOOK, geometry=own), Item(role=Role.RELIEF, geometry=other))
    label = Label(lines=("draft 2017",), kind=LabelKind.BOOK, anchor=MIDDLE, along=own, names=Role.OTHER_BOOK)
    name = words(read(Scene(items=items, labels=(label,))), "draft 2017").outline
    assert name.intersects(LineString([(0, 200), (800, 200)]))
    assert not name.intersects(LineString([(400, 0), (400, 400)]))


def test_words_cover_the_edge_of_ground_only_where_nothing_else_is_near() -> None:
    path = Item(role=Role.OBSTRUCTION, geometry=box(0.5, -5, 9, 5))  # its edge runs through the first place tried
    drawn = read(Scene(items=(path,), labels=(fact("spot of the ball"),)))
    assert not words(drawn, "spot of the ball").outline.intersects(LineString([(420, 0), (420, 400)]))


def test_words_stand_sooner_on_free_ground_than_on_an_area_that_they_do_not_name() -> None:
    area = Item(role=Role.COMMON_GROUND, geometry=box(0.1, -5, 9, 5))
    drawn = read(Scene(items=(area,), labels=(fact("spot of the ball"),)))
    assert words(drawn, "spot of the ball").outline.bounds[2] < 404


def test_a_letter_goes_farther_on_its_own_area_before_it_leaves_it() -> None:
    area = box(-0.5, -3, 0.5, 3)
    crowd = Item(role=Role.FOOT, geometry=Point(0, 0).buffer(1.0))  # clear of it, a place off the area is as near as one on it
    drawn = read(Scene(items=(Item(role=Role.RELIEF, geometry=area), crowd), labels=(letter(area),)))
    assert box(380, 80, 420, 320).covers(words(drawn, "C").outline)


def test_later_words_keep_off_the_line_that_leads_to_earlier_ones() -> None:
    crowd = Item(role=Role.FOOT, geometry=Point(0, 0).buffer(1.4))
    first, second = fact("spot of the ball"), fact("crossing point")
    drawn = read(Scene(items=(crowd,), labels=(first, second)))  # no word stands over a leader
    assert len([name for name, _ in drawn.lines if name == "leader"]) == 2


def test_words_stay_in_the_frame() -> None:
    corner = at(9.7, 4.8)
    drawn = read(Scene(items=(), labels=(fact("spot of the ball", corner),)))
    assert box(6, 6, 794, 394).covers(words(drawn, "spot of the ball").outline.buffer(-0.5))


def test_a_long_name_ends_in_an_ellipsis_and_keeps_to_its_room() -> None:
    drawn = read(Scene(items=(), labels=(fact("w" * 200),)))
    (name,) = drawn.words
    assert name.text.endswith("w…")
    assert name.outline.bounds[2] - name.outline.bounds[0] <= 260
