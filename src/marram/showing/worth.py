"""How well a place shows a procedure: one number from what the ruling measures and from where people can stand."""

from __future__ import annotations

from dataclasses import dataclass

from marram.course.frame import Position
from marram.rulings.case.ruling import Option, Ruling
from marram.showing.standing import Standing

WHOLE, CERTAIN, REACHED, SAFE = 0.40, 0.20, 0.20, 0.20
"""Weights of the four marks; they sum to 1 (docs/design/places.md)."""
_TOO_COARSE = "The survey is too coarse, or its accuracy unknown: go there and measure on the ground before it is shown."
FULL_MARGIN_M = 1.0
"""A margin that exceeds the survey's accuracy by this much gets the full mark for certainty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A procedure as one book gives it at a place.

    Attributes:
        book: Name of the book.
        ruling: The whole ruling.
        option: The option that is shown.
    """

    book: str
    ruling: Ruling
    option: Option

    @property
    def area_m2(self) -> float | None:
        """Size of the relief area, m²; None where none is measured."""
        return None if self.option.relief_area is None else self.option.relief_area.area_m2

    @property
    def share(self) -> float:
        """How much of the measured shape may be used, from 0 to 1; 1 where a spot is all there is to show."""
        area = self.option.relief_area
        if area is None:
            return 1.0
        whole_m2 = area.shape.outline().area
        return min(1.0, area.area_m2 / whole_m2) if whole_m2 > 0 else 0.0

    @property
    def beyond_accuracy_m(self) -> float | None:
        """By how much the margin exceeds the survey's accuracy, metres; None where nothing hangs on the survey."""
        option = self.option
        if option.margin_m is None:
            return None
        return option.margin_m - (option.accuracy_m or 0.0)


def score_of(shown: Shown, standing: Standing) -> float:
    """The score of a place under one book, from 0 to 1."""
    beyond_m = 0.0 if shown.option.must_measure_on_ground else shown.beyond_accuracy_m
    certain = 1.0 if beyond_m is None else min(1.0, max(0.0, beyond_m / FULL_MARGIN_M))
    return WHOLE * shown.share + CERTAIN * certain + REACHED * standing.reach + SAFE * standing.safe


def spot_of(option: Option, ball: Position | None) -> Position | None:
    """Where the players look: the middle of the relief area, else the reference point, else the ball."""
    # An area narrower than what is drawn (a millimetre) has a size and no outline to stand in.
    if option.relief_area is not None and not (outline := option.relief_area.outline()).is_empty:
        middle = outline.representative_point()
        return Position(x_m=middle.x, y_m=middle.y)
    return option.references[0].position if option.references else ball


def reasons_of(shown: Shown, standing: Standing) -> tuple[str, ...]:
    """Why a place is good, in words."""
    said = []
    if shown.area_m2 is None:
        said.append("the ball goes on a spot: no area to be cut short")
    else:
        said.append(f"{shown.share:.0%} of the measured shape may be used ({shown.area_m2:.2f} m²)")
    if shown.option.margin_m is not None and not shown.option.must_measure_on_ground:
        accuracy = shown.option.accuracy_m or 0.0
        said.append(f"certain within the survey: margin {shown.option.margin_m:.2f} m, accuracy {accuracy:.2f} m")
    if standing.reach_m is not None:
        near = "on" if standing.reach_m < 0.005 else f"{standing.reach_m:.0f} m from"
        said.append(f"{near} {standing.reach_by}")
    if not standing.dangers:
        said.append("clear of tees in use, deep water, boundary, animals and trees")
    return tuple(said)


def watch_of(shown: Shown, standing: Standing) -> tuple[str, ...]:
    """What to watch at a place: what the ground brings, and the cautions of the ruling."""
    coarse = (_TOO_COARSE,) if shown.option.must_measure_on_ground else ()
    return (*coarse, *standing.dangers, *(caution.text for caution in shown.ruling.cautions))
