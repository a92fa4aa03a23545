"""How far from the nearest right place a ball was played. Whether that is serious is for the official and the Committee to say."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import LineString, Point

from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulings.acts import ActAnswer, rule_on_act
from marram.rulings.ruling import Option, Ruling

_ACTS = ("wrong-place-minor", "wrong-place-serious")
_CHORD_M = 0.005
"""What the drawn outline of an area may lack of the exact one; a ball nearer than this counts as played from inside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HowFarOff:
    """One way that was open, and how far from it the ball was played.

    Attributes:
        procedure: Name of the procedure's row.
        title: What the edition calls it.
        distance_m: Distance to the nearest place from which it lets the ball be played; zero inside.
    """

    procedure: str
    title: str
    distance_m: float


def how_far_off(ruling: Ruling, played_from: Position) -> tuple[HowFarOff, ...]:
    """Measure from where a ball was played to the nearest right place of each option, nearest first.

    Args:
        ruling: The ruling on the ball before it was played.
        played_from: Where it was played.
    """
    found = [
        HowFarOff(procedure=option.procedure, title=option.title, distance_m=distance_m)
        for option in ruling.options
        if (distance_m := _distance_m(option, played_from)) is not None
    ]
    return tuple(sorted(found, key=lambda entry: entry.distance_m))


def _distance_m(option: Option, played_from: Position) -> float | None:
    """Distance to an option's nearest right place; None where no place is measured for it."""
    spot = Point(played_from.xy)
    if option.line is not None and option.line.intervals_m:
        ends = [(option.line.place_at(near_m), option.line.place_at(far_m)) for near_m, far_m in option.line.intervals_m]
        from_line_m = min(LineString([near.xy, far.xy]).distance(spot) for near, far in ends)
        return _counted(from_line_m - (option.size_m or 0.0))
    if option.relief_area is not None:
        return _counted(float(option.relief_area.outline().distance(spot)))
    return min((reference.position.distance_m(played_from) for reference in option.references), default=None)


def _counted(distance_m: float) -> float:
    return distance_m if distance_m > _CHORD_M else 0.0


def acts_of_wrong_place(book: Book) -> tuple[ActAnswer, ...]:
    """What a stroke from a wrong place leads to, without and with a serious breach."""
    return tuple(rule_on_act(book, act, {}) for act in _ACTS)
