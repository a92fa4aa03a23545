"""A season of events as outsiders read it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.events.observed.log_entry import Thing
    from marram.events.observed.season_tally import SeasonPlace, Tally
    from marram.office.event_records.tell_season import EdgeBeside, SeasonFound


class SeasonEventShape(Shape, frozen=True, kw_only=True):
    """An event of the season.

    Attributes:
        event: The event.
        date: Its day; empty where the terms name none.
    """

    event: str
    date: str


class TallyShape(Shape, frozen=True, kw_only=True):
    """What came up under one heading.

    Attributes:
        name: The hole, the place, the act or the hour; empty where nobody says.
        rulings: Rulings.
        searches: Searches.
        drops: Drops.
        took_min: Minutes that they took together, of those that were timed.
    """

    name: str
    rulings: int
    searches: int
    drops: int
    took_min: float


class SeasonPlaceShape(Shape, frozen=True, kw_only=True):
    """A place where something came up.

    Attributes:
        hole: The hole; null where it is of several, or nobody says.
        feature: Id of the thing on the survey; empty where nobody names one.
        spot: The place in words; empty where nobody says.
        x_m: Where it was measured, metres of the survey; null where nobody did.
        y_m: The same.
        rulings: Rulings.
        searches: Searches.
        drops: Drops.
    """

    hole: int | None
    feature: str
    spot: str
    x_m: float | None
    y_m: float | None
    rulings: int
    searches: int
    drops: int


class EdgeFaultShape(Shape, frozen=True, kw_only=True):
    """What the check of the marking finds on an edge.

    Attributes:
        fault: What is wrong.
        places: At how many places.
    """

    fault: str
    places: int


class EdgeBesideShape(Shape, frozen=True, kw_only=True):
    """A penalty area beside the check of the marking.

    Attributes:
        feature: Its id on the survey.
        words: What it is.
        rulings: Rulings there.
        searches: Searches there.
        drops: Drops there.
        checked: Whether the check tried its edge.
        faults: What it finds there.
        look_at: Whether it gave rulings, and the check finds a fault too.
    """

    feature: str
    words: str
    rulings: int
    searches: int
    drops: int
    checked: bool
    faults: tuple[EdgeFaultShape, ...]
    look_at: bool


class EventSeasonAnswer(Answer, frozen=True, kw_only=True):
    """A season of events.

    Attributes:
        schema: Name and version of this shape.
        events: The events.
        rulings: Rulings.
        searches: Searches.
        drops: Drops.
        by_hole: By hole, most first.
        by_place: By the thing on the course, else by the place in words.
        by_act: By act or situation.
        by_hour: By hour of the day.
        places: The places.
        edges: Penalty areas beside the check of the marking; none where no course is given.
        unknown: Things that the log names and the survey does not have.
    """

    schema: Literal["marram.event-season/1"] = "marram.event-season/1"
    events: tuple[SeasonEventShape, ...]
    rulings: int
    searches: int
    drops: int
    by_hole: tuple[TallyShape, ...]
    by_place: tuple[TallyShape, ...]
    by_act: tuple[TallyShape, ...]
    by_hour: tuple[TallyShape, ...]
    places: tuple[SeasonPlaceShape, ...]
    edges: tuple[EdgeBesideShape, ...]
    unknown: tuple[str, ...]


def event_season_answer(found: SeasonFound, edges: Sequence[EdgeBeside], unknown: Sequence[str]) -> EventSeasonAnswer:
    """A season of events."""
    tallies = {by: tuple(map(_tally, rows)) for by, rows in found.tallies.items()}
    of_all = tallies["hole"]
    return EventSeasonAnswer(
        events=tuple(SeasonEventShape(event=event, date=day) for event, day in found.events),
        rulings=sum(row.rulings for row in of_all),
        searches=sum(row.searches for row in of_all),
        drops=sum(row.drops for row in of_all),
        by_hole=tallies["hole"],
        by_place=tallies["place"],
        by_act=tallies["act"],
        by_hour=tallies["hour"],
        places=tuple(map(_place, found.places)),
        edges=tuple(map(_edge, edges)),
        unknown=tuple(unknown),
    )


def _counts(counts: Mapping[Thing, int]) -> dict[str, int]:
    by_name = {thing.value: count for thing, count in counts.items()}
    return {"rulings": by_name.get("ruling", 0), "searches": by_name.get("search", 0), "drops": by_name.get("drop", 0)}


def _tally(row: Tally) -> TallyShape:
    return TallyShape(name=row.name, took_min=round(row.took_s / 60, 1), **_counts(row.counts))


def _place(one: SeasonPlace) -> SeasonPlaceShape:
    x_m, y_m = (None, None) if one.at is None else (round(one.at[0], 2), round(one.at[1], 2))
    return SeasonPlaceShape(hole=one.hole, feature=one.feature, spot=one.spot, x_m=x_m, y_m=y_m, **_counts(one.counts))


def _edge(one: EdgeBeside) -> EdgeBesideShape:
    faults = tuple(EdgeFaultShape(fault=fault, places=count) for fault, count in one.faults.items())
    return EdgeBesideShape(
        feature=one.feature, words=one.words, checked=one.is_checked, faults=faults, look_at=one.is_to_look_at, **_counts(one.counts)
    )
