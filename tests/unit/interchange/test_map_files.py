"""Map files that are broken, odd or large: clear faults, no crash, nothing lost in silence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from shapely.geometry import Point

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.maps.map_import import MapOptions, import_map
from tests.support.mapped import Map, hole, imported


def of(course: Course, kind: FeatureKind) -> list[str]:
    return [feature.id for feature in course.of_kind(kind)]


def test_a_small_map_becomes_a_course(tmp_path: Path) -> None:
    course = imported(tmp_path, lambda made: None).course
    assert list(course.holes) == [1]
    one = course.hole(1)
    assert (one.par, one.stroke_index) == (4, 1)
    assert one.green is not None and one.green.id == "green-1"
    assert one.length_m == pytest.approx(200, rel=0.01)


@pytest.mark.parametrize("name", ["a.osm", "a.osm.pbf"])
def test_xml_and_pbf_give_the_same_course(tmp_path: Path, name: str) -> None:
    made = imported(tmp_path, lambda made: made.box(50, 50, 30, 30, natural="water"), name=name)
    assert of(made.course, FeatureKind.PENALTY_AREA) == ["pond-1"]


@pytest.mark.parametrize("keep", [0.05, 0.4, 0.7, 0.95])
def test_a_truncated_file_is_told(tmp_path: Path, keep: float) -> None:
    made = Map(tmp_path / "whole.osm.pbf")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    for number in range(1, 19):
        hole(made, number, x=number * 15.0 - 150)
    whole = made.write().read_bytes()
    cut = tmp_path / "cut.osm.pbf"
    cut.write_bytes(whole[: int(len(whole) * keep)])
    with pytest.raises(SurveyError, match="cut.osm.pbf") as told:
        import_map(cut, MapOptions())
    assert str(tmp_path) not in str(told.value)


def test_a_truncated_xml_file_is_told(tmp_path: Path) -> None:
    made = Map(tmp_path / "whole.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    whole = made.write().read_bytes()
    (tmp_path / "cut.osm").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(SurveyError, match="cannot be read"):
        import_map(tmp_path / "cut.osm", MapOptions())


@pytest.mark.parametrize("content", [b"", b"not a map", b"<html></html>", bytes(range(256))])
def test_a_file_that_is_no_map_is_told(tmp_path: Path, content: bytes) -> None:
    for name in ("a.osm", "a.osm.pbf"):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(SurveyError):
            import_map(tmp_path / name, MapOptions())


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(SurveyError, match="no such file"):
        import_map(tmp_path / "nowhere.osm", MapOptions())


def test_a_relation_with_a_missing_way_keeps_the_rest_and_says_so(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        outer = made.box(40, 40, 40, 40)
        made.relation([(outer, "outer"), (77_777, "inner")], natural="water")

    (pond,) = imported(tmp_path, fill).course.of_kind(FeatureKind.PENALTY_AREA)
    assert "1 of its 2 ways are not in the file (way/77777)" in pond.repaired
    assert pond.geometry.area == pytest.approx(1600, rel=0.02)


def test_a_relation_of_pieces_with_an_island_is_put_together(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        south = made.way([(40, 40), (80, 40), (80, 60)], closed=False)
        # The second piece runs the other way round and shares its end corners with the first.
        refs = made.ways[south - 1][1]
        made.ways.append((len(made.ways) + 1, [refs[0], made.node((40, 80)), made.node((80, 80)), refs[-1]], {}))
        island = made.box(55, 55, 10, 10)
        made.relation([(south, "outer"), (south + 1, "outer"), (island, "inner")], natural="water")

    (pond,) = imported(tmp_path, fill).course.of_kind(FeatureKind.PENALTY_AREA)
    assert pond.geometry.area == pytest.approx(1500, rel=0.02)
    assert pond.repaired == ""


def test_an_open_ring_is_closed_and_told(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(40, 40), (80, 40), (80, 80), (40, 80)], closed=False, golf="green")

    greens = imported(tmp_path, fill).course.of_kind(FeatureKind.PUTTING_GREEN)
    (odd,) = [green for green in greens if green.repaired]
    assert "closed by a straight side of 39" in odd.repaired
    assert odd.geometry.area == pytest.approx(1600, rel=0.02)


def test_a_bow_tie_is_mended_and_told(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(40, 40), (80, 80), (80, 40), (40, 80)], golf="green")

    greens = imported(tmp_path, fill).course.of_kind(FeatureKind.PUTTING_GREEN)
    (odd,) = [green for green in greens if green.repaired]
    assert "crossed itself" in odd.repaired
    assert "2 parts" in odd.repaired
    assert odd.geometry.is_valid
    assert odd.geometry.area == pytest.approx(800, rel=0.02)


def test_corners_that_the_file_does_not_place_are_counted(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(40, 40), (80, 40), (80, 80), (40, 80)], closed=False, lost=2, golf="bunker")

    (bunker,) = imported(tmp_path, fill).course.of_kind(FeatureKind.BUNKER)
    assert "2 of its corners are not in the file" in bunker.repaired


def test_a_course_in_two_pieces_is_one_course(tmp_path: Path) -> None:
    made = Map(tmp_path / "two.osm")
    west, east = made.box(-200, -50, 180, 400), made.box(20, -50, 180, 400)
    made.relation([(west, "outer"), (east, "outer")], leisure="golf_course")
    hole(made, 1, x=-100)
    hole(made, 2, x=100)
    course = import_map(made.write(), MapOptions()).course
    assert course.boundary.geom_type == "MultiPolygon"
    assert list(course.holes) == [1, 2]
    assert not course.boundary.covers(Point(0, 0))


def test_without_an_outline_a_boundary_is_assumed(tmp_path: Path) -> None:
    made = Map(tmp_path / "bare.osm")
    hole(made)
    course = import_map(made.write(), MapOptions()).course
    (boundary,) = course.of_kind(FeatureKind.BOUNDARY)
    assert dict(boundary.assumed)["outline"].startswith("drawn 30 m about")
    assert list(course.holes) == [1]


def test_several_courses_have_to_be_told_apart(tmp_path: Path) -> None:
    made = Map(tmp_path / "many.osm")
    made.box(-200, -50, 400, 400, leisure="golf_course")
    made.box(900, -50, 400, 400, leisure="golf_course")
    hole(made)
    path = made.write()
    with pytest.raises(SurveyError, match=r"way/1 \(0.4 × 0.4 km at 0.001, 0.000\); way/2 \(0.4 × 0.4 km at 0.001, 0.010\)"):
        import_map(path, MapOptions())
    assert list(import_map(path, MapOptions(outline="way/1")).course.holes) == [1]
    assert list(import_map(path, MapOptions(outline="way/2")).course.holes) == []
    with pytest.raises(SurveyError, match="way/9"):
        import_map(path, MapOptions(outline="way/9"))


def test_a_map_without_golf_is_told(tmp_path: Path) -> None:
    made = Map(tmp_path / "none.osm")
    made.box(0, 0, 10, 10, building="yes")
    with pytest.raises(SurveyError, match="golf"):
        import_map(made.write(), MapOptions())


@pytest.mark.parametrize("lon", [179.9995, -179.9995, 180.0])
def test_a_course_across_the_date_line_is_whole(tmp_path: Path, lon: float) -> None:
    course = imported(tmp_path, lambda made: None, lon=lon).course
    assert course.boundary.area == pytest.approx(400 * 400, rel=0.02)
    again = parse_course(write_course(course), where="again")
    assert again.boundary.symmetric_difference(course.boundary).area < 0.1
    assert again.hole(1).length_m == pytest.approx(200, rel=0.01)


@pytest.mark.parametrize(
    ("fill", "kinds"),
    [
        (lambda made: made.box(0, 0, 20, 20, golf="green"), {FeatureKind.PUTTING_GREEN}),
        (lambda made: made.box(0, 0, 20, 90, golf="fairway"), {FeatureKind.FAIRWAY}),
        (lambda made: made.way([(0, 0), (0, 150)], closed=False, golf="hole", ref="3"), {FeatureKind.LINE_OF_PLAY}),
    ],
    ids=["greens only", "fairways only", "lines only"],
)
def test_maps_that_hold_little_become_courses(tmp_path: Path, fill: Callable[[Map], object], kinds: set[FeatureKind]) -> None:
    made = Map(tmp_path / "little.osm")
    made.box(-200, -200, 400, 400, leisure="golf_course")
    fill(made)
    course = import_map(made.write(), MapOptions()).course
    assert kinds <= {feature.kind for feature in course.features}
    assert parse_course(write_course(course), where="again").features


def test_lines_and_pins_alone_give_hole_locations(tmp_path: Path) -> None:
    made = Map(tmp_path / "pins.osm")
    made.box(-200, -200, 400, 400, leisure="golf_course")
    made.way([(0, 0), (0, 150)], closed=False, golf="hole", ref="3")
    made.node((1, 149), golf="pin")
    course = import_map(made.write(), MapOptions()).course
    assert course.hole(3).location is not None


def test_a_line_from_green_to_tee_is_turned_round(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(100, 210), (100, 10)], closed=False, golf="hole", ref="2")
        made.box(95, 5, 10, 10, golf="tee")
        made.box(90, 200, 20, 20, golf="green")

    made = imported(tmp_path, fill)
    line = made.course.hole(2).line
    assert line is not None
    assert line.coords[-1][1] > line.coords[0][1]
    assert any("turned round" in remark for remark in made.remarks)


def test_tags_that_cannot_be_read_are_told(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(100, 10), (100, 210)], closed=False, golf="hole", ref="2", par="four-ish", handicap="?")
        made.way([(-150, 0), (-150, 200)], closed=False, highway="track", surface="gravel", width="wide")

    remarks = " ".join(imported(tmp_path, fill).remarks)
    assert "par 'four-ish' cannot be read" in remarks
    assert "stroke index '?' cannot be read" in remarks
    assert "width 'wide' cannot be read" in remarks


def test_lines_get_their_stated_width_or_the_usual_one(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.way([(-150, 0), (-150, 200)], closed=False, highway="track", surface="gravel", width="4 m")
        made.way([(-100, 0), (-100, 200)], closed=False, waterway="stream")

    course = imported(tmp_path, fill).course
    (track,) = course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION)
    assert track.geometry.area == pytest.approx(800, rel=0.02)
    assert not track.assumed
    (stream,) = course.of_kind(FeatureKind.PENALTY_AREA)
    assert stream.geometry.area == pytest.approx(300, rel=0.02)
    assert dict(stream.assumed)["width"].startswith("1.5 m, usual for a stream")


def test_what_has_no_place_is_left_out_by_name(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(-100, 100, 20, 20, landuse="grass")
        made.box(500, 500, 20, 20, building="yes")
        made.way([(-150, 0), (-150, 200)], closed=False, highway="path", surface="earth")

    left = {entry.what: entry for entry in imported(tmp_path, fill).left_out}
    assert "grass" in left
    assert "path of earth" in left
    assert left["grass"].names == ("way/5",)


def test_marks_are_decided_by_name_for_all_or_as_proposed(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(40, 40, 20, 20, natural="water")
        made.box(40, 80, 20, 20, golf="lateral_water_hazard")
        made.box(40, 120, 20, 20, golf="water_hazard")

    def marks(**options: object) -> dict[str, Mark | None]:
        made = imported(tmp_path, fill, options=MapOptions(**options))  # type: ignore[arg-type]
        return {feature.id: feature.mark for feature in made.course.of_kind(FeatureKind.PENALTY_AREA)}

    assert set(marks().values()) == {Mark.UNMARKED}
    assert marks(marks=(("proposed", ""),)) == {"pond-1": Mark.UNMARKED, "water-1": Mark.RED, "water-2": Mark.YELLOW}
    assert set(marks(marks=(("pond-1", "yellow"), ("all", "red"))).values()) == {Mark.YELLOW, Mark.RED}
    for wrong in (("pond-9", "red"), ("pond-1", "blue"), ("green-1", "red")):
        with pytest.raises(SurveyError):
            marks(marks=(wrong,))


def test_greens_are_numbered_by_hand(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        made.box(100, 100, 20, 20, golf="green")

    course = imported(tmp_path, fill, options=MapOptions(holes=(("green-x1", 2),))).course
    green = course.hole(2).green
    assert green is not None
    location = course.hole(2).location
    assert location is not None and green.geometry.covers(Point(location.xy))
    with pytest.raises(SurveyError, match="serves no hole"):
        imported(tmp_path, fill, options=MapOptions(holes=(("boundary", 2),)))


@pytest.mark.long
def test_a_hundred_thousand_things_are_read(tmp_path: Path) -> None:
    def fill(made: Map) -> None:
        for number in range(25_000):
            x, y = -190 + (number % 190) * 2.0, -45 + (number // 190) * 2.0
            made.box(x, y, 0.6, 0.6, building="yes")

    course = imported(tmp_path, fill).course
    assert len(course.of_kind(FeatureKind.IMMOVABLE_OBSTRUCTION)) == 25_000
