"""Rulings against an oracle that shares no code with the program: raw GeoJSON, fine polygons, squares tried one by one.

What it knows of the rules is in ``oracle/editions.py``, with its sources; what it knows of a stance is in
docs/design/relief-geometry.md. Tolerances and results stand in docs/accuracy.md.
"""

from __future__ import annotations

import ast
import math
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from shapely.geometry import box

from marram.interchange.courses.course_geojson import parse_course
from marram.rulings import rule_on
from tests.published.geometry.oracle import outlines
from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.ground import Ground, connected
from tests.published.geometry.oracle.nearest import area_where, nearest_where
from tests.published.geometry.oracle_comparison import BOOKS, Comparison, Tally, incident_of
from tests.published.geometry.oracle_courses import KINDS, REAL_KINDS, real_course
from tests.published.geometry.oracle_incidents import Incidents
from tests.published.geometry.oracle_run import compare_grid, compare_kind

_ORACLE = Path(__file__).parent / "oracle"
_OF_ITS_OWN = "tests.published.geometry.oracle."


@pytest.mark.parametrize("module", sorted(_ORACLE.glob("*.py")), ids=lambda path: path.stem)
def test_the_oracle_uses_nothing_of_the_package(module: Path) -> None:
    tree = ast.parse(module.read_text(encoding="utf-8"))
    named = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    named |= {f"{node.module}." for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    others = {name for name in named if name.split(".")[0] not in {"numpy", "shapely", *sys.stdlib_module_names}}
    assert all(name.startswith(_OF_ITS_OWN) for name in others), others
    assert "importlib" not in named and "marram" not in {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}


def test_both_frames_agree() -> None:
    """Krüger's series against the library that the program uses: within a hundredth of a millimetre over the course."""
    text = real_course("demo course")
    ground, course = Ground(text), parse_course(text, where="demo")
    for lon, lat in shapely.get_coordinates(shapely.from_geojson(text))[::50]:
        x_m, y_m = ground.projection.metres(lon, lat)
        at = course.frame.to_position(lon, lat)
        assert math.dist((x_m, y_m), at.xy) < 1e-5
        assert ground.projection.degrees(x_m, y_m) == pytest.approx((lon, lat), abs=1e-12)


# The oracle's own arithmetic, against what a pencil gives ------------------------------------------------------------------


def test_a_disc_and_its_far_side() -> None:
    """A disc of 2 m has 12.566 m²; a hole very far off leaves half of it, one 2 m off leaves the disc less a lens of 4.913 m²."""
    assert outlines.disc((3, 4), 2).area == pytest.approx(4 * math.pi, abs=2e-4)
    assert outlines.not_nearer((0, 0), 2, (0, 5000), 5000).area == pytest.approx(2 * math.pi, abs=2e-3)
    lens_m2 = 4 * (2 * math.pi / 3 - math.sqrt(3) / 2)
    assert outlines.not_nearer((0, 0), 2, (0, 2), 2).area == pytest.approx(4 * math.pi - lens_m2, abs=2e-4)


def test_a_line_back_through_a_box() -> None:
    """From (0, 10), hole at (0, 0): ground from 12 to 13 m and from 20 m on, to 50 m, is 2 to 3 and 10 to 40 m back."""
    ground = shapely.union_all([box(-1, 12, 1, 13), box(-1, 20, 1, 50)])
    found = outlines.usable((0, 10), (0, 0), ground)
    assert np.array(found) == pytest.approx(np.array([(2, 3), (10, 40)]), abs=1e-4)


def test_the_opposite_edge_of_a_box() -> None:
    """From (-3, 20) of a pond 6 m wide, hole at (0, 0): (3, 20) is as far from the hole, straight across."""
    sure, maybe = outlines.opposite((-3.0, 20.0), (0.0, 0.0), box(-3, 10, 3, 40))
    assert [place for place, _ in sure] == [pytest.approx((3, 20), abs=1e-5)] and len(maybe) == 1


def test_squares_find_a_nearest_place_and_an_area() -> None:
    """Outside a circle of 2 m about the origin the nearest place to (1, 0) is 1 m away; a circle of 1 m holds 3.1416 m²."""

    def beyond(places: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(np.hypot(places[:, 0], places[:, 1]) - 2)

    found = nearest_where(beyond, (1.0, 0.0), 4.0, 1.0)
    assert found is not None and found.distance_m == pytest.approx(1, abs=4e-4) and found.none_within_m <= 1
    assert found.none_within_m == pytest.approx(1, abs=1e-3)
    assert area_where(lambda places: -beyond(places) - 1, (-1, -1, 1, 1), 1.0) == pytest.approx(math.pi, abs=1e-4)


def test_what_touches_at_a_point_is_connected() -> None:
    assert len(connected([box(0, 0, 1, 1), box(1, 1, 2, 2)])) == 1
    assert len(connected([box(0, 0, 1, 1), box(1.01, 0, 2, 1)])) == 2


# Program and oracle ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("kind", "incidents"), [("demo course", 8), ("odd: joined water", 20), ("odd: cut water, two marks", 10)])
def test_some_rulings_agree_with_the_oracle(kind: str, incidents: int) -> None:
    tally = compare_kind(kind, incidents)
    assert tally.asked == incidents and tally.refused == 0 and tally.options > 2 * incidents
    assert tally.differences == []


@pytest.mark.parametrize(
    ("changed", "what"),
    [({"back_m": 5.02}, "area"), ({"club_in": 44.5}, "area"), ({"fairway": True}, "offered"), ({"situation": "unplayable"}, "offered")],
)
def test_the_comparison_notices_another_question(changed: dict[str, object], what: str) -> None:
    """Two centimetres back, half an inch of club, ground cut to fairway height or another situation: each is a difference."""
    text = real_course("demo course")
    ground = Ground(text)
    source, oracle = Incidents(ground, 4), Oracle(ground)
    here = source.draw()
    asked = replace(here, hole=2, ball=ground.projection.degrees(*ground.holes[1]), back_m=5.0, club_in=44.0, fairway=False)
    asked = replace(asked, situation="embedded" if "fairway" in changed or "situation" in changed else "unplayable")
    comparison = Comparison(parse_course(text, where="demo"), oracle, Tally())
    found = []
    for edition in ("2016", "2023"):
        ruling = rule_on(incident_of(replace(asked, **changed), comparison.course), comparison.course, BOOKS[edition])  # type: ignore[arg-type]
        found += [what for _, what, _ in comparison._options(oracle.answer(asked, edition), ruling, is_whole=True)]
    assert what in found


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_rulings_agree_with_the_oracle(kind: str) -> None:
    """200 incidents of each kind of course under four editions: nothing on which they differ, nothing refused."""
    tally = compare_kind(kind, 200)
    assert tally.ruled > 600 and tally.refused == 0
    assert tally.differences == []


@pytest.mark.long
@pytest.mark.parametrize("kind", REAL_KINDS)
def test_every_ball_of_a_grid_in_every_penalty_area_has_its_areas(kind: str) -> None:
    """A grid of 5 m in all water of each real course and of the demo course: the oracle's areas or a question, nothing refused."""
    tally = compare_grid(kind, 5.0)
    assert tally.asked > 25 and tally.refused == 0
    assert tally.differences == []
