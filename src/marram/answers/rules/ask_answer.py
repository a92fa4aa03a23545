"""What was found for a question, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Callable

    from marram.office.play.ask import Lead, Leads

    GoOn = Callable[[Lead], tuple[str, str]]
    """How the reader goes on from an entry, and what that needs to be told besides."""


class NotInShape(Shape, frozen=True, kw_only=True):
    """A book that does not have an entry.

    Attributes:
        book: The book.
        because: Why it does not.
    """

    book: str
    because: str


class LeadShape(Shape, frozen=True, kw_only=True):
    """An entry that was found, and how to go on from it.

    Attributes:
        kind: What kind of thing it is.
        id: Its name with its family, such as `act.wrong-ball`.
        title: What it is about.
        command: The command that goes on, under the books asked about.
        needs: What that command needs to be told besides; empty where nothing.
        situations: For a ruling on the course, the situations that come to it, the one that fits best first.
        score: How well it fits, from 0 to about 1.
        not_in: The books asked about that do not have it.
    """

    kind: str
    id: str
    title: str
    command: str
    needs: str
    situations: tuple[str, ...]
    score: float
    not_in: tuple[NotInShape, ...]


class AskAnswer(Answer, frozen=True, kw_only=True):
    """What was found for a question put in words; where nothing fits, what is covered and what comes nearest.

    Attributes:
        schema: Name and version of this shape.
        words: The question.
        books: The books asked about; none for what any edition has.
        covered: Whether something fits.
        cautions: What comes before any answer.
        answers: What fits, the best first.
        subject: The subject that is not covered, where it is a known one; left out where something fits.
        says: What is covered; left out where something fits.
        nearest: What comes nearest, if one of these was meant; left out where something fits.
    """

    schema: Literal["marram.ask/1"] = "marram.ask/1"
    words: str
    books: tuple[str, ...]
    covered: bool
    cautions: tuple[str, ...]
    answers: tuple[LeadShape, ...]
    subject: str | UnsetType = UNSET
    says: str | UnsetType = UNSET
    nearest: tuple[LeadShape, ...] | UnsetType = UNSET


def ask_answer(leads: Leads, go_on: GoOn) -> AskAnswer:
    """What was found.

    Args:
        leads: What was found.
        go_on: How the reader goes on from an entry, and what that needs to be told besides.
    """
    is_covered = leads.answer.is_covered
    return AskAnswer(
        words=leads.answer.words,
        books=tuple(book.name for book in leads.books),
        covered=is_covered,
        cautions=leads.cautions,
        answers=tuple(_lead(lead, go_on) for lead in leads.found),
        subject=UNSET if is_covered else leads.answer.subject,
        says=UNSET if is_covered else leads.says,
        nearest=UNSET if is_covered else tuple(_lead(lead, go_on) for lead in leads.nearest),
    )


def _lead(lead: Lead, go_on: GoOn) -> LeadShape:
    entry, (command, needs) = lead.found.entry, go_on(lead)
    return LeadShape(
        kind=entry.kind.value,
        id=entry.id,
        title=entry.title,
        command=command,
        needs=needs,
        situations=lead.found.situations,
        score=round(lead.found.score, 3),
        not_in=tuple(NotInShape(book=book, because=why) for book, why in lead.missing),
    )
