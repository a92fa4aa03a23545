"""Faults of the stroke indexes: missing, doubled, and against the published principles of their order.

Source: Rules of Handicapping (2020 and 2024), Appendix E. For the even spread of strokes it gives no number; the one here is our own.
The agreement of the order with the difficulty of the holes is not checked, as a survey holds no rating of each hole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from marram.core.words import counted
from marram.course.check.faults import Fault, FaultKind
from marram.course.course import Course

_SOURCE = "Rules of Handicapping (January 2024), Appendix E"
_ROUND = 18
_LOW = 6
"""Two running holes should not both have an index this low or lower."""
_SPREAD = 12
"""Three running holes should hold one of the indexes up to this (a threshold of our own: no number is published)."""


def check_stroke_index(course: Course) -> Iterator[Fault]:
    """Whether each hole has an index of its own, and whether their order follows the published principles."""
    indexes = {number: hole.stroke_index for number, hole in course.holes.items()}
    known = {number: index for number, index in indexes.items() if index is not None}
    if not indexes:
        return
    lacking = [number for number, index in indexes.items() if index is None and course.hole(number).line is not None]
    if lacking:
        holes = ", ".join(map(str, lacking))
        message = f"{counted(len(lacking), 'line of play')} without a stroke index, on hole{'s' * (len(lacking) != 1)} {holes}."
        yield _fault(
            FaultKind.STROKE_INDEX,
            message,
            "Add them with a spreadsheet of tees: `survey_course(source=TEES.xlsx, kind=tees, onto=COURSE)`.",
            tuple(lacking),
        )
    yield from _doubled(known)
    if len(known) == _ROUND and sorted(known) == list(range(1, _ROUND + 1)) and sorted(known.values()) == list(range(1, _ROUND + 1)):
        yield from _order(known)


def _fault(kind: FaultKind, message: str, remedy: str, holes: tuple[int, ...]) -> Fault:
    return Fault(kind=kind, feature="", at=None, message=message, remedy=remedy, stops_rulings=False, holes=holes)


def _doubled(known: Mapping[int, int]) -> Iterator[Fault]:
    for index in sorted(set(known.values())):
        holes = tuple(number for number, own in known.items() if own == index)
        if len(holes) > 1:
            message = f"Stroke index {index} stands on {len(holes)} holes: {', '.join(map(str, holes))}."
            yield _fault(FaultKind.STROKE_INDEX, message, "Give each hole an index of its own.", holes)
        if not 1 <= index <= max(_ROUND, len(known)):
            yield _fault(
                FaultKind.STROKE_INDEX, f"Stroke index {index} is outside 1 to {_ROUND}.", "Give a whole number in that range.", holes
            )


def _order(index_of: Mapping[int, int]) -> Iterator[Fault]:
    """The principles that have a number, for a whole round of eighteen."""
    hole_of = {index: number for number, index in index_of.items()}
    yield from _halves(index_of)
    for index in (1, 2):
        yield from _lowest(hole_of, index)
    for index in (3, 4):
        yield from _second(hole_of, index)
    for number in range(1, _ROUND):
        if index_of[number] <= _LOW and index_of[number + 1] <= _LOW:
            both = f"{index_of[number]} and {index_of[number + 1]}"
            message = f"Holes {number} and {number + 1} run together with indexes {both}; both should not be {_LOW} or less."
            yield _against(message, (number, number + 1))
    yield from _spread(index_of)


def _spread(index_of: Mapping[int, int]) -> Iterator[Fault]:
    for first in range(1, _ROUND, 3):
        three = (first, first + 1, first + 2)
        if min(index_of[number] for number in three) > _SPREAD:
            message = (
                f"Holes {first} to {first + 2} hold none of the indexes up to {_SPREAD}, so that {_SPREAD} strokes are not spread evenly "
                f"over the round; that {_SPREAD} is the measure is Marram's own choice."
            )
            yield _against(message, three)


def _halves(index_of: Mapping[int, int]) -> Iterator[Fault]:
    first = {index_of[number] % 2 for number in range(1, 10)}
    if len(first) != 1:
        odd = [number for number in range(1, 10) if index_of[number] % 2 != index_of[1] % 2]
        differ = ", ".join(map(str, odd))
        message = f"Odd indexes belong on one nine and even ones on the other; on the first nine, holes {differ} differ from hole 1."
        yield _against(message, tuple(odd))


def _triad(number: int) -> int:
    """Which three of its nine a hole is in: 0, 1 or 2."""
    return (number - 1) % 9 // 3


def _lowest(hole_of: Mapping[int, int], index: int) -> Iterator[Fault]:
    number = hole_of[index]
    if _triad(number) != 1:
        message = (
            f"Index {index} is on hole {number}; the lowest of a nine belongs in its middle three, or on the hole next to them where "
            "none of the three is among the hardest."
        )
        yield _against(message, (number,))


def _second(hole_of: Mapping[int, int], index: int) -> Iterator[Fault]:
    number = hole_of[index]
    of_nine = (number - 1) // 9
    lowest = next((hole_of[low] for low in (1, 2) if (hole_of[low] - 1) // 9 == of_nine), None)
    if _triad(number) == 1 or (lowest is not None and _triad(number) == _triad(lowest)):
        message = (
            f"Index {index} is on hole {number}; the second lowest of a nine belongs in its first or last three, away from the lowest."
        )
        yield _against(message, (number,))


def _against(message: str, holes: tuple[int, ...]) -> Fault:
    return _fault(
        FaultKind.STROKE_INDEX_ORDER,
        f"{message} ({_SOURCE}, a recommendation.)",
        "Weigh it when the order of holes is next published.",
        holes,
    )
