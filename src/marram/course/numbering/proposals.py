"""A proposal of which green, tees and line of play make up which hole, to be confirmed or changed one by one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.holes import likely_round
from marram.course.numbering.matching import Matched, lacking_numbers, match_holes
from marram.course.numbering.order import order_holes, walks_m

_NEAR_M, _CLEARLY, _SHORT_WALK_M = 110.0, 1.5, 80.0
"""A tee this near where it is looked for, the next one this much farther off, and a walk this short make a proposal likely (our own)."""
_BACKWARDS = ", drawn from green to tee"


class Sure(StrEnum):
    """How sure a proposal is."""

    STATED = "stated"
    DRAWN = "drawn"
    LIKELY = "likely"
    GUESS = "guess"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleEntry:
    """What makes up one hole, by name.

    Attributes:
        number: Its number.
        green: Its putting green; empty where there is none.
        tees: Its teeing areas.
        line: Its line of play; empty where there is none.
        location: Where the hole is cut; empty where it is not surveyed.
    """

    number: int
    green: str
    tees: tuple[str, ...] = ()
    line: str = ""
    location: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A proposed hole.

    Attributes:
        hole: What makes it up.
        sure: How sure it is that these go together.
        number_sure: How sure its number is.
        why: Why, in words with their distances.
    """

    hole: HoleEntry
    sure: Sure
    number_sure: Sure
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposals:
    """All holes of a course as proposed.

    Attributes:
        holes: The holes by number; those that have a number already come along as they are.
        left: Names of greens, tees, lines and hole locations that no hole is proposed for.
    """

    holes: tuple[Proposal, ...]
    left: tuple[str, ...]


def propose_holes(course: Course, *, first: str = "") -> Proposals:
    """Propose the holes of a course whose survey does not number them.

    Args:
        course: The course.
        first: Name of the green, a tee or the line of play of the first hole; empty where that is to be guessed.

    Raises:
        SurveyError: Nothing of that name goes with any hole.
    """
    lacking = lacking_numbers(course)
    stated = {number: _as_stated(course, number) for number in course.holes if number not in lacking}
    holes = [*stated.values(), *_played(match_holes(course), len(stated))]
    known = _known(list(stated), holes)
    order = order_holes(holes)
    if first:
        known.setdefault(_place_of(first, holes, course), 1)
    numbers = _numbers(order, known, frozenset(course.holes))
    walks = _Walks(order, holes, known=frozenset(known))
    proposals = [_proposal(numbers[place], holes[place], walks, place) for place in range(len(holes))]
    names = {name for proposal in proposals for name in _names(proposal.hole)}
    of_holes = {FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION}
    left = [feature.id for feature in course.features if feature.kind in of_holes and not feature.holes and feature.id not in names]
    return Proposals(holes=tuple(sorted(proposals, key=lambda proposal: proposal.hole.number)), left=tuple(left))


def _names(hole: HoleEntry) -> tuple[str, ...]:
    return tuple(name for name in (hole.green, *hole.tees, hole.line, hole.location) if name)


def _as_stated(course: Course, number: int) -> Matched:
    """A hole as the survey numbers it."""
    mine = [feature for feature in course.features if number in feature.holes]

    def first_of(kind: FeatureKind) -> Feature | None:
        return next((feature for feature in mine if feature.kind is kind), None)

    return Matched(
        green=first_of(FeatureKind.PUTTING_GREEN),
        tees=tuple(feature for feature in mine if feature.kind is FeatureKind.TEEING_AREA),
        line=first_of(FeatureKind.LINE_OF_PLAY),
        location=first_of(FeatureKind.HOLE_LOCATION),
    )


def _known(stated: Sequence[int], holes: Sequence[Matched]) -> dict[int, int]:
    """The number of each hole that the survey numbers, wholly or in part, by its place in the list."""
    known = dict(enumerate(stated))
    for place in range(len(stated), len(holes)):
        numbers = [number for feature in _features(holes[place]) for number in feature.holes if number not in known.values()]
        if numbers:
            known[place] = numbers[0]
    return known


def _features(matched: Matched) -> list[Feature]:
    return [feature for feature in (matched.line, matched.green, *matched.tees, matched.location) if feature is not None]


def _played(found: Sequence[Matched], stated: int) -> list[Matched]:
    """Without greens to which no tee leads, where there are more greens than a round has holes: those are for practice."""
    most = likely_round(len(found) + stated, least=stated)
    bare = [
        matched for matched in found if not matched.tees and matched.line is None and not any(each.holes for each in _features(matched))
    ]
    spare = max(0, len(found) + stated - most)
    dropped = {id(matched) for matched in sorted(bare, key=lambda matched: matched.begins is not None)[:spare]}
    return [matched for matched in found if id(matched) not in dropped]


def _place_of(name: str, holes: Sequence[Matched], course: Course) -> int:
    for place, matched in enumerate(holes):
        if name in {feature.id for feature in _features(matched)}:
            return place
    known = ", ".join(feature.id for feature in course.of_kind(FeatureKind.PUTTING_GREEN)[:18])
    raise SurveyError(
        f"{name!r} goes with no hole.", where="first", hint=f"Name a green, tee or line of the first hole: {known or 'none'}."
    )


