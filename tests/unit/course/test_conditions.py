"""Things of one kind that touch are one condition; a gap that the survey cannot tell is none."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from marram.core.terms import FeatureKind
from marram.course.conditions import join_conditions, wrong_greens
from marram.course.features import Feature
from marram.course.frame import Position
from tests.support.ground import feature

PATH, GREEN = FeatureKind.IMMOVABLE_OBSTRUCTION, FeatureKind.PUTTING_GREEN


def slab(name: str, from_m: float, to_m: float, sigma_m: float | None = 0.05) -> Feature:
    return feature(name, PATH, box(from_m, 0, to_m, 1), sigma_m=sigma_m)


@pytest.mark.parametrize(
    ("gap_m", "sigma_m", "count", "by_accuracy"),
    [
        (0.0, 0.05, 1, False),
        (0.001, 0.0, 1, False),  # outlines held to whole millimetres
        (0.003, 0.0, 2, False),
        (0.015, 0.01, 1, True),  # two standard deviations
        (0.025, 0.01, 2, False),
        (0.04, None, 1, True),
        (0.06, None, 2, False),  # wider than a tape on rough ground can tell
        (0.06, 1.0, 2, False),
    ],
)
def test_a_gap_that_the_survey_cannot_tell_is_none(gap_m: float, sigma_m: float | None, count: int, by_accuracy: bool) -> None:  # noqa: FBT001
    joined = join_conditions([slab("west", 0, 5, sigma_m), slab("east", 5 + gap_m, 9, sigma_m)])
    assert len(joined) == count
    assert any(condition.is_by_accuracy for condition in joined) is by_accuracy


def test_the_coarser_survey_of_two_decides() -> None:
    assert len(join_conditions([slab("west", 0, 5, 0.001), slab("east", 5.03, 9, 0.02)])) == 1


def test_conditions_come_by_the_first_name_in_each() -> None:
    joined = join_conditions([slab("c", 0, 1), slab("b", 20, 21), slab("a", 1, 2)])
    assert [sorted(condition.names) for condition in joined] == [["a", "c"], ["b"]]
    assert [condition.geometry.area for condition in joined] == [pytest.approx(2), pytest.approx(1)]


def test_a_joined_condition_bears_the_name_of_the_thing_nearest() -> None:
    (joined,) = join_conditions([slab("west", 0, 5), slab("east", 5, 9)])
    seen = joined.seen_from(Position(x_m=8, y_m=3))
    assert seen.id == "east"
    assert seen.geometry.area == pytest.approx(9)
    assert [each.id for each in joined.near(Position(x_m=2, y_m=3), 2.5)] == ["west"]
    assert {each.id for each in joined.near(Position(x_m=5, y_m=3), 2.5)} == {"west", "east"}


def test_a_thing_alone_is_seen_as_it_is() -> None:
    (alone,) = join_conditions([slab("west", 0, 5)])
    assert alone.seen_from(Position(x_m=0, y_m=0)) is alone.features[0]
    assert join_conditions([]) == ()


def test_only_what_rises_stands() -> None:
    """A path lies flat, a post on it stands: together they stand where the post does, and not all of them stands."""
    post = feature("post", PATH, box(5, 0, 5.2, 0.2), what="post")
    flat = feature("flat", PATH, box(0, 0, 5, 1), what="path")
    (joined,) = join_conditions([flat, post])
    assert post.is_standing and not flat.is_standing
    assert joined.standing.area == pytest.approx(0.04)
    assert not joined.seen_from(Position(x_m=1, y_m=3)).is_standing


def green(name: str, outline: Polygon, *holes: int) -> Feature:
    return feature(name, GREEN, outline, holes=holes)


def test_a_wrong_green_is_what_is_not_of_the_own_green() -> None:
    """The green of hole 2 shares 4 of its 10 m with that of hole 1; a practice green belongs to no hole."""
    greens = [green("own", box(0, 0, 10, 10), 1), green("next", box(6, 0, 16, 10), 2), green("practice", box(50, 0, 60, 10))]
    found = {each.id: each for each in wrong_greens(greens, 1)}
    assert {name: each.geometry.area for name, each in found.items()} == {"next": pytest.approx(60), "practice": pytest.approx(100)}
    assert (found["next"].what, found["practice"].what) == ("green of hole 2", "wrong green")
    assert [each.id for each in wrong_greens([green("double", box(0, 0, 9, 9), 1, 2)], 1)] == []
    assert wrong_greens([green("own", box(0, 0, 10, 10), 1), green("within", box(2, 2, 4, 4), 2)], 1) == ()
