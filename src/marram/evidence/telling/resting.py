"""What a report rests on: days planned, held and weighed, and rows read, whole and weighed, with each loss and its reason."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from marram.evidence.telling.season import Season, SeasonColumn
from marram.evidence.weighing.account import NOT_RESTED_ON
from marram.evidence.weighing.told_findings import TrialReport

NOT_SAID = "why is not written down"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """What was lost at a step, and why.

    Attributes:
        count: How many.
        reason: Why.
    """

    count: int
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """How many were left at a step.

    Attributes:
        count: How many were left.
        word: What they are, such as *held*.
        losses: What was lost since the step before.
    """

    count: int
    word: str
    losses: tuple[Loss, ...] = ()

    @property
    def lost(self) -> int:
        """How many were lost since the step before."""
        return sum(loss.count for loss in self.losses)


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Something that grows less from step to step: days, or rows.

    Attributes:
        steps: The steps, the whole first.
        besides: What is to be said of what is left, such as how many pairs it makes; empty where there is nothing.
    """

    steps: tuple[Step, ...]
    besides: str = ""

    @property
    def drawn_words(self) -> str:
        """The band in words, for those who cannot see it."""
        return f"{', '.join(f'{step.count} {step.word}' for step in self.steps)}."

    @property
    def losses_told(self) -> tuple[str, ...]:
        """Each loss with its reason."""
        return tuple(f"{loss.count} not {step.word}: {loss.reason}" for step in self.steps for loss in step.losses)


def bands_of(report: TrialReport, season: Season) -> tuple[Band, ...]:
    """Days, or what else was drawn, and rows.

    Args:
        report: What was weighed.
        season: The season.
    """
    days = _periods_of_courses(season) if season.unit == "course" else _days(season)
    return Band(steps=days, besides=report.words.count(report.pairs) if days[-1].count else ""), _rows(report)


def _days(season: Season) -> tuple[Step, ...]:
    held = [column for column in season.columns if column.is_held]
    idle = [column for column in held if not column.is_weighed]
    return (
        Step(count=len(season.columns), word=f"{season.each}s {'planned' if season.is_planned else 'written down'}"),
        Step(count=len(held), word="held", losses=_losses(column.reason or NOT_SAID for column in season.lost)),
        Step(count=len(held) - len(idle), word="weighed", losses=_losses(_why_idle(season, column) for column in idle)),
    )


def _why_idle(season: Season, column: SeasonColumn) -> str:
    """Why no value of a day that was held is weighed."""
    others = [other for other in season.columns if column.joined and other.joined == column.joined and other is not column]
    if season.joins == "one pair" and not (others and all(other.is_held for other in others)):
        return "the other day of its pair was lost"
    return "no value of it is weighed"


def _periods_of_courses(season: Season) -> tuple[Step, ...]:
    """Of a roll-out each course counts in each period."""
    cells = [(column, cell) for column in season.columns for cell in column.cells]
    held = sum(cell != (None,) for _, cell in cells)
    lost = _losses(column.reason or NOT_SAID for column, cell in cells if cell == (None,))
    weighed = sum(column.cells_weighed for column in season.columns)
    return (
        Step(count=len(cells), word=f"periods of courses {'planned' if season.is_planned else 'written down'}"),
        Step(count=held, word="held", losses=lost),
        Step(count=weighed, word="weighed", losses=_losses("no value of it is weighed" for _ in range(held - weighed))),
    )


def _losses(reasons: Iterable[str]) -> tuple[Loss, ...]:
    return tuple(Loss(count=count, reason=reason) for reason, count in Counter(reasons).most_common())


def _rows(report: TrialReport) -> Band:
    """Rows of values: whole are those that nothing speaks against, weighed those that a verdict or an answer rests on."""
    read, weighed = sum(row.read for row in report.rows), sum(row.weighed for row in report.rows)
    reasons: Counter[str] = Counter()
    for row in report.rows:
        reasons.update(dict(row.left_out))
    unused = reasons.pop(NOT_RESTED_ON, 0)
    return Band(
        steps=(
            Step(count=read, word="rows read"),
            Step(count=weighed + unused, word="whole", losses=tuple(Loss(count=n, reason=why) for why, n in reasons.most_common())),
            Step(count=weighed, word="weighed", losses=(Loss(count=unused, reason=NOT_RESTED_ON),) if unused else ()),
        )
    )


def days_weighed(report: TrialReport) -> frozenset[str]:
    """Names of the days of which any row is weighed."""
    return frozenset(row.day for row in report.rows if row.weighed)
