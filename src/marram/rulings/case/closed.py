"""Why a relief is closed to a ball, told from what its row asks for."""

from __future__ import annotations

from marram.core.terms import Area, Mark
from marram.rulebook.book import Book
from marram.rulebook.vocabulary import NOT_FOUND
from marram.rulebook.wording.explain import in_area_words, told_text
from marram.rulebook.wording.value_words import listed
from marram.rulings.case.procedure import Procedure


def why_not_given(book: Book, row: str) -> str:
    """Why a book does not give a relief: a change that takes it away, else what the edition says.

    Args:
        book: The book.
        row: The row of the relief.
    """
    changed = book.changed.get(f"{row}.allowed")
    if changed is not None:
        return f"Change {changed[1].number} of {changed[0].title} takes it away."
    return told_text(book, f"{row}.why_not")


def why_closed(procedure: Procedure, part: str) -> str:
    """Why a part of the row closes the relief: in the row's own sentence, else from the value, as always where an overlay changes that.

    Args:
        procedure: The relief.
        part: ``ball_in``, ``marks`` or ``lies_on``.
    """
    book, row = procedure.case.book, procedure.row_id
    _, spec = book.catalogue.find_key(f"{row}.why_not")
    is_own = book.word(f"{row}.why_not").value != spec.default
    if is_own and f"{row}.{part}" not in book.changed:
        return told_text(book, f"{row}.why_not")
    return {"ball_in": _where, "marks": _marks, "lies_on": _cut}[part](procedure)


def _where(procedure: Procedure) -> str:
    """Where the ball must be."""
    case, areas = procedure.case, procedure.ball_in()
    if case.place is None:
        return "The ball must be found."
    if areas == (NOT_FOUND,):
        return "The ball has been found."
    named = [in_area_words(case.book, Area(area)) for area in areas if area != NOT_FOUND]
    return f"The ball does not lie {listed(named, 'or')}."


def _marks(procedure: Procedure) -> str:
    """Which penalty areas give it."""
    marks = [Mark(mark) for mark in procedure.words("marks")]
    named = [f"one marked {mark.value}" if mark is not Mark.UNMARKED else "one that is not marked" for mark in marks]
    return f"Of the penalty areas only {listed(named, 'or')} gives it."


def _cut(procedure: Procedure) -> str:
    """How the ground must be cut."""
    return "The ball must lie on ground cut to fairway height or less."
