"""A season of events: rulings, searches and drops by hole, spot, act and time of day, and the places where most came up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from marram.events.happened import LoggedRuling
from marram.events.observed.log_entry import LogEntry, Thing

COUNTED_THINGS = (Thing.RULING, Thing.SEARCH, Thing.DROP)
JOINED_M = 15.0
"""What came up no farther apart than this, on one hole, is told as one place where nobody named a thing on the course (ours)."""
_HOUR_S = 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class CameUp:
    """A ruling, a search or a drop of a season.

    Attributes:
        event: The event.
        thing: What it was.
        hole: The hole; None where nobody says.
        act: The act or the situation; empty where nobody says.
        spot: Where it was, in words.
        feature: Id of the thing on the course; empty where nobody says.
        at: Where it was, metres of the survey; None where nobody measured.
        hour: Hour of the day; None where nobody says.
        took_s: Seconds that it took; None where nobody timed it.
    """

    event: str
    thing: Thing
    hole: int | None
    act: str = ""
    spot: str = ""
    feature: str = ""
    at: tuple[float, float] | None = None
    hour: int | None = None
    took_s: float | None = None


_TOOK = {Thing.RULING: "ruling_s", Thing.SEARCH: "search_s", Thing.DROP: "relief_s"}


def came_up(event: str, entries: Sequence[LogEntry], rulings: Sequence[LoggedRuling]) -> Iterator[CameUp]:
    """What came up in an event. A ruling that is logged with its charge and told of in the log is one ruling.

    Args:
        event: The event.
        entries: Its log.
        rulings: Its rulings that stand.
    """
    about = {entry.ruling: entry for entry in entries if entry.thing is Thing.RULING and entry.ruling}
    for entry in entries:
        if entry.thing in COUNTED_THINGS and not entry.ruling:
            yield _of_entry(event, entry, entry.hole, entry.act)
    for ruling in rulings:
        hole = None if ruling.penalty is None else ruling.penalty.hole
        act = "" if ruling.penalty is None else ruling.penalty.act
        told = about.get(ruling.id)
        if told is None:
            yield CameUp(event=event, thing=Thing.RULING, hole=hole, act=act)
        else:
            yield _of_entry(event, told, told.hole or hole, told.act or act)


def _of_entry(event: str, entry: LogEntry, hole: int | None, act: str) -> CameUp:
    return CameUp(
        event=event,
        thing=entry.thing,
        hole=hole,
        act=act,
        spot=entry.spot,
        feature=entry.feature,
        at=None if entry.x_m is None or entry.y_m is None else (entry.x_m, entry.y_m),
        hour=None if entry.at_s is None else entry.at_s // _HOUR_S,
        took_s=entry.values.get(_TOOK[entry.thing]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """How often something came up under one heading.

    Attributes:
        name: The heading, such as a hole or an act; empty where nobody says.
        counts: Rulings, searches and drops.
        took_s: Seconds that they took together, of those that were timed.
    """

    name: str
    counts: Mapping[Thing, int]
    took_s: float

    @property
    def total(self) -> int:
        """All of them."""
        return sum(self.counts.values())


def tally(found: Iterable[CameUp], by: str) -> tuple[Tally, ...]:
    """Count what came up, most first; what nobody says comes last.

    Args:
        found: What came up.
        by: A member of it: ``hole``, ``act``, ``hour`` or ``event``; ``place`` for the thing on the course, else the spot in words.
    """
    counts: dict[str, Counter[Thing]] = {}
    took: dict[str, float] = {}
    for one in found:
        value = (one.feature or one.spot) if by == "place" else getattr(one, by)
        name = "" if value is None else str(value)
        counts.setdefault(name, Counter())[one.thing] += 1
        took[name] = took.get(name, 0.0) + (one.took_s or 0.0)
    made = [Tally(name=name, counts=dict(own), took_s=took[name]) for name, own in counts.items()]
    return tuple(sorted(made, key=lambda one: (not one.name, -one.total, _in_order(one.name))))


def _in_order(name: str) -> tuple[int, str]:
    return (int(name), "") if name.isdigit() else (0, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonPlace:
    """A place where something came up.

    Attributes:
        hole: The hole; None where it is of several.
        feature: Id of the thing on the course; empty where nobody names one.
        spot: The place in words; empty where nobody says.
        at: Its middle, metres of the survey; None where nobody measured.
        found: What came up there.
    """

    hole: int | None
    feature: str
    spot: str
    at: tuple[float, float] | None
    found: tuple[CameUp, ...]

    @property
    def counts(self) -> Mapping[Thing, int]:
        """Rulings, searches and drops."""
        return Counter(one.thing for one in self.found)


def places_of(found: Sequence[CameUp]) -> tuple[SeasonPlace, ...]:
    """The places of a season, most came up first: by the thing on the course, else by where it was measured, else by its words and hole.

    Args:
        found: What came up; what has no place at all is left out.
    """
    lots: dict[object, list[CameUp]] = {}
    for one in found:
        if one.feature:
            lots.setdefault(("feature", one.feature, one.hole), []).append(one)
        elif one.at is not None:
            lots.setdefault(_near(lots, one, one.at), []).append(one)
        elif one.spot:
            lots.setdefault(("spot", " ".join(one.spot.casefold().split()), one.hole), []).append(one)
    places = [_place(own) for own in lots.values()]
    return tuple(sorted(places, key=lambda one: (-len(one.found), one.hole or 0, one.feature, one.spot)))


def _near(lots: Mapping[object, Sequence[CameUp]], one: CameUp, at: tuple[float, float]) -> object:
    """The lot of a measured place near by on the same hole, or a new one."""
    for key, own in lots.items():
        first = own[0]
        is_measured = first.at is not None and not first.feature and first.hole == one.hole
        if is_measured and first.at is not None and hypot(first.at[0] - at[0], first.at[1] - at[1]) <= JOINED_M:
            return key
    return ("at", at, one.hole)


def _place(own: Sequence[CameUp]) -> SeasonPlace:
    measured = [one.at for one in own if one.at is not None]
    middle = None
    if measured:
        middle = (sum(x for x, _ in measured) / len(measured), sum(y for _, y in measured) / len(measured))
    spot = next((one.spot for one in own if one.spot), "")
    return SeasonPlace(hole=own[0].hole, feature=own[0].feature, spot=spot, at=middle, found=tuple(own))
