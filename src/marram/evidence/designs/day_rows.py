"""Rows of days that stand in no pairs: how many values there should have been, and what the missing ones could turn."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from math import exp, fsum, log
from statistics import median_high

from marram.evidence.weighing.account import Missing, counted_on_days, units_of_days
from marram.records.outcomes import Outcome, Per, Weighing
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords

_OUTER = 0.05  # missing values are supposed as low, or as high, as the outermost twentieth of what was seen (ours)


def by_day(values: Sequence[Observation]) -> dict[str, list[float]]:
    """The values of each day."""
    found: dict[str, list[float]] = defaultdict(list)
    for entry in values:
        found[entry.day].append(entry.value)
    return dict(found)


def missing_on_days(outcome: Outcome, values: Sequence[Observation], records: TrialRecords, like: Callable[[TrialDay], str]) -> Missing:
    """How much of an outcome is missing.

    A group or a player that any value of a day names should have a value, and a day should have as many as the days like it. Of searches,
    rulings and drops that nobody counted, both kinds of day should have as many for each day.

    Args:
        outcome: The outcome.
        values: Its values.
        records: All that was recorded, with a set of rules for each day.
        like: What days that are like each other have in common, such as their course.
    """
    rows, days = Counter(entry.day for entry in values), [day for day in records.days if day.arm is not None]
    units, counted = units_of_days(outcome, records), counted_on_days(outcome, records)
    is_event = not (outcome.is_one_each or outcome.per is Per.GROUP_HOLE)
    usual = _usual(days, {day.day: max(rows[day.day], len(units.get(day.day, ()))) for day in days}, like)
    level = _as_many_each(days, rows) if is_event else {}
    expected: dict[str, float] = {}
    for day in days:
        if day.day in counted:
            should = counted[day.day]
        elif is_event:
            should = rows[day.day] * level[day.arm]
        else:
            should = max(float(len(units.get(day.day, ()))), usual[day.day])
        expected[day.day] = max(float(rows[day.day]), should)
    sides = {arm: [day.day for day in days if day.arm is arm] for arm in Arm}
    return Missing(
        expected={arm: fsum(expected[day] for day in names) for arm, names in sides.items()},
        seen={arm: sum(rows[day] for day in names) for arm, names in sides.items()},
        by_day={day: max(0.0, expected[day] - rows[day]) for day in expected},
    )


def _usual(days: Sequence[TrialDay], rows: Mapping[str, int], like: Callable[[TrialDay], str]) -> dict[str, float]:
    """How many rows a day should have by the days like it, field for field where every one of them says how large it was."""
    found = {}
    for day in days:
        alike = [other for other in days if like(other) == like(day)]
        fields = {other.day: _field(other) for other in alike}
        if all(fields.values()):
            found[day.day] = median_high(rows[other.day] / fields[other.day] for other in alike) * fields[day.day]
        else:
            found[day.day] = float(median_high(rows[other.day] for other in alike))
    return found


def _field(day: TrialDay) -> float:
    try:
        return max(float(dict(day.facts).get("field", "")), 0.0)
    except ValueError:
        return 0.0


def _as_many_each(days: Sequence[TrialDay], rows: Counter[str]) -> dict[Arm | None, float]:
    """By how much the rows of each kind of day fall short of those of the other, day for day."""
    each: dict[Arm | None, float] = {}
    for arm in Arm:
        own = [rows[day.day] for day in days if day.arm is arm]
        each[arm] = fsum(own) / len(own) if own else 0.0
    most = max(each.values())
    return {arm: most / found if found else 1.0 for arm, found in each.items()}


def filled_ends(
    outcome: Outcome, values: Mapping[str, Sequence[float]], missing: Missing, arms: Mapping[str, Arm | None]
) -> tuple[dict[str, float], dict[str, float]] | None:
    """The value of each day if all that is missing made the effect as low as can be, and as high; None where nothing is missing.

    Args:
        outcome: The outcome.
        values: The values of each day.
        missing: What is missing.
        arms: Under which rules each day was played.
    """
    if not any(missing.by_day.get(day, 0) > 0 for day in values):
        return None
    seen = sorted(value for own in values.values() for value in own)
    low, high = seen[int(_OUTER * (len(seen) - 1))], seen[-1 - int(_OUTER * (len(seen) - 1))]

    def filled(day: str, with_value: float) -> float:
        lacking, own = missing.by_day.get(day, 0.0), values[day]
        if outcome.kind is Weighing.LOG_MEAN:
            return exp((fsum(map(log, own)) + lacking * log(with_value)) / (len(own) + lacking))
        return (fsum(own) + lacking * with_value) / (len(own) + lacking)

    is_trial = {day: arms[day] is Arm.TRIAL for day in values}
    lowest = {day: filled(day, low if is_trial[day] else high) for day in values}
    highest = {day: filled(day, high if is_trial[day] else low) for day in values}
    return lowest, highest
