"""What may still change when an event is closed, as the book says: mistakes of the Committee, and grounds that still disqualify."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation
from marram.core.errors import EventError
from marram.core.field_names import Field
from marram.core.terms import Form
from marram.rulebook.book import Book

COMMITTEE_MISTAKE = "committee-mistake"
AFTER_CLOSING = (
    COMMITTEE_MISTAKE,
    "agreed-to-ignore-a-rule",
    "handicap-known-to-be-too-high",
    "score-lower-than-taken",
    "knew-of-disqualification",
    "not-eligible",
    "serious-misconduct",
)
"""What may be put right after closing under one book or another; the words of the row but for the first."""
_ROW = "after-closing"


@dataclass(frozen=True, slots=True, kw_only=True)
class StillOpen:
    """What is put right after closing.

    Attributes:
        ground: ``committee-mistake``, or for what a player is still disqualified.
        says: The same in words.
        citations: The rules.
    """

    ground: str
    says: str
    citations: tuple[Citation, ...]

    @property
    def only_disqualifies(self) -> bool:
        """Whether nothing but a disqualification may be written."""
        return self.ground != COMMITTEE_MISTAKE


def still_open(book: Book, form: Form, ground: str, where: str) -> StillOpen:
    """Whether something may still be put right after closing.

    Args:
        book: The book.
        form: The form of play.
        ground: What is put right, one of ``AFTER_CLOSING``.
        where: The event, for messages.

    Raises:
        EventError: The book does not say so, or says otherwise.
    """
    if _ROW not in book.catalogue.rows or not book.has_row(_ROW):
        told = f"{book.name} does not say what may change after closing."
        raise EventError(told, where=where, hint="Set the state back, with the reason.")
    cited = book.citations(_ROW)
    if ground == COMMITTEE_MISTAKE:
        return StillOpen(ground=ground, says="an administrative mistake of the Committee, put right at any time", citations=cited)
    part = "match_play" if form is Form.MATCH_PLAY else "stroke_play"
    grounds = book.words(f"{_ROW}.{part}").value
    if ground not in grounds:
        told = f"Under {book.name} nobody is disqualified after closing for {ground!r}." if ground else "The event is closed."
        hint = f"What may still be put right: {', '.join((COMMITTEE_MISTAKE, *grounds))}. A wrong ruling stands then."
        raise EventError(told, where=where, field=Field.AFTER_CLOSING, hint=hint)
    return StillOpen(ground=ground, says=f"disqualified after closing, {ground.replace('-', ' ')}", citations=cited)
