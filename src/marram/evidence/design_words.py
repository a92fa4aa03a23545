"""What a design calls what it draws, and how it tells under which rules something was observed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from marram.core.words import counted
from marram.evidence.guards import GuardWord
from marram.evidence.plan import Design
from marram.evidence.verdicts import Overall, Verdict
from marram.records.rows import Arm


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignWords:
    """The words of a design.

    Attributes:
        design: The design.
        unit: What is drawn, one of it.
        rests_on: What an effect rests on, one of it.
        mean_of: What the values are means of, several of it.
        none_whole: What is said where no unit has values on both sides.
        is_of_days: Whether whole days are played under one set of rules.
        how: What was drawn, and why it is that which is weighed.
        sides: What days under trial rules and days under ordinary rules are called; empty for just that.
        no_spread: What is said where nothing measures how sure an effect is; empty for what is said of units that are all alike.
        parts: What has values or has none, several of it, where that is less than what is drawn.
        cleared_of: What is taken out of an effect, as the sentence of the effect says it; empty where nothing is.
        is_simulated: Whether nobody played: a forecast wrote the records.
        went_with: What each word becomes where time may have done it as well as the rules; empty where the draw shows a cause.
    """

    design: Design
    unit: str
    rests_on: str
    mean_of: str
    none_whole: str
    is_of_days: bool
    how: str
    sides: tuple[str, ...] = ()
    no_spread: str = ""
    parts: str = ""
    cleared_of: str = ""
    is_simulated: bool = False
    went_with: Mapping[str, str] = field(default_factory=dict)

    def said(self, word: Verdict | Overall | GuardWord) -> str:
        """A word as this design may say it."""
        return self.went_with.get(word.value, word.value)

    def kind(self, arm: Arm) -> str:
        """What was played under a set of rules: trial days, or rounds under trial rules."""
        if self.sides:
            return self.sides[list(Arm).index(arm)]
        return f"{arm.value} days" if self.is_of_days else f"rounds under {arm.value} rules"

    def on(self, arm: Arm) -> str:
        """Where something was observed: on trial days, or under trial rules."""
        return f"on {self.kind(arm)}" if self.is_of_days else f"under {arm.value} rules"

    def count(self, number: int) -> str:
        """So many of what is drawn."""
        return counted(number, self.unit)


PAIRED = DesignWords(
    design=Design.PAIRED_DAYS,
    unit="pair",
    rests_on="pair of days",
    mean_of="days",
    none_whole="no pair of days has values on both days",
    is_of_days=True,
    how="one day of each pair under the trial rules, by the coin. Days are weighed, not groups or players: groups of one day wait for "
    "each other.",
)
SIMULATED_PAIRS = replace(
    PAIRED,
    rests_on="simulated pair of days",
    how="nobody played these days: a forecast wrote them, in pairs with one day under each set of rules. What is expected of the rules is "
    "told, not what they did; how far days differ by themselves is what was stated with the forecast.",
    is_simulated=True,
    went_with={
        Verdict.DOES_IT.value: "is expected to do it: clearly enough to matter",
        Verdict.DOES_IT_SIZE_OPEN.value: "is expected to do it; the size is still uncertain",
        Verdict.WORKS_LESS.value: "is expected to work, but less than asked for",
        Verdict.NO_DIFFERENCE.value: "is expected to make no difference that matters",
        Verdict.OPPOSITE.value: "is expected to do the opposite, by enough to matter",
        Verdict.OPPOSITE_SLIGHT.value: "is expected to do the opposite, slightly or uncertain in size",
        Verdict.NOT_SHOWN.value: "nothing is expected either way on so many days",
        Overall.DID.value: "is expected to do what it is meant to",
        Overall.DID_NOT.value: "is not expected to do what it is meant to",
        GuardWord.KEPT.value: "is expected to be kept",
        GuardWord.HARMED.value: "is expected to be harmed",
    },
)
CHANGES = DesignWords(
    design=Design.CHANGES_OVER_DAYS,
    unit="day",
    rests_on="day",
    mean_of="days",
    none_whole="these days do not tell it from the other changes",
    is_of_days=True,
    how="on each day some of the changes were on and others not, in drawn order, so that the days tell each change from the others. Days "
    "are weighed, not groups or players: groups of one day wait for each other.",
    no_spread="days that were played alike are too few, or all the same, to see how much days differ by themselves",
)
STEPS = DesignWords(
    design=Design.STEPPED,
    unit="course",
    rests_on="course",
    mean_of="courses",
    none_whole="no course has values under both sets of rules",
    is_of_days=True,
    how="one after another the courses went over to the trial rules, at steps that were drawn. Each course is held against itself and each "
    "period against the courses that had not yet gone over, and the limits come of the draw of the steps. What went with the rules is "
    "told, not what they caused.",
    no_spread="the periods are all the same, or the steps could have been dealt out in too few ways to bound anything",
    parts="periods of the courses",
    cleared_of="with courses and season taken out ",
    went_with={
        Verdict.DOES_IT.value: "went with it: clearly enough to matter",
        Verdict.DOES_IT_SIZE_OPEN.value: "went with it; the size is still uncertain",
        Verdict.WORKS_LESS.value: "went with it, but with less than asked for",
        Verdict.NO_DIFFERENCE.value: "went with no difference that matters",
        Verdict.OPPOSITE.value: "went with the opposite, by enough to matter",
        Verdict.OPPOSITE_SLIGHT.value: "went with the opposite, slightly or uncertain in size",
        Overall.DID.value: "went with what it was meant to do",
        Overall.DID_NOT.value: "did not go with what it was meant to do",
        GuardWord.HARMED.value: "went with harm",
    },
)
CROSS_OVER = DesignWords(
    design=Design.CROSS_OVER,
    unit="group",
    rests_on="group",
    mean_of="groups",
    none_whole="no group has values of both rounds, one under each set of rules",
    is_of_days=False,
    how="each group played one round under each set of rules, and which came first was drawn. Groups are weighed, not players, each "
    "against itself, with what the round alone changes taken out. What has been learnt cannot be unlearnt, so the order may matter beyond "
    "that.",
)
CROSS_OVER_BY_HALF = DesignWords(
    design=Design.CROSS_OVER_BY_HALF,
    unit="day",
    rests_on="day of half of the field",
    mean_of="days",
    none_whole="no day has values of both rounds, one under each set of rules",
    is_of_days=False,
    how="on each day half of the field played one round under each set of rules, and which came first was drawn. Days are weighed, not "
    "groups or players, with what the round alone changes taken out. What has been learnt cannot be unlearnt, so the order may matter "
    "beyond that.",
)
GROUPS_IN_A_DAY = DesignWords(
    design=Design.GROUPS_IN_A_DAY,
    unit="group",
    rests_on="group",
    mean_of="groups",
    none_whole="no day has values under both sets of rules",
    is_of_days=False,
    how="groups were drawn within each day for one set of rules or the other. Groups are weighed, not players, and each day by itself. "
    "Times that groups share are not judged: each group waits for the group ahead, whatever its rules.",
)
