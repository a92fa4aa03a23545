"""What every design of a trial can do: plan itself or refuse, tell where play departed from the plan, and weigh what was recorded."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Collection
from dataclasses import dataclass, replace

from marram.core.errors import StudyError
from marram.evidence.looks import Bounds
from marram.evidence.plan import Design
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import PlannedTrial, Spread
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Overlay

_OF_DESIGNS = frozenset({"pairs", "days", "groups", "waves", "courses", "steps", "times", "fold_over", "adjust", "looks"})
"""What one design is asked for and another has no use for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedPlan:
    """What a plan is asked for.

    Attributes:
        seed: Text from which everything is drawn, kept closed until the last day.
        pairs: Pairs of days; None where the design's own number is to be taken, or it has none.
        days: Days, or events of two rounds; None as for pairs.
        groups: Groups on a day; None as for pairs.
        waves: Waves of a day; None as for pairs.
        left_out: Changes that days on the course are not to judge; they go to a station or a clarity exercise.
        courses: Names of the courses of a roll-out.
        steps: Steps of a roll-out; None as for pairs.
        times: How often a fraction of days is played; None as for pairs.
        fold_over: Whether a fraction of days is played again with every change turned round.
        adjust: What the differences of pairs of days are adjusted for, as the table of days heads it.
        looks: Looks at pairs of days, the last at the end; None for that one alone.
        bounds: How the bounds of the looks lie.
    """

    seed: str
    pairs: int | None = None
    days: int | None = None
    groups: int | None = None
    waves: int | None = None
    left_out: frozenset[int] = frozenset()
    courses: tuple[str, ...] = ()
    steps: int | None = None
    times: int | None = None
    fold_over: bool = False
    adjust: tuple[str, ...] = ()
    looks: int | None = None
    bounds: Bounds = Bounds.FALLING

    def refuse_others(self, design: str, own: Collection[str]) -> None:
        """See that nothing is asked for that belongs to another design.

        Args:
            design: The design, in words.
            own: Names of what belongs to it.

        Raises:
            StudyError: Something else is asked for.
        """
        for name in sorted(_OF_DESIGNS - set(own)):
            if getattr(self, name) not in (None, (), False):
                message = f"{design.capitalize()} are not planned by {name.replace('_', ' ')}, which was asked for."
                raise StudyError(message, where="plan", hint="Leave it out, or give another `design`.")


def with_looks(asked: AskedPlan, looks: int | None, bounds: str) -> AskedPlan:
    """The same with looks.

    Args:
        asked: What the plan is asked for.
        looks: Looks, the last at the end; None for that one alone.
        bounds: How their bounds lie: ``falling`` or ``level``.
    """
    return replace(asked, looks=looks, bounds=Bounds(bounds))


class TrialDesign(ABC):
    """A design of a trial.

    Attributes:
        name: What it is asked for by.
        design: What a frozen plan of it says under `design`.
    """

    name: DesignName
    design: Design

    @abstractmethod
    def plan(self, trial: Overlay, spread: Spread, asked: AskedPlan) -> PlannedTrial:
        """The plan, drawn, as it is frozen.

        Args:
            trial: The trial.
            spread: What a pilot told.
            asked: What is asked for.

        Raises:
            StudyError: It cannot answer its question; every reason is given, with what to do instead.
        """

    @abstractmethod
    def departures(self, frozen: ReadPlan, records: TrialRecords) -> tuple[str, ...]:
        """Where play did not go as it was drawn."""

    @abstractmethod
    def weigh(self, trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReport:
        """Weigh what was recorded.

        Args:
            trial: The trial.
            records: What was recorded.
            frozen: The plan as it was frozen; None where there is none.
        """
