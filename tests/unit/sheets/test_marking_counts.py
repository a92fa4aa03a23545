"""The list of the marking check and its drawing give the same number of faults."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from shapely.geometry import Point

from marram.cli.course.marking_tables import marking_text
from marram.core.terms import FeatureKind, Mark
from marram.interchange.courses.course_geojson import write_course
from marram.office.courses.check_marking import MarkingCheck, check_marking
from marram.office.courses.draw_ground import draw_marking_found
from marram.office.workroom import Workroom
from tests.support.drawn_views import drawn_views, other_words
from tests.support.ground import course, feature
from tests.support.odd_courses import odd_course

ROOT = Path(__file__).resolve().parents[3]
ROOM = Workroom()


def courses(folder: Path) -> dict[str, Path]:
    odd, unmarked = folder / "odd.geojson", folder / "unmarked.geojson"
    odd.write_text(json.dumps(odd_course(3)), encoding="utf-8")
    tarn = feature("tarn", FeatureKind.PENALTY_AREA, Point(30, -60).buffer(9, quad_segs=2), mark=Mark.UNMARKED, what="tarn")
    unmarked.write_text(write_course(course(tarn)), encoding="utf-8")
    return {
        "demo": ROOT / "examples/courses/thimble-moor.geojson",
        "links": ROOT / "tests/data/invented/gull-bank.geojson",
        "odd": odd,
        "unmarked": unmarked,
    }


def told_in_list(check: MarkingCheck) -> int:
    found = re.findall(r"(\d+) faults?\.", marking_text(check).splitlines()[-1])
    return int(found[0]) if found else 0


def told_in_drawing(svg: str) -> int:
    """Faults that are numbered, and those that are told besides."""
    return sum(int(number) for number in re.findall(r"\b(\d+) faults?(?:, numbered|, told| besides)", other_words(svg)))


@pytest.mark.parametrize("name", ["demo", "links", "odd", "unmarked"])
@pytest.mark.parametrize("book", ["2016", "2023"])
def test_list_and_drawing_give_the_same_number_of_faults(name: str, book: str, tmp_path: Path) -> None:
    opened = ROOM.course(courses(tmp_path)[name])
    check = check_marking(opened, ROOM.books((book,)), longest_club_in=46.0, tolerance_m=0.1)
    svg = dict(draw_marking_found(check))["course.svg"]
    assert told_in_drawing(svg) == told_in_list(check) == check.faults
    numbered = {word for word in drawn_views(svg)["main"].words if word.isdigit()} if "main" in drawn_views(svg) else set()
    serious = [place for place in check.under[0].places if place.is_serious]
    assert numbered <= {str(number) for number in range(1, len(serious) + 1)} | {str(hole) for hole in check.course.holes}
    assert len(re.findall(r"^\s+\d+\. Hole", marking_text(check), re.MULTILINE)) == len(serious)


def test_the_courses_have_faults_of_every_sort(tmp_path: Path) -> None:
    """Places on edges, stakes too far apart, and water of which nothing could be tried: a count that forgets one would be seen."""
    checks = {
        name: check_marking(ROOM.course(path), ROOM.books(("2016",)), longest_club_in=46.0, tolerance_m=0.1)
        for name, path in courses(tmp_path).items()
    }
    assert sum(place.is_serious for place in checks["demo"].under[0].places) > 5
    assert checks["odd"].wide_spacing
    assert checks["unmarked"].is_stuck
