"""Sheets of paper: all relief of a book, and a measuring strip at true size."""

from __future__ import annotations

from marram.rulebook.book import Book


def print_relief(book: Book) -> bytes:
    """A PDF of every relief procedure of a book, with its measures and its rule."""
    from marram.sheets.pages.edition_sheet import edition_sheet, set_edition

    return set_edition(edition_sheet(book))


def print_strip(length: str) -> bytes:
    """A PDF of a measuring strip, to print at full size, cut out and glue together.

    Args:
        length: How long: a number with in, ft, yd, cm or m, as in ``20in``.

    Raises:
        DataError: It is no length, or too long or short for paper.
    """
    from marram.sheets.pages.strip_sheet import read_length, strip_pdf

    return strip_pdf(read_length(length))
