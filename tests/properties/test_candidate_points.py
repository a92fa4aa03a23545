"""Nearest points of complete relief against a list of all candidates, which uses no overlay of polygons and no inverse of the stance."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import box

from marram.course.frame import Position
from tests.support.candidate_points import nearest_by_candidates
from tests.support.random_ground import random_scene

OWN_ERROR_M = 0.0012
"""A millimetre's step out of an overlap, and the rounding of the candidates."""
SLACK_M = 0.0015
"""The limit about the hole is drawn up to 1 mm wide, and the point may be stepped out by 1 mm."""
POCKET_SCENES = (39, 187, 689, 715)
"""The nearest place lies in a pocket of free ground of less than 0.01 m², as between the feet and the swing."""


def check_against_candidates(number: int) -> None:
    """Not shorter than the candidates with a hair's breadth less to keep clear of, nor longer than with 1.5 mm more."""
    scene = random_scene(number)
    points = scene.found().points
    found_m = points[0].distance_m if points else math.inf
    exact_m, _ = nearest_by_candidates(scene)
    if abs(found_m - exact_m) <= OWN_ERROR_M:
        return
    least_m, _ = nearest_by_candidates(scene, slack_m=-2e-4)
    most_m, _ = nearest_by_candidates(scene, slack_m=SLACK_M)
    assert least_m - OWN_ERROR_M <= found_m <= most_m + OWN_ERROR_M


@pytest.mark.parametrize("number", range(80))
def test_nearest_point_against_all_candidates(number: int) -> None:
    check_against_candidates(number)


@pytest.mark.long
@pytest.mark.parametrize("number", range(80, 1000))
def test_nearest_point_against_all_candidates_at_length(number: int) -> None:
    check_against_candidates(number)


@pytest.mark.parametrize("number", POCKET_SCENES)
def test_nearest_point_in_a_small_pocket(number: int) -> None:
    check_against_candidates(number)


def test_the_candidates_know_a_plain_answer() -> None:
    """Worked by hand: ball in the middle of a square of 2 m, hole far to the east, no stance: the way out is one metre and a ball."""
    scene = replace(random_scene(0), ball=Position(x_m=0.2, y_m=0.3), hole=Position(x_m=300, y_m=0), condition=box(-1, -1, 1, 1))
    scene = replace(scene, allowed=box(-50, -50, 50, 50))
    lie_only = tuple(sample for sample in scene.samples() if sample.part == "lie")
    distance_m, place = nearest_by_candidates(scene, samples=lie_only)
    assert distance_m == pytest.approx(0.7 + lie_only[0].radius_m, abs=2e-4)
    assert place is not None
    assert place.y_m == pytest.approx(1 + lie_only[0].radius_m, abs=2e-4)
