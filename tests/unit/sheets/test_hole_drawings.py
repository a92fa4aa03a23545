"""The drawing of a hole: its own tees carry the T and no other hole's, its line of play is drawn, and it fits its paper."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, box

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.office.courses.draw_ground import draw_ground, draw_ground_on_paper
from marram.sheets.drawn.course_drawing import ground_to_show
from tests.support.drawn_places import courses
from tests.support.drawn_views import drawn_views
from tests.support.ground import course, feature

HOLES = [(number, hole) for number in range(3) for hole in courses()[number].holes]


def tee_letters(svg: str) -> list[tuple[float, float]]:
    found = re.findall(r'<text class="lab ground" text-anchor="middle" x="([\d.]+)" y="([\d.]+)">T</text>', svg)
    return [(float(x), float(y)) for x, y in found]


def tees(svg: str, name: str) -> list[list[tuple[float, float]]]:
    shapes = re.findall(rf'<path class="{name}" fill-rule="evenodd" d="([^"]*)"', svg)
    return [[(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", shape)] for shape in shapes]


@pytest.mark.parametrize(("number", "hole"), HOLES)
def test_the_letter_of_the_tee_stands_by_a_tee_of_the_hole(number: int, hole: int) -> None:
    ground = courses()[number]
    own = [tee for tee in ground.of_kind(FeatureKind.TEEING_AREA) if hole in tee.holes]
    svg = draw_ground(ground, hole=hole).partition('<g class="legend">')[0]
    letters = tee_letters(svg)
    assert len(letters) == bool(own)
    drawn_own, drawn_other = tees(svg, "tee"), tees(svg, "tee quiet")
    least, most = ground_to_show(ground, hole)[:2], ground_to_show(ground, hole)[2:]
    in_sight = [tee for tee in ground.of_kind(FeatureKind.TEEING_AREA) if tee.geometry.intersects(box(*least, *most))]
    assert len(drawn_own) == len(own)
    assert len(drawn_own) + len(drawn_other) >= len(in_sight)
    for x, y in letters:
        near = min(Point(x, y).distance(Point(corner)) for tee in drawn_own for corner in tee)
        other = min((Point(x, y).distance(Point(corner)) for tee in drawn_other for corner in tee), default=1e9)
        assert near < other
        assert near < 60


@pytest.mark.parametrize(("number", "hole"), HOLES)
def test_the_line_of_play_is_drawn(number: int, hole: int) -> None:
    ground = courses()[number]
    drawn = drawn_views(draw_ground(ground, hole=hole))["map"]
    assert ("toward" in drawn.classes) is (ground.hole(hole).line is not None)


def long_hole(length_m: float) -> Course:
    ground = course(
        feature("line", FeatureKind.LINE_OF_PLAY, LineString([(0, -length_m), (0, 0)]), holes=(2,)),
        feature("tee-2", FeatureKind.TEEING_AREA, box(-5, -length_m - 5, 5, -length_m + 5), holes=(2,)),
        feature("green-2", FeatureKind.PUTTING_GREEN, Point(0, 0).buffer(12), holes=(2,)),
        boundary=box(-900, -900, 900, 900),
    )
    return replace(ground, features=tuple(each for each in ground.features if not each.id.endswith("-1")))


def test_a_hole_of_600_m_fits_a4() -> None:
    svg = draw_ground_on_paper(long_hole(600.0), hole=2, paper="a4", scale=None)
    # 600 m and 35 m beside either end are 670 m; A4 upright leaves 297 - 22 - 26 = 249 mm for them: 1:2691 at least.
    assert "scale 1:3000," in svg
    assert 'width="210mm" height="297mm"' in svg
    ends = re.findall(r'<path class="toward"[^>]* d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"', svg)
    (x1, y1, x2, y2) = map(float, ends[0])
    assert abs(y2 - y1) * 0.27 == pytest.approx(200.0, abs=0.02)  # 600 m at 1:3000
    assert x1 == x2


def test_a_tee_off_the_line_is_in_the_drawing_too() -> None:
    ground = long_hole(300.0)
    away = feature("tee-far", FeatureKind.TEEING_AREA, box(90, -310, 100, -300), holes=(2,))
    bounds = ground_to_show(replace(ground, features=(*ground.features, away)), 2)
    assert bounds[2] >= 105.0
