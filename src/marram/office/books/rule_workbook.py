"""The rules as a workbook with an empty column, for those who draft a trial in a spreadsheet."""

from __future__ import annotations

from marram.rulebook.book import Book


def rule_workbook(book: Book) -> bytes:
    """The rules of a book as a workbook: a row for each key, its present value and rule, and an empty column for what it is to be."""
    from marram.interchange.books.rule_sheet import write_rule_sheet

    return write_rule_sheet(book)
