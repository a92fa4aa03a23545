"""The designs that are known, and which of them a plan or a table of records belongs to."""

from __future__ import annotations

from collections import defaultdict

from marram.core.errors import StudyError
from marram.office.trials.designs.cross_over import CrossOver, CrossOverByHalf
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.groups_within_a_day import GroupsWithinADay
from marram.office.trials.designs.paired_days import PairedDays
from marram.office.trials.designs.some_changes_a_day import SomeChangesADay
from marram.office.trials.designs.stepped_rollout import SteppedRollOut
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.designs.units_design import UnitsDesign
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import PlannedTrial, Spread
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Overlay

DESIGNS: tuple[TrialDesign, ...] = (PairedDays(), CrossOver(), CrossOverByHalf(), GroupsWithinADay(), SomeChangesADay(), SteppedRollOut())
"""Every design, the usual one first."""


def plan_by_design(trial: Overlay, spread: Spread, asked: AskedPlan, name: DesignName = DesignName.PAIRED_DAYS) -> PlannedTrial:
    """Plan a trial by a design.

    Args:
        trial: The trial.
        spread: What a pilot told.
        asked: What is asked for.
        name: The design.

    Raises:
        StudyError: The plan cannot answer its question; every reason is given, with what to do instead.
    """
    if spread.past and name is not DesignName.PAIRED_DAYS:
        message = f"The earlier season tells how much two days differ, which is not what a plan of {name.value} rests on."
        raise StudyError(message, where=trial.name, hint="Give `sd` from a pilot of that design, or plan paired days.")
    return {design.name: design for design in DESIGNS}[name].plan(trial, spread, asked)


def design_of(frozen: ReadPlan | None, records: TrialRecords) -> TrialDesign:
    """The design by which records are weighed: as the plan says, else as the tables show.

    Args:
        frozen: The plan as it was frozen; None where there is none.
        records: The records.

    Raises:
        StudyError: The plan is of something that days on the course do not judge.
    """
    if frozen is None:
        return _as_the_tables_show(records)
    found = [design for design in DESIGNS if design.design is frozen.design]
    if not found:
        hint = f"Days are weighed by: {', '.join(design.design for design in DESIGNS)}."
        raise StudyError(f"The plan is of a {frozen.design}.", where="plan", hint=hint)
    _refuse_other_days(found[0], records)
    return found[0]


def _refuse_other_days(design: TrialDesign, records: TrialRecords) -> None:
    """See that a table of days is one of the design: whole days under one set of rules, or days on which rules differ."""
    is_within = isinstance(design, UnitsDesign)
    if not is_within and not isinstance(design, PairedDays):
        return
    other = next((day.day for day in records.days if (day.arm is None) is not is_within), None)
    if other is not None:
        says, hint = ("both", "trial or ordinary") if not is_within else ("one set of rules", "both")
        message = f"The plan is of {design.design}, and of day {other} the table of days says {says}: these are not the days of the plan."
        raise StudyError(message, where="days", hint=f"Write {hint} under rules, or weigh these days with their own plan.")


def _as_the_tables_show(records: TrialRecords) -> TrialDesign:
    """Paired days, unless rules differ within days; then a cross-over where values say their round.

    It is one of halves of the field where all that is recorded of a round of a day is under one set of rules.
    """
    if any(day.changes is not None for day in records.days):
        return SomeChangesADay()
    if records.days and all(day.period and not day.pair and day.arm is not None for day in records.days):
        return SteppedRollOut()
    if not any(day.arm is None for day in records.days):
        return PairedDays()
    sides: dict[tuple[str, int], set[Arm | None]] = defaultdict(set)
    for entry in records.observations:
        if entry.round is not None:
            sides[entry.day, entry.round].add(entry.arm)
    if not sides:
        return GroupsWithinADay()
    return CrossOverByHalf() if all(len(arms) == 1 for arms in sides.values()) else CrossOver()
