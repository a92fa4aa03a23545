"""The first page of the rule book: its situations, its headings, how its values are known, and what can be laid over it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from marram.desk.chapters.books.book_asked import BookAsked, book_page
from marram.desk.pages.page import Page
from marram.office.books.audit_rules import audit_rules
from marram.office.books.book_contents import book_contents

_SIGN_OF = {"seen": "seen", "another edition": "elsewhere", "common practice": "practice", "inferred": "inferred", "memory": "memory"}


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownCount:
    """How many values are known in one way, with the sign of it; no sign for what nobody stated."""

    sign: str
    count: int


def contents_page(asked: BookAsked) -> Page:
    """What stands in a book."""
    return book_page("contents.html", asked, contents=book_contents(asked.book), known=_known(asked))


def heading_page(asked: BookAsked) -> Page:
    """The rules that stand under one heading."""
    contents = book_contents(asked.book)
    names = [heading.title for heading in contents.headings]
    title = asked.address.first("heading")
    heading = contents.headings[names.index(title)] if title in names else contents.headings[0]
    return book_page("heading.html", asked, heading=heading, headings=names)


def _known(asked: BookAsked) -> tuple[KnownCount, ...]:
    """How the values of the edition are known, best first."""
    audited = audit_rules(asked.book.catalogue)
    totals: Counter[str] = Counter()
    for (edition, _), counts in audited.counts.items():
        if edition == asked.book.edition:
            totals.update(counts)
    return tuple(KnownCount(sign=_SIGN_OF.get(kind, ""), count=totals[kind]) for kind in audited.kinds if totals[kind])
