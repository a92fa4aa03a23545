"""A stepped roll-out: every course ends with the trial rules, and when each goes over is drawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from functools import partial

from marram.core.errors import StudyError
from marram.core.words import counted
from marram.evidence.designs.by_steps import BySteps, steps_played, without_unswitched
from marram.evidence.designs.said_besides import after_steps
from marram.evidence.findings import weigh_trial
from marram.evidence.plan import Design, commitment_of
from marram.evidence.planning.steps_of_courses import FEWEST_COURSES, CourseStep, draw_steps, precision_of_steps, refusals_of_steps
from marram.evidence.sizes import USUAL_POWER
from marram.evidence.weighing.together import confounded
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.planned_alone import PlannedAlone, plan_each
from marram.office.trials.designs.trial_design import AskedPlan, TrialDesign
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import DrawnUnit, PlannedTrial, Spread, trial_stamp
from marram.records.rows import Arm, TrialRecords
from marram.rulebook.overlays.overlay import Overlay

_USUAL_STEPS, _MOST_COURSES = 3, 60
_ADVICE = (
    "In period 1 every course plays the ordinary rules; from the period that was drawn on it plays the trial rules and never goes back.",
    "A roll-out shows what went with the rules, not what they caused: what else began with a period on the courses that then went over "
    "looks the same.",
    "Write the course and the number of the period beside each day; nothing else is to change with a step, such as the set-up of a course.",
)


class SteppedRollOut(TrialDesign):
    """Courses that go over to the trial rules one after another."""

    name = DesignName.STEPPED
    design = Design.STEPPED

    def plan(self, trial: Overlay, spread: Spread, asked: AskedPlan) -> PlannedTrial:
        """The step of each course, drawn."""
        asked.refuse_others(self.design, {"courses", "steps", "days"})
        steps, days = asked.steps or _USUAL_STEPS, asked.days or 1
        refused = refusals_of_steps(asked.courses, steps)
        if refused:
            hint = " ".join(dict.fromkeys(instead for _, instead in refused))
            raise StudyError(" ".join(why for why, _ in refused), where=trial.name, hint=f"{hint} Name each with `courses`.")
        drawn = draw_steps(asked.courses, steps, asked.seed)
        on = sum(steps + 1 - each.step for each in drawn) * days
        plan = PlannedAlone(
            design=self.design,
            precision=precision_of_steps(len(drawn), steps, days=days),
            unit="course",
            needed=partial(_needed, steps=steps, days=days),
            rounds=on,
            seed=asked.seed,
            shared=confounded(trial),
        )
        return PlannedTrial(
            trial=trial.title,
            trial_stamp=trial_stamp(trial),
            design=self.design.value,
            power=USUAL_POWER,
            pairs=(),
            seed_commitment=commitment_of(asked.seed),
            changes=plan_each(trial, spread, asked.left_out, plan),
            drawn=tuple(DrawnUnit(unit=each.course, rules=_rules(each, steps)) for each in drawn),
            advice=_ADVICE,
        )

    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Courses that did not play, or went over at another step than was drawn."""
        planned = _drawn(frozen)
        played, seen = steps_played(records), {day.course for day in records.days}
        told = [f"Course {course} was planned and not played." for course in planned if course not in seen]
        told += [f"Course {course} was played and not planned." for course in seen if course not in planned]
        told += [
            f"Course {course} went over in period {played[course]}, where period {period} was drawn."
            for course, period in planned.items()
            if course in played and played[course] != period
        ]
        return (*told, *_crowded(planned, played), *without_unswitched(records)[1])

    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh by courses and periods."""
        kept, _ = without_unswitched(records)
        periods = None if frozen is None else max((len(unit.rules) for unit in frozen.drawn), default=0)
        return weigh_trial(
            trial,
            kept,
            planned_pairs=None if frozen is None else len(frozen.drawn),
            comparing=partial(BySteps, periods=periods, drawn=None if frozen is None else _drawn(frozen)),
            finish=[after_steps],
        )


def _needed(matters: float, sd: float, *, steps: int, days: int) -> int | None:
    """The fewest courses that would find an effect by as many steps."""
    courses = range(max(FEWEST_COURSES, steps), _MOST_COURSES + 1)
    return next((count for count in courses if precision_of_steps(count, steps, days=days).least_effect(sd) <= matters), None)


def _rules(each: CourseStep, steps: int) -> tuple[Arm, ...]:
    return tuple(Arm.TRIAL if period >= each.first_trial_period else Arm.ORDINARY for period in range(1, steps + 2))


def _crowded(planned: Mapping[str, int], played: Mapping[str, int]) -> list[str]:
    """Steps at which more courses went over than were drawn for it."""
    drawn, found = Counter(planned.values()), Counter(played[course] for course in planned if course in played)
    return [
        f"{counted(count, 'course')} went over in period {period}, where {drawn[period] or 'none'} {_was(drawn[period])} drawn."
        for period, count in sorted(found.items())
        if count > drawn[period]
    ]


def _drawn(frozen: ReadPlan) -> dict[str, int]:
    """For each course, the period from which it was to play trial rules."""
    return {unit.unit: unit.rules.index(Arm.TRIAL) + 1 for unit in frozen.drawn}


def _was(number: int) -> str:
    return "was" if number < 2 else "were"
