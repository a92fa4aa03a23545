"""Places from results: ties decided step by step as the terms say, joint places where nothing decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from marram.scoring.competition.terms_of_competition import Step, Ties
from marram.scoring.ties.countback import step_words, values_of
from marram.scoring.ties.round_standing import Counting, Standing, best_first

BY_SCORE, JOINT = "score", "joint"


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What a step compared for one player or side.

    Attributes:
        step: The step, in words.
        value: The value; the first that differs where the step goes hole by hole.
    """

    step: str
    value: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A place.

    Attributes:
        place: The place, from 1; equal places are joint.
        name: The player or side.
        is_joint: Whether another has the same place.
        decided_by: What decided it: ``score``, the step in words, or ``joint``.
        compared: What each step compared, up to the one that decided.
    """

    place: int
    name: str
    is_joint: bool
    decided_by: str
    compared: tuple[Compared, ...]


def place_all(standings: Sequence[Standing], counting: Counting, ties: Ties) -> tuple[Placed, ...]:
    """Give every player or side a place.

    Args:
        standings: Those with a result, in any order.
        counting: How results are compared.
        ties: How ties are decided.
    """
    placed: list[Placed] = []
    for _, equal in groupby(best_first(standings, counting), key=lambda standing: standing.total):
        group = list(equal)
        if len(group) == 1:
            placed.append(Placed(place=len(placed) + 1, name=group[0].name, is_joint=False, decided_by=BY_SCORE, compared=()))
        else:
            placed += _break_tie(group, counting, ties, ties.steps, first=len(placed) + 1, compared={})
    return tuple(placed)


def _break_tie(
    group: Sequence[Standing],
    counting: Counting,
    ties: Ties,
    steps: Sequence[Step],
    *,
    first: int,
    compared: dict[str, tuple[Compared, ...]],
) -> list[Placed]:
    """Places among those who are equal so far, from a first place on, by the steps that are left."""
    if not steps:
        return [Placed(place=first, name=one.name, is_joint=True, decided_by=JOINT, compared=compared.get(one.name, ())) for one in group]
    step, *left = steps
    values = {one.name: values_of(one, step, counting, ties.drawn) for one in group}
    known = {name: value for name, value in values.items() if value is not None}
    if len(known) < len(group):  # a lot that was not drawn for all of them decides for none
        return _break_tie(group, counting, ties, left, first=first, compared=compared)
    at = _first_apart(list(known.values()))
    now = {name: (*compared.get(name, ()), _told(step, value, counting, at)) for name, value in known.items()}
    placed: list[Placed] = []
    for _, equal in groupby(sorted(group, key=lambda one: (known[one.name], one.name)), key=lambda one: known[one.name]):
        still = list(equal)
        if len(still) == 1:
            name = still[0].name
            at = first + len(placed)
            placed.append(Placed(place=at, name=name, is_joint=False, decided_by=step_words(step), compared=now[name]))
        else:
            placed += _break_tie(still, counting, ties, left, first=first + len(placed), compared=now)
    return placed


def _first_apart(values: Sequence[tuple[Fraction, ...]]) -> int:
    """The first place at which not all are equal; the only one but hole by hole."""
    return next((place for place in range(len(values[0])) if any(value[place] != values[0][place] for value in values)), 0)


def _told(step: Step, value: tuple[Fraction, ...], counting: Counting, at: int) -> Compared:
    """What the step compared; hole by hole, the first hole at which not all are equal."""
    is_turned = counting.is_more_better and step not in {Step.LOWER_HANDICAP, Step.HIGHER_HANDICAP, Step.LOT, Step.PLAY_OFF}
    shown = -value[at] if is_turned or step is Step.HIGHER_HANDICAP else value[at]
    words = f"{step_words(step)} (hole {len(value) - at})" if step is Step.HOLE_BY_HOLE_BACK else step_words(step)
    return Compared(step=words, value=shown + 1 if step in {Step.LOT, Step.PLAY_OFF} else shown)
