"""The log of an event: what was observed and what was watched for, one by one or as the table of a day."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from marram.core.errors import EventError, RecordError
from marram.core.words import plain_name
from marram.events.entry_list import Entry, by_key
from marram.events.observed.day_values import needs_player
from marram.events.observed.group_of import GroupFinder, find_groups
from marram.events.observed.log_entry import LogEntry, Thing, Watched
from marram.interchange.observed.log_table import HINT, LogRead, outcomes_watched, read_one
from marram.interchange.tables.table_rows import Faults
from marram.office.events.kept_event import KeptEvent
from marram.office.events.run_event import Taken
from marram.office.events.writing_rows import need_reason, write_rows
from marram.records.outcomes import outcomes
from marram.store.contents import read_back, written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

_NAME = re.compile(r"L(\d+)")
_OWN_NAME = re.compile(r"[\w.-]{1,40}")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptLog:
    """The log of an event as it stands.

    Attributes:
        entries: Every entry by its name, those that are struck out too.
        watched: What was watched for, by what tells it apart.
    """

    entries: Mapping[str, LogEntry]
    watched: Mapping[str, Watched]

    @property
    def standing(self) -> tuple[LogEntry, ...]:
        """The entries that stand, in the order in which they were written."""
        return tuple(entry for entry in self.entries.values() if not entry.is_struck)


def open_log(event: KeptEvent) -> KeptLog:
    """The log of an event.

    Args:
        event: The event.
    """
    rows = event.rows.values()
    return KeptLog(
        entries={row.key: read_back(row.content, LogEntry, f"{row.event}, row {row.number}") for row in rows if row.kind == Kind.OBSERVED},
        watched={row.key: read_back(row.content, Watched, f"{row.event}, row {row.number}") for row in rows if row.kind == Kind.WATCHED},
    )


def groups_of(event: KeptEvent, number: int = 1) -> GroupFinder:
    """The groups of a round of an event; a round that is not drawn is played in those of the first.

    Args:
        event: The event.
        number: Number of the round.
    """
    number = number if number in event.draws or number in event.start_lists else 1
    names = [entry.player for entry in event.entries]
    return find_groups(event.draws.get(number), event.start_lists.get(number), names, event.rulings)


def entry_of(cells: Mapping[str, str]) -> LogEntry:
    """One thing that was observed, as it is typed.

    Args:
        cells: What is said of it, by the names of the columns of a log.

    Raises:
        RecordError: It cannot be used; every fault is told with its field.
    """
    return read_one(cells)


def statements_of(names: Sequence[str], groups: Sequence[int], number: int, *, is_struck: bool) -> tuple[Watched, ...]:
    """What was watched for, as it is typed.

    Args:
        names: Outcomes by their names.
        groups: Numbers of the groups; none for all.
        number: Number of the round.
        is_struck: Whether it is taken back.

    Raises:
        EventError: An outcome cannot be watched for.
    """
    return tuple(
        Watched(outcome=key, group=group, round=number, is_struck=is_struck)
        for key in outcomes_watched(names)
        for group in groups or (None,)
    )


def keep_entry(store: Store, hand: Hand, event: KeptEvent, entry: LogEntry, reason: str = "") -> LogEntry:
    """Write down one thing that was observed; under the name of an entry that stands it takes its place.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        entry: What was observed; without a name it gets the next.
        reason: Why it takes the place of what stands; empty for a new one.

    Returns:
        The entry with its name.

    Raises:
        RecordError: It is of nobody who plays, of a hole that is not there, or of a ruling that is not logged.
        EventError: An entry of that name stands and no reason is given.
    """
    faults = Faults(where="", error=RecordError, hint=HINT)
    for column, told in _find_faults(event, entry, groups_of(event, entry.round), by_key(event.entries)):
        faults.add(column, told)
    faults.refuse()
    log = open_log(event)
    if entry.id in log.entries:
        need_reason(reason, [f"entry {entry.id} stands already"])
    named = entry if entry.id else replace(entry, id=next(_next_names(log, ())))
    write_rows(store, hand, event, [_row(event, named, reason)])
    return named


def timing_row(event: KeptEvent, ruling: str, hole: int | None, seconds: float, reason: str) -> Writing:
    """The row of the log that says how long a ruling took; it takes the place of one that says so already.

    Args:
        event: The event.
        ruling: Name of the ruling, which may be about to be written itself.
        hole: The hole; None for the round.
        seconds: Seconds from the question to the answer.
        reason: Why it takes the place of what stands.

    Raises:
        EventError: No ruling takes so long, or so short.
    """
    outcome = outcomes()["ruling_s"]
    if not outcome.least <= seconds <= outcome.most:
        told = f"A ruling of {seconds:g} s cannot be."
        raise EventError(told, where=event.name, hint=f"Expected {outcome.least:g} to {outcome.most:g} seconds.")
    log = open_log(event)
    before = next((entry for entry in log.standing if entry.thing is Thing.RULING and entry.ruling == ruling), None)
    found = before or LogEntry(id=next(_next_names(log, ())), thing=Thing.RULING, ruling=ruling, hole=hole)
    return _row(event, replace(found, values={**found.values, outcome.key: seconds}), reason)


def strike_entry(store: Store, hand: Hand, event: KeptEvent, name: str, reason: str) -> LogEntry:
    """Strike out an entry.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        name: Its name.
        reason: Why.

    Raises:
        EventError: There is none of that name, or no reason is given.
    """
    found = open_log(event).entries.get(name)
    if found is None:
        raise EventError(f"There is no entry {name}.", where=event.name, hint="Give its name in the log, such as L3.")
    need_reason(reason, [f"entry {name} stands already"])
    struck = replace(found, is_struck=True)
    write_rows(store, hand, event, [_row(event, struck, reason)])
    return struck


def keep_watched(store: Store, hand: Hand, event: KeptEvent, watched: Sequence[Watched], reason: str = "") -> Taken:
    """Write down what groups were watched for all round, so that where nothing is logged nothing happened.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        watched: What was watched for.
        reason: Why what stands is taken back; empty where nothing is.

    Raises:
        RecordError: No such group was drawn.
    """
    return keep_log(store, hand, event, LogRead(entries=(), watched=tuple((0, one) for one in watched)), "", reason)


def keep_log(store: Store, hand: Hand, event: KeptEvent, read: LogRead, where: str, reason: str = "") -> Taken:
    """Write down the log of a day, all of it or nothing. Rows that are in the log already are not written again.

    A row with a name takes the place of what stands under it; of rows without one each is told apart by what it says, so that a table
    may be brought in again with rows added.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        read: The log as it was read.
        where: The table that it stood in.
        reason: Why an entry that stands is put right; empty where none is.

    Raises:
        RecordError: A row is of nobody who plays, of a hole that is not there, or says something else under a name that stands; every fault
            is told with its row and column.
    """
    log = open_log(event)
    faults = Faults(where=where, error=RecordError, hint=HINT)
    names = Counter(entry.id for _, entry in read.entries if entry.id)
    known = by_key(event.entries)
    numbers = {entry.round for _, entry in read.entries} | {one.round for _, one in read.watched}
    groups = {number: groups_of(event, number) for number in numbers}
    for row, entry in read.entries:
        for column, told in _find_faults(event, entry, groups[entry.round], known):
            faults.add(f"row {row}, column {column}", told)
        if names[entry.id] > 1:
            faults.add(f"row {row}, column id", f"{entry.id} stands {names[entry.id]} times")
        elif entry.id in log.entries and log.entries[entry.id] != entry and not reason:
            faults.add(f"row {row}, column id", f"{entry.id} stands in the log and says something else; to put it right, say why")
    for row, one in read.watched:
        if one.group is not None and one.group not in groups[one.round].starts:
            faults.add(f"row {row}, column group" if row else "group", _no_group(one.group, groups[one.round]))
    faults.refuse()
    taken_back = [one.key for _, one in read.watched if one.is_struck or (one.key in log.watched and log.watched[one.key] != one)]
    need_reason(reason, [f"it is said that groups were watched: {key.partition('|')[0]}" for key in taken_back])
    named, new, same = _named(log, read)
    rows = [_row(event, entry, reason) for entry in named]
    statements = {one.key: one for _, one in read.watched if log.watched.get(one.key) != one}
    rows += [
        Writing(kind=Kind.WATCHED, key=key, content=written(one), reason=reason, supersedes=event.number_of(Kind.WATCHED, key))
        for key, one in statements.items()
    ]
    write_rows(store, hand, event, rows, seen=event.last)
    put_right = len(named) - new
    return Taken(added=new + len(statements), changed=put_right, same=same + len(read.watched) - len(statements))


def _named(log: KeptLog, read: LogRead) -> tuple[list[LogEntry], int, int]:
    """The entries that are to be written with their names, how many are new, and how many stand already."""
    unnamed = Counter(_says(entry) for entry in log.standing if _NAME.fullmatch(entry.id))
    next_name = _next_names(log, [entry.id for _, entry in read.entries])
    found: list[LogEntry] = []
    new = same = 0
    for _, entry in read.entries:
        if entry.id and log.entries.get(entry.id) == entry:
            same += 1
        elif not entry.id and unnamed[_says(entry)] > 0:
            unnamed[_says(entry)] -= 1
            same += 1
        else:
            new += entry.id not in log.entries
            found.append(entry if entry.id else replace(entry, id=next(next_name)))
    return found, new, same


def _says(entry: LogEntry) -> str:
    return written(replace(entry, id=""))


def _next_names(log: KeptLog, others: Sequence[str]) -> Iterator[str]:
    used = [int(found[1]) for name in (*log.entries, *others) if (found := _NAME.fullmatch(name))]
    number = max(used, default=0)
    while True:
        number += 1
        yield f"L{number}"


def _row(event: KeptEvent, entry: LogEntry, reason: str) -> Writing:
    supersedes = event.number_of(Kind.OBSERVED, entry.id)
    return Writing(kind=Kind.OBSERVED, key=entry.id, content=written(entry), reason=reason, supersedes=supersedes)


def _no_group(group: int, groups: GroupFinder) -> str:
    drawn = f"groups 1 to {max(groups.starts)} were drawn" if groups.starts else "no groups are drawn yet"
    return f"there is no group {group}; {drawn}"


def _find_faults(event: KeptEvent, entry: LogEntry, groups: GroupFinder, known: Mapping[str, Entry]) -> Iterator[tuple[str, str]]:
    """What is wrong with an entry, by column."""
    if entry.id and not _OWN_NAME.fullmatch(entry.id):
        yield "id", "letters, digits, points and hyphens make a name, 40 at most"
    if entry.group is not None and entry.group not in groups.starts:
        yield "group", _no_group(entry.group, groups)
    if entry.player and plain_name(entry.player) not in known:
        yield "player", f"{entry.player} has not entered"
    own = groups.of_player(entry.player) if entry.player else None
    if entry.group is not None and own is not None and own != entry.group:
        yield "group", f"{entry.player} plays in group {own}"
    holes = max((tee.holes for tee in event.terms.terms.tees.values()), default=18)
    if entry.hole is not None and entry.hole > max(holes, *(groups.starts.values() or [1])):
        yield "hole", f"there is no hole {entry.hole}"
    if entry.ruling and entry.ruling not in groups.players:
        yield "ruling", f"no ruling {entry.ruling} is logged"
    if entry.ruling and entry.thing is not Thing.RULING:
        yield "ruling", f"a {entry.thing} is no ruling"
    if entry.round > event.terms.terms.rounds:
        yield "round", f"the event has {event.terms.terms.rounds}"
    yield from _lacks(entry, groups)


def _lacks(entry: LogEntry, groups: GroupFinder) -> Iterator[tuple[str, str]]:
    """What an entry must say and does not."""
    is_of_somebody = groups.of_entry(entry) is not None or bool(groups.player_of(entry))
    if not is_of_somebody:
        yield "group", "whose it is must be said: a group, a player, or a ruling that is logged"
    if entry.thing is Thing.HOLE and entry.hole is None:
        yield "hole", "is empty"
    if entry.thing in {Thing.HOLE, Thing.ROUND} and not entry.values and not entry.times_s:
        yield "what", f"a {entry.thing} of which nothing was measured says nothing"
    if entry.times_s and entry.thing not in {Thing.HOLE, Thing.ROUND}:
        yield next(iter(entry.times_s)), f"times of a group are of a round or a hole, not of a {entry.thing}"
    for key in entry.values:
        if needs_player(key) and not groups.player_of(entry):
            yield "player", f"is empty, and {key} is one player's own"
    if (entry.x_m is None) != (entry.y_m is None):
        yield "x_m", "a place has both x_m and y_m"
