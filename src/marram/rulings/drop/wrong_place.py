"""Whether a ball was played from a right place, and how far from one. Whether that is serious is for the official and the Committee."""

from __future__ import annotations

from dataclasses import dataclass

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.core.citations import Citation, merged
from marram.course.joining import ACCURACY_SIGMAS
from marram.rulebook.book import Book
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulebook.wording.explain import ask
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from marram.rulings.case.case import Unknown
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import RightPlace, Ruling
from marram.rulings.measure.may_lie import CHORD_M, MayLie, where_it_may_lie
from marram.rulings.measure.measuring import Measured

_ACTS = ("wrong-place-minor", "wrong-place-serious")


@dataclass(frozen=True, slots=True, kw_only=True)
class HowFarOff:
    """One way that was open, and how far from it the ball was played.

    Attributes:
        procedure: Name of the procedure's row.
        title: What the edition calls it.
        distance_m: Distance to the nearest place from which it may let the ball be played; zero there.
        place: The answer in full.
    """

    procedure: str
    title: str
    distance_m: float
    place: RightPlace


def how_far_off(ruling: Ruling) -> tuple[HowFarOff, ...]:
    """How far from a right place of each option the ball was played, nearest first; nothing where nobody said from where."""
    found = [
        HowFarOff(procedure=option.procedure, title=option.title, distance_m=option.right_place.distance_m, place=option.right_place)
        for option in ruling.options
        if option.right_place is not None and option.right_place.distance_m is not None
    ]
    return tuple(sorted(found, key=lambda entry: entry.distance_m))


def judge_place(procedure: Procedure, measured: Measured, put: str, met: Interference | None) -> RightPlace | None:
    """Judge where a ball was played from by where it may lie after the drop that was made.

    Args:
        procedure: The procedure that is carried out.
        measured: What it comes to on the ground.
        put: How the ball is put in play.
        met: The condition in the way, where the procedure is about one.

    Returns:
        The answer; None where nobody said from where it was played, or the option measures no place.
    """
    played_from = procedure.case.incident.played_from
    try:
        ground = None if played_from is None else where_it_may_lie(procedure, measured, put)
    except Unknown as missing:
        return _undecided(procedure, missing.fact)
    if played_from is None or ground is None:
        return None
    at = Point(played_from.xy)
    is_right, asks = _answer(procedure, measured, ground, at)
    off_m = _distance_m(ground.perhaps, at)
    return RightPlace(
        is_right=is_right,
        distance_m=off_m,
        margin_m=_margin_m(ground, at, is_right),
        accuracy_m=_accuracy_m(procedure, measured, met),
        because=_because(procedure, measured, ground, is_right),
        asks=asks,
        question=ask(procedure.case.book, asks, {}) if asks else "",
        citations=_citations(procedure, ground),
    )


def _undecided(procedure: Procedure, fact: str) -> RightPlace:
    """The answer where nothing can be measured before a fact is known."""
    return RightPlace(
        is_right=None,
        distance_m=None,
        margin_m=None,
        accuracy_m=None,
        because="it depends on what nobody has said",
        asks=fact,
        question=ask(procedure.case.book, fact, {}),
        citations=procedure.citations(),
    )


def _answer(procedure: Procedure, measured: Measured, ground: MayLie, at: Point) -> tuple[bool | None, str]:
    """Yes, no, or None with the name of what would settle it."""
    if ground.off_touch_m > 0:
        return False, ""
    if _is_in(ground.surely, at):
        return True, ""
    if _is_in(ground.perhaps, at):
        return None, ground.ask
    if len(measured.references) > 1 and procedure.case.incident.choice.reference is None and measured.area is not None:
        return None, NamedFact.CHOSEN_REFERENCE
    return False, ""


def _is_in(ground: BaseGeometry, at: Point) -> bool:
    return not ground.is_empty and float(ground.distance(at)) <= CHORD_M


def _distance_m(ground: BaseGeometry, at: Point) -> float | None:
    if ground.is_empty:
        return None
    distance_m = float(ground.distance(at))
    return distance_m if distance_m > CHORD_M else 0.0


def _margin_m(ground: MayLie, at: Point, is_right: bool | None) -> float | None:
    """How far the ball would have to lie elsewhere, or to have first touched elsewhere, for the answer to change."""
    if is_right is None:
        return None
    if ground.off_touch_m > 0:
        return ground.off_touch_m
    area = ground.surely if is_right else ground.perhaps
    return float(area.boundary.distance(at)) if not area.is_empty else None


def _accuracy_m(procedure: Procedure, measured: Measured, met: Interference | None) -> float | None:
    """Survey accuracy of what the ground is measured from: the edge that was crossed, the thing in the way, else the course's."""
    case = procedure.case
    kinds = {reference.kind for reference in measured.references}
    if kinds & {MeasuredFrom.CROSSING_POINT, MeasuredFrom.OPPOSITE_EDGE} and case.penalty_area is not None:
        sigma_m = case.penalty_area.sigma_m
    else:
        sigma_m = case.course.sigma_m if met is None else met.condition.sigma_m
    return None if sigma_m is None else ACCURACY_SIGMAS * sigma_m


def _because(procedure: Procedure, measured: Measured, ground: MayLie, is_right: bool | None) -> str:
    case, played_from = procedure.case, procedure.case.incident.played_from
    if is_right:
        wrong_way = "; but it first touched other ground than it had to, and was dropped in a wrong way" if ground.is_wrong_way else ""
        return f"it lay where such a ball may lie{wrong_way}"
    if is_right is None:
        return "it depends on the drop that was made"
    if ground.off_touch_m > 0:
        return f"it first touched the ground {ground.off_touch_m:.2f} m from where it had to"
    assert played_from is not None
    off_m = _distance_m(ground.perhaps, Point(played_from.xy))
    nearer_m = (measured.no_nearer_m or 0.0) - played_from.distance_m(case.hole_at)
    nearer = f", {nearer_m:.2f} m nearer the hole than allowed" if nearer_m > CHORD_M else ""
    return f"no such ball may lie anywhere here{nearer}" if off_m is None else f"it lay {off_m:.2f} m from the nearest right place{nearer}"


def _citations(procedure: Procedure, ground: MayLie) -> tuple[Citation, ...]:
    book = procedure.case.book
    return merged(procedure.citations(), *(book.citations(row) for row in ground.rows))


def acts_of_wrong_place(book: Book) -> tuple[ActAnswer, ...]:
    """What a stroke from a wrong place leads to, without and with a serious breach."""
    return tuple(rule_on_act(book, act, {}) for act in _ACTS)
