"""Several acts together: what they cost by a book's own arithmetic, and how that hangs on what nobody has said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product

from marram.core.citations import Citation
from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.rulebook.book import Book
from marram.rulings.acts.breach_relations import Relations, Stand
from marram.rulings.acts.breaches import Breach, NamedAct, breaches_of
from marram.rulings.acts.sum_of_breaches import Between, Supposed, Together, add_up


class Supposal(StrEnum):
    """What is supposed where an official has not said it."""

    NOTHING = "nothing"
    EVENT = "event"
    RELATED = "related"
    APART = "apart"
    WITH_THAT_BALL = "with_that_ball"
    OTHERWISE = "otherwise"
    ONE_HOLE = "one_hole"
    MORE_HOLES = "more_holes"
    TWO_HOLES = "two_holes"


@dataclass(frozen=True, slots=True, kw_only=True)
class SumReading:
    """What several acts cost under what is supposed.

    Attributes:
        supposes: What is supposed; empty where nothing needs to be.
        total: What they cost.
    """

    supposes: tuple[Supposal, ...]
    total: Together


@dataclass(frozen=True, slots=True, kw_only=True)
class SumOfActs:
    """What several acts cost together.

    Attributes:
        readings: The totals, one for each thing that may be supposed; none where nothing can be added up.
        why_not: Why nothing can be added up; empty where it can.
        citations: The rules.
    """

    readings: tuple[SumReading, ...]
    why_not: str
    citations: tuple[Citation, ...]


def sum_of_acts(book: Book, acts: Sequence[NamedAct], between: Between | None = None, holes: int | None = None) -> SumOfActs:
    """Add acts up, every way that what nobody has said leaves open.

    Args:
        book: The book.
        acts: The acts, with the facts of each.
        between: What lies between them; None where nobody has said.
        holes: Over how many holes a breach went on that is counted for each hole; None where nobody has said.

    Raises:
        DataError: There is no act, or no hole.
    """
    if not acts or (holes is not None and holes < 1):
        raise DataError("There is nothing to add up.", field=Field.ALSO, hint="Name acts, and at least one hole.")
    relations = Relations(book)
    breaches, why_not = breaches_of(book, relations, acts, ())
    if why_not:
        return SumOfActs(readings=(), why_not=why_not, citations=())
    found = {}
    for way in product(*_open_ways(relations, breaches, between, holes)):
        supposed = _supposed(way, between, holes)
        counted, _ = breaches_of(book, relations, acts, supposed.counted_up)
        found[way] = add_up(book, relations, counted, supposed)
    readings = _readings(found)
    citations = tuple(dict.fromkeys(citation for reading in readings for citation in reading.total.citations))
    return SumOfActs(readings=readings, why_not="", citations=citations)


_Way = tuple[Supposal | None, ...]


def _open_ways(relations: Relations, breaches: Sequence[Breach], between: Between | None, holes: int | None) -> tuple[_Way, ...]:
    """For each thing that a total may hang on, what may be supposed; nothing where it is known or there is nothing to ask."""
    pairs = [(one.act, other.act) for number, one in enumerate(breaches) for other in breaches[number + 1 :]]
    is_asked = between in {None, Between.NO_EVENT} and any(relations.stand(*pair) is Stand.ASKED for pair in pairs)
    by_hole = [breach.case for breach in breaches if breach.case.per_hole and not breach.case.added]
    more = Supposal.MORE_HOLES if all(case.capped for case in by_hole) else Supposal.TWO_HOLES
    is_ball_asked = any(
        breach.is_with_uncounted is None
        and relations.may_fall_with_a_ball(breach.act)
        and any(other.is_cancelling for other in breaches if other is not breach)
        for breach in breaches
    )
    return (
        (Supposal.NOTHING, Supposal.EVENT) if between is None and pairs else (None,),
        (Supposal.RELATED, Supposal.APART) if is_asked else (None,),
        (Supposal.WITH_THAT_BALL, Supposal.OTHERWISE) if is_ball_asked else (None,),
        (Supposal.ONE_HOLE, more) if by_hole and holes is None else (None,),
    )


def _supposed(way: _Way, between: Between | None, holes: int | None) -> Supposed:
    usual = Between.EVENT if Supposal.EVENT in way else Between.NO_EVENT
    return Supposed(
        between=between or usual,
        are_related=Supposal.RELATED in way,
        is_with_uncounted=Supposal.WITH_THAT_BALL in way,
        holes=holes or (2 if {Supposal.MORE_HOLES, Supposal.TWO_HOLES} & set(way) else 1),
    )


def _readings(found: Mapping[_Way, Together]) -> tuple[SumReading, ...]:
    """The totals, each with no more supposed than it hangs on."""
    told = {_needed(found, way): total for way, total in found.items()}
    return tuple(SumReading(supposes=supposes, total=total) for supposes, total in told.items())


def _needed(found: Mapping[_Way, Together], way: _Way) -> tuple[Supposal, ...]:
    """What must be supposed for the total of a way: whatever may be left out without another total coming in is left out."""
    kept = [place for place in range(len(way)) if way[place] is not None]
    for place in range(len(way) - 1, -1, -1):
        fewer = [other for other in kept if other != place]
        alike = (total for other, total in found.items() if all(other[n] is way[n] for n in fewer))
        if all(total.amounts == found[way].amounts for total in alike):
            kept = fewer
    return tuple(supposal for place in kept if (supposal := way[place]) is not None)
