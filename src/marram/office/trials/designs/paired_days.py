"""Paired days of the whole field: the coin gives the trial rules to one day of each pair."""

from __future__ import annotations

from marram.core.errors import StudyError
from marram.evidence.findings import weigh_trial
from marram.evidence.plan import Design
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.plan_trial import PlannedTrial, ReadPlan, Spread, departures, plan_trial
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Overlay

USUAL_PAIRS = 10


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
        pairs = USUAL_PAIRS if asked.pairs is None else asked.pairs
        return plan_trial(trial, spread, pairs=pairs, seed=asked.seed, left_out=asked.left_out)

    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Pairs that were not played, or the other way round."""
        return departures(frozen, records)

    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh by pairs of days."""
        return weigh_trial(trial, records, planned_pairs=None if frozen is None else len(frozen.pairs))
