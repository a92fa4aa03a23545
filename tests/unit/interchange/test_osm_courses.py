"""A map of a whole country: one course is chosen, and nothing that lies elsewhere comes with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.interchange.maps.map_import import MapOptions, import_map
from tests.support.mapped import Map, hole, imported


def country(path: Path, courses: int) -> Path:
    made = Map(path)
    for number in range(courses):
        made.box(number * 5_000 - 200, -50, 400, 400, leisure="golf_course", name=f"Links {number + 1}")
        hole(made, 1, x=number * 5_000)
    return made.write()


def test_a_course_is_chosen_by_what_it_is_called(tmp_path: Path) -> None:
    path = country(tmp_path / "a.osm.pbf", 3)
    course = import_map(path, MapOptions(outline="links 2")).course
    assert list(course.holes) == [1]
    assert course.frame.lon_deg == pytest.approx(5_000 / 111_320, abs=1e-4)


def test_a_name_that_is_not_there_gives_the_likeliest_first(tmp_path: Path) -> None:
    path = country(tmp_path / "a.osm.pbf", 3)
    with pytest.raises(SurveyError, match=r"no golf course 'Link 3'.* It has: way/9 \(Links 3, 0\.4 × 0\.4 km"):
        import_map(path, MapOptions(outline="Link 3"))


def test_a_long_list_of_courses_is_cut(tmp_path: Path) -> None:
    path = country(tmp_path / "a.osm.pbf", 20)
    with pytest.raises(SurveyError, match="… and 8 more"):
        import_map(path, MapOptions())


def test_two_courses_of_one_name_are_told_apart_by_their_numbers(tmp_path: Path) -> None:
    made = Map(tmp_path / "a.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course", name="Old")
    made.box(900, -50, 400, 400, leisure="golf_course", name="Old")
    with pytest.raises(SurveyError, match=r"2 golf courses 'Old'.*way/1 .*way/2 "):
        import_map(made.write(), MapOptions(outline="Old"))


def test_things_elsewhere_are_neither_kept_nor_listed(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(40_000, 0, 20, 20, building="yes")
        far = made.box(50_000, 0, 20, 20, highway="track")
        made.relation([(far, "outer")], natural="wood")

    made = imported(tmp_path, fill)
    assert made.left_out == ()
    assert not made.course.of_kind(FeatureKind.TREES)


def test_an_area_that_runs_far_beyond_the_course_is_whole_and_cut_near_it(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        near = made.way([(9_000, 0), (100, 0), (100, 100), (9_000, 100)], closed=False)
        first, *_, last = made.ways[near - 1][1]
        made.ways.append((near + 1, [last, made.node((9_500, 50)), first], {"barrier": "fence"}))  # no corner of it is near
        made.relation([(near, "outer"), (near + 1, "outer")], natural="wood")

    made = imported(tmp_path, fill)
    (wood,) = made.course.of_kind(FeatureKind.TREES)
    assert wood.repaired == ""
    assert wood.geometry.bounds[2] - wood.geometry.bounds[0] == pytest.approx(160, abs=3)  # to 60 m beyond the boundary
    assert made.left_out == ()


def test_the_edge_of_an_area_that_has_the_same_tags_is_not_a_second_one(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        outer = made.box(40, 40, 40, 40, natural="water")
        inner = made.box(55, 55, 10, 10)
        made.relation([(outer, "outer"), (inner, "inner")], natural="water")

    made = imported(tmp_path, fill)
    (pond,) = made.course.of_kind(FeatureKind.PENALTY_AREA)
    assert pond.geometry.area == pytest.approx(1500, rel=0.02)
    assert [(entry.what, entry.why) for entry in made.left_out] == [("pond", "it is the edge of relation/1, which is brought in")]


def test_golf_that_is_mapped_as_relations_only_makes_a_course(tmp_path: Path) -> None:
    made = Map(tmp_path / "a.osm")
    outer, inner = made.box(0, 0, 60, 60), made.box(20, 20, 10, 10)
    made.relation([(outer, "outer"), (inner, "inner")], golf="fairway")
    course = import_map(made.write(), MapOptions()).course
    (fairway,) = course.of_kind(FeatureKind.FAIRWAY)
    assert fairway.geometry.area == pytest.approx(3500, rel=0.02)
    assert course.boundary.area > 120 * 110


def test_golf_all_over_a_country_is_no_single_course(tmp_path: Path) -> None:
    made = Map(tmp_path / "a.osm")
    made.box(0, 0, 20, 20, golf="green")
    made.box(0, 90_000, 20, 20, golf="green")
    with pytest.raises(SurveyError, match="90 km, which is no single course"):
        import_map(made.write(), MapOptions())
