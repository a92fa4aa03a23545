"""The records of a trial from the events of a store: its two tables, without names."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from io import StringIO

from marram.core.errors import EventError
from marram.core.terms import Form
from marram.core.words import counted, plain_name
from marram.events.event_results import score_event
from marram.events.observed.day_values import DayLog, PlayedStrokes, values_of_day
from marram.office.event_records.keep_log import groups_of, open_log
from marram.office.event_records.pseudonyms import pseudonyms_of
from marram.office.events.kept_event import KeptEvent
from marram.office.scoring.results_table import safe_cell
from marram.office.trials.planned_trial import trial_stamp
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, Observation
from marram.rulebook.overlays.overlay import Overlay
from marram.scoring.cards.card import CardStatus
from marram.store.kept_rows import Hand
from marram.store.open_store import Store

_DAYS = ("day", "date", "pair", "rules", "course", "field", "start interval", "note")
_VALUES = ("day", "outcome", "value", "group", "player", "hole", "change", "question", "form", "kind", "round", "checked", "recorder")
_FULL_ROUND = 18


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedDay:
    """A day of the trial.

    Attributes:
        day: Its name in the records: that of the event.
        date: The date.
        pair: Name of its pair.
        rules: Under which rules it was played.
        course: The course.
        field: So many players started.
        interval: The start interval in minutes; empty where the terms state none.
        note: What may matter, such as a suspension.
    """

    day: str
    date: str
    pair: str
    rules: Arm
    course: str
    field: int
    interval: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialRecordsMade:
    """The records of a trial from its events.

    Attributes:
        days: The days, in order of date.
        values: The values, without names.
        remarks: What has no row though something was written down, and why.
    """

    days: tuple[RecordedDay, ...]
    values: tuple[Observation, ...]
    remarks: tuple[str, ...]


def make_records(
    store: Store, hand: Hand, trial: Overlay, events: Sequence[KeptEvent], pairs: Mapping[str, Sequence[str]]
) -> TrialRecordsMade:
    """Make the records of a trial of its events.

    Args:
        store: The store, in which the key of the names without meaning is kept.
        hand: Who does it.
        trial: The trial.
        events: The events that belong to it.
        pairs: Names of the two events of each pair, by name of the pair; empty where there are two events, which are one pair.

    Raises:
        EventError: An event has no day, is played under another trial, or is in no pair with one under the other rules.
    """
    days = _days(trial, events, pairs)
    by_name = {event.name: event for event in events}
    found: list[Observation] = []
    remarks: list[str] = []
    wanted = _wanted(trial)
    for day in days:
        event = by_name[day.day]
        of_day = values_of_day(_day_log(event, day.day), wanted)
        found += of_day.observations
        remarks += of_day.remarks
    names = {"player": [entry.player for entry in found], "recorder": [entry.recorder for entry in found]}
    meaning = pseudonyms_of(store, hand, trial.title, names)
    # sorted when the names are gone, so that the order of the rows tells nothing of them
    values = sorted((_nameless(entry, meaning) for entry in found), key=_order)
    return TrialRecordsMade(days=days, values=tuple(values), remarks=tuple(remarks))


def _order(entry: Observation) -> tuple[object, ...]:
    numbers = (entry.round or 0, entry.group, entry.player, entry.hole or 0, entry.change or 0)
    return (entry.day, entry.outcome, *numbers, entry.question or 0, entry.recorder, entry.value)


def _wanted(trial: Overlay) -> frozenset[str]:
    """What the trial observes, and what counts it."""
    observed = {key for change in trial.changes for key in change.observes}
    return frozenset(observed | {outcomes()[key].counted_by for key in observed} - {""})


def _nameless(entry: Observation, meaning: Mapping[tuple[str, str], str]) -> Observation:
    player = meaning["player", plain_name(entry.player)] if entry.player else ""
    recorder = meaning["recorder", plain_name(entry.recorder)] if entry.recorder else ""
    return replace(entry, player=player, recorder=recorder)


def _days(trial: Overlay, events: Sequence[KeptEvent], pairs: Mapping[str, Sequence[str]]) -> tuple[RecordedDay, ...]:
    """The days by date, each with its pair and its rules."""
    in_order = sorted(events, key=lambda event: (str(event.terms.day or ""), event.name))
    rules = {event.name: _rules_of(trial, event) for event in in_order}
    of_pair = _pairs(pairs, rules)
    return tuple(_day(event, of_pair[event.name], rules[event.name]) for event in in_order)


def _pairs(pairs: Mapping[str, Sequence[str]], rules: Mapping[str, Arm]) -> Mapping[str, str]:
    """The pair of each event."""
    if not pairs and len(rules) == len(Arm):
        pairs = {"p01": tuple(rules)}
    found: dict[str, str] = {}
    for pair, names in pairs.items():
        for name in names:
            if name not in rules:
                raise EventError(f"Pair {pair} names {name}, which is no event of these.", hint=f"There are: {', '.join(rules)}.")
            if name in found:
                raise EventError(f"{name} stands in pair {found[name]} and in pair {pair}.", hint="An event is one day of one pair.")
            found[name] = pair
        arms = sorted(rules[name].value for name in names)
        if arms != sorted(arm.value for arm in Arm):
            told = f"Pair {pair} has {', '.join(f'{name} ({rules[name].value})' for name in names)}."
            raise EventError(told, hint="A pair is one event under the trial and one under the ordinary rules.")
    alone = [name for name in rules if name not in found]
    if alone:
        told = f"{counted(len(alone), 'event')} in no pair: {', '.join(alone[:20])}."
        raise EventError(told, hint="Say which two events are a pair, such as p01=EVENT,EVENT, or leave the others out.")
    return found


def _rules_of(trial: Overlay, event: KeptEvent) -> Arm:
    """Under which rules an event was played."""
    laid = [overlay for overlay in event.book.overlays if overlay.title == trial.title]
    if not laid:
        if event.book.edition not in trial.on:
            told = f"{event.name} was played under the edition of {event.book.edition}, and the trial is on {', '.join(trial.on)}."
            raise EventError(told, where=event.name, hint="Leave the event out.")
        return Arm.ORDINARY
    if trial_stamp(laid[0]) != trial_stamp(trial):
        told = f"{event.name} was played under a trial of that name that says something else."
        raise EventError(told, where=event.name, hint="Give the trial as it was when the event was played.")
    return Arm.TRIAL


def _day(event: KeptEvent, pair: str, rules: Arm) -> RecordedDay:
    if event.terms.day is None:
        raise EventError("The terms name no day.", where=event.name, hint="Write day = 2026-06-13 into the terms, and set them anew.")
    if event.terms.terms.rounds > 1:
        told = f"It has {event.terms.terms.rounds} rounds, and a day of a trial has one."
        raise EventError(told, where=event.name, hint="Run each round as an event of its own, or leave it out.")
    starting = event.terms.starting
    absent = {plain_name(card.player) for card in event.as_ruled() if card.status is CardStatus.DID_NOT_START}
    return RecordedDay(
        day=event.name,
        date=event.terms.day.isoformat(),
        pair=pair,
        rules=rules,
        course=event.terms.course,
        field=len(event.entries) - len(absent),
        interval=f"{starting.interval_min}" if starting is not None else "",
        note="" if event.suspension is None else event.suspension.says,
    )


def _day_log(event: KeptEvent, day: str) -> DayLog:
    log = open_log(event)
    return DayLog(
        day=day,
        groups=groups_of(event),
        holes=max((tee.holes for tee in event.terms.terms.tees.values()), default=_FULL_ROUND),
        entries=log.standing,
        watched=tuple(one for one in log.watched.values() if not one.is_struck),
        rulings=tuple(ruling for ruling in event.rulings if not ruling.is_struck),
        strokes=tuple(_strokes(event)),
        suspension=event.suspension,
        rounds=event.terms.terms.rounds,
    )


def _strokes(event: KeptEvent) -> Iterable[PlayedStrokes]:
    """Strokes of each card on which every hole was played out, with what was logged."""
    cards = event.as_ruled()
    if not cards or event.terms.terms.form is Form.MATCH_PLAY or event.terms.terms.sides.value != "individual":
        return
    scored = score_event(event.book, event.handicapping, event.terms, event.entries, cards)
    for score in (one for ranked in scored.results.ranked for one in ranked.rounds):
        strokes = [hole.strokes for hole in score.holes[: score.tee.holes]]
        if score.card.status is CardStatus.RETURNED and all(one is not None for one in strokes) and score.tee.holes == _FULL_ROUND:
            yield PlayedStrokes(player=score.card.player, round=score.card.round, strokes=sum(one or 0 for one in strokes))


def days_table(made: TrialRecordsMade) -> str:
    """The days as CSV, in the columns of a trial's records.

    Args:
        made: The records.
    """
    rows = [(day.day, day.date, day.pair, day.rules.value, day.course, day.field, day.interval, day.note) for day in made.days]
    return _table(_DAYS, rows)


def values_table(made: TrialRecordsMade) -> str:
    """The values as CSV, in the columns of a trial's records. Columns in which nothing stands are left out.

    Args:
        made: The records.
    """
    rows = [_value_row(entry) for entry in made.values]
    kept = [place for place, name in enumerate(_VALUES) if name in _VALUES[:5] or any(row[place] != "" for row in rows)]
    return _table([_VALUES[place] for place in kept], [[row[place] for place in kept] for row in rows])


def _value_row(entry: Observation) -> tuple[object, ...]:
    checked = "yes" if entry.is_checked else ""
    numbers = {"hole": entry.hole, "change": entry.change, "question": entry.question, "round": entry.round}
    shown = {name: "" if number is None else number for name, number in numbers.items()}
    value = f"{entry.value:.10g}"
    return (
        *(entry.day, entry.outcome, value, entry.group, entry.player, shown["hole"], shown["change"], shown["question"]),
        *(entry.form, entry.kind, shown["round"], checked, entry.recorder),
    )


def _table(heading: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    out = StringIO(newline="")
    table = csv.writer(out, lineterminator="\n")
    table.writerow(heading)
    for row in rows:
        table.writerow([safe_cell(cell) if isinstance(cell, str) else cell for cell in row])
    return out.getvalue()


def told_counts(made: TrialRecordsMade) -> Mapping[str, int]:
    """How many values there are of each outcome."""
    found: dict[str, int] = defaultdict(int)
    for entry in made.values:
        found[entry.outcome] += 1
    return dict(sorted(found.items()))


def pairs_of(given: Sequence[str]) -> Mapping[str, Sequence[str]]:
    """Pairs as they are typed: ``p01=EVENT,EVENT``.

    Args:
        given: The pairs.

    Raises:
        EventError: One of them names no two events.
    """
    found: dict[str, Sequence[str]] = {}
    for text in given:
        pair, sign, names = text.partition("=")
        events = [name.strip() for name in names.split(",") if name.strip()]
        if not sign or not pair.strip() or len(events) != len(Arm) or pair.strip() in found:
            raise EventError(f"{text!r} is no pair.", hint="Give each pair once, such as p01=EVENT,EVENT.")
        found[pair.strip()] = tuple(events)
    return found
