"""The papers of a trial, as outsiders read what stands on them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.sheets.pages.papers_sheet import FormPart, PaperTable, TrialPapers


class CalendarRowShape(Shape, frozen=True, kw_only=True):
    """What was drawn together.

    Attributes:
        unit: Its name, such as that of a pair.
        of: The day or event that it belongs to; empty where it has none.
        rules: Under which rules its days, its rounds or its spans of time are played, in order.
        changes: Numbers of the changes that are on; empty where all of the trial are, or none is.
    """

    unit: str
    of: str
    rules: tuple[str, ...]
    changes: tuple[int, ...]


class PaperTableShape(Shape, frozen=True, kw_only=True):
    """A blank table.

    Attributes:
        title: What has a line of its own.
        names: The columns that say of whom a line is.
        written: The columns that values are written in.
        how: How they are written and within which range, one for each of `written`.
    """

    title: str
    names: tuple[str, ...]
    written: tuple[str, ...]
    how: tuple[str, ...]


class RecordingSheetShape(Shape, frozen=True, kw_only=True):
    """One page to write on.

    Attributes:
        title: Whose it is.
        tables: Its tables.
        cautions: What comes before any record.
    """

    title: str
    tables: tuple[PaperTableShape, ...]
    cautions: tuple[str, ...]


class FormPartShape(Shape, frozen=True, kw_only=True):
    """What players are asked about one change.

    Attributes:
        change: What the change is from and to.
        questions: The questions.
    """

    change: str
    questions: tuple[str, ...]


class TrialPapersAnswer(Answer, frozen=True, kw_only=True):
    """The papers of a trial.

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        stamps: Stamps of plan and trial, as they stand on each page.
        calendar: What was drawn; empty where there is no plan.
        sheets: The recording sheets, page by page.
        form: The form that players answer after the round.
    """

    schema: Literal["marram.trial-papers/1"] = "marram.trial-papers/1"
    trial: str
    stamps: str
    calendar: tuple[CalendarRowShape, ...]
    sheets: tuple[RecordingSheetShape, ...]
    form: tuple[FormPartShape, ...]


def trial_papers_answer(papers: TrialPapers) -> TrialPapersAnswer:
    """What stands on the papers of a trial."""
    return TrialPapersAnswer(
        trial=papers.title,
        stamps=papers.stamps,
        calendar=tuple(
            CalendarRowShape(unit=row.unit, of=row.of, rules=row.rules, changes=row.changes)
            for row in (() if papers.calendar is None else papers.calendar.drawn)
        ),
        sheets=tuple(
            RecordingSheetShape(title=sheet.title, tables=tuple(map(_table, sheet.tables)), cautions=sheet.cautions)
            for sheet in papers.sheets
        ),
        form=tuple(map(_part, papers.form)),
    )


def _table(table: PaperTable) -> PaperTableShape:
    written = [column for column in table.columns if column.how]
    return PaperTableShape(
        title=table.title,
        names=tuple(column.heading for column in table.columns if not column.how),
        written=tuple(column.heading for column in written),
        how=tuple(column.how for column in written),
    )


def _part(part: FormPart) -> FormPartShape:
    return FormPartShape(change=part.told, questions=tuple(question.text for question in part.questions))
