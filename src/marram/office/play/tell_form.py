"""Tell a form of play: what is so in it, under each book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulings.acts.form_of_play import FormAnswer, Happening, describe_form, known_form, known_happening


@dataclass(frozen=True, slots=True, kw_only=True)
class FormsListed:
    """The forms of play, and what may be asked of them.

    Attributes:
        forms: Names of the forms.
        happens: What may be asked.
    """

    forms: tuple[str, ...]
    happens: tuple[str, ...]


def list_forms() -> FormsListed:
    """List the forms of play, and what may be asked of them."""
    return FormsListed(forms=tuple(form.value for form in Form), happens=tuple(happening.value for happening in Happening))


def tell_form(books: Sequence[Book], form: str, asked: Sequence[str] = ()) -> tuple[FormAnswer, ...]:
    """Say what is so in a form of play, under each book.

    Args:
        books: The books.
        form: Name of the form.
        asked: What is asked; nothing for everything.

    Raises:
        DataError: There is no such form, or nothing of that name can be asked.
    """
    named, happenings = known_form(form), tuple(map(known_happening, asked)) or tuple(Happening)
    return tuple(describe_form(book, named, happenings) for book in books)
