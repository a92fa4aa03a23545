"""The procedures for which places can be looked for, in words."""

from __future__ import annotations

from marram.rulebook.book import Book

_FAMILY = "relief."


def procedures_of(book: Book) -> dict[str, str]:
    """What each relief procedure is about, by its name: those that a book allows and whose area is measured.

    Args:
        book: The book.
    """
    rows = [row for row in book.catalogue.rows.values() if row.id.startswith(_FAMILY) and "shape" in row.parts]
    return {row.id.removeprefix(_FAMILY): row.means for row in rows if book.has_row(row.id) and book.yes(f"{row.id}.allowed").value}
