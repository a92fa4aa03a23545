"""The ground on which the cases of the editions are ruled: one hole with one of everything, far apart."""

from __future__ import annotations

from shapely.geometry import Point, box

from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from tests.support.ground import course, feature, pond


def edition_ground() -> Course:
    """A course of one hole; the hole is at 0, 0 and play runs north."""
    return course(
        pond(),
        feature("unmarked-pond", FeatureKind.PENALTY_AREA, box(100, -70, 130, -40), mark=Mark.UNMARKED, what="pond"),
        feature("yellow-pond", FeatureKind.PENALTY_AREA, box(160, -70, 190, -40), mark=Mark.YELLOW, what="pond"),
        feature("zone-in-pond", FeatureKind.NO_PLAY_ZONE, box(-5, -62, 5, -48), what="reeds"),
        feature("sand", FeatureKind.BUNKER, Point(60, -60).buffer(8), what="bunker"),
        feature("fairway", FeatureKind.FAIRWAY, box(20, -300, 60, -100), holes=(1,)),
        feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(80, -200, 83, -100), what="path"),
        feature("repair", FeatureKind.GROUND_UNDER_REPAIR, Point(-60, -150).buffer(5), what="ground under repair"),
        feature("burrow", FeatureKind.ANIMAL_HOLE, Point(-100, -150).buffer(0.5), what="burrow"),
        feature("sprinkler", FeatureKind.IMMOVABLE_OBSTRUCTION, Point(0, -13.2).buffer(0.15), what="sprinkler head"),
        feature("green-2", FeatureKind.PUTTING_GREEN, Point(-150, -100).buffer(10), holes=(2,)),
        feature("zone", FeatureKind.NO_PLAY_ZONE, Point(-60, -220).buffer(5), what="young wood"),
        feature("stand", FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION, box(-240, -160, -220, -140), what="stand"),
        feature("tines", FeatureKind.AERATION_HOLE, Point(-60, -280).buffer(0.02), what="aeration hole"),
        feature("sapling", FeatureKind.YOUNG_TREE, Point(-60, -320).buffer(0.3), what="young tree"),
        feature("adders", FeatureKind.DANGEROUS_ANIMAL, Point(-150, -250).buffer(2), what="adders"),
    )
