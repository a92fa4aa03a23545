"""A rule found by words: what it may be, each answer a link to the page of the book that tells it."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation
from marram.desk.chapters.books.book_asked import BookAsked, book_page
from marram.desk.pages.page import Page
from marram.office.play.ask import Kind, Lead, ask_under_books

MOST_FOUND = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleFound:
    """Something that was found.

    Attributes:
        title: What it is about.
        kind: What kind of thing it is.
        link: The page of the book that tells it; empty where none does.
        citations: The rules.
        missing: Books that do not have it, each with the reason.
    """

    title: str
    kind: Kind
    link: str
    citations: tuple[Citation, ...]
    missing: tuple[tuple[str, str], ...]


def find_page(asked: BookAsked) -> Page:
    """What was found for the words of an address."""
    words = asked.address.first("words")
    leads = ask_under_books(words, asked.books) if words else None
    found = () if leads is None else (leads.found or leads.nearest)[:MOST_FOUND]
    return book_page(
        "find.html",
        asked,
        is_covered=leads is not None and leads.answer.is_covered,
        says="" if leads is None else leads.says,
        cautions=() if leads is None else leads.cautions,
        found=[_found(asked, lead) for lead in found],
        has_asked=leads is not None,
    )


def _found(asked: BookAsked, lead: Lead) -> RuleFound:
    entry = lead.found.entry
    return RuleFound(
        title=entry.title,
        kind=entry.kind,
        link=_link(asked, lead),
        citations=asked.book.citations(entry.row) if entry.row in asked.book.catalogue.rows else (),
        missing=lead.missing,
    )


def _link(asked: BookAsked, lead: Lead) -> str:
    entry, address = lead.found.entry, asked.address.put(words="")
    if lead.found.situations:
        return address.put(situation=lead.found.situations[0]).link("/books/situation")
    if entry.row in asked.book.catalogue.rows:
        return address.put(rule=entry.row).link("/books/rule")
    if entry.kind is Kind.LOCAL_RULE:
        return address.put(book=f"{asked.book.name}+{entry.id.partition('.')[2]}").link("/books/compare")
    return ""
