"""Whether a course's stroke indexes are spread as the Rules of Handicapping, and older guidance, recommend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND

_TRIAD, _TRIADS_OF_A_NINE = 3, 3
_EARLY, _MIDDLE = 6, 1
_BESIDE_MIDDLE = (2, 6)
"""Places within a nine, from 0, that lie beside its middle triad: holes 3 and 7, 12 and 16."""


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexCheck:
    """One recommendation, and whether the stroke indexes keep to it.

    Attributes:
        id: Its short name.
        asks: What it asks.
        source: Where it stands.
        holds: Whether it is kept.
    """

    id: str
    asks: str
    source: str
    holds: bool


_APPENDIX_E, _OLDER = "Rules of Handicapping 2020 and 2024, Appendix E", "guidance before 2020"
_ASKS: Mapping[str, tuple[str, str]] = {
    "A1": ("Every number from 1 to 18 stands once.", _APPENDIX_E),
    "A2": ("One nine has all odd numbers, the other all even ones.", _APPENDIX_E),
    "A3": ("The lowest of each nine lies in its middle three holes.", _APPENDIX_E),
    "A4": ("The second lowest of each nine lies in its first or last three holes, apart from the lowest.", _APPENDIX_E),
    "A5": ("No two holes in a row have numbers of 6 or less.", _APPENDIX_E),
    "B1": ("Numbers 1 to 8 do not lie on the first or the last hole.", _OLDER),
    "B4": ("Nobody who receives ten strokes has three holes in a row with one.", _OLDER),
    "B6": ("Numbers 1 to 4 do not lie on the first two or the last two holes.", f"{_OLDER}: running a competition, chapter 7, section 4"),
    "B7": ("Numbers 1 and 2 lie on different nines.", f"{_OLDER}: running a competition, chapter 7, section 4"),
}


def difficulty(par: int, scratch_value: Fraction, bogey_value: Fraction) -> Fraction:
    """How hard a hole is to its par: what a scratch and a bogey player need there, less twice its par.

    Source:
        Rules of Handicapping 2020, Appendix E.
    """
    return scratch_value + bogey_value - 2 * par


def check_stroke_indexes(stroke_indexes: Sequence[int], difficulties: Sequence[Fraction] = ()) -> tuple[IndexCheck, ...]:
    """Hold the stroke indexes of 18 holes against what is recommended.

    Args:
        stroke_indexes: Stroke index of each hole, from the first.
        difficulties: How hard each hole is; where none of a middle triad is among the six hardest, the hole beside it may be the lowest.

    Raises:
        HandicapError: They are not those of 18 holes.
    """
    if len(stroke_indexes) != FULL_ROUND:
        raise HandicapError(f"There are {len(stroke_indexes)} stroke indexes.", hint=f"Expected {FULL_ROUND}.")
    nines = (stroke_indexes[:HALF_ROUND], stroke_indexes[HALF_ROUND:])
    hard = (difficulties[:HALF_ROUND], difficulties[HALF_ROUND:])
    hardest = sorted(difficulties)[-_EARLY:]
    pairs = list(zip(stroke_indexes, stroke_indexes[1:], strict=False))
    holds = {
        "A1": sorted(stroke_indexes) == list(range(1, FULL_ROUND + 1)),
        "A2": {frozenset(number % 2 for number in nine) for nine in nines} == {frozenset({0}), frozenset({1})},
        "A3": all(_lowest_is_well_placed(nine, of_nine, hardest) for nine, of_nine in zip(nines, hard, strict=True)),
        "A4": all(_second_is_well_placed(nine) for nine in nines),
        "A5": not any(one <= _EARLY and other <= _EARLY for one, other in pairs),
        "B1": not any(number <= 8 for number in (stroke_indexes[0], stroke_indexes[-1])),
        "B4": not any(max(stroke_indexes[at : at + 3]) <= 10 for at in range(FULL_ROUND - 2)),
        "B6": not any(number <= 4 for number in (*stroke_indexes[:2], *stroke_indexes[-2:])),
        "B7": len({1, 2} & set(nines[0])) == 1,
    }
    return tuple(IndexCheck(id=name, asks=asks, source=source, holds=holds[name]) for name, (asks, source) in _ASKS.items())


def _triad_of(nine: Sequence[int], number: int) -> int:
    return list(nine).index(number) // _TRIAD


def _lowest_is_well_placed(nine: Sequence[int], difficulties: Sequence[Fraction], hardest: Sequence[Fraction]) -> bool:
    place = list(nine).index(min(nine))
    if place // _TRIAD == _MIDDLE:
        return True
    middle = difficulties[_TRIAD : 2 * _TRIAD]
    return bool(middle) and place in _BESIDE_MIDDLE and not any(hard in hardest for hard in middle)


def _second_is_well_placed(nine: Sequence[int]) -> bool:
    lowest, second = sorted(nine)[:2]
    return _triad_of(nine, second) in {0, _TRIADS_OF_A_NINE - 1} - {_triad_of(nine, lowest)}
