"""A season ruled again: what another book would have made of the balls that came up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.course.course import Course
from marram.evidence.effects import Interval
from marram.interchange.field.incident_log import IncidentLog
from marram.rulebook.book import Book
from marram.rulings.case.ruling import Option, Ruling
from marram.rulings.rule_on import rule_on

_SAME_M, _SAME_M2 = 0.005, 0.005


class Changed(StrEnum):
    """What differs between two rulings on one ball."""

    OPTIONS = "options"
    PENALTY = "penalty"
    AREA = "area"
    DISTANCE = "distance"


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledAgain:
    """One ball under both books.

    Attributes:
        id: Its name in the log.
        rulings: Its rulings, under the book of the log and under the other.
        changed: What differs; None where one of the books cannot tell before a fact is known.
    """

    id: str
    rulings: tuple[Ruling, Ruling]
    changed: tuple[Changed, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reruled:
    """A season ruled again.

    Attributes:
        books: The book of the log, and the other.
        incidents: Each ball.
        rounds: In how many rounds they came up; None where nobody counted.
        per_100: Changed rulings per 100 rounds; None where the rounds are not known.
        per_100_interval95: Its exact 95 % limits.
    """

    books: tuple[Book, Book]
    incidents: tuple[RuledAgain, ...]
    rounds: int | None
    per_100: float | None
    per_100_interval95: Interval | None

    @property
    def changed(self) -> int:
        """How many rulings differ."""
        return sum(bool(entry.changed) for entry in self.incidents)

    @property
    def cannot_tell(self) -> int:
        """Of how many nobody can tell before a fact is known."""
        return sum(entry.changed is None for entry in self.incidents)


def rerule(log: IncidentLog, course: Course, books: tuple[Book, Book], *, rounds: int | None = None) -> Reruled:
    """Rule on the balls of a season again. These are the balls that came up, not what players would have done under the other book.

    Args:
        log: The incidents.
        course: The course.
        books: The book that they were ruled under, and the other, opened together.
        rounds: In how many rounds of a player they came up, where the log does not say.

    Raises:
        DataError: What an incident states cannot be.
    """
    incidents = tuple(_ruled_again(entry.id, [rule_on(entry.incident, course, book) for book in books]) for entry in log.incidents)
    known = rounds or log.rounds
    changed = sum(bool(entry.changed) for entry in incidents)
    return Reruled(
        books=books,
        incidents=incidents,
        rounds=known,
        per_100=None if known is None else 100 * changed / known,
        per_100_interval95=None if known is None else _limits(changed, known),
    )


def _ruled_again(name: str, rulings: Sequence[Ruling]) -> RuledAgain:
    before, after = rulings
    is_open = any(not ruling.options and ruling.facts_needed for ruling in rulings)
    return RuledAgain(id=name, rulings=(before, after), changed=None if is_open else _differences(before, after))


def _differences(before: Ruling, after: Ruling) -> tuple[Changed, ...]:
    """What differs between two rulings: which options there are, and of those in both penalty, area and distance."""
    first, second = ({option.procedure: option for option in ruling.options} for ruling in (before, after))
    found = set()
    if first.keys() != second.keys():
        found.add(Changed.OPTIONS)
    for name in first.keys() & second.keys():
        one, other = first[name], second[name]
        if one.penalty_strokes != other.penalty_strokes:
            found.add(Changed.PENALTY)
        if _is_apart(area_m2(one), area_m2(other), _SAME_M2):
            found.add(Changed.AREA)
        if _is_apart(distance_m(one), distance_m(other), _SAME_M):
            found.add(Changed.DISTANCE)
    return tuple(word for word in Changed if word in found)


def area_m2(option: Option) -> float | None:
    """Size of an option's relief area, square metres; None where it has none."""
    return None if option.relief_area is None else option.relief_area.area_m2


def distance_m(option: Option) -> float | None:
    """How far the first reference point of an option is from the ball, metres; None where that is not known."""
    return next((point.distance_m for point in option.references if point.distance_m is not None), None)


def _is_apart(one: float | None, other: float | None, least: float) -> bool:
    if one is None or other is None:
        return one is not other
    return abs(one - other) > least


def _limits(count: int, rounds: int) -> Interval:
    """Exact limits of a rate per 100 rounds (Garwood, Fiducial limits for the Poisson distribution, 1936)."""
    from scipy.stats import chi2

    low = float(chi2.ppf(0.025, 2 * count)) / 2 if count else 0.0
    return Interval(low=100 * low / rounds, high=100 * float(chi2.ppf(0.975, 2 * count + 2)) / 2 / rounds)
