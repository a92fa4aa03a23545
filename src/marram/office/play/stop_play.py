"""Stop play: what everybody does then, what it costs not to, and how play goes on, under each book."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.rulebook.book import Book
from marram.rulings.acts.suspension import Signal, SuspensionAnswer, rule_on_suspension


def stop_play(books: Sequence[Book], signal: str = Signal.IMMEDIATE, *, is_hole_begun: bool = True) -> tuple[SuspensionAnswer, ...]:
    """Say what to do when play is stopped, under each book.

    Args:
        books: The books.
        signal: Why play stops, a word of ``Signal``.
        is_hole_begun: Whether the player has begun the hole; otherwise the player is between two holes.

    Raises:
        DataError: There is no such signal.
    """
    if signal not in list(Signal):
        raise DataError(f"{signal!r} is no signal.", field=Field.SIGNAL, hint=f"Give one of {', '.join(Signal)}.")
    return tuple(rule_on_suspension(book, Signal(signal), is_hole_begun=is_hole_begun) for book in books)
