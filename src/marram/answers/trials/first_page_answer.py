"""The first page of a report, as outsiders read it: what is drawn there, number for number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.place_answer import rounded
from marram.answers.shape import Shape

if TYPE_CHECKING:
    from marram.evidence.telling.answer_bars import AnswerBar
    from marram.evidence.telling.first_page import FirstPage
    from marram.evidence.telling.resting import Band
    from marram.evidence.telling.scaled_rows import EffectRow
    from marram.evidence.telling.season import Season

Ends = tuple[float, float]


class EffectRowShape(Shape, frozen=True, kw_only=True):
    """One row of the plot.

    Attributes:
        changes: Numbers of the changes that it stands for.
        outcome: The outcome; empty where nothing was expected.
        sentence: What was measured.
        limits: Its interval and what would matter, or its margin, in units.
        word: The word for it.
        reason: Why it is no better one, or what would settle it; empty where there is nothing to say.
        sign: The square beside the word: `full` for shown or kept, `half` for open, `empty` for no or harmed.
        unit_of_scale: What is 1 on the scale, in the unit of the effect; null where nothing is.
        estimate: The effect in multiples of that, better above 0; null where there is nothing to draw.
        interval95: Its 95 % interval on the scale; null where nothing bounds it.
        interval90: Its 90 % interval on the scale; null where nothing bounds it.
        by_definition: The part of it on the scale that the change makes by definition; null where there is none.
        either_way: Whether either way would be worse.
    """

    changes: tuple[int, ...]
    outcome: str
    sentence: str
    limits: str
    word: str
    reason: str
    sign: str
    unit_of_scale: float | None
    estimate: float | None
    interval95: Ends | None
    interval90: Ends | None
    by_definition: float | None
    either_way: bool


class SeasonColumnShape(Shape, frozen=True, kw_only=True):
    """One day, event or period of the season.

    Attributes:
        name: Its name.
        date: Its date; null where it was not held, or is a span of days.
        joined: The pair or block that it belongs to; empty where it stands alone.
        held: Whether anything was recorded of it.
        weighed: Whether any value of it is weighed.
        reason: Why it, or a part of it, was lost, as it was written down; empty where all was held or nobody wrote it down.
        cells: For each row of the season the rules of each unit: `trial`, `ordinary`, or null for one that did not play.
    """

    name: str
    date: str | None
    joined: str
    held: bool
    weighed: bool
    reason: str
    cells: tuple[tuple[str | None, ...], ...]


class SeasonShape(Shape, frozen=True, kw_only=True):
    """The season as it was played.

    Attributes:
        each: What a column is: a day, an event or a period.
        unit: What one cell shows the rules of.
        rows: What each row is called; one empty name where there is one row.
        joins: What a line below joins; empty where nothing is joined.
        planned: Whether a plan says what was to be held.
        columns: The columns, in order.
    """

    each: str
    unit: str
    rows: tuple[str, ...]
    joins: str
    planned: bool
    columns: tuple[SeasonColumnShape, ...]


class LossShape(Shape, frozen=True, kw_only=True):
    """What was lost at a step.

    Attributes:
        count: How many.
        reason: Why.
    """

    count: int
    reason: str


class StepShape(Shape, frozen=True, kw_only=True):
    """How many were left at a step.

    Attributes:
        count: How many.
        word: What they are.
        losses: What was lost since the step before.
    """

    count: int
    word: str
    losses: tuple[LossShape, ...]


class BandShape(Shape, frozen=True, kw_only=True):
    """Something that grows less from step to step.

    Attributes:
        steps: The steps, the whole first.
        besides: What is to be said of what is left; empty where there is nothing.
    """

    steps: tuple[StepShape, ...]
    besides: str


class AnswerBarShape(Shape, frozen=True, kw_only=True):
    """How fair players find a change.

    Attributes:
        change: Its number.
        counts: How many gave each answer, from *much less fair* to *much fairer*.
        share: Part of those who call it fairer, weighted to who was asked where that is known; null where nobody answered.
        interval95: Its 95 % interval; null where nothing bounds it.
        worst_cases: The share if all who said nothing had said the worst, and the best; null where nobody wrote down who was asked.
        asked: How many were asked; null where nobody wrote that down.
        answered: How many answered.
    """

    change: int
    counts: tuple[int, ...]
    share: float | None
    interval95: Ends | None
    worst_cases: Ends | None
    asked: int | None
    answered: int


class FirstPageShape(Shape, frozen=True, kw_only=True):
    """What stands on the first page of a report.

    Attributes:
        mark: The report, or a look before the end of the plan.
        about: The trial, its days, courses and plan.
        spoken: One to three sentences before anything else.
        changes: A row for each change.
        guards: A row for each thing that must not get worse.
        season: The days as they were played.
        rests_on: What it rests on: days, then rows.
        answers: How fair players find each change.
    """

    mark: str
    about: str
    spoken: tuple[str, ...]
    changes: tuple[EffectRowShape, ...]
    guards: tuple[EffectRowShape, ...]
    season: SeasonShape
    rests_on: tuple[BandShape, ...]
    answers: tuple[AnswerBarShape, ...]


def first_page_shape(page: FirstPage) -> FirstPageShape:
    """The first page of a report.

    Args:
        page: The first page.
    """
    return FirstPageShape(
        mark=page.mark,
        about=page.about,
        spoken=page.spoken,
        changes=tuple(map(_row, page.changes)),
        guards=tuple(map(_row, page.guards)),
        season=_season(page.season),
        rests_on=tuple(map(_band, page.bands)),
        answers=tuple(map(_bar, page.answers)),
    )


def _row(row: EffectRow) -> EffectRowShape:
    effect = row.effect
    return EffectRowShape(
        changes=row.changes,
        outcome=row.outcome,
        sentence="".join(row.sentence),
        limits=row.limits,
        word=row.word,
        reason=row.reason,
        sign=row.sign.value,
        unit_of_scale=row.unit_of_scale,
        estimate=None if effect is None else round(effect.estimate, 4),
        interval95=None if effect is None else _ends(effect.interval95),
        interval90=None if effect is None else _ends(effect.interval90),
        by_definition=None if effect is None else rounded(effect.by_definition, 4),
        either_way=row.is_either_way,
    )


def _season(season: Season) -> SeasonShape:
    return SeasonShape(
        each=season.each,
        unit=season.unit,
        rows=season.rows,
        joins=season.joins,
        planned=season.is_planned,
        columns=tuple(
            SeasonColumnShape(
                name=column.name,
                date=None if column.dated is None else column.dated.isoformat(),
                joined=column.joined,
                held=column.is_held,
                weighed=column.is_weighed,
                reason=column.reason,
                cells=tuple(tuple(None if arm is None else arm.value for arm in cell) for cell in column.cells),
            )
            for column in season.columns
        ),
    )


def _band(band: Band) -> BandShape:
    steps = (
        StepShape(count=step.count, word=step.word, losses=tuple(LossShape(count=loss.count, reason=loss.reason) for loss in step.losses))
        for step in band.steps
    )
    return BandShape(steps=tuple(steps), besides=band.besides)


def _bar(bar: AnswerBar) -> AnswerBarShape:
    return AnswerBarShape(
        change=bar.change,
        counts=bar.counts,
        share=rounded(bar.share, 4),
        interval95=_ends(bar.interval95),
        worst_cases=_ends(bar.worst_cases),
        asked=bar.asked,
        answered=bar.answered,
    )


def _ends(ends: Ends | None) -> Ends | None:
    return None if ends is None else (round(ends[0], 4), round(ends[1], 4))
