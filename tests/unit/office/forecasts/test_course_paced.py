"""A survey as the pace of play knows it, and surveys on which no day can be played."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.office.forecasts.course_paced import paced_holes
from marram.office.workroom import Workroom

MOOR = Path("examples/courses/thimble-moor.geojson")


def moor(keep: Callable[[Feature], bool] = lambda feature: True) -> Course:
    course = Workroom().course(MOOR).course
    return replace(course, features=tuple(feature for feature in course.features if keep(feature)))


def test_pars_and_walks_come_from_the_survey() -> None:
    course = moor()
    holes = paced_holes(course, waves_up=True)
    assert [hole.par for hole in holes] == [4, 4, 3, 5, 4, 4, 4, 3, 4, 4, 4, 3, 5, 4, 4, 4, 3, 4]
    assert [hole.number for hole in holes if hole.waves_up] == [3, 8, 12, 17]
    green, line = course.holes[1].green, course.holes[2].line
    assert green is not None
    assert line is not None
    (x, y), middle = line.coords[0][:2], green.geometry.centroid
    assert holes[0].walk_on_min == pytest.approx(hypot(x - middle.x, y - middle.y) / 1.33 / 60)


def test_every_hole_that_lacks_something_is_named() -> None:
    without = moor(lambda feature: not (feature.kind is FeatureKind.LINE_OF_PLAY and feature.holes[0] in {4, 9}))
    with pytest.raises(SurveyError) as refused:
        paced_holes(without, waves_up=False)
    assert "hole 4 has no line of play" in refused.value.message
    assert "hole 9 has no line of play" in refused.value.message
    assert "no par" in refused.value.message


def test_a_course_without_holes_is_refused() -> None:
    with pytest.raises(SurveyError, match="no round to play"):
        paced_holes(moor(lambda feature: not feature.holes), waves_up=False)