# Numbers --------------------------------------------------------------------------------------------------------------


def _numbers(order: Sequence[int], known: Mapping[int, int], taken: frozenset[int]) -> list[int]:
    """The number of each hole: known ones stay, the others follow the order as well as it agrees with them, on numbers not taken."""
    count = len(order)
    turns = [(sum(known.get(place) == (at + turn) % count + 1 for at, place in enumerate(order)), -turn) for turn in range(count)]
    turn = -max(turns, default=(0, 0))[1]
    numbers = dict(known)
    used = {*taken, *known.values()}
    free = iter(number for number in range(1, count + max(used, default=0) + 1) if number not in used)
    wanted = {place: (at + turn) % count + 1 for at, place in enumerate(order)}
    for place in sorted(set(order) - set(known), key=lambda place: wanted[place]):
        numbers[place] = next(free)
    return [numbers[place] for place in range(count)]


class _Walks:
    """The walks between holes in the order proposed."""

    def __init__(self, order: Sequence[int], holes: Sequence[Matched], *, known: frozenset[int]) -> None:
        self.metres = walks_m(holes)
        self.known = known
        self.before = {place: order[at - 1] for at, place in enumerate(order)}

    def to(self, place: int) -> tuple[float, float]:
        """The walk to a hole from the one before it, and the shortest to any other hole from there."""
        before = self.before[place]
        others = [float(walk_m) for other, walk_m in enumerate(self.metres[before]) if other not in {place, before}]
        return float(self.metres[before, place]), min(others, default=math.inf)

    def how_sure(self, place: int, matched: Matched) -> Sure:
        """How sure the number of a hole is."""
        if place in self.known:
            return Sure.STATED
        walk_m, other_m = self.to(place)
        is_clear = bool(matched.tees or matched.line) and walk_m <= _SHORT_WALK_M and other_m >= _CLEARLY * walk_m
        return Sure.LIKELY if self.known and is_clear else Sure.GUESS


# Words ----------------------------------------------------------------------------------------------------------------


def _proposal(number: int, matched: Matched, walks: _Walks, place: int) -> Proposal:
    entry = HoleEntry(
        number=number,
        green="" if matched.green is None else matched.green.id,
        tees=tuple(tee.id for tee in matched.tees),
        line="" if matched.line is None else matched.line.id,
        location="" if matched.location is None else matched.location.id,
    )
    if all(number in feature.holes for feature in _features(matched)):
        return Proposal(hole=entry, sure=Sure.STATED, number_sure=Sure.STATED, why="The survey gives it this number.")
    walk_m, other_m = walks.to(place)
    return Proposal(
        hole=entry,
        sure=_how_sure(matched),
        number_sure=walks.how_sure(place, matched),
        why=" ".join(_why(matched, walk_m, other_m)),
    )


def _how_sure(matched: Matched) -> Sure:
    if matched.line is not None:
        return Sure.DRAWN if matched.green is not None and matched.tees else Sure.LIKELY
    if matched.off_m is None:
        return Sure.GUESS
    return Sure.LIKELY if matched.off_m <= _NEAR_M and matched.next_m >= _CLEARLY * matched.off_m else Sure.GUESS


def _why(matched: Matched, walk_m: float, other_m: float) -> Iterator[str]:
    if matched.line is not None:
        yield f"{matched.line.id} {'shows it' if matched.green is None else 'joins them'}{_BACKWARDS if matched.turned else ''}."
    elif matched.green is not None and matched.tees:
        length_m = matched.tees[0].geometry.distance(matched.green.geometry)
        how = "along its fairway" if matched.by == "fairway" else "straight, as a par 3"
        yield f"{matched.tees[0].id} lies {length_m:.0f} m from the green {how}; {_next_tee(matched)}."
    else:
        yield "No tee was found for it."
    other = "" if math.isinf(other_m) else f"; to the nearest other tee {other_m:.0f} m"
    yield f"Walk from the green before: {walk_m:.0f} m{other}."


def _next_tee(matched: Matched) -> str:
    if math.isinf(matched.next_m) or matched.off_m is None:
        return "no other tee will do"
    times = matched.next_m / max(matched.off_m, 1.0)
    return "another would fit as well" if times <= 1.05 else f"the next best fits {times:.1f} times worse"


def with_features(hole: HoleEntry, features: Sequence[Feature]) -> HoleEntry:
    """The hole with features put to it.

    Args:
        hole: What makes it up.
        features: A green, line of play or hole location takes the place of its own; tees together take the place of all its tees.
    """
    of_kind = {kind: [feature.id for feature in features if feature.kind is kind] for kind in FeatureKind}
    return replace(
        hole,
        green=(of_kind[FeatureKind.PUTTING_GREEN] or [hole.green])[-1],
        tees=tuple(of_kind[FeatureKind.TEEING_AREA]) or hole.tees,
        line=(of_kind[FeatureKind.LINE_OF_PLAY] or [hole.line])[-1],
        location=(of_kind[FeatureKind.HOLE_LOCATION] or [hole.location])[-1],
    )
