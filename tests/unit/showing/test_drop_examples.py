"""The drops that a guide shows are what their words say, on the measured ground."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
from shapely.geometry import Point, Polygon

from marram.rulings.case.case import Case
from marram.showing.drop_examples import DropExample, drop_examples
from marram.showing.forbidden import Carried
from tests.support.ruled_files import ruled_files

_ROOT = Path(__file__).parents[3]
_COURSE = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
_TRIAL = f"2023+{_ROOT / 'examples' / 'trials' / 'fixed-lengths.toml'}"
BOOKS = ("2016", "draft-2017", "2019", "2023", _TRIAL)
INCIDENTS = sorted((_ROOT / "examples" / "incidents").glob("*.toml"))


@lru_cache
def _carried(incident: Path) -> list[Carried]:
    given = ruled_files(incident, _COURSE, BOOKS)
    return [
        Carried(case=Case(incident=given.incident, course=given.course, book=one.book), option=option)
        for one in given.given
        for option in one.ruling.options
    ]


@lru_cache
def _shown(incident: Path) -> list[tuple[Carried, tuple[DropExample, ...]]]:
    """Each option of an incident with its examples, found once for all tests."""
    return [(carried, tuple(drop_examples(carried))) for carried in _carried(incident)]


@pytest.mark.parametrize("incident", INCIDENTS, ids=lambda path: path.stem)
def test_every_example_is_what_it_says(incident: Path) -> None:
    for carried, drops in _shown(incident):
        for drop in drops:
            _check(carried, drop)


def _check(carried: Carried, drop: DropExample) -> None:
    told = (carried.case.book.name, carried.option.procedure, drop)
    assert (_counts if drop.counts else _fails)(carried, drop), told


def _limit_m(carried: Carried) -> float:
    return carried.case.metres(carried.case.book.size("dropped-ball-roll-limit.roll_limit").value)


def _counts(carried: Carried, drop: DropExample) -> bool:
    """Touches and rests where it must, no nearer the hole, and no farther than it may roll."""
    option, case, area = carried.option, carried.case, carried.option.relief_area
    must_rest_in = case.book.yes("dropped-ball-roll-limit.must_rest_in_area").value
    is_far = option.no_nearer_m is None or drop.rest.distance_m(case.hole_at) >= option.no_nearer_m - 1e-6
    touches_in = area is None or option.line is not None or area.depth_m(drop.touch) >= 0
    if must_rest_in:
        return is_far and touches_in and (area is None or area.depth_m(drop.rest) >= 0)
    is_dry = case.penalty_area is None or not case.penalty_area.geometry.intersects(Point(drop.rest.xy))
    return is_far and touches_in and is_dry and drop.touch.distance_m(drop.rest) <= _limit_m(carried)


def _fails(carried: Carried, drop: DropExample) -> bool:
    """Does what the words say it does wrong."""
    option, area = carried.option, carried.option.relief_area
    if "nearer the hole" in drop.because:
        return option.no_nearer_m is not None and drop.rest.distance_m(carried.case.hole_at) < option.no_nearer_m
    if drop.because.startswith("touches outside"):
        return area is not None and area.depth_m(drop.touch) < 0
    if "beyond the measured length" in drop.because or "outside the area" in drop.because:
        return area is not None and area.depth_m(drop.rest) < 0
    if drop.because.startswith("rolls more"):
        return drop.touch.distance_m(drop.rest) > _limit_m(carried)
    return "beside the line" in drop.because


def test_most_dropped_options_have_one_that_counts_and_one_that_does_not() -> None:
    dropped = [(entry.option, drops) for incident in INCIDENTS for entry, drops in _shown(incident) if entry.option.put == "drop"]
    measured = [(option, drops) for option, drops in dropped if option.relief_area is not None and option.relief_area.area_m2 > 0.5]
    assert measured
    assert [option.procedure for option, drops in measured if {drop.counts for drop in drops} != {True, False}] == []


def test_an_area_narrower_than_can_be_drawn_has_no_example_of_a_drop_in_it() -> None:
    """Such an area has a size and no outline: there is no place in it to let the ball fall on."""
    shown = ((entry, drops) for incident in INCIDENTS for entry, drops in _shown(incident))
    carried = next(entry for entry, drops in shown if drops and entry.option.relief_area is not None and entry.option.line is None)
    area = carried.option.relief_area
    assert area is not None
    bare = replace(area, parts=tuple(replace(part, outline=Polygon()) for part in area.parts))
    assert drop_examples(replace(carried, option=replace(carried.option, relief_area=bare))) == ()
