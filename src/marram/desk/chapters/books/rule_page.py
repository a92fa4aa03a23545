"""The page of one rule: each of its values in words, with the rule and the source, and what other books say."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import merged
from marram.core.errors import RuleDataError
from marram.desk.chapters.books.book_asked import BookAsked, book_page
from marram.desk.pages.page import Page
from marram.office.books.book_contents import heading_of
from marram.office.books.tell_row import RowTold, tell_row
from marram.office.books.tell_situation import situation_title, situations_with

_GOES_ON = {"act": ("act", "/act"), "thing": ("thing", "/thing"), "form": ("form", "/form"), "situation": ("situation", "/ruling")}
"""Pages that answer about a row, by its family: the name in their address, and where they stand."""
_BY_START = {"drop": "/drop", "redrop": "/drop", "search": "/search", "suspension": "/stopped"}


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherBook:
    """What another book says of the same rule.

    Attributes:
        name: The book.
        says: The sentences that tell what differs; none where nothing does.
    """

    name: str
    says: tuple[str, ...]


def rule_page(asked: BookAsked) -> Page:
    """The page of a rule.

    Raises:
        RuleDataError: There is no such rule.
    """
    row_id = asked.address.first("rule")
    if not row_id:
        raise RuleDataError("No rule is named.", where="rule", hint="Choose one from the headings of the rule book.")
    told = tell_row(asked.book, row_id)
    citations = merged(told.citations, *(value.citations for value in told.values if not value.is_usual))
    return book_page(
        "rule.html",
        asked,
        citations,
        told=told,
        stated=[value for value in told.values if not value.is_usual],
        usual=[value for value in told.values if value.is_usual],
        heading=heading_of(asked.book, row_id),
        goes_on=_goes_on(asked, told),
        opened_by=_opened_by(asked, row_id),
        others=[_other(asked, name, row_id) for name in asked.others],
    )


def _goes_on(asked: BookAsked, told: RowTold) -> str:
    """The page that answers about the rule; empty where there is none."""
    family, _, name = told.row.partition(".")
    if family in _GOES_ON:
        field, path = _GOES_ON[family]
        return asked.address.put(heading="", rule="", **{field: name}).link(path)
    path = _BY_START.get(family.partition("-")[0], "")
    return asked.address.put(heading="", rule="").link(path) if path else ""


def _opened_by(asked: BookAsked, row_id: str) -> tuple[tuple[str, str], ...]:
    """The situations that open a relief: name and title."""
    names = situations_with(asked.book, row_id) if row_id.startswith("relief.") else ()
    return tuple((name, situation_title(name)) for name in names)


def _other(asked: BookAsked, name: str, row_id: str) -> OtherBook:
    """What another edition says otherwise of a rule."""
    compared = asked.compared(name, asked.address.all("book")[0])
    sentences = (apart.told.sentence for apart in compared.keys if apart.key.rpartition(".")[0] == row_id)
    return OtherBook(name=name, says=tuple(dict.fromkeys(sentences)))
