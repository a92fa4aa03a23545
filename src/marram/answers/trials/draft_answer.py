"""A trial as it is drafted, as outsiders read it: its faults, its changes, and what a trial can observe."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from datetime import date

    from marram.office.trials.draft_trial import DraftFault, Touched
    from marram.records.outcomes import Outcome
    from marram.rulebook.overlays.overlay import Overlay


class DraftFaultShape(Shape, frozen=True, kw_only=True):
    """Something about a draft that is to be put right, or at least looked at.

    Attributes:
        change: Number of the change; null for the trial as a whole.
        stops: Whether the trial cannot be planned or used with it.
        message: What is wrong.
        remedy: What to do.
    """

    change: int | None
    stops: bool
    message: str
    remedy: str


class TrialCheckAnswer(Answer, frozen=True, kw_only=True):
    """Every fault of a draft of a trial.

    Attributes:
        schema: Name and version of this shape.
        trial: Short name of the trial.
        faults: The faults.
    """

    schema: Literal["marram.trial-check/1"] = "marram.trial-check/1"
    trial: str
    faults: tuple[DraftFaultShape, ...]


class ClarificationShape(Shape, frozen=True, kw_only=True):
    """A clarification of a trial.

    Attributes:
        dated: Its day.
        change: Number of the change that it makes clear; null where it is of the whole trial.
        text: What it says.
    """

    dated: str
    change: int | None
    text: str


class TouchedShape(Shape, frozen=True, kw_only=True):
    """One change of a trial, and what it touches.

    Attributes:
        change: Its number.
        key: Its key.
        was: The value before, as files write it.
        now: The value now.
        adds: Rows that it adds.
        adds_conditions: Conditions that it adds.
        because: Why.
        standing: Allowed as a local rule, or unofficial.
        situations: Situations in which it may come up.
        procedures: Relief procedures that it alters.
        acts: Acts that it alters.
        meets_changes: Numbers of other changes that touch the same.
    """

    change: int
    key: str
    was: bool | int | float | str | list[Any] | dict[str, Any] | None
    now: bool | int | float | str | list[Any] | dict[str, Any] | None
    adds: tuple[str, ...]
    adds_conditions: tuple[str, ...]
    because: str
    standing: str
    situations: tuple[str, ...]
    procedures: tuple[str, ...]
    acts: tuple[str, ...]
    meets_changes: tuple[int, ...]


class TouchedUnderShape(Shape, frozen=True, kw_only=True):
    """The changes of a trial on one edition.

    Attributes:
        book: The edition.
        changes: The changes.
    """

    book: str
    changes: tuple[TouchedShape, ...]


class TrialAnswer(Answer, frozen=True, kw_only=True, rename={"first_day": "from"}):
    """A trial: its text, its days, each change and what it touches.

    Attributes:
        schema: Name and version of this shape.
        title: Its title.
        dated: Day of its text.
        on: The editions that it is written for.
        status: How far it has come.
        from: First day of the trial; null where none is set.
        until: Last day of the trial; null where none is set.
        answers_until: Last day for answers; null where none is set.
        in_force_from: Day from which it is in force for all; null where none is set.
        clarifications: What was made clear since.
        may_count_for_handicap: Whether rounds under it can count for a handicap.
        books: The changes on each edition.
    """

    schema: Literal["marram.trial/1"] = "marram.trial/1"
    title: str
    dated: str
    on: tuple[str, ...]
    status: str
    first_day: str | None
    until: str | None
    answers_until: str | None
    in_force_from: str | None
    clarifications: tuple[ClarificationShape, ...]
    may_count_for_handicap: bool
    books: tuple[TouchedUnderShape, ...]


class OutcomeShape(Shape, frozen=True, kw_only=True):
    """Something that a trial may observe.

    Attributes:
        outcome: Its name.
        means: What it is.
        unit: Unit of a value.
        per: What one value belongs to.
        by: Who records it, and with what.
    """

    outcome: str
    means: str
    unit: str
    per: str
    by: str


class TrialOutcomesAnswer(Answer, frozen=True, kw_only=True):
    """What a trial can observe.

    Attributes:
        schema: Name and version of this shape.
        outcomes: The outcomes.
    """

    schema: Literal["marram.trial-outcomes/1"] = "marram.trial-outcomes/1"
    outcomes: tuple[OutcomeShape, ...]


def trial_check_answer(name: str, faults: Iterable[DraftFault], told: Callable[[str], str] = str) -> TrialCheckAnswer:
    """The faults of a draft.

    Args:
        name: Short name of the trial.
        faults: Its faults.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    shapes = (DraftFaultShape(change=fault.change, stops=fault.stops, message=fault.message, remedy=told(fault.remedy)) for fault in faults)
    return TrialCheckAnswer(trial=name, faults=tuple(shapes))


def trial_answer(trial: Overlay, touched: Mapping[str, Sequence[Touched]], *, may_count: bool) -> TrialAnswer:
    """A trial and what it touches.

    Args:
        trial: The trial.
        touched: What each change touches, by edition.
        may_count: Whether rounds under it can count for a handicap.
    """
    life = trial.life
    return TrialAnswer(
        title=trial.title,
        dated=trial.dated.isoformat(),
        on=tuple(trial.on),
        status=life.status.value,
        first_day=_day(life.first_day),
        until=_day(life.last_day),
        answers_until=_day(life.answers_until),
        in_force_from=_day(life.in_force_from),
        clarifications=tuple(
            ClarificationShape(dated=entry.dated.isoformat(), change=entry.change, text=entry.text) for entry in life.clarifications
        ),
        may_count_for_handicap=may_count,
        books=tuple(TouchedUnderShape(book=edition, changes=tuple(map(_touched, entries))) for edition, entries in touched.items()),
    )


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _touched(entry: Touched) -> TouchedShape:
    change = entry.change
    return TouchedShape(
        change=change.number,
        key=change.key,
        was=entry.was,
        now=entry.now,
        adds=tuple(row.id for row in change.adds.rows),
        adds_conditions=tuple(kind.name for kind in change.adds.conditions),
        because=change.because,
        standing=change.standing.value,
        situations=entry.situations,
        procedures=entry.procedures,
        acts=entry.acts,
        meets_changes=entry.with_changes,
    )


def trial_outcomes_answer(outcomes: Iterable[Outcome]) -> TrialOutcomesAnswer:
    """What a trial can observe."""
    return TrialOutcomesAnswer(
        outcomes=tuple(
            OutcomeShape(outcome=entry.key, means=entry.means, unit=entry.unit, per=entry.per.value, by=entry.by) for entry in outcomes
        )
    )
