"""Where a ball was played from, as outsiders read it: whether that was a right place, how far off, and what a wrong one costs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.error_answer import FactNeededShape
from marram.answers.place_answer import rounded
from marram.answers.rules.act_answer import ActShape, act_shape
from marram.answers.shape import Shape

if TYPE_CHECKING:  # what measures ground is loaded only where there is some
    from marram.office.play.beside_ruling import PlayedFrom
    from marram.rulings.case.ruling import RightPlace


class RightPlaceShape(Shape, frozen=True, kw_only=True):
    """Whether the ball was played from a right place of an option.

    Attributes:
        right_place: Yes, no, or null where what was stated does not settle it.
        distance_m: Distance to the nearest place that may be right; zero there; null where no place is.
        margin_m: Distance to where the answer would change; null where it is not settled.
        accuracy_m: Survey accuracy that the margin is held against; null where unknown.
        measure_on_ground: Whether the survey is too coarse to decide.
        because: Why, in words that follow *yes*, *no* or *cannot be told*.
        asks: What would settle it.
        citations: The rules.
    """

    right_place: bool | None
    distance_m: float | None
    margin_m: float | None
    accuracy_m: float | None
    measure_on_ground: bool
    because: str
    asks: tuple[FactNeededShape, ...]
    citations: tuple[CitationShape, ...]


class DistanceShape(Shape, frozen=True, kw_only=True):
    """How far from a right place of one option the ball was played.

    Attributes:
        procedure: The relief.
        distance_m: Distance to the nearest place from which it may let the ball be played; zero there.
        right_place: Yes, no, or null where what was stated does not settle it.
    """

    procedure: str
    distance_m: float
    right_place: bool | None


class PlayedFromShape(Shape, frozen=True, kw_only=True):
    """Where the ball was played.

    Attributes:
        nearest_right_place: How far from a right place of each option, nearest first.
        acts: What a stroke from a wrong place leads to, without and with a serious breach.
    """

    nearest_right_place: tuple[DistanceShape, ...]
    acts: tuple[ActShape, ...]


def right_place_shape(place: RightPlace) -> RightPlaceShape:
    """Whether the ball was played from a right place of an option."""
    return RightPlaceShape(
        right_place=place.is_right,
        distance_m=rounded(place.distance_m),
        margin_m=rounded(place.margin_m),
        accuracy_m=rounded(place.accuracy_m),
        measure_on_ground=place.must_measure_on_ground,
        because=place.because,
        asks=(FactNeededShape(fact=place.asks, question=place.question),) if place.asks else (),
        citations=citation_shapes(place.citations),
    )


def played_from_shape(played: PlayedFrom) -> PlayedFromShape:
    """How far from a right place of each option the ball was played, and what that costs."""
    return PlayedFromShape(
        nearest_right_place=tuple(
            DistanceShape(procedure=entry.procedure, distance_m=round(entry.distance_m, 3), right_place=entry.place.is_right)
            for entry in played.off
        ),
        acts=tuple(map(act_shape, played.acts)),
    )
