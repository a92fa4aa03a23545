"""The page of what is asked in words: what it may be, each answer a link that goes on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.citations import Citation
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page, fill
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.stated_case import open_books
from marram.office.play.ask import Kind, Lead, ask_under_books

if TYPE_CHECKING:
    from marram.rulebook.book import Book

MOST_TOLD = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """Something that was found.

    Attributes:
        title: What it is about.
        kind: What kind of thing it is.
        link: The page that goes on; empty where only the command line does so far.
        situation: The situation that is ruled on; empty where none is.
        citations: The rules.
        missing: Books that do not have it, each with the reason.
    """

    title: str
    kind: Kind
    link: str
    situation: str
    citations: tuple[Citation, ...]
    missing: tuple[tuple[str, str], ...]


def ask_page(desk: Desk, address: Address) -> Page:
    """What was found for the words of an address."""
    names = address.all("book") or desk.books
    books = open_books(desk.room, desk.folder, names)
    leads = ask_under_books(address.first("words"), books) if address.first("words") else None
    found = () if leads is None else (leads.found or leads.nearest)[:MOST_TOLD]
    return fill(
        "ask.html",
        address,
        head=head(desk, address, books),
        leads=leads,
        is_covered=leads is not None and leads.answer.is_covered,
        cautions=() if leads is None else leads.cautions,
        says="" if leads is None else leads.says,
        answers=[_answered(lead, address, books[0]) for lead in found],
    )


def _answered(lead: Lead, address: Address, book: Book) -> Answered:
    entry = lead.found.entry
    situation = lead.found.situations[0] if lead.found.situations else ""
    rows = [entry.row] if entry.row else []
    return Answered(
        title=entry.title,
        kind=entry.kind,
        link=_link(lead, address.put(words="", situation=situation or address.first("situation")), situation),
        situation=situation,
        citations=tuple(citation for row in rows for citation in book.citations(row)),
        missing=lead.missing,
    )


def _link(lead: Lead, address: Address, situation: str) -> str:
    """The page that goes on; empty where there is none."""
    entry = lead.found.entry
    if situation:
        return address.link("/ruling")
    match entry.kind:
        case Kind.ACT:
            return address.put(act=entry.id.partition(".")[2], yes=(), no=()).link("/act")
        case Kind.OBJECT:
            return address.put(thing=entry.id.partition(".")[2], yes=(), no=()).link("/thing")
        case Kind.FORM:
            return address.put(form=entry.id.partition(".")[2]).link("/form")
        case Kind.DROP | Kind.SEARCH:
            return address.put(events="").link(f"/{entry.kind}")
        case Kind.SUSPENSION:
            return address.link("/stopped")
        case Kind.LOCAL_RULE:
            name = entry.id.partition(".")[2]
            laid = [book if name in book.split("+") else f"{book}+{name}" for book in address.all("book") or (entry.editions[-1],)]
            return address.put(book=laid).link("/ruling")
        case _:
            return ""
