"""A record of scores as it grows: rounds become differentials, nines find their other half, and each is posted in its order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.handicaps.differential import differential, joined, nine_hole_differential
from marram.handicaps.rounding import Figure, rounded
from marram.handicaps.rules.score_rules import DifferentialRules
from marram.handicaps.strokes_on_holes import HALF_ROUND
from marram.rulebook.handicap_words import NineHolesBy


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundPosted:
    """A round as it stands on the record.

    Attributes:
        number: Its number, such as that of its row.
        day: Day on which it was played.
        holes: Nine or 18.
        adjusted_gross: Adjusted gross score; None where its differential is stated.
        course_rating: Course Rating of the holes; None where its differential is stated.
        slope: Slope Rating of the holes; None where its differential is stated.
        conditions: Playing-conditions adjustment of the day.
        expected: Expected differential of the other nine for the player's Index, where the rules take it; None where it is not stated.
        stated: Differential of 18 holes as stated, where it is.
        index: Index in effect when it was played, where the record states it; it was not worked out here.
        round: Which round of the day it is, where several are alike.
    """

    number: int
    day: date
    holes: int
    adjusted_gross: int | None = None
    course_rating: Fraction | None = None
    slope: int | None = None
    conditions: int = 0
    expected: Fraction | None = None
    stated: Fraction | None = None
    index: Fraction | None = None
    round: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Posted:
    """A Score Differential on the record.

    Attributes:
        numbers: Numbers of the rounds that it is made of.
        day: Day of the last of them.
        holes: Holes played in them.
        figure: The differential, before and after rounding.
        index: Index in effect as stated; None where it was not.
    """

    numbers: tuple[int, ...]
    day: date
    holes: int
    figure: Figure
    index: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PostedRecord:
    """Rounds turned into differentials.

    Attributes:
        posted: The differentials, in the order of the record.
        waiting: Number of a score of nine holes that waits for another; None where none does.
        dropped: Numbers of scores of nine holes that waited until they were older than all that is looked at.
    """

    posted: tuple[Posted, ...]
    waiting: int | None
    dropped: tuple[int, ...]


def post(rounds: Sequence[RoundPosted], rules: DifferentialRules, recent: int) -> PostedRecord:
    """Turn the rounds of a record into differentials, in their order.

    Args:
        rounds: The rounds, the oldest first.
        rules: How a score becomes a differential.
        recent: So many of the most recent differentials are looked at; a nine that waits for another is dropped once it is older.

    Raises:
        HandicapError: A round lacks what its differential takes.

    Source:
        Rules of Handicapping 2020, Rule 5.1b (nines are joined in the order of posting); Rules of Handicapping 2024, Rule 5.1b.
    """
    posted: list[Posted] = []
    dropped: list[int] = []
    waiting: RoundPosted | None = None
    for played in rounds:
        if played.stated is not None or played.holes > HALF_ROUND or rules.nine_holes_by is NineHolesBy.EXPECTED_DIFFERENTIAL:
            posted.append(_alone(played, rules))
            continue
        if waiting is not None and len(posted) >= recent and waiting.day < posted[-recent].day:
            dropped.append(waiting.number)
            waiting = None
        if waiting is None:
            waiting = played
        else:
            posted.append(_together(waiting, played, rules))
            waiting = None
    return PostedRecord(posted=tuple(posted), waiting=None if waiting is None else waiting.number, dropped=tuple(dropped))


def _alone(played: RoundPosted, rules: DifferentialRules) -> Posted:
    return Posted(numbers=(played.number,), day=played.day, holes=played.holes, figure=_figure(played, rules), index=played.index)


def _figure(played: RoundPosted, rules: DifferentialRules) -> Figure:
    if played.stated is not None:
        return rounded(played.stated, rules.decimals)
    if played.holes <= HALF_ROUND:
        if played.expected is None:
            raise _lacking(played, "its expected differential", "It is not published how one is worked out: state it.")
        return joined(_half(played, rules), played.expected, rules)
    adjusted_gross, course_rating, slope = _score_of(played)
    return differential(adjusted_gross, course_rating, slope, played.conditions, rules)


def _half(played: RoundPosted, rules: DifferentialRules) -> Fraction:
    adjusted_gross, course_rating, slope = _score_of(played)
    return nine_hole_differential(adjusted_gross, course_rating, slope, played.conditions, rules)


def _together(first: RoundPosted, second: RoundPosted, rules: DifferentialRules) -> Posted:
    return Posted(
        numbers=(first.number, second.number),
        day=second.day,
        holes=first.holes + second.holes,
        figure=joined(_half(first, rules), _half(second, rules), rules),
        index=second.index,
    )


def _score_of(played: RoundPosted) -> tuple[int, Fraction, int]:
    if played.adjusted_gross is None or played.course_rating is None or played.slope is None:
        raise _lacking(
            played, "its score or its tee's ratings", "Give adjusted gross, Course Rating and Slope Rating, or the differential."
        )
    return played.adjusted_gross, played.course_rating, played.slope


def _lacking(played: RoundPosted, what: str, hint: str) -> HandicapError:
    return HandicapError(f"Round {played.number} lacks {what}.", hint=hint)
