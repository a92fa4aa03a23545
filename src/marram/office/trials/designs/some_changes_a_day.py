"""Days with some of the changes: which changes are on on which day, drawn, so that days tell each change from the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from msgspec import UNSET

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.designs.by_changes import ByChanges
from marram.evidence.designs.said_besides import after_days_of_changes
from marram.evidence.findings import weigh_trial
from marram.evidence.fitting.factor_effects import FEWEST_FREEDOM
from marram.evidence.plan import Design, commitment_of
from marram.evidence.planning.days_of_changes import (
    Alias,
    aliases_told,
    draw_days,
    freedom_of,
    give_letters,
    precision_of_changes,
    tangled_pairs,
)
from marram.evidence.planning.fractions_of_days import Fraction, folded, has_usual_fraction, usual_fraction
from marram.evidence.sizes import USUAL_POWER
from marram.evidence.verdicts import FEWEST_PAIRS
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.planned_alone import PlannedAlone, plan_each, refuse_none
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.draft_trial import trial_text
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import DrawnUnit, PlannedAlias, PlannedTrial, Spread, trial_stamp
from marram.office.trials.some_changes import change_named, meeting_pairs, refuse_forbidden, with_changes
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.book import Book, open_book
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.reading.files import packaged_catalogue

_USUAL_DAYS: Mapping[int, int] = {2: 4, 3: 8, 4: 8, 5: 16, 6: 16, 7: 16}
"""Usual days of a fraction by the number of changes: the fewest on which no change goes with a pair of others."""
_MOST_TIMES = 20


class SomeChangesADay(TrialDesign):
    """Several changes at once, each on on half of the days; a saturated fraction may be played again turned round."""

    name = DesignName.CHANGES_OVER_DAYS
    design = Design.CHANGES_OVER_DAYS

    def plan(self, trial: Overlay, spread: Spread, asked: AskedPlan) -> PlannedTrial:
        """Days with the changes that are on, drawn in order."""
        asked.refuse_others(self.design, {"days", "times", "fold_over"})
        numbers = [change.number for change in trial.changes if change.number not in asked.left_out]
        laid = _Laid.of(trial, numbers, asked)
        days = draw_days(laid.fraction, laid.letters, times=laid.times, seed=asked.seed)
        refuse_forbidden(trial, laid.book_of(trial), [day.on for day in days])
        is_screening = laid.freedom < FEWEST_FREEDOM or len(days) < 2 * FEWEST_PAIRS
        if is_screening and asked.times is None:
            refuse_none([laid.why_screening(len(days))], trial)
        if not is_screening:
            refuse_none([laid.why_uncredited(alias) for alias in laid.aliases if alias.meeting], trial)
        plan = PlannedAlone(
            design=self.design,
            precision=None if is_screening else precision_of_changes(laid.fraction, laid.times),
            unit="day",
            needed=partial(_needed, plan=laid.fraction),
            rounds=len(days) / 2,
            seed=asked.seed,
            shared={},
        )
        return PlannedTrial(
            trial=trial.title,
            trial_stamp=trial_stamp(trial),
            design=self.design.value,
            power=USUAL_POWER,
            pairs=(),
            seed_commitment=commitment_of(asked.seed),
            changes=plan_each(trial, spread, asked.left_out, plan),
            drawn=tuple(DrawnUnit(unit=day.day, rules=(_arm(day.on),), day=day.day, period=day.block, changes=day.on) for day in days),
            advice=tuple(laid.advice(is_screening=is_screening)),
            aliases=tuple(_frozen(alias, laid.named) for alias in laid.aliases),
        )

    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Days that were not played, or with other changes on."""
        planned = {unit.day: _on(unit) for unit in frozen.drawn}
        played = {day.day: day.changes or () for day in records.days}
        told = [f"Day {day} was planned and not played." for day in planned if day not in played]
        told += [f"Day {day} was played and not planned." for day in played if day not in planned]
        told += [
            f"Day {day} was played with changes {_list(played[day])} on, where {_list(on)} was drawn."
            for day, on in planned.items()
            if day in played and played[day] != on
        ]
        return tuple(told)

    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh each change by its own days."""
        blocks = None if frozen is None else {unit.day: unit.period for unit in frozen.drawn}
        named = {change.number: change_named(change) for change in trial.changes}
        meeting = meeting_pairs(trial, open_book(trial.on[0], [], packaged_catalogue())) if trial.on else frozenset()
        return weigh_trial(
            trial,
            records,
            planned_pairs=None if frozen is None else len(frozen.drawn),
            comparing=partial(ByChanges, blocks=blocks),
            finish=[after_days_of_changes(named, meeting)],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """The fraction that is asked for, with the changes laid on its letters."""

    fraction: Fraction
    times: int
    letters: Mapping[str, int]
    aliases: tuple[Alias, ...]
    named: Mapping[int, str]

    @classmethod
    def of(cls, trial: Overlay, numbers: Sequence[int], asked: AskedPlan) -> _Laid:
        days = asked.days if asked.days is not None else _USUAL_DAYS.get(len(numbers), 0)
        if len(numbers) not in _USUAL_DAYS:
            message = f"By days {counted(len(numbers), 'change')} would be judged; from 2 to {max(_USUAL_DAYS)} make a fraction."
            raise StudyError(message, where=trial.name, hint="Name the others in `left_out`, or plan paired days.")
        if not trial.on:
            raise StudyError("No edition is named.", where=trial.name, hint='Write on = ["2023"], or the edition that the trial lies on.')
        plan = usual_fraction(len(numbers), days)
        plan = folded(plan) if asked.fold_over else plan
        meeting = meeting_pairs(trial, open_book(trial.on[0], [], packaged_catalogue()))
        letters = give_letters(numbers, plan, meeting)
        return cls(
            fraction=plan,
            times=_times(plan) if asked.times is None else asked.times,
            letters=letters,
            aliases=aliases_told(plan, letters, meeting),
            named={change.number: change_named(change) for change in trial.changes},
        )

    @property
    def freedom(self) -> int:
        """Degrees of freedom that the spread is seen by."""
        return freedom_of(self.fraction, self.times)

    def why_screening(self, days: int) -> str:
        """Why the days give no word."""
        return (
            f"{days} days leave {max(self.freedom, 0)} degrees of freedom to see the spread of days by; {FEWEST_FREEDOM} are the fewest "
            f"for a word. Give `times={_times(self.fraction)}`, or `times={self.times}` for a screening that gives a hint alone."
        )

    def why_uncredited(self, alias: Alias) -> str:
        """Why a change could never be credited."""
        pair = alias.meeting[0]
        more = 16 if has_usual_fraction(self.fraction.changes, 16) and len(self.fraction.days) < 16 else 0
        instead = f"Give `days={more}` or `fold_over`." if more else "Give `fold_over`."
        return (
            f"change {alias.change} cannot be told from what changes {pair[0]} and {pair[1]} do together, which touch the same, so that it "
            f"would never be credited. {instead}"
        )

    def advice(self, *, is_screening: bool) -> list[str]:
        """What must hold for the plan to be believed."""
        found = [
            "On each day the whole field plays with the changes that are on that day and with no other; write them under changes in the "
            "table of days."
        ]
        if is_screening:
            found.append(
                "A screening: no day is played alike often enough to see how sure anything is, so the report gives hints and no words."
            )
        found += [_tangled(lot, self.named) for lot in tangled_pairs(self.fraction, self.letters)]
        return found

    def book_of(self, trial: Overlay) -> Book:
        """The book that the trial lies on."""
        return open_book(trial.on[0], [], packaged_catalogue())


def overlays_of_days(trial: Overlay, planned: PlannedTrial) -> Mapping[str, str]:
    """The file of an overlay for each kind of day: what is played with its changes on, by the name of the file.

    Args:
        trial: The trial.
        planned: The plan of it.

    Raises:
        StudyError: The days of the plan do not differ in which changes are on.
    """
    kinds = sorted({_on(unit) for unit in ([] if planned.drawn is UNSET else planned.drawn)} - {()})
    if not kinds:
        message = "On every trial day of this plan all changes are on: the book of the day is the trial itself."
        raise StudyError(message, where=trial.name, hint=f"Leave it out, or give `design={DesignName.CHANGES_OVER_DAYS}`.")
    return {f"changes-{'-'.join(map(str, on))}.toml": trial_text(with_changes(trial, on)) for on in kinds}


def _needed(matters: float, sd: float, *, plan: Fraction) -> int | None:
    """The fewest days that would find an effect, the fraction played as often as need be."""
    times = range(_times(plan), _MOST_TIMES + 1)
    return next((len(plan.days) * count for count in times if precision_of_changes(plan, count).least_effect(sd) <= matters), None)


def _times(plan: Fraction) -> int:
    """How often the days must be played for a word."""
    for times in range(1, _MOST_TIMES):
        if freedom_of(plan, times) >= FEWEST_FREEDOM and len(plan.days) * times >= 2 * FEWEST_PAIRS:
            return times
    return _MOST_TIMES


def _arm(on: Sequence[int]) -> Arm:
    return Arm.TRIAL if on else Arm.ORDINARY


def _on(unit: DrawnUnit) -> tuple[int, ...]:
    return () if unit.changes is UNSET else tuple(unit.changes)


def _list(on: Sequence[int]) -> str:
    return " ".join(map(str, on)) or "none"


def _tangled(lot: Sequence[Sequence[int]], named: Mapping[int, str]) -> str:
    pairs = "; or ".join(" and ".join(f"{number} ({named[number]})" for number in pair) for pair in lot)
    return f"What two changes do together beyond what each does alone cannot be told apart for: {pairs}."


def _frozen(alias: Alias, named: Mapping[int, str]) -> PlannedAlias:
    pairs = tuple(alias.pairs)
    words = "; or ".join(" and ".join(f"change {number} ({named[number]})" for number in pair) for pair in pairs)
    larger = f", and with {counted(alias.larger, 'set of three changes or more')}" if alias.larger else ""
    told = f"goes with what {words} do together" if pairs else "goes with no pair of changes"
    return PlannedAlias(change=alias.change, pairs=pairs, meeting=tuple(alias.meeting), larger=alias.larger, words=f"{told}{larger}")
