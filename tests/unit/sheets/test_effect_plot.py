"""Effects on one axis: what the coordinates say is what the numbers say, and no row squashes another."""

from __future__ import annotations

import re
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.sheets.drawn.effect_plot import STRIP_HEIGHT, axis_of, draw_foot, draw_head, draw_strip
from tests.support.first_pages import effect_row, line_ends, overlaps, point_at, text_boxes, value_at

_WIDTHS = (320.0, 340.0, 520.0)
_ENDS = st.floats(-4.5, 4.5)


@given(_ENDS, _ENDS, _ENDS)
def test_coordinates_read_back_are_the_numbers(first: float, second: float, third: float) -> None:
    low, estimate, high = sorted((first, second, third))
    row = effect_row(estimate, (low, high), by_definition=estimate / 2)
    axis = axis_of([row], 520.0)
    svg = draw_strip(row, axis)
    ends = line_ends(svg, "thin")
    assert ends is not None
    assert [value_at(axis, x) for x in ends] == pytest.approx([low, high], abs=0.001)
    assert row.effect is not None
    thick = line_ends(svg, "thick")
    assert thick is not None
    assert [value_at(axis, x) for x in thick] == pytest.approx(row.effect.interval90, abs=0.001)
    point = point_at(svg)
    assert point is None or value_at(axis, point) == pytest.approx(estimate, abs=0.001)
    bar = re.search(r'<rect x="([-\d.]+)" y="[\d.]+" width="([\d.]+)" height="10" class="defined"', svg)
    assert (bar is None) is (abs(estimate / 2) * axis.unit < 1)
    if bar is None:
        return  # less than the width of a line: there is nothing to see
    left, right = float(bar[1]), float(bar[1]) + float(bar[2])
    assert sorted((value_at(axis, left), value_at(axis, right))) == pytest.approx(sorted((0.0, estimate / 2)), abs=0.002)


def test_nothing_and_enough_stand_on_the_same_lines_in_every_row() -> None:
    rows = [effect_row(0.4, (0.1, 0.7)), effect_row(-3.0, (-4.0, -2.0), is_guard=True), effect_row(2.5, (2.0, 3.0))]
    axis = axis_of(rows, 360.0)
    for row in rows:
        svg = draw_strip(row, axis)
        assert f'd="M{axis.x(0):.2f} 0V{STRIP_HEIGHT:g}" class="nought"' in svg
        at = axis.x(-1 if row.is_guard else 1)
        assert f'd="M{at:.2f} 0V{STRIP_HEIGHT:g}" class="at"' in svg
        assert ('class="enough"' in svg) is not row.is_guard


def test_a_guard_either_way_has_both_margins_and_another_one() -> None:
    one, both = effect_row(0.2, (0.0, 0.4), is_guard=True), effect_row(0.2, (0.0, 0.4), is_guard=True, is_either_way=True)
    axis = axis_of([one, both], 360.0)
    assert (draw_strip(one, axis).count('class="at"'), draw_strip(both, axis).count('class="at"')) == (1, 2)


def test_an_effect_beyond_the_axis_is_an_arrow_with_its_number_and_squashes_nothing() -> None:
    huge, small = effect_row(812.0, (640.0, 984.0)), effect_row(0.5, (0.2, 0.8))
    axis = axis_of([huge, small], 360.0)
    assert (axis.worse, axis.better) == (2, 5)
    svg = draw_strip(huge, axis)
    assert 'class="arrowhead"' in svg
    assert "812 times (640 to 984)" in svg
    assert point_at(svg) is None
    ends = line_ends(svg, "thin")
    assert ends is not None
    assert 0 <= ends[0] <= ends[1] <= axis.width
    assert 'class="arrowhead"' not in draw_strip(small, axis)


@pytest.mark.parametrize(
    ("row", "words", "arrows"),
    [
        (effect_row(4.0, (1.0, 7.0)), ["to 7.0"], 1),
        (effect_row(-4.0, (-7.0, -1.0), is_guard=True), ["to 7.0"], 1),
        (effect_row(-9.0, (-12.0, -6.0), is_guard=True), ["9.0 margins (6.0 to 12.0)"], 1),
        (effect_row(1.0, (-8.0, 10.0)), ["to 8.0", "to 10.0"], 2),
        (effect_row(7.0, (-1.0, 15.0)), ["7.0 times (-1.0 to 15.0)"], 1),
        (effect_row(7.0, None), ["7.0 times"], 1),
        (effect_row(1.0, None), ["no interval"], 0),
        (effect_row(None), ["nothing to draw"], 0),
    ],
)
def test_what_cannot_be_drawn_whole_is_told(row: object, words: list[str], arrows: int) -> None:
    axis = axis_of([row], 340.0)  # type: ignore[list-item]
    svg = draw_strip(row, axis)  # type: ignore[arg-type]
    assert [text for text, _ in text_boxes(svg)] == words
    assert svg.count('class="arrowhead"') == arrows
    assert all(0 <= x <= axis.width for x in map(float, re.findall(r'd="M([-\d.]+) 200', svg)))


@pytest.mark.parametrize("width", _WIDTHS)
def test_no_word_stands_over_another_or_outside(width: float) -> None:
    """300 plots drawn by chance, of small effects and of huge ones."""
    chance = Random(17)
    for _ in range(300):
        scale = chance.choice((0.5, 2.0, 8.0, 4000.0))
        rows = []
        for number in range(chance.randint(1, 9)):
            middle, half = chance.gauss(0, scale), abs(chance.gauss(0, scale))
            part = chance.gauss(0, scale) if number == 0 else None
            rows.append(effect_row(middle, (middle - half, middle + half), is_guard=chance.random() < 0.3, by_definition=part))
        axis = axis_of(rows, width)
        for svg in (draw_head(axis), draw_foot(axis), *(draw_strip(row, axis) for row in rows)):
            boxes = text_boxes(svg)
            assert not overlaps(boxes), svg
            assert all(left >= -0.5 and right <= width + 0.5 for _, (left, _, right, _) in boxes), svg


@pytest.mark.parametrize("width", _WIDTHS)
def test_an_axis_fills_its_width(width: float) -> None:
    axis = axis_of([effect_row(3.2, (2.1, 4.3)), effect_row(-1.2, (-2.6, 0.1), is_guard=True)], width)
    assert (axis.worse, axis.better) == (3, 4)
    assert (axis.x(axis.ends[0]), axis.x(axis.ends[1])) == pytest.approx((0.0, width))
    assert axis.x(1) - axis.x(0) == pytest.approx(axis.x(0) - axis.x(-1)) == pytest.approx(width / 7.8)


def test_an_axis_of_nothing_can_be_drawn() -> None:
    axis = axis_of([], 340.0)
    assert (axis.worse, axis.better, axis.has_margins) == (2, 2, False)
    told = [text for text, _ in text_boxes(draw_foot(axis))]
    assert told == ["2", "1", "enough", "2", "no change", "times"]


def test_words_of_a_drawing_are_escaped() -> None:
    svg = draw_strip(effect_row(1.0, (0.5, 1.5)), axis_of([], 340.0))
    assert "<title>In multiples of the smallest effect that matters, better above 0: 1.00, 95 % interval 0.50 to 1.50" in svg
