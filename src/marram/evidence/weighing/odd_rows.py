"""Rows that are odd: queried and not weighed until somebody has looked at them again and says that they are right.

Nothing is thrown out for lying far from the others: that is remarked on, and weighed. What is queried cannot well be as it stands: a value
beyond what the rules themselves allow, a slip of units, a table pasted twice, a player who answers twice, a day under both sets of rules.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import log
from statistics import median

from marram.evidence.clarity.recorders import recorder_remarks
from marram.evidence.models.far_out import FEWEST_IN_A_LOT, farthest_by_chance, farthest_out
from marram.records.outcomes import Outcome, Weighing, outcomes
from marram.records.rows import Arm, LeftOutRow, Observation, TrialDay, TrialRecords
from marram.rulebook.overlays.overlay import Overlay

RuleLimits = Mapping[tuple[str, Arm], float]
"""What the rules let no value go beyond, by outcome and set of rules, in the unit of the outcome."""
_SIXTY = 60
_SHORT = 1 / 15
"""A value below such a part of what is usual is short enough to ask whether minutes were written for seconds (ours)."""
_FAR_OUT = frozenset({Weighing.MEAN, Weighing.LOG_MEAN})
_UNLIKELY = 0.05
"""In so many trials at most a value is remarked on that lies far out by chance alone, for each outcome."""
_MOST_FAR_OUT = 10
_LEAST_PASTED = 4
"""From so many equal rows of a day on, rows that all stand there twice look pasted (ours)."""


def limits_of(trial: Overlay) -> RuleLimits:
    """What a trial itself says of the limits of outcomes: on ordinary days what was, on trial days what is now."""
    found: dict[tuple[str, Arm], float] = {}
    for outcome in outcomes().values():
        for change in trial.changes:
            if outcome.limit is None or change.key != outcome.limit.key:
                continue
            for arm, value in ((Arm.ORDINARY, change.was), (Arm.TRIAL, change.now)):
                if isinstance(value, int | float) and not isinstance(value, bool):
                    found[outcome.key, arm] = value * outcome.limit.times
    return found


def limited_by(trial: Overlay) -> Mapping[str, int]:
    """Which change of a trial sets the limit of an outcome, by its number."""
    keys = {change.key: change.number for change in trial.changes}
    return {key: keys[outcome.limit.key] for key, outcome in outcomes().items() if outcome.limit and outcome.limit.key in keys}


def query_rows(records: TrialRecords, limits: RuleLimits, limited: Mapping[str, int] | None = None) -> TrialRecords:
    """The records without what is odd; each odd row is listed with what to look at, and what only lies far out is remarked on.

    Args:
        records: What was read.
        limits: What the rules let no value go beyond.
        limited: By outcome, the change that sets its limit, where days differ in which changes were on.
    """
    days = {day.day: day for day in records.days}
    both = _days_under_both(records.days)
    arm_of, why = records.arm_finder(), dict[int, str]()
    for number, entry in enumerate(records.observations):
        if entry.is_checked or entry.day not in days:
            continue
        if entry.day in both:
            why[number] = both[entry.day]
        elif beyond := _beyond(entry, _arm_of_limit(entry, days[entry.day], limited or {}) or arm_of(entry), limits):
            why[number] = beyond
    for number, reason in (*_slips(records), *_pasted(records), *_answered_twice(records)):
        why.setdefault(number, reason)
    kept = tuple(entry for number, entry in enumerate(records.observations) if number not in why)
    queried = tuple(as_query(records.observations[number], reason) for number, reason in sorted(why.items()))
    return replace(
        records,
        observations=kept,
        left_out=(*records.left_out, *queried),
        remarks=(*records.remarks, *recorder_remarks(records), *_far_out(kept)),
    )


def as_query(entry: Observation, reason: str) -> LeftOutRow:
    """A row that is not weighed until somebody says that it is right."""
    where = entry.where or f"day {entry.day}, {entry.outcome}"
    return LeftOutRow(where=where, reason=reason, day=entry.day, outcome=entry.outcome, is_query=True, arm=entry.arm)


def _days_under_both(days: Sequence[TrialDay]) -> dict[str, str]:
    """Days of whole pairs that lie on one course and date under both sets of rules: the coin drew days, and this was none."""
    arms: dict[tuple[str, str], set[Arm]] = defaultdict(set)
    for day in days:
        if day.arm is not None:
            arms[day.course, day.dated.isoformat()].add(day.arm)
    mixed = {day.event for day in days if day.course and len(arms[day.course, day.dated.isoformat()]) > 1}
    reason = "its pair has a course that was played under both sets of rules on one date: look at the dates and courses of the days"
    return {day.day: reason for day in days if day.event in mixed}


def _arm_of_limit(entry: Observation, day: TrialDay, limited: Mapping[str, int]) -> Arm | None:
    """Under which rules the limit of a value stood on a day with some of the changes; None where that is as the day was."""
    if day.changes is None or entry.outcome not in limited:
        return None
    return Arm.TRIAL if limited[entry.outcome] in day.changes else Arm.ORDINARY


def _beyond(entry: Observation, arm: Arm | None, limits: RuleLimits) -> str:
    limit = None if arm is None else limits.get((entry.outcome, arm))
    if limit is None or entry.value <= limit:
        return ""
    unit = outcomes()[entry.outcome].unit
    return f"{entry.value:g} {unit} is beyond the {limit:g} {unit} that the rules of the day allow: a slip, or play went on too long"


def _slips(records: TrialRecords) -> Iterator[tuple[int, str]]:
    """Times that read like minutes among seconds, or like seconds among minutes."""
    for outcome in {entry.outcome for entry in records.observations}:
        of = outcomes()[outcome]
        if of.unit in {"s", "min"}:
            yield from _slips_of(of, [(number, entry) for number, entry in enumerate(records.observations) if entry.outcome == outcome])


def _slips_of(outcome: Outcome, rows: list[tuple[int, Observation]]) -> Iterator[tuple[int, str]]:
    usual = median(entry.value for _, entry in rows)
    by_day: dict[str, list[float]] = defaultdict(list)
    for _, entry in rows:
        by_day[entry.day].append(entry.value)
    short_days = {day for day, values in by_day.items() if 0 < median(values) < usual * _SHORT}
    other = "minutes" if outcome.unit == "s" else "hours"
    for number, entry in rows:
        is_short = 0 < entry.value < usual * _SHORT and entry.value * _SIXTY <= outcome.most
        if is_short and not entry.is_checked and (entry.day in short_days or not float(entry.value).is_integer()):
            yield number, f"{entry.value:g} {outcome.unit} where {usual:g} is usual: it reads like {other}"


def _pasted(records: TrialRecords) -> Iterator[tuple[int, str]]:
    """Of a day on which every row of an outcome stands there twice, the second of each."""
    rows: dict[tuple[str, str], list[tuple[int, Observation]]] = defaultdict(list)
    for number, entry in enumerate(records.observations):
        rows[entry.day, entry.outcome].append((number, entry))
    for found in rows.values():
        counts = Counter(_told(entry) for _, entry in found)
        if sum(counts.values()) < _LEAST_PASTED or len(counts) < 2 or any(count % 2 for count in counts.values()):
            continue
        seen: Counter[tuple[object, ...]] = Counter()
        for number, entry in found:
            seen[_told(entry)] += 1
            if seen[_told(entry)] > counts[_told(entry)] // 2 and not entry.is_checked:
                yield number, f"every row of {entry.outcome} on that day stands there twice: it looks pasted twice"


def _told(entry: Observation) -> tuple[object, ...]:
    return (entry.value, entry.group, entry.player, entry.hole, entry.change, entry.question, entry.round, entry.arm)


def _answered_twice(records: TrialRecords) -> Iterator[tuple[int, str]]:
    """Answers of a player who has answered the same of the same change on the same day already."""
    seen: set[tuple[object, ...]] = set()
    for number, entry in enumerate(records.observations):
        if not entry.player or not outcomes()[entry.outcome].is_answer:
            continue
        key = (entry.day, entry.outcome, entry.player, entry.change, entry.question, entry.round)
        if key in seen and not entry.is_checked:
            yield number, f"{entry.player} has answered that already on that day"
        seen.add(key)


def _far_out(kept: Sequence[Observation]) -> Iterator[str]:
    """Of the values of a day the one that lies farther out than chance well has it, over all days of its outcome together."""
    lots: dict[str, dict[str, list[Observation]]] = defaultdict(lambda: defaultdict(list))
    for entry in kept:
        if outcomes()[entry.outcome].unit != "count" and outcomes()[entry.outcome].kind in _FAR_OUT:
            lots[entry.outcome][entry.day].append(entry)
    for key in sorted(lots):
        days = [rows for rows in lots[key].values() if len(rows) >= FEWEST_IN_A_LOT]
        told = [one for rows in days for one in _farthest(outcomes()[key], rows, _UNLIKELY / len(days))]
        yield from told[:_MOST_FAR_OUT]
        if len(told) > _MOST_FAR_OUT:
            means = outcomes()[key].means.rstrip(".").lower()
            yield f"{len(told) - _MOST_FAR_OUT} more days have a value that lies far out ({means}); all are weighed."


def _farthest(outcome: Outcome, rows: Sequence[Observation], level: float) -> Iterator[str]:
    values = [log(entry.value) if outcome.kind is Weighing.LOG_MEAN else entry.value for entry in rows]
    found = farthest_out(values)
    if found is None or rows[found.place].is_checked or found.distance <= farthest_by_chance(len(values), level):
        return
    odd, rest = rows[found.place], [entry.value for place, entry in enumerate(rows) if place != found.place]
    where = odd.where or f"day {odd.day}"
    yield (
        f"{where}: a value of {odd.value:g} {outcome.unit} lies far out from the other {len(rest)} of day {odd.day} ({min(rest):g} to "
        f"{max(rest):g} {outcome.unit}; {outcome.means.rstrip('.').lower()}). It is weighed: look whether it is right."
    )
