"""A stepped roll-out compared: each course in each period, and at which period the course went over to the trial rules."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import fsum

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.design_words import STEPS, DesignWords
from marram.evidence.designs.day_rows import by_day, filled_ends, missing_on_days
from marram.evidence.effects import Effect
from marram.evidence.fitting.stepped_effect import Cell, SteppedEffect, stepped_effect
from marram.evidence.rates import RateRatio
from marram.evidence.weighing.account import Missing
from marram.evidence.weighing.by_pairs import value_of
from marram.records.outcomes import Outcome
from marram.records.rows import Arm, LeftOutRow, Observation, TrialRecords

_HINT = "In the table of days each day of a roll-out says its course and its period, a number from 1."
_MOST_PERIODS = 100


@dataclass(frozen=True)
class ComparedSteps:
    """The values of one outcome, compared by courses and periods.

    Attributes:
        outcome: The outcome.
        values: Its values.
        records: All that was recorded.
        switches: For each course, the period from which it plays trial rules.
        drawn: For each course, the period that was drawn for it; empty where there is no plan.
    """

    outcome: Outcome
    values: Sequence[Observation]
    records: TrialRecords
    switches: Mapping[str, int]
    drawn: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def effect(self) -> SteppedEffect | None:
        """Trial rules less ordinary rules; None where courses and periods do not tell them apart."""
        return self._fitted({day: value_of(self.outcome, own) for day, own in self._by_day.items()}, self.switches)

    @property
    def as_drawn(self) -> SteppedEffect | None:
        """The effect by the steps as they were drawn; None where they were played so, or were not drawn for every course."""
        drawn = {course: self.drawn[course] for course in self.switches if course in self.drawn}
        if len(drawn) < len(self.switches) or drawn == dict(self.switches):
            return None
        return self._fitted({day: value_of(self.outcome, own) for day, own in self._by_day.items()}, drawn)

    @property
    def fewest(self) -> int:
        """How many courses have values under both sets of rules."""
        arms: dict[str, set[Arm | None]] = defaultdict(set)
        for day in self.records.days:
            if day.day in self._by_day:
                arms[day.course].add(day.arm)
        return sum(len(own) == len(Arm) for own in arms.values())

    @cached_property
    def missing(self) -> Missing:
        """How many values are missing, by set of rules."""
        return missing_on_days(self.outcome, self.values, self.records, lambda day: day.course)

    @property
    def missing_units(self) -> float:
        """Part of the periods of the courses that have no values."""
        last = max((int(day.period) for day in self.records.days), default=0)
        cells = {(day.course, day.period) for day in self.records.days if day.day in self._by_day}
        return 1 - len(cells) / (last * len(self.switches)) if last and self.switches else 1.0

    def ratio(self) -> RateRatio | None:
        """None: how many times as often is told of pairs of days alone."""
        return None

    def bounds(self) -> tuple[float, float] | None:
        """Between which ends the effect lies, whatever the missing values were."""
        ends = filled_ends(self.outcome, self._by_day, self.missing, {day.day: day.arm for day in self.records.days})
        if ends is None:
            return None
        low, high = (self._fitted(means, self.switches) for means in ends)
        return None if low is None or high is None else (low.estimate, high.estimate)

    def without_each(self) -> Iterator[tuple[str, Effect]]:
        """The effect without one course, for each course that leaves something to measure it by."""
        means = {day: value_of(self.outcome, own) for day, own in self._by_day.items()}
        for course in self.switches:
            left = {day.day for day in self.records.days if day.course != course}
            found = self._fitted({day: value for day, value in means.items() if day in left}, self.switches)
            if found is not None and found.has_spread:
                yield course, found

    def _fitted(self, means: Mapping[str, float], switches: Mapping[str, int]) -> SteppedEffect | None:
        cells: dict[tuple[str, int], list[float]] = defaultdict(list)
        for day in self.records.days:
            if day.day in means:
                cells[day.course, int(day.period)].append(means[day.day])
        if not cells:
            return None
        try:
            found = [Cell(unit=course, period=period, value=fsum(own) / len(own)) for (course, period), own in cells.items()]
            return stepped_effect(found, {cell.unit: switches[cell.unit] for cell in found})
        except StudyError:  # no period has courses under both sets of rules
            return None

    @cached_property
    def _by_day(self) -> dict[str, list[float]]:
        return by_day(self.values)


class BySteps:
    """Compare by courses that went over one after another."""

    words: DesignWords = STEPS

    def __init__(self, records: TrialRecords, periods: int | None = None, drawn: Mapping[str, int] | None = None) -> None:
        """See when each course went over.

        Args:
            records: The records; courses that never went over are not compared.
            periods: Periods that the plan has; None where there is no plan.
            drawn: For each course, the period that was drawn for it; None where there is no plan.

        Raises:
            StudyError: The table of days does not tell a roll-out; every reason is given.
        """
        self.switches, self.periods, self.drawn = steps_played(records), periods, drawn or {}
        self.records = replace(records, days=tuple(day for day in records.days if day.course in self.switches))

    @property
    def played(self) -> int:
        """How many courses were played, of a plan in every period."""
        seen: dict[str, set[str]] = defaultdict(set)
        for day in self.records.days:
            seen[day.course].add(day.period)
        return sum(len(own) >= (self.periods or 0) for own in seen.values())

    def compare(self, outcome: Outcome, values: Sequence[Observation]) -> ComparedSteps:
        """Compare the values of an outcome."""
        return ComparedSteps(outcome, values, self.records, self.switches, self.drawn)

    def effect_of(self, outcome: Outcome, values: Sequence[Observation]) -> Effect | None:
        """The effect alone."""
        return self.compare(outcome, values).effect

    def why_never(self, outcome: Outcome) -> str:  # noqa: ARG002
        """Whole days can judge every outcome."""
        return ""


def steps_played(records: TrialRecords) -> dict[str, int]:
    """For each course that plays both sets of rules, the period from which it played trial rules.

    Raises:
        StudyError: A day names no course or no period, a course plays both sets of rules in one period, or goes back.
    """
    faults = [f"day {day.day}: {fault}" for day in records.days for fault in _faults_of(day.course, day.period)]
    if faults:
        raise StudyError("The days do not tell a roll-out:\n  " + "\n  ".join(faults[:40]), where="days", hint=_HINT)
    switches = {}
    for course in dict.fromkeys(day.course for day in records.days):
        rules: dict[int, set[Arm | None]] = defaultdict(set)
        for day in records.days:
            if day.course == course:
                rules[int(day.period)].add(day.arm)
        faults += _faults_of_course(course, rules)
        on = [period for period, arms in rules.items() if Arm.TRIAL in arms]
        if on and len(on) < len(rules):
            switches[course] = min(on)
    if faults:
        raise StudyError("The days do not tell a roll-out:\n  " + "\n  ".join(faults[:40]), where="days", hint=_HINT)
    return switches


def _faults_of(course: str, period: str) -> Iterator[str]:
    if not course:
        yield "it names no course"
    if not (period.isascii() and period.isdigit() and 1 <= int(period[:4]) <= _MOST_PERIODS):
        yield f"period {period!r}; expected a number from 1 to {_MOST_PERIODS}"


def _faults_of_course(course: str, rules: Mapping[int, set[Arm | None]]) -> Iterator[str]:
    both = sorted(period for period, arms in rules.items() if len(arms) > 1)
    if both:
        yield f"course {course}, period {both[0]}: it plays both sets of rules in one period"
        return
    on = sorted(period for period, arms in rules.items() if Arm.TRIAL in arms)
    back = [period for period in sorted(rules) if on and period > on[0] and Arm.TRIAL not in rules[period]]
    if back:
        yield f"course {course}, period {back[0]}: ordinary rules after trial rules in period {on[0]}; a roll-out goes one way"


def without_unswitched(records: TrialRecords) -> tuple[TrialRecords, tuple[str, ...]]:
    """The records without the values of courses that were played under one set of rules throughout, and what is said of each.

    Such a course cannot be held against itself. Its rows are counted among those left out.

    Raises:
        StudyError: As for `steps_played`.
    """
    switches = steps_played(records)
    courses = {day.course: day.arm for day in records.days if day.course not in switches}
    if not courses:
        return records, ()
    of_day = {day.day: day.course for day in records.days if day.course in courses}
    rows = Counter((entry.day, entry.outcome) for entry in records.observations if entry.day in of_day)
    left = tuple(
        LeftOutRow(
            where=f"course {of_day[day]}", reason="its course played one set of rules throughout", day=day, outcome=outcome, rows=count
        )
        for (day, outcome), count in sorted(rows.items())
    )
    told = tuple(
        f"Course {course} never played {'trial' if arm is Arm.ORDINARY else 'ordinary'} rules: it cannot be held against itself, and its "
        f"{counted(sum(count for (day, _), count in rows.items() if of_day[day] == course), 'value')} are left out."
        for course, arm in courses.items()
    )
    kept = tuple(entry for entry in records.observations if entry.day not in of_day)
    return replace(records, observations=kept, left_out=(*records.left_out, *left)), told
