"""Every row accounted for: how many values there should have been, how many were weighed, and what the missing ones could turn.

A group or a player has one value of a round, so who has none is missing; that is seen from the other values of the day and from the
other day of the pair. Of searches, rulings and drops nobody knows how many there were unless they were counted; else the two kinds of day
are held against each other, since values written down more often on one side make the sides unlike.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import exp, fsum, log

from marram.records.outcomes import Outcome, Per, Weighing
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords

OUTER = 0.05
"""Missing values are supposed to lie as low as the lowest twentieth of what was seen, or as high as the highest (ours)."""
NOT_RESTED_ON = "no verdict or answer rests on it"
"""Why a row that nothing speaks against is not weighed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RowsOfDay:
    """What became of the rows of one outcome on one day.

    Attributes:
        outcome: Name of the outcome.
        day: Name of the day.
        arm: Under which rules it was played; None for rows of which nothing says that, where rules differ within the day.
        read: Rows that were read.
        weighed: Rows that were weighed.
        left_out: Reasons with the number of rows that were left out for them.
    """

    outcome: str
    day: str
    arm: Arm | None
    read: int
    weighed: int
    left_out: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """How much of what was to be observed is missing.

    Attributes:
        expected: Values that there should be, by set of rules; None where nothing tells.
        seen: Values that there are.
        by_day: By day, how many are missing.
    """

    expected: Mapping[Arm, float]
    seen: Mapping[Arm, int]
    by_day: Mapping[str, float]

    def share(self, arm: Arm) -> float:
        """Part of what was to be observed under a set of rules that is missing, from 0 to 1."""
        return max(0.0, 1 - self.seen[arm] / self.expected[arm]) if self.expected[arm] else 0.0

    @property
    def worst(self) -> tuple[Arm, float]:
        """The side on which more is missing, and how much of it."""
        return max(((arm, self.share(arm)) for arm in Arm), key=lambda told: told[1])


def account_for(records: TrialRecords, weighed: Sequence[Observation]) -> tuple[RowsOfDay, ...]:
    """What became of every row, by outcome and day.

    Args:
        records: The records, with what was left out.
        weighed: The observations that some finding rests on.
    """
    arm_of, arms = records.arm_finder(), {day.day: day.arm for day in records.days}
    taken = Counter((entry.outcome, entry.day, arm_of(entry)) for entry in weighed)
    kept = Counter((entry.outcome, entry.day, arm_of(entry)) for entry in records.observations)
    reasons: dict[tuple[str, str, Arm | None], Counter[str]] = defaultdict(Counter)
    for row in records.left_out:
        if row.day and row.outcome:
            reasons[row.outcome, row.day, row.arm or arms.get(row.day)][row.reason] += row.rows
    for key, count in kept.items():
        if count > taken[key]:
            reasons[key][NOT_RESTED_ON] += count - taken[key]
    return tuple(
        RowsOfDay(
            outcome=outcome,
            day=day,
            arm=arm,
            read=taken[outcome, day, arm] + sum(reasons[outcome, day, arm].values()),
            weighed=taken[outcome, day, arm],
            left_out=tuple(sorted(reasons[outcome, day, arm].items())),
        )
        for outcome, day, arm in sorted({*kept, *reasons}, key=lambda key: (key[0], key[1], key[2] or ""))
        if day in arms
    )


def missing_of(outcome: Outcome, values: Sequence[Observation], records: TrialRecords) -> Missing:
    """How much of an outcome is missing on the days of whole pairs that have any of it.

    Args:
        outcome: The outcome.
        values: Its values.
        records: All that was recorded.
    """
    rows = Counter(entry.day for entry in values)
    pairs = [(trial, ordinary) for _, trial, ordinary in records.pairs() if rows[trial.day] or rows[ordinary.day]]
    expected = dict(_expected(outcome, rows, pairs, records))
    sides = {arm: [day for pair in pairs for day in pair if day.arm is arm] for arm in Arm}
    return Missing(
        expected={arm: fsum(expected[day.day] for day in days) for arm, days in sides.items()},
        seen={arm: sum(rows[day.day] for day in days) for arm, days in sides.items()},
        by_day={day: max(0.0, expected[day] - rows[day]) for day in expected},
    )


