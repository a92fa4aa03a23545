"""What is wrong with a record of scores: figures that cannot be, days out of order, rounds that stand twice, a plus that was lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from marram.handicaps.differential import differential
from marram.handicaps.index_on_record import IndexOnRecord
from marram.handicaps.rounding import in_decimals, round_half_up
from marram.handicaps.rules.course_rules import SlopeRules
from marram.handicaps.rules.score_rules import ConditionsRules, DifferentialRules
from marram.handicaps.score_record import RoundPosted
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.handicaps.tees import faults_of_rating, faults_of_slope
from marram.handicaps.written_handicaps import tell_handicap

_WHOLE = {HALF_ROUND, FULL_ROUND}
GROSS_OF_NINE, GROSS_OF_EIGHTEEN = (20, 140), (40, 280)
"""What an adjusted gross score can be: our own limits, wide of every score that is played."""
EXPECTED = (Fraction(-10), Fraction(50))
"""What an expected differential of nine holes can be: our own limits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordFault:
    """What is wrong with a round of a record.

    Attributes:
        number: Its number.
        column: The figure.
        message: What is wrong, and what would be right.
    """

    number: int
    column: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordLimits:
    """What the figures of a record can be, under the books that are asked.

    Attributes:
        slope: What a Slope Rating may be.
        conditions: How far a day's conditions may move scores.
        index_most: The highest Index.
        takes_expected: Name of a book that takes an expected differential for nine holes; empty where none does.
        differential: How a score becomes a differential of 18 holes.
    """

    slope: SlopeRules
    conditions: ConditionsRules
    index_most: Fraction
    takes_expected: str
    differential: DifferentialRules


def faults_of_round(played: RoundPosted, limits: RecordLimits) -> Iterator[RecordFault]:
    """Everything that is wrong with one round.

    Args:
        played: The round.
        limits: What its figures can be.
    """

    def fault(column: str, message: str) -> RecordFault:
        return RecordFault(number=played.number, column=column, message=message)

    if played.index is not None and played.index > limits.index_most:
        yield fault("index", f"{tell_handicap(played.index, 1)} cannot be; no Index lies above {tell_handicap(limits.index_most, 1)}")
    if not limits.conditions.least <= played.conditions <= limits.conditions.most:
        expected = f"expected {limits.conditions.least} to {limits.conditions.most}"
        yield fault("conditions", f"{played.conditions} cannot be; {expected}")
    if played.expected is not None and not EXPECTED[0] <= played.expected <= EXPECTED[1]:
        yield fault("expected", f"it cannot be for nine holes; expected {EXPECTED[0]} to {EXPECTED[1]}")
    if played.slope is not None:
        yield from (fault("slope", message) for message in faults_of_slope(played.slope, limits.slope))
    if played.course_rating is not None and played.holes in _WHOLE:
        yield from (fault("course_rating", message) for message in faults_of_rating(played.course_rating, played.holes))
    yield from (fault(column, message) for column, message in _lacks(played, limits))
    if played.adjusted_gross is not None and played.holes in _WHOLE:
        least, most = GROSS_OF_NINE if played.holes <= HALF_ROUND else GROSS_OF_EIGHTEEN
        if not least <= played.adjusted_gross <= most:
            yield fault("adjusted_gross", f"{played.adjusted_gross} for {played.holes} holes cannot be; expected {least} to {most}")
    yield from (fault("differential", message) for message in _contradicts(played, limits))


def _contradicts(played: RoundPosted, limits: RecordLimits) -> Iterator[str]:
    """A differential that is not the one which score and ratings of the same round give."""
    if played.stated is None or played.adjusted_gross is None or played.course_rating is None or not played.slope:
        return
    rules = limits.differential
    if played.holes == FULL_ROUND:
        found = differential(played.adjusted_gross, played.course_rating, played.slope, played.conditions, rules).value
        if found != round_half_up(played.stated, rules.decimals):
            given = in_decimals(played.stated, rules.decimals)
            yield f"{given} stands here, and score and ratings give {in_decimals(found, rules.decimals)}; leave the wrong one out"


def _lacks(played: RoundPosted, limits: RecordLimits) -> Iterator[tuple[str, str]]:
    if played.stated is not None:
        return
    if played.holes not in _WHOLE:
        yield "differential", f"it is missing: how {played.holes} holes become one of {FULL_ROUND} is not published"
        return
    if played.adjusted_gross is None:
        yield "adjusted_gross", "it is missing; give it with Course Rating and Slope Rating, or the differential"
    if played.course_rating is None:
        yield "course_rating", "it is missing; a tee without a rating gives no differential"
    if played.slope is None:
        yield "slope", "it is missing; a tee without a rating gives no differential"
    if played.holes <= HALF_ROUND and limits.takes_expected and played.expected is None:
        yield (
            "expected",
            f"it is missing: {limits.takes_expected} takes the expected differential, and how it is worked out is not published",
        )


def faults_of_order(rounds: Sequence[RoundPosted], last_day: date | None) -> Iterator[RecordFault]:
    """Rounds that lie before the one above them, after the day on which the record is looked at, or stand twice.

    Args:
        rounds: The rounds as they stand.
        last_day: The day on which the record is looked at; None where any day may stand.
    """
    pairs = list(zip(rounds, rounds[1:], strict=False))
    if len(rounds) > 2 and all(later.day <= earlier.day for earlier, later in pairs) and rounds[0].day > rounds[-1].day:
        yield RecordFault(
            number=rounds[0].number,
            column="date",
            message="the record runs from the newest to the oldest; sort it by date, the oldest first",
        )
    else:
        for earlier, later in pairs:
            if later.day < earlier.day:
                message = f"{later.day} lies before {earlier.day} in row {earlier.number}; sort by date, the oldest first"
                yield RecordFault(number=later.number, column="date", message=message)
    seen: dict[tuple[object, ...], int] = {}
    for played in rounds:
        if last_day is not None and played.day > last_day:
            yield RecordFault(number=played.number, column="date", message=f"{played.day} lies after {last_day}, the day of the record")
        same = (played.day, played.holes, played.adjusted_gross, played.course_rating, played.slope, played.stated, played.round)
        if same in seen:
            message = f"the same score stands in row {seen[same]}; delete one, or number the rounds of the day in a column round"
            yield RecordFault(number=played.number, column="date", message=message)
        seen.setdefault(same, played.number)


def faults_of_lost_plus(rounds: Sequence[RoundPosted], followed: IndexOnRecord) -> Iterator[RecordFault]:
    """Indexes that the record states without the plus that it gives itself: spreadsheets drop it from a number.

    Args:
        rounds: The rounds.
        followed: The record followed to its end.
    """
    for played in rounds:
        before = [day.index for day in followed.days if day.day < played.day and day.index is not None]
        if played.index is not None and before and before[-1] < 0 and played.index == -before[-1]:
            plus = tell_handicap(before[-1], 1)
            stands = f"{tell_handicap(played.index, 1)} stands here, and the record gives {plus}"
            message = f"{stands}: the plus is lost; write {plus} in a cell of text"
            yield RecordFault(number=played.number, column="index", message=message)
