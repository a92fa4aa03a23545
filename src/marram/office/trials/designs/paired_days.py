"""Paired days of the whole field: the coin gives the trial rules to one day of each pair."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from marram.core.errors import StudyError
from marram.evidence.designs.said_besides import after_adjusting
from marram.evidence.findings import weigh_trial
from marram.evidence.plan import Design
from marram.evidence.verdicts import FEWEST_PAIRS
from marram.evidence.weighing.odd_rows import as_query
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.plan_trial import ReadPlan, departures, plan_trial
from marram.office.trials.planned_trial import PlannedTrial, Spread
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Overlay

USUAL_PAIRS = 10
COVARIATES = ("wind", "rain", "field", "green speed", "start interval")
"""Weather and field, as the table of days heads them: known for each day, and not made by the rules that are played."""


class PairedDays(TrialDesign):
    """Pairs of days; the only design that judges what groups share, such as pace."""

    name = DesignName.PAIRED_DAYS
    design = Design.PAIRED_DAYS

    def plan(self, trial: Overlay, spread: Spread, asked: AskedPlan) -> PlannedTrial:
        """Pairs of days, with the coin thrown."""
        for option, number in (("days", asked.days), ("groups", asked.groups), ("waves", asked.waves)):
            if number is not None:
                message = f"Paired days are planned by their pairs; {option} of another design were asked for."
                raise StudyError(message, where=trial.name, hint="Give `pairs`, or another `design`.")
        asked.refuse_others(self.design, {"pairs", "adjust", "looks"})
        pairs = USUAL_PAIRS if asked.pairs is None else asked.pairs
        planned = plan_trial(
            trial, spread, pairs=pairs, seed=asked.seed, left_out=asked.left_out, looks=asked.looks or 1, bounds=asked.bounds
        )
        return replace(planned, adjust=named_covariates(asked.adjust, pairs)) if asked.adjust else planned

    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Pairs that were not played, or the other way round."""
        return departures(frozen, records)

    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh by pairs of days."""
        return weigh_trial(
            trial,
            records if frozen is None else without_unplanned(records, [pair.pair for pair in frozen.pairs]),
            planned_pairs=None if frozen is None else len(frozen.pairs),
            looks=None if frozen is None else frozen.looks,
            elsewhere=frozenset() if frozen is None else frozen.elsewhere,
            finish=[after_adjusting(frozen.adjust, records)] if frozen is not None and frozen.adjust else [],
        )


def named_covariates(named: Sequence[str], pairs: int) -> tuple[str, ...]:
    """What pairs of days are adjusted for, as the table of days heads it.

    Args:
        named: What was asked for.
        pairs: Pairs of days that are planned.

    Raises:
        StudyError: The table has no such column, one is named twice, or there are more than the pairs can bear.
    """
    found = tuple(" ".join(name.lower().split()) for name in named)
    hint = f"Name what the table of days holds: {', '.join(COVARIATES)}."
    for name in found:
        if name not in COVARIATES:
            raise StudyError(f"{name!r} is nothing that pairs of days are adjusted for.", where="adjust", hint=hint)
        if found.count(name) > 1:
            raise StudyError(f"{name} is named twice.", where="adjust", hint=hint)
    if pairs - len(found) < FEWEST_PAIRS:
        message = f"{pairs} pairs of days are too few to adjust for {len(found)}: each takes one of the {FEWEST_PAIRS} that are the fewest."
        raise StudyError(message, where="adjust", hint=f"Plan at least {FEWEST_PAIRS + len(found)} `pairs`, or adjust for less.")
    return found


def without_unplanned(records: TrialRecords, planned: Collection[str]) -> TrialRecords:
    """The records without pairs that the plan does not have: no coin was thrown for them, and they may be of another trial.

    Where no pair at all bears a name of the plan they only have other names, and stay.

    Args:
        records: What was read.
        planned: Names of the pairs of the plan.
    """
    others = {day.pair for day in records.days} - set(planned)
    if not any(day.pair in planned for day in records.days):
        return records
    checked = {entry.day for entry in records.observations if entry.is_checked}
    gone = {day.day: day.pair for day in records.days if day.pair in others and day.day not in checked}
    queried = [
        as_query(entry, f"the plan has no pair {gone[entry.day]}: it may be of another trial")
        for entry in records.observations
        if entry.day in gone
    ]
    return replace(
        records,
        days=tuple(day for day in records.days if day.day not in gone),
        observations=tuple(entry for entry in records.observations if entry.day not in gone),
        left_out=(*records.left_out, *queried),
    )
