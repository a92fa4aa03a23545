"""Where strokes fall: on each hole in the order of the stroke index, over again past the last, and backward for a plus handicap."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from marram.core.errors import HandicapError
from marram.rulebook.handicap_words import PlusGivesFrom

FULL_ROUND, HALF_ROUND = 18, 9


def strokes_on_hole(handicap: int, place: int, holes: int = FULL_ROUND, plus_from: PlusGivesFrom = PlusGivesFrom.HIGHEST_INDEX) -> int:
    """Strokes that a player receives on one hole; below zero where a plus handicap gives a stroke back.

    Args:
        handicap: Strokes over all the holes; below zero for a plus handicap.
        place: The hole's place in the order in which strokes are taken, from 1: in a round of 18 its stroke index.
        holes: So many holes are played.
        plus_from: Where a plus handicap gives its first stroke.

    Raises:
        HandicapError: There is no such place among so many holes.

    Source:
        Rules of Handicapping 2024, Appendix E (index 1 comes again as 19 and 37) and Appendix C (a +2 gives at 18 and 17).
    """
    if not 1 <= place <= holes:
        raise HandicapError(f"A stroke index of {place} cannot be.", hint=f"Expected 1 to {holes}.")
    if handicap < 0 and plus_from is PlusGivesFrom.LOWEST_INDEX:
        place = holes + 1 - place
    # Division rounds down for a plus handicap too, so that the last places give first.
    return (handicap - place + holes) // holes


def places_in_order(stroke_indexes: Sequence[int]) -> tuple[int, ...]:
    """The place of each hole in the order in which strokes are taken, from 1 for the lowest stroke index.

    Args:
        stroke_indexes: Stroke index of each hole played: all of a round, or those of nine holes out of 18.

    Raises:
        HandicapError: One is no stroke index, or two holes have the same.
    """
    faults = [
        f"the value {index} at place {at} is none" for at, index in enumerate(stroke_indexes, start=1) if not 1 <= index <= FULL_ROUND
    ]
    faults += [f"{index} stands {count} times" for index, count in sorted(Counter(stroke_indexes).items()) if count > 1]
    if faults or not stroke_indexes:
        hint = f"Expected numbers from 1 to {FULL_ROUND}, each once."
        raise HandicapError(f"This is no list of stroke indexes: {'; '.join(faults) or 'it is empty'}.", hint=hint)
    order = sorted(stroke_indexes)
    return tuple(order.index(index) + 1 for index in stroke_indexes)


def strokes_by_hole(
    handicap: int, stroke_indexes: Sequence[int], plus_from: PlusGivesFrom = PlusGivesFrom.HIGHEST_INDEX
) -> tuple[int, ...]:
    """Strokes received on each hole, in the order of the holes; together they are the handicap.

    Args:
        handicap: A Course or Playing Handicap for these holes; below zero for a plus handicap.
        stroke_indexes: Stroke index of each hole that is played. Nine holes may keep their indexes out of 18 or be numbered 1 to 9.
        plus_from: Where a plus handicap gives its first stroke.

    Raises:
        HandicapError: The stroke indexes are no such list.

    Source:
        Rules of Handicapping 2020 and 2024, Appendix E (nine holes in the order of their indexes) and Appendix C.
    """
    return tuple(strokes_on_hole(handicap, place, len(stroke_indexes), plus_from) for place in places_in_order(stroke_indexes))
