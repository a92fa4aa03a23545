"""Designs that draw units singly, and not days in pairs: what is the same in planning, freezing and weighing them."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial

from msgspec import UNSET

from marram.core.errors import StudyError
from marram.evidence.design_words import DesignWords
from marram.evidence.designs.by_units import ByUnits
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.designs.unit_rows import departures_of_units, query_units
from marram.evidence.findings import weigh_trial
from marram.evidence.plan import Primary, TrialPlan, refuse_design
from marram.evidence.planning.units_plan import Precision, plan_of_units
from marram.evidence.weighing.together import confounded
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.plan_trial import ReadPlan, planned_change, rehearsed
from marram.office.trials.planned_trial import DrawnUnit, PlannedChange, PlannedTrial, Spread, trial_stamp
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay

USUAL_DAYS, USUAL_GROUPS = 4, 20


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPlan:
    """What was drawn for a plan of units.

    Attributes:
        drawing: The rules of each unit.
        precision: How precisely they tell an effect.
        rounds: Rounds that the whole field, or what is drawn of it, plays under trial rules: for how often a change is met.
        advice: What must hold for the design to be believed.
    """

    drawing: Drawing
    precision: Precision
    rounds: float
    advice: tuple[str, ...]


class UnitsDesign(TrialDesign):
    """A design that draws units singly.

    Attributes:
        words: What it calls them.
        sd_words: What the standard deviation of a pilot is that of.
        asked_by: What a plan of it is asked for.
    """

    words: DesignWords
    sd_words: str
    asked_by: frozenset[str]

    @abstractmethod
    def draw(self, asked: AskedPlan) -> DrawnPlan:
        """Draw the units.

        Args:
            asked: What is asked for.

        Raises:
            StudyError: What is asked for is no plan of the design.
        """

    def plan(self, trial: Overlay, spread: Spread, asked: AskedPlan) -> PlannedTrial:
        """The plan, drawn, as it is frozen."""
        asked.refuse_others(self.design, self.asked_by)
        asked.refuse_others(self.design, {"days", "groups", "waves"})
        drawn = self.draw(asked)
        planned, refused = dict[int, TrialPlan](), []
        for change in (change for change in trial.changes if change.number not in asked.left_out):
            try:
                planned[change.number] = self._plan_change(change, spread, asked, drawn)
            except StudyError as problem:
                refused.append(f"change {change.number}: {problem.message} {problem.hint}".rstrip())
        if refused or not planned:
            hint = "Change the plan, or name a change in `left_out` and judge it at a station or in a clarity exercise."
            raise StudyError("\n  ".join(["The plan cannot answer its question:", *refused]), where=trial.name, hint=hint)
        one = next(iter(planned.values()))
        return PlannedTrial(
            trial=trial.title,
            trial_stamp=trial_stamp(trial),
            design=self.design.value,
            power=one.power,
            pairs=(),
            seed_commitment=one.commitment,
            changes=self._changes(trial, planned, spread, drawn.precision),
            drawn=tuple(_frozen(unit, rules) for unit, rules in drawn.drawing.rules.items()),
            advice=drawn.advice,
        )

    def _plan_change(self, change: Change, spread: Spread, asked: AskedPlan, drawn: DrawnPlan) -> TrialPlan:
        if change.expects is None:
            raise StudyError("Nothing is expected of it.", hint="Write expects = { outcome, direction, matters }.")
        key, met = change.expects.outcome, spread.met.get(change.number)
        guards = [Primary(outcome=guard.outcome, matters=guard.margin, sd_of_difference=1.0) for guard in change.guards]
        for refusal in refuse_design(guards, self.design):
            raise StudyError(f"Of what it must not make worse: {refusal.message}", hint=refusal.instead)
        if key not in spread.sd and not refuse_design([Primary(outcome=key, matters=1.0, sd_of_difference=1.0)], self.design):
            hint = f"Give `sd={key}=NUMBER` in {outcomes()[key].effect_unit}, from a pilot: the standard deviation {self.sd_words}."
            raise StudyError(f"How much {key} spreads is not given: the standard deviation {self.sd_words}.", hint=hint)
        return plan_of_units(
            Primary(outcome=key, matters=change.expects.matters, sd_of_difference=spread.sd.get(key, 1.0)),
            drawn.precision,
            design=self.design,
            seed=asked.seed,
            expected_meetings=None if met is None else met * spread.players * drawn.rounds,
            unit=self.words.unit,
        )

    def _changes(self, trial: Overlay, planned: Mapping[int, TrialPlan], spread: Spread, precision: Precision) -> tuple[PlannedChange, ...]:
        """Each change as it is frozen; its season is drawn as one of pairs that tell as much as the units do."""
        as_pairs = replace(spread, sd={key: sd * precision.sd_of_a_unit for key, sd in spread.sd.items()})
        outlooks, shared = rehearsed(trial, planned, as_pairs, precision.units), confounded(trial)
        found = []
        for change in trial.changes:
            plan = planned.get(change.number)
            told = planned_change(change, plan, outlooks.get(change.number, ()), shared, spread)
            if plan is not None:
                told = self.with_spread(replace(told, units_needed=plan.outcomes[0].pairs_needed, pairs_needed=UNSET))
            found.append(told)
        return tuple(found)

    def with_spread(self, planned: PlannedChange) -> PlannedChange:
        """The change with its standard deviation under the name that the design has for it."""
        return planned

    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Units that were not played, or under other rules than theirs."""
        return departures_of_units(records, self._drawing(frozen))

    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh by units."""
        drawing = self._drawing(frozen)
        return weigh_trial(
            trial,
            query_units(records, drawing),
            planned_pairs=len(drawing.rules) or None,
            elsewhere=frozenset() if frozen is None else frozen.elsewhere,
            comparing=partial(ByUnits, drawing=drawing, words=self.words),
        )

    def _drawing(self, frozen: ReadPlan | None) -> Drawing:
        drawn = () if frozen is None else frozen.drawn
        rules = {Unit(event=each.day, group=each.group, period=each.period): each.rules for each in drawn}
        return Drawing(design=self.design, rules=rules)


def number_asked(asked: int | None, usual: int) -> int:
    """A number that was asked for, or the usual one."""
    return usual if asked is None else asked


def name_numbers(letter: str, count: int) -> tuple[str, ...]:
    """So many names: d01, d02 and on."""
    return tuple(f"{letter}{number:02d}" for number in range(1, count + 1))


def _frozen(unit: Unit, rules: tuple[Arm, ...]) -> DrawnUnit:
    return DrawnUnit(unit=unit.name, rules=rules, day=unit.event, group=unit.group, period=unit.period)
