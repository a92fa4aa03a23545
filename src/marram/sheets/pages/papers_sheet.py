"""Papers of a trial to print: the calendar, a blank recording sheet for each recorder, and the form that players answer after the round."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import msgspec

from marram.core.terms import ADVICE
from marram.sheets.guide.paper import template
from marram.sheets.scene.typesetting import set_pdf


class RulesTold(StrEnum):
    """Where a paper says under which rules something was seen."""

    DAY = "day"
    LINE = "line"
    CHANGES = "changes"


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarRow:
    """What was drawn together: a pair of days, or a group of a day.

    Attributes:
        unit: Its name.
        of: The day or event, and the part of it, that it belongs to; empty where it has none.
        rules: Under which rules its days, its rounds or its spans of time are played, in order.
        changes: Numbers of the changes that are on; none where all of the trial are, or none is.
    """

    unit: str
    of: str
    rules: tuple[str, ...]
    changes: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarHead:
    """A column of the calendar.

    Attributes:
        text: What stands there.
        width_mm: Its width, millimetres; 0 takes what is left.
    """

    text: str
    width_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """The calendar of a plan.

    Attributes:
        drawn: What was drawn.
        heads: The columns of its table.
        lines: The lines of its table; what is empty is written in by hand.
        how: How it is kept.
    """

    drawn: tuple[CalendarRow, ...]
    heads: tuple[CalendarHead, ...]
    lines: tuple[tuple[str, ...], ...]
    how: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column to write in.

    Attributes:
        heading: What is written there.
        how: How, and within which range; empty for who it is of.
        about: Which change it is about, where one alone asks for it; empty else.
        is_narrow: Whether a name or a number of two digits stands there.
    """

    heading: str
    how: str
    about: str
    is_narrow: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperTable:
    """A blank table.

    Attributes:
        title: What has a line of its own.
        columns: Its columns.
        rows: How many lines it has; None where it takes what is left of the page.
    """

    title: str
    columns: tuple[Column, ...]
    rows: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordingSheet:
    """One page to write on.

    Attributes:
        title: Whose it is.
        part: Which page of how many; empty where there is one.
        who: Who fills it in, and when.
        tables: Its tables.
        how: How it is filled in.
        tried: What is tried and seen on this sheet, a sentence for each change.
        cautions: What comes before any record.
    """

    title: str
    part: str
    who: str
    tables: tuple[PaperTable, ...]
    how: tuple[str, ...]
    tried: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FormQuestion:
    """A question that players answer.

    Attributes:
        text: The question.
        answers: Boxes to tick; none where a number is written.
        range: Within which range a number is; empty where boxes are ticked.
    """

    text: str
    answers: tuple[str, ...]
    range: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPart:
    """What is asked about one change, or about the day as a whole.

    Attributes:
        title: The change, by its number; empty where none is meant.
        told: What it is from and to.
        questions: What is asked.
    """

    title: str
    told: str
    questions: tuple[FormQuestion, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedRow:
    """How a column of a paper is typed in.

    Attributes:
        paper: On which paper it stands.
        called: What is typed under outcome: what stands over it there, or the question.
        how: How its value is typed, with its unit and range.
    """

    paper: str
    called: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysSheet:
    """The page of the Committee: what every day was like, how many forms went out, and how the papers are typed in.

    Attributes:
        heads: The columns of the table of days, by the names that the report reads.
        lines: Its lines, as far as they were drawn; what is empty is written in by hand.
        has_forms: Whether forms are handed out to players.
        typed: How each column of each paper is typed in.
    """

    heads: tuple[CalendarHead, ...]
    lines: tuple[tuple[str, ...], ...]
    has_forms: bool
    typed: tuple[TypedRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialPapers:
    """All papers of a trial.

    Attributes:
        title: Title of the trial.
        stamps: Its stamp, and that of its plan.
        form_version: What to write under *form* when answers are typed in.
        calendar: What was drawn; None where there is no plan.
        days: What every day was like, and how the papers are typed in.
        sheets: The recording sheets.
        rules_told: Where a paper says under which rules something was seen.
        has_rounds: Whether a day or event has two rounds, so that each paper says which.
        has_parts: Whether groups were drawn for parts of a day, such as a wave, so that each paper says for which.
        form: The form after the round; no part where players are asked nothing.
    """

    title: str
    stamps: str
    form_version: str
    calendar: Calendar | None
    days: DaysSheet
    sheets: tuple[RecordingSheet, ...]
    rules_told: RulesTold
    has_rounds: bool
    has_parts: bool
    form: tuple[FormPart, ...]


def set_papers(papers: TrialPapers) -> bytes:
    """Set the papers as a PDF, A4, in black and white."""
    content = msgspec.json.encode({**msgspec.to_builtins(papers), "advice": ADVICE})
    return set_pdf(template("papers-a4.typ"), {"papers.json": content, "common.typ": template("common.typ").encode()})
