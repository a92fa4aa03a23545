"""The values of one event as rows of a trial: what was measured, and what follows from the log and the cards.

What was not observed has no row; what was watched for and did not happen has 0.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from marram.events.happened import LoggedRuling, Suspension
from marram.events.observed.group_of import GroupFinder
from marram.events.observed.group_times import TimedRound, rounds_timed
from marram.events.observed.log_entry import COUNTED, SUMMED, LogEntry, Thing, Watched
from marram.records.outcomes import Per, outcomes
from marram.records.rows import Observation

_STROKES = "strokes"
_OF_PLAYER = frozenset({Per.PLAYER_ROUND, Per.ANSWER})
_OF_GROUP = frozenset({Per.GROUP_ROUND, Per.GROUP_HOLE})


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedStrokes:
    """Strokes of a round with every hole played out.

    Attributes:
        player: The player.
        round: Number of the round.
        strokes: The strokes, penalty strokes included.
    """

    player: str
    round: int
    strokes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLog:
    """What is known of an event besides places.

    Attributes:
        day: Name of the day in the trial.
        groups: Finds the group of a player, and the hole where a group started.
        holes: Holes of a round.
        entries: What was observed and stands.
        watched: What was watched for and stands.
        rulings: Rulings that were logged and stand.
        strokes: Strokes of the cards that are in.
        suspension: The suspension of play; None where there was none.
        rounds: Rounds of the event.
    """

    day: str
    groups: GroupFinder
    holes: int
    entries: Sequence[LogEntry]
    watched: Sequence[Watched]
    rulings: Sequence[LoggedRuling]
    strokes: Sequence[PlayedStrokes]
    suspension: Suspension | None = None
    rounds: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DayValues:
    """The values of a day.

    Attributes:
        observations: The values; players and recorders by their own names still.
        remarks: What has no row though something was written down, and why.
    """

    observations: tuple[Observation, ...]
    remarks: tuple[str, ...]


def values_of_day(log: DayLog, wanted: Collection[str]) -> DayValues:
    """Work out the values of a day.

    Args:
        log: What is known of the event.
        wanted: Outcomes that the trial observes, and those that count them.
    """
    remarks: list[str] = []
    found = [*_measured(log), *_times(log, remarks), *_sums(log, remarks), *_strokes(log)]
    kept = [entry for entry in found if entry.outcome in wanted]
    other = Counter(entry.outcome for entry in found if entry.outcome not in wanted)
    remarks += [f"{log.day}: no change of the trial observes {key}; {count} values stay here" for key, count in sorted(other.items())]
    if log.rounds == 1:
        kept = [replace(entry, round=None) for entry in kept]
    return DayValues(observations=tuple(kept), remarks=tuple(remarks))


def _observation(log: DayLog, entry: LogEntry, outcome: str, value: float) -> Observation:
    group = log.groups.of_entry(entry)
    return Observation(
        day=log.day,
        outcome=outcome,
        value=value,
        group=group_name(group),
        player="" if outcomes()[outcome].per in _OF_GROUP else log.groups.player_of(entry),
        hole=entry.hole,
        change=entry.change,
        question=entry.question,
        form=entry.form,
        is_checked=entry.is_checked,
        round=entry.round,
        kind=entry.kind,
        recorder=entry.recorder,
    )


def group_name(group: int | None) -> str:
    """The name of a group in the records; empty where it is not known."""
    return "" if group is None else f"g{group:02d}"


def _measured(log: DayLog) -> Iterator[Observation]:
    """What was measured of the thing itself, or written down for the whole round."""
    for entry in log.entries:
        for key, value in entry.values.items():
            if SUMMED.get(key) is not entry.thing:
                yield _observation(log, entry, key, value)


def _times(log: DayLog, remarks: list[str]) -> Iterator[Observation]:
    """Times of rounds and holes between two times of day."""
    for entry in log.entries:
        if entry.thing is not Thing.HOLE or entry.took_min is None or "hole_min" in entry.values:
            continue
        where = f"{log.day}: group {log.groups.of_entry(entry)}, hole {entry.hole}"
        if _is_across(log.suspension, entry.times_s.values()):
            remarks.append(f"{where}: play was suspended, so there is no time of the hole")
        else:
            yield from _within(log, entry, "hole_min", entry.took_min, remarks, where)
    stated = {(log.groups.of_entry(entry), entry.round) for entry in log.entries if "round_min" in entry.values}
    for timed in rounds_timed(log.entries, log.groups, log.holes):
        where = f"{log.day}: group {timed.group}"
        if (timed.group, timed.round) in stated:
            continue
        if _is_across(log.suspension, (timed.first_s, timed.last_s)):
            remarks.append(f"{where}: play was suspended, so there is no time of the round")
        else:
            yield from _within(log, _of_round(timed), "round_min", timed.took_min, remarks, where)


def _of_round(timed: TimedRound) -> LogEntry:
    return LogEntry(id="", thing=Thing.ROUND, group=timed.group, round=timed.round)


def _within(log: DayLog, entry: LogEntry, key: str, value: float, remarks: list[str], where: str) -> Iterator[Observation]:
    """A value that follows from others, where it can be meant."""
    outcome = outcomes()[key]
    if outcome.least <= value <= outcome.most:
        yield _observation(log, entry, key, value)
    else:
        remarks.append(f"{where}: {key} of {value:g} {outcome.unit} cannot be; expected {outcome.least:g} to {outcome.most:g}")


def _is_across(suspension: Suspension | None, times_s: Iterable[int]) -> bool:
    """Whether play was suspended between the first and the last of some times."""
    known = list(times_s)
    if suspension is None:
        return False
    is_over = suspension.until_min is not None and suspension.until_min * 60 <= min(known)
    return suspension.from_min * 60 < max(known) and not is_over


def _sums(log: DayLog, remarks: list[str]) -> Iterator[Observation]:
    """Counts and sums of a round, of groups that were watched for them."""
    for key in (*COUNTED, *SUMMED):
        found, nowhere = _summed(log, key)
        if nowhere:
            remarks.append(f"{log.day}: {nowhere} entries for {key} name no group that was drawn: they are in no count")
        stated = {(log.groups.of_entry(entry), entry.round) for entry in log.entries if _is_stated(entry, key)}
        watched = {(group, one.round) for one in log.watched if one.outcome == key for group in log.groups.meant_by(one.group)}
        for group, number in sorted(watched - stated):
            entry = LogEntry(id="", thing=Thing.ROUND, group=group, round=number)
            yield _observation(log, entry, key, found.get((group, number), 0.0))
        unwatched = sorted({group for group, number in found if (group, number) not in watched | stated})
        if unwatched:
            told = ", ".join(map(str, unwatched[:20]))
            remarks.append(f"{log.day}: nobody says that group {told} was watched for {key} all round: no count")


def _is_stated(entry: LogEntry, key: str) -> bool:
    return key in entry.values and entry.thing is Thing.ROUND


def _summed(log: DayLog, key: str) -> tuple[Mapping[tuple[int, int], float], int]:
    """The sum or count by group and round, and how many entries name no group."""
    found: Counter[tuple[int, int]] = Counter()
    sums: dict[tuple[int, int], float] = {}
    nowhere = 0
    for group, number, value in _parts(log, key):
        if group is None:
            nowhere += 1
            continue
        found[group, number] += 1
        sums[group, number] = sums.get((group, number), 0.0) + value
    return sums, nowhere


def _parts(log: DayLog, key: str) -> Iterator[tuple[int | None, int, float]]:
    """Group, round and amount of each part of a sum; a ruling that is logged with its charge counts once."""
    lots: dict[tuple[int | None, str, int | None, int], dict[str, list[float]]] = {}
    for entry in log.entries:
        amount = _amount(entry, key)
        if amount is None:
            continue
        group = log.groups.of_entry(entry)
        if entry.recorder:
            lot = lots.setdefault((group, log.groups.player_of(entry), entry.hole, entry.round), {})
            lot.setdefault(entry.recorder, []).append(amount)
        else:
            yield group, entry.round, amount
    for (group, _, _, number), by in lots.items():
        yield group, number, _of_several(key, by)
    if COUNTED.get(key) is Thing.RULING:
        for ruling in log.rulings:
            yield log.groups.of_player(ruling.player), ruling.round, 1.0


def _amount(entry: LogEntry, key: str) -> float | None:
    """What an entry adds to a sum; None where it adds nothing."""
    if key in COUNTED:
        return 1.0 if entry.thing is COUNTED[key] and not entry.ruling else None
    return entry.values.get(key) if entry.thing is SUMMED[key] else None


def _of_several(key: str, by: Mapping[str, Sequence[float]]) -> float:
    """What several recorders wrote of one player, or group, on one hole is of the same things: the most that one saw, or their mean."""
    if key in COUNTED:
        return float(max(map(len, by.values())))
    return fmean(sum(amounts) for amounts in by.values())


def _strokes(log: DayLog) -> Iterator[Observation]:
    stated = {(log.groups.player_of(entry), entry.round) for entry in log.entries if _STROKES in entry.values}
    for one in log.strokes:
        if (one.player, one.round) not in stated:
            entry = LogEntry(id="", thing=Thing.ROUND, player=one.player, round=one.round)
            yield from _within(log, entry, _STROKES, float(one.strokes), [], one.player)


def needs_player(outcome: str) -> bool:
    """Whether a value of an outcome is one player's own."""
    return outcomes()[outcome].per in _OF_PLAYER
