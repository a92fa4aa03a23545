"""The log of an event and the records of a trial as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape
from marram.office.event_records.make_records import told_counts

if TYPE_CHECKING:
    from marram.events.observed.log_entry import LogEntry
    from marram.office.event_records.make_records import TrialRecordsMade
    from marram.office.events.kept_event import KeptEvent
    from marram.office.events.run_event import Taken


class ObservedValueShape(Shape, frozen=True, kw_only=True):
    """A value of an entry.

    Attributes:
        outcome: The outcome, by its name in the catalogue.
        value: The value, in the unit of the outcome; yes is 1, no is 0.
    """

    outcome: str
    value: float


class EventEntryAnswer(Answer, frozen=True, kw_only=True):
    """An entry of the log.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        entry: Its name in the log.
        what: What was observed: round, hole, ruling, search, drop, putt or answer.
        group: Number of the group; null where only the player or nobody is named.
        player: The player; empty where none is meant.
        hole: The hole; null for the round.
        values: What was measured.
        struck: Whether it does not stand any more.
    """

    schema: Literal["marram.event-entry/1"] = "marram.event-entry/1"
    event: str
    entry: str
    what: str
    group: int | None
    player: str
    hole: int | None
    values: tuple[ObservedValueShape, ...]
    struck: bool


class EventObservedAnswer(Answer, frozen=True, kw_only=True):
    """What a log of a day did to an event.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        added: So many entries are new.
        changed: So many took the place of what stood.
        same: So many stood as they are.
    """

    schema: Literal["marram.event-observed/1"] = "marram.event-observed/1"
    event: str
    added: int
    changed: int
    same: int


class RecordedDayShape(Shape, frozen=True, kw_only=True):
    """A day of a trial.

    Attributes:
        day: Its name in the records: that of the event.
        date: The date.
        pair: Its pair.
        rules: ``trial`` or ``ordinary``.
        field: So many players started.
    """

    day: str
    date: str
    pair: str
    rules: str
    field: int


class RecordedOutcomeShape(Shape, frozen=True, kw_only=True):
    """How many values there are.

    Attributes:
        outcome: The outcome.
        values: How many.
    """

    outcome: str
    values: int


class EventRecordsAnswer(Answer, frozen=True, kw_only=True):
    """The records of a trial from its events.

    Attributes:
        schema: Name and version of this shape.
        days: The days, in order of date.
        outcomes: How many values there are of each outcome.
        remarks: What has no row though something was written down, and why.
    """

    schema: Literal["marram.event-records/1"] = "marram.event-records/1"
    days: tuple[RecordedDayShape, ...]
    outcomes: tuple[RecordedOutcomeShape, ...]
    remarks: tuple[str, ...]


def event_entry_answer(event: KeptEvent, entry: LogEntry) -> EventEntryAnswer:
    """An entry of the log."""
    return EventEntryAnswer(
        event=event.name,
        entry=entry.id,
        what=entry.thing.value,
        group=entry.group,
        player=entry.player,
        hole=entry.hole,
        values=tuple(ObservedValueShape(outcome=key, value=value) for key, value in sorted(entry.values.items())),
        struck=entry.is_struck,
    )


def event_observed_answer(event: KeptEvent, taken: Taken) -> EventObservedAnswer:
    """What a log of a day did to an event."""
    return EventObservedAnswer(event=event.name, added=taken.added, changed=taken.changed, same=taken.same)


def event_records_answer(made: TrialRecordsMade) -> EventRecordsAnswer:
    """The records of a trial."""
    days = tuple(RecordedDayShape(day=day.day, date=day.date, pair=day.pair, rules=day.rules.value, field=day.field) for day in made.days)
    counts = tuple(RecordedOutcomeShape(outcome=key, values=count) for key, count in told_counts(made).items())
    return EventRecordsAnswer(days=days, outcomes=counts, remarks=made.remarks)
