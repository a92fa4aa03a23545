"""Words on a drawing: arrows to what lies outside keep clear of each other, and no line parts a number from its unit."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import LineString

from marram.course.frame import Position
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.ruling import FoundPoint
from marram.sheets.drawn.option_places import STATION_WORDS
from marram.sheets.scene.away import AwayMark, place_away
from marram.sheets.scene.free_places import room_of
from marram.sheets.scene.labels import Rectangle
from marram.sheets.scene.scene import Item, Role, Scene, Window
from marram.sheets.scene.svg import View
from marram.sheets.scene.type_widths import Face, wrap_words

MIDDLE = Position(x_m=0.0, y_m=0.0)
VIEW = View(window=Window(middle=MIDDLE, width_m=20.0, height_m=14.0), x=0.0, y=0.0, units_per_m=40.0, name="test")


def scene(*away: Position, items: tuple[Item, ...] = ()) -> Scene:
    return Scene(items=items, away=tuple((position, f"thing {number}") for number, position in enumerate(away)))


def away_marks(shown: Scene, view: View, taken: list[Rectangle]) -> list[AwayMark]:
    room = room_of(shown.items, view)
    room.take(each.outline for each in taken)
    marks, left = place_away(shown, view, room)
    assert not left
    return marks


def test_arrows_that_leave_at_one_place_stand_clear_of_each_other_and_in_the_frame() -> None:
    away = [Position(x_m=2.0 + 0.1 * number, y_m=-60.0) for number in range(5)]
    boxes = [mark.box for mark in away_marks(scene(*away), VIEW, [])]
    assert all(box.is_in(VIEW.box) for box in boxes)
    assert not any(one.meets(other) for number, one in enumerate(boxes) for other in boxes[:number])


def test_arrows_keep_off_what_is_taken() -> None:
    block = Rectangle(x=578.0, y=468.0, width=222.0, height=92.0)
    (mark,) = away_marks(scene(Position(x_m=60.0, y_m=-40.0)), VIEW, [block])
    assert not mark.box.meets(block)


def test_arrows_keep_off_the_lines_that_matter() -> None:
    back = LineString([(0.0, 0.0), (0.0, -50.0)])
    (free,) = away_marks(scene(Position(x_m=0.0, y_m=-40.0)), VIEW, [])
    assert free.box.x < 400.0 < free.box.x + free.box.width  # with nothing there it stands on the way
    (mark,) = away_marks(scene(Position(x_m=0.0, y_m=-40.0), items=(Item(role=Role.LINE_BACK, geometry=back),)), VIEW, [])
    assert mark.box.x > 400.0 or mark.box.x + mark.box.width < 400.0


@pytest.mark.parametrize("bearing_deg", range(0, 360, 30))
def test_an_arrow_points_to_the_thing_and_says_how_far_it_is(bearing_deg: int) -> None:
    turn = math.radians(bearing_deg)
    thing = Position(x_m=500 * math.sin(turn), y_m=500 * math.cos(turn))
    (mark,) = away_marks(scene(thing), VIEW, [])
    assert mark.words == "thing 0, 500 m"
    off = (mark.turn_deg - (bearing_deg - 90) + 180) % 360 - 180
    assert abs(off) < 2.0  # the arrow stands up to 12 m from the middle: 1.4 degrees at 500 m


@pytest.mark.parametrize("held", ["2.06 m²", "29.11 m²", "1.14 m", "20 inches", "2 metres", "100 %", "Rule 17.1d(3)", "page 126"])
def test_what_belongs_together_stays_on_one_line(held: str) -> None:
    for width in range(110, 300, 5):
        lines = wrap_words(f"The ground is told in some words as {held}, and so on", width, Face.BOARD, 13.0)
        assert sum(held in line.replace("\u00a0", " ") for line in lines) == 1


def test_other_words_are_broken_as_ever() -> None:
    assert wrap_words("12 more places", 50.0, Face.BOARD, 13.0) == ["12", "more", "places"]


def test_every_point_of_a_relief_has_a_word_on_drawings() -> None:
    not_drawn = {MeasuredFrom.NONE, MeasuredFrom.POINT_ON_LINE}
    assert set(STATION_WORDS) == {*MeasuredFrom, *FoundPoint} - not_drawn


def test_a_scale_bar_in_yards_is_as_long_as_its_figure_says() -> None:
    """Four parts of a round number of yards of 0.9144 m."""
    import re

    from marram.core.lengths import Lengths
    from marram.course.frame import Position
    from marram.sheets.scene.border import draw_scale_bar
    from marram.sheets.scene.scene import Window
    from marram.sheets.scene.svg import View

    window = Window(middle=Position(x_m=0.0, y_m=0.0), width_m=8.0, height_m=6.0)
    view = View(window=window, x=0.0, y=0.0, units_per_m=100.0, name="main", lengths=Lengths(in_yards=True))
    marks = list(draw_scale_bar(view, 0.0, 20.0, 190.0))
    widths = [float(width) for width in re.findall(r'<rect[^>]* width="([\d.]+)"', "".join(marks))]
    figure = re.search(r">([\d.]+) yd<", "".join(marks))
    assert figure is not None
    assert sum(widths) == pytest.approx(float(figure[1]) * 91.44, abs=0.05)
