"""A cross-over of two rounds: everyone plays one round under each set of rules, and which comes first is drawn."""

from __future__ import annotations

from marram.core.errors import StudyError
from marram.evidence.design_words import CROSS_OVER, CROSS_OVER_BY_HALF
from marram.evidence.designs.drawn_lots import draw_halves, draw_orders
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.plan import Design
from marram.evidence.planning.units_plan import Precision, precision_in_turn
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.designs.units_design import USUAL_DAYS, USUAL_GROUPS, DrawnPlan, UnitsDesign, name_numbers, number_asked
from marram.records.rows import Arm

_ORDERS = {Arm.TRIAL: (Arm.TRIAL, Arm.ORDINARY), Arm.ORDINARY: (Arm.ORDINARY, Arm.TRIAL)}
_LEARNT = (
    "What has been learnt of a rule in the first round cannot be unlearnt in the second, so the order may matter beyond what is weighed."
)
_COUNTS = "Let it be an event that does not count: two sets of rules in one competition are unfair."
_USUAL_HALVES = 16


class CrossOver(UnitsDesign):
    """Groups play two rounds, on one day or on the two days of an event; which rules come first is drawn for each group."""

    name = DesignName.CROSS_OVER
    design = Design.CROSS_OVER
    words = CROSS_OVER
    sd_words = "of the difference of the two rounds of a group"
    asked_by = frozenset({"days", "groups"})

    def draw(self, asked: AskedPlan) -> DrawnPlan:
        """Half of the groups of each event play under trial rules first."""
        rules: dict[Unit, tuple[Arm, Arm]] = {}
        days = name_numbers("d", number_asked(asked.days, USUAL_DAYS))
        for day in days:
            drawn = draw_halves(name_numbers("g", number_asked(asked.groups, USUAL_GROUPS)), day, asked.seed)
            rules |= {Unit(event=day, group=group): _ORDERS[first] for group, first in drawn.items()}
        return DrawnPlan(
            drawing=Drawing(design=self.design, rules=dict(rules)),
            precision=_precision(rules),
            rounds=len(days),
            advice=(_LEARNT, "Groups stay together for both rounds: a group that changes is another one.", _COUNTS),
        )


class CrossOverByHalf(UnitsDesign):
    """Each half of the field plays its two rounds on a day of its own; which half plays under which rules first is drawn."""

    name = DesignName.CROSS_OVER_BY_HALF
    design = Design.CROSS_OVER_BY_HALF
    words = CROSS_OVER_BY_HALF
    sd_words = "of the difference of the two rounds of a day, each the mean of its half of the field"
    asked_by = frozenset({"days"})

    def draw(self, asked: AskedPlan) -> DrawnPlan:
        """Of the two days of each event one plays under trial rules first, by the coin."""
        days = number_asked(asked.days, _USUAL_HALVES)
        if days % 2:
            message = f"{days} days are no whole events: each half of the field plays on a day of its own."
            raise StudyError(message, where="plan", hint="Give an even number of `days`.")
        rules: dict[Unit, tuple[Arm, Arm]] = {}
        names = name_numbers("d", days)
        orders = draw_orders(name_numbers("e", days // 2), asked.seed)
        for (first, second), both in zip(orders.values(), zip(names[::2], names[1::2], strict=True), strict=True):
            rules |= {Unit(event=both[0]): _ORDERS[first], Unit(event=both[1]): _ORDERS[second]}
        halves = "Draw by lot which half of the field plays on which day, before it is known which rules come first there."
        return DrawnPlan(
            drawing=Drawing(design=self.design, rules=dict(rules)),
            precision=_precision(rules),
            rounds=days / 2,
            advice=(_LEARNT, halves, "Leave time between the rounds: the second starts on a course that nobody of the first is left on."),
        )


def _precision(rules: dict[Unit, tuple[Arm, Arm]]) -> Precision:
    firsts = [first for first, _ in rules.values()]
    return precision_in_turn(firsts.count(Arm.TRIAL), firsts.count(Arm.ORDINARY))