def _expected(
    outcome: Outcome, rows: Counter[str], pairs: Sequence[tuple[TrialDay, TrialDay]], records: TrialRecords
) -> Iterator[tuple[str, float]]:
    """How many values each day should have."""
    units = units_of_days(outcome, records)
    counted = counted_on_days(outcome, records)
    is_event = not (outcome.is_one_each or outcome.per is Per.GROUP_HOLE)
    level = _as_many_on_both_sides(rows, pairs) if is_event else {}
    for pair in pairs:
        for day, other in (pair, pair[::-1]):
            if day.day in counted:
                yield day.day, max(float(rows[day.day]), counted[day.day])
            elif is_event:
                yield day.day, max(float(rows[day.day]), rows[day.day] * (level[day.arm] if day.arm is not None else 1.0))
            else:
                of_other = max(rows[other.day], len(units[other.day])) * _field_ratio(day, other)
                yield day.day, max(float(rows[day.day]), float(len(units[day.day])), of_other)


def _as_many_on_both_sides(rows: Counter[str], pairs: Sequence[tuple[TrialDay, TrialDay]]) -> dict[Arm, float]:
    """By how much the rows of each side fall short of those of the other, players for players."""
    sums = dict.fromkeys(Arm, 0.0)
    for trial, ordinary in pairs:
        sums[Arm.TRIAL] += rows[trial.day]
        sums[Arm.ORDINARY] += rows[ordinary.day] * _field_ratio(trial, ordinary)
    most = max(sums.values())
    return {arm: most / found if found else 1.0 for arm, found in sums.items()}


def _field_ratio(day: TrialDay, other: TrialDay) -> float:
    """How many players there are on a day for each one on another; 1 where the table of days does not say."""
    fields = [_number(dict(one.facts).get("field", "")) for one in (day, other)]
    return fields[0] / fields[1] if fields[0] and fields[1] else 1.0


def _number(text: str) -> float:
    try:
        return max(float(text), 0.0)
    except ValueError:
        return 0.0


def units_of_days(outcome: Outcome, records: TrialRecords) -> dict[str, set[str]]:
    """The groups, or the players, that any value of a day names."""
    found: dict[str, set[str]] = defaultdict(set)
    if outcome.is_one_each:
        for entry in records.observations:
            name = entry.group if outcome.per is Per.GROUP_ROUND else entry.player
            if name:
                found[entry.day].add(name)
    return found


def counted_on_days(outcome: Outcome, records: TrialRecords) -> dict[str, float]:
    """How many values there should be by what was counted on the day."""
    found: dict[str, float] = defaultdict(float)
    for entry in records.observations:
        if outcome.counted_by and entry.outcome == outcome.counted_by:
            found[entry.day] += entry.value
    return dict(found)


def bounds_for_the_missing(
    outcome: Outcome, paired: Sequence[tuple[TrialDay, TrialDay]], values: Mapping[str, Sequence[float]], missing: Missing
) -> tuple[float, float] | None:
    """Between which ends the effect lies if all missing values were as low, or as high, as the outermost twentieth of what was seen.

    Args:
        outcome: The outcome.
        paired: Trial day and ordinary day of each pair that is weighed.
        values: The values of each day.
        missing: What is missing.

    Returns:
        The lowest and the highest mean difference; None where nothing is missing.
    """
    if not any(missing.by_day.get(day.day, 0) > 0 for pair in paired for day in pair):
        return None
    seen = sorted(value for pair in paired for day in pair for value in values[day.day])
    low, high = seen[int(OUTER * (len(seen) - 1))], seen[-1 - int(OUTER * (len(seen) - 1))]

    def filled(day: TrialDay, with_value: float) -> float:
        lacking, own = missing.by_day.get(day.day, 0.0), values[day.day]
        if outcome.kind is Weighing.LOG_MEAN:
            return exp((fsum(map(log, own)) + lacking * log(with_value)) / (len(own) + lacking))
        return (fsum(own) + lacking * with_value) / (len(own) + lacking)

    lowest = [filled(trial, low) - filled(ordinary, high) for trial, ordinary in paired]
    highest = [filled(trial, high) - filled(ordinary, low) for trial, ordinary in paired]
    return fsum(lowest) / len(lowest), fsum(highest) / len(highest)
