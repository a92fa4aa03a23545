"""Free ground cut by a few discs of the footprint beside the same ground cut by every disc: the same about the nearest place."""

from __future__ import annotations

import pytest
import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.relief.clear.nearest_discs import Images, discs_of
from marram.relief.clear.nearest_free import EQUAL_M, cut_until_clear, leading_discs, nearest_place, open_ground
from marram.relief.clear.stance import forbidden_ground
from tests.support.random_ground import Scene, random_scene

REACH_M = 7.0
EDGE_M = 3e-4
"""Three times what an edge may be drawn off."""


def both_ways(scene: Scene, start: list[int] | None) -> tuple[BaseGeometry, BaseGeometry, int]:
    """The free ground cut by a few discs, by all, and how many the few were."""
    ground = open_ground(scene.ball, scene.hole, REACH_M, scene.allowed, Point(scene.ball.xy).buffer(0.01))
    images = Images(condition=scene.condition, discs=discs_of(scene.samples(), scene.hole))
    cut = leading_discs(scene.ball, images) if start is None else start
    few = cut_until_clear(scene.ball, REACH_M, ground, images, cut)
    return few, ground.difference(forbidden_ground(scene.condition, scene.hole, scene.samples())), len(cut)


@pytest.mark.parametrize("number", [*range(60), *(pytest.param(n, marks=pytest.mark.long) for n in range(60, 600))])
def test_a_few_discs_leave_what_all_leave(number: int) -> None:
    scene = random_scene(number)
    few, every, count = both_ways(scene, None)
    assert few.covers(shapely.buffer(every, -EDGE_M))
    about = Point(scene.ball.xy).buffer(nearest_place(scene.ball, few).distance_m(scene.ball) + EQUAL_M)
    more = few.intersection(about).difference(shapely.buffer(every, EDGE_M))
    assert more.area <= EDGE_M**2
    assert count < len(scene.samples())


@pytest.mark.parametrize("number", range(20))
def test_with_which_discs_the_cut_begins_does_not_matter(number: int) -> None:
    scene = random_scene(number)
    own, other = (nearest_place(scene.ball, both_ways(scene, start)[0]) for start in (None, [0]))
    assert own.distance_m(scene.ball) == pytest.approx(other.distance_m(scene.ball), abs=EDGE_M)


def test_a_place_out_of_reach_ends_the_cutting() -> None:
    """What is left after the first discs lies farther than asked for, so no other disc is tried."""
    scene = random_scene(0)
    ground = Point(40, 0).buffer(2)
    images = Images(condition=scene.condition, discs=discs_of(scene.samples(), scene.hole))
    cut: list[int] = []
    assert cut_until_clear(scene.ball, REACH_M, ground, images, cut).equals(ground)
    assert cut == []
