"""What equal results are compared by: the last nine, six, three and one holes, and whatever further step the terms name."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from marram.handicaps.rounding import round_half_up
from marram.scoring.competition.terms_of_competition import Step
from marram.scoring.ties.round_standing import Counting, RoundStanding, Standing

_LAST: Mapping[Step, int] = {Step.LAST_18: 18, Step.LAST_9: 9, Step.LAST_6: 6, Step.LAST_3: 3, Step.LAST_1: 1}
_FIRST: Mapping[Step, int] = {Step.FIRST_9: 9, Step.FIRST_6: 6, Step.FIRST_3: 3, Step.FIRST_1: 1}
_SHOWN = {
    Step.LAST_ROUND: "last round",
    Step.LAST_1: "last hole",
    Step.FIRST_1: "first hole",
    Step.HOLE_BY_HOLE_BACK: "hole by hole from the last",
    Step.LOWER_HANDICAP: "lower handicap",
    Step.HIGHER_HANDICAP: "higher handicap",
    Step.PLAY_OFF: "play-off",
    Step.LOT: "lot",
}


def step_words(step: Step) -> str:
    """A step as it is told, such as ``last 9``."""
    return _SHOWN.get(step, step.value.replace("-", " "))


def holes_of_step(step: Step, holes: int) -> tuple[int, ...] | None:
    """The places of the holes that a step looks at, counted from 1; None for a step that looks at no part of a round.

    Args:
        step: The step.
        holes: How many holes are played.

    Source:
        Rules of Golf 2016, Appendix I Part C 10 (more than one starting tee); Committee Procedures 5A(6) of 2019 and 2023 (from memory).
    """
    if step in _LAST:
        return tuple(range(max(1, holes - _LAST[step] + 1), holes + 1))
    if step in _FIRST:
        return tuple(range(1, min(_FIRST[step], holes) + 1))
    return None


def over_holes(played: RoundStanding, numbers: tuple[int, ...], counting: Counting) -> Fraction:
    """The result over some holes of a round: strokes as they fall, or gross strokes less the share of the handicap.

    Args:
        played: The round.
        numbers: Places of the holes, as ``holes_of_step`` gives them.
        counting: How results are compared.
    """
    shift = played.start - 1 if counting.follows_play else 0
    places = [(number - 1 + shift) % len(played.gross_by_hole) for number in numbers]
    if not counting.takes_share:
        return Fraction(sum(played.by_hole[place] for place in places))
    gross = sum(played.gross_by_hole[place] for place in places)
    share = share_of_handicap(played.handicap, len(numbers), len(played.gross_by_hole), is_rounded=counting.rounds_fractions)
    return gross - share


def share_of_handicap(handicap: int, over: int, holes: int, *, is_rounded: bool) -> Fraction:
    """The part of a handicap that falls to some holes of a round.

    Args:
        handicap: Strokes over the round; below zero for a plus handicap.
        over: So many holes.
        holes: So many holes has the round.
        is_rounded: Whether half a stroke or more counts as one and less is dropped; else fractions are kept.
    """
    share = Fraction(handicap * over, holes)
    return round_half_up(share) if is_rounded else share


def values_of(standing: Standing, step: Step, counting: Counting, drawn: tuple[str, ...]) -> tuple[Fraction, ...] | None:
    """What a step compares, the lower the better; None where the step cannot be taken.

    Args:
        standing: A player or side.
        step: The step.
        counting: How results are compared.
        drawn: The order that the lot or the play-off gave.
    """
    last, sign = standing.rounds[-1], -1 if counting.is_more_better else 1
    match step:
        case Step.LAST_ROUND:
            return (Fraction(sign * last.total),) if len(standing.rounds) > 1 else None
        case Step.LOWER_HANDICAP | Step.HIGHER_HANDICAP:
            return (Fraction(standing.handicap if step is Step.LOWER_HANDICAP else -standing.handicap),)
        case Step.PLAY_OFF | Step.LOT:
            return (Fraction(drawn.index(standing.name)),) if standing.name in drawn else None
        case Step.HOLE_BY_HOLE_BACK:
            return tuple(sign * over_holes(last, (hole,), counting) for hole in range(len(last.gross_by_hole), 0, -1))
    numbers = holes_of_step(step, len(last.gross_by_hole))
    assert numbers is not None
    if len(numbers) == len(last.gross_by_hole) and len(standing.rounds) == 1:
        return None  # all of the round is the result itself
    return (sign * over_holes(last, numbers, counting),)
