"""Groups drawn within a day: of each day's groups half play under the trial rules and half under the ordinary ones."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from msgspec import UNSET

from marram.evidence.design_words import GROUPS_IN_A_DAY
from marram.evidence.designs.drawn_lots import draw_halves
from marram.evidence.designs.drawn_units import FIRST_WAVE, SECOND_WAVE, Drawing, Unit
from marram.evidence.plan import Design
from marram.evidence.planning.units_plan import precision_in_days
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.designs.units_design import USUAL_DAYS, USUAL_GROUPS, DrawnPlan, UnitsDesign, name_numbers, number_asked
from marram.office.trials.planned_trial import PlannedChange
from marram.records.rows import Arm

_COUNTS = "Let it be an event that does not count: two sets of rules in one competition are unfair."
_APART = "Tell groups of their own rules alone, and ask players before results are known: groups of one day talk."
_FIRST = "Only the first wave of a day is weighed: what the afternoon finds is left by the morning."
_WASH_OUT = (
    "Leave the time of one full round free on the course between the waves, and write yes under wash-out of the day; else its second wave "
    "is left out."
)


class GroupsWithinADay(UnitsDesign):
    """Groups of each day, or of each of its waves, are drawn for one set of rules or the other."""

    name = DesignName.GROUPS
    design = Design.GROUPS_IN_A_DAY
    words = GROUPS_IN_A_DAY
    sd_words = "between the groups of one day"
    asked_by = frozenset({"days", "groups", "waves"})

    def draw(self, asked: AskedPlan) -> DrawnPlan:
        """Half of the groups of each wave play under trial rules."""
        waves = (FIRST_WAVE, SECOND_WAVE) if asked.waves == 2 else ("",)
        rules: dict[Unit, tuple[Arm, ...]] = {}
        sides: list[tuple[int, int]] = []
        days = name_numbers("d", number_asked(asked.days, USUAL_DAYS))
        groups = name_numbers("g", number_asked(asked.groups, USUAL_GROUPS))
        for day, wave in product(days, waves):
            drawn = draw_halves(groups, f"{day} {wave}".rstrip(), asked.seed)
            rules |= {Unit(event=day, group=group, period=wave): (arm,) for group, arm in drawn.items()}
            arms = list(drawn.values())
            sides.append((arms.count(Arm.TRIAL), arms.count(Arm.ORDINARY)))
        precision = precision_in_days(sides)
        return DrawnPlan(
            drawing=Drawing(design=self.design, rules=rules),
            precision=precision,
            rounds=len(days) * sum(trial for trial, _ in sides) / max(precision.units, 1),
            advice=(_COUNTS, _APART, _WASH_OUT if len(waves) > 1 else _FIRST),
        )

    def with_spread(self, planned: PlannedChange) -> PlannedChange:
        """The standard deviation is that between groups, and of no difference."""
        return replace(planned, sd_between_groups=planned.sd_of_difference, sd_of_difference=UNSET)
