"""The trade's words as closed lists. Names follow the defined terms of the current Rules; older terms are display words of rule data."""

from __future__ import annotations

from enum import StrEnum

ADVICE = "Advice to the official; the published Rules and the Committee decide."
"""What every ruling says of itself."""


class Area(StrEnum):
    """The areas of the course, and the ground beyond them."""

    PENALTY_AREA = "penalty-area"
    BUNKER = "bunker"
    PUTTING_GREEN = "putting-green"
    TEEING_AREA = "teeing-area"
    GENERAL_AREA = "general-area"
    OUT_OF_BOUNDS = "out-of-bounds"


class Mark(StrEnum):
    """How a penalty area is marked."""

    RED = "red"
    YELLOW = "yellow"
    UNMARKED = "unmarked"


class Hand(StrEnum):
    """The side from which a player strikes."""

    RIGHT = "right"
    LEFT = "left"


class Club(StrEnum):
    """The kind of club that the player would have used; it sets how far from the ball the feet stand."""

    DRIVER = "driver"
    IRON = "iron"
    WEDGE = "wedge"


class Form(StrEnum):
    """The form of play."""

    STROKE_PLAY = "stroke-play"
    MATCH_PLAY = "match-play"
    STABLEFORD = "stableford"
    MAXIMUM_SCORE = "maximum-score"
    PAR_BOGEY = "par-bogey"
    FOURSOMES = "foursomes"
    FOUR_BALL = "four-ball"
    THREE_BALL = "three-ball"

    @property
    def words(self) -> str:
        """The form as players say it."""
        return "par or bogey" if self is Form.PAR_BOGEY else self.value.replace("-", " ")


class FeatureKind(StrEnum):
    """What a surveyed feature is."""

    BOUNDARY = "boundary"
    PENALTY_AREA = "penalty-area"
    BUNKER = "bunker"
    PUTTING_GREEN = "putting-green"
    TEEING_AREA = "teeing-area"
    FAIRWAY = "fairway"
    LINE_OF_PLAY = "line-of-play"
    HOLE_LOCATION = "hole-location"
    IMMOVABLE_OBSTRUCTION = "immovable-obstruction"
    GROUND_UNDER_REPAIR = "ground-under-repair"
    TEMPORARY_WATER = "temporary-water"
    ANIMAL_HOLE = "animal-hole"
    NO_PLAY_ZONE = "no-play-zone"
    DROPPING_ZONE = "dropping-zone"
    BOUNDARY_OBJECT = "boundary-object"
    INTEGRAL_OBJECT = "integral-object"
    TREES = "trees"
    DANGEROUS_ANIMAL = "dangerous-animal"
    YOUNG_TREE = "young-tree"
    AERATION_HOLE = "aeration-hole"
    TEMPORARY_IMMOVABLE_OBSTRUCTION = "temporary-immovable-obstruction"
    OTHER_CONDITION = "other-condition"
    """A condition of a kind that a trial adds, and names."""


ABNORMAL_CONDITIONS = frozenset(
    {
        FeatureKind.IMMOVABLE_OBSTRUCTION,
        FeatureKind.GROUND_UNDER_REPAIR,
        FeatureKind.TEMPORARY_WATER,
        FeatureKind.ANIMAL_HOLE,
    }
)
"""Kinds from which the Rules may give free relief."""
