"""Holes of a map: numbers as mappers write them and as the official states them, tees, and lines that are not there."""

from __future__ import annotations

from pathlib import Path

import pytest
from shapely.geometry import Point

from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.interchange.courses.imported import Imported
from marram.interchange.maps.map_import import MapOptions, import_map
from tests.support.mapped import Map, hole, imported


def served(course: Course, kind: FeatureKind) -> dict[str, tuple[int, ...]]:
    return {feature.id: feature.holes for feature in course.of_kind(kind)}


def line_alone(tmp_path: Path, **tags: str) -> Imported:
    made = Map(tmp_path / "line.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    made.way([(0, 10), (0, 210)], closed=False, golf="hole", **tags)  # type: ignore[arg-type]
    return import_map(made.write(), MapOptions())


@pytest.mark.parametrize(
    ("tags", "holes"),
    [
        ({"ref": "7"}, [7]),
        ({"ref": "07"}, [7]),
        ({"ref": "1;10"}, [1, 10]),
        ({"ref": "1/10"}, [1, 10]),
        ({"name": "Hole 12"}, [12]),
        ({"name": "12th"}, [12]),
        ({"name": "7 - The Long Pond"}, [7]),
        ({"name": "The Long Pond (No. 7, par 4)"}, [7]),
        ({"ref": "A", "name": "Hole 3"}, [3]),
        ({"name": "The Long Pond"}, []),
        ({"name": "Par 3"}, []),
        ({"name": "2 or 3"}, []),
        ({"ref": "0"}, []),
        ({"ref": "99"}, []),
        ({}, []),
    ],
)
def test_the_number_of_a_hole_is_read_from_its_tags(tmp_path: Path, tags: dict[str, str], holes: list[int]) -> None:
    made = line_alone(tmp_path, **tags)
    assert list(made.course.holes) == holes
    assert any("without a hole number" in remark for remark in made.remarks) is (not holes)


def test_a_second_line_for_a_hole_is_told(tmp_path: Path) -> None:
    made = imported(tmp_path, lambda made: made.way([(90, 10), (90, 210)], closed=False, golf="hole", ref="1"))
    assert served(made.course, FeatureKind.LINE_OF_PLAY) == {"line-1": (1,), "line-x1": ()}
    assert any("second line of play for hole 1" in remark for remark in made.remarks)


def test_one_green_may_serve_two_holes(tmp_path: Path) -> None:
    course = imported(tmp_path, lambda made: made.way([(0, 340), (0, 222)], closed=False, golf="hole", ref="2")).course
    assert served(course, FeatureKind.PUTTING_GREEN) == {"green-1-2": (1, 2)}
    first, second = course.hole(1).location, course.hole(2).location
    assert first is not None and second is not None
    assert first != second


def test_a_tee_beyond_30_m_of_every_line_serves_none(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(25, 20, 6, 6, golf="tee")
        made.box(60, 20, 6, 6, golf="tee")
        made.box(70, 20, 6, 6, golf="tee", ref="1")

    assert served(imported(tmp_path, fill).course, FeatureKind.TEEING_AREA) == {
        "tee-1a": (1,),
        "tee-1b": (1,),
        "tee-x1": (),
        "tee-1c": (1,),
    }


def test_what_the_official_states_goes_before_the_map(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(100, 100, 20, 20, golf="green")

    options = MapOptions(holes=(("green-x1", 1), ("green-1", 5), ("tee-1", 6)))
    course = imported(tmp_path, fill, options=options).course
    assert served(course, FeatureKind.PUTTING_GREEN) == {"green-5": (5,), "green-1": (1,)}
    assert served(course, FeatureKind.TEEING_AREA) == {"tee-6": (6,)}
    green = course.hole(1).green
    assert green is not None
    # The frame's origin is the middle of the course, 150 m north of where the tees stand.
    assert green.geometry.centroid.distance(Point(110, 110 - 150)) < 2


def test_a_hole_that_is_given_another_green_leaves_the_one_where_its_line_ends(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(100, 100, 20, 20, golf="green")

    course = imported(tmp_path, fill, options=MapOptions(holes=(("green-x1", 1),))).course
    assert served(course, FeatureKind.PUTTING_GREEN) == {"green-x1": (), "green-1": (1,)}


def test_a_line_that_is_numbered_by_hand_keeps_its_par_and_finds_its_green(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(100, 10), (100, 210)], closed=False, golf="hole", par="5", handicap="3")
        made.box(90, 200, 20, 20, golf="green")
        made.box(95, 5, 10, 10, golf="tee")

    made = imported(tmp_path, fill, options=MapOptions(holes=(("line-x1", 4),)))
    four = made.course.hole(4)
    assert (four.par, four.stroke_index) == (5, 3)
    assert four.green is not None and four.green.id == "green-4"
    assert served(made.course, FeatureKind.TEEING_AREA)["tee-4"] == (4,)
    assert not any("without a hole number" in remark for remark in made.remarks)


def test_a_missing_line_is_drawn_only_when_asked(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(100, 200, 20, 20, golf="green")
        made.box(105, 5, 10, 10, golf="tee")
        made.box(105, 60, 10, 10, golf="tee")

    holes = (("green-x1", 2), ("tee-x1", 2), ("tee-x2", 2))
    assert imported(tmp_path, fill, options=MapOptions(holes=holes)).course.hole(2).line is None
    course = imported(tmp_path, fill, options=MapOptions(holes=holes, draws_lines=True)).course
    line = course.hole(2).line
    assert line is not None
    assert line.length == pytest.approx(200, rel=0.01)  # from the tee that is farther away
    (drawn,) = [feature for feature in course.of_kind(FeatureKind.LINE_OF_PLAY) if feature.assumed]
    assert drawn.id == "line-2"
    assert "straight" in dict(drawn.assumed)["line"]


def test_nothing_is_drawn_for_a_hole_without_a_tee(tmp_path: Path) -> None:
    made = Map(tmp_path / "greens.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    hole(made)
    made.box(100, 200, 20, 20, golf="green", ref="2")
    assert import_map(made.write(), MapOptions(draws_lines=True)).course.hole(2).line is None
