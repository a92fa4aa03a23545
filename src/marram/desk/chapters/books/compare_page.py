"""Two books compared: what differs, in sentences under the headings of the game, with the rules of both."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.desk.chapters.books.book_asked import BookAsked, book_page
from marram.desk.pages.page import Page
from marram.office.at_desk.desk_folder import Holding
from marram.office.books.compare_two import Comparison


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """One difference.

    Attributes:
        sentence: It in one sentence.
        rules: The rules of the first book and of the second.
        row: The rule that tells more.
    """

    sentence: str
    rules: tuple[tuple[Citation, ...], tuple[Citation, ...]]
    row: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ApartUnder:
    """A heading with what differs under it."""

    title: str
    apart: tuple[Apart, ...]


def compare_page(asked: BookAsked) -> Page:
    """The page of two books; where one is named alone, it is compared with the edition before it."""
    names = _two(asked)
    compared = asked.compared(*names)
    first, second = compared.books
    citations = merged(*(side.citations for entry in compared.keys for side in (entry.first, entry.second)))
    meant = BookAsked(desk=asked.desk, address=asked.address.put(book=names), books=(second, first))
    return book_page(
        "compare.html",
        meant,
        citations,
        compared=compared,
        names=names,
        under=tuple(_under(compared)),
        every_book=(*asked.desk.room.editions(), *(f"{second.edition}+{name}" for name in asked.desk.folder.names(Holding.TRIAL))),
    )


def _two(asked: BookAsked) -> tuple[str, str]:
    names = asked.address.all("book")
    if len(names) > 1:
        return names[0], names[1]
    if "+" in names[0]:
        return names[0].partition("+")[0], names[0]
    editions = asked.desk.room.editions()
    place = editions.index(names[0]) if names[0] in editions else 0
    return (editions[place - 1], names[0]) if place else (names[0], editions[1])


def _under(compared: Comparison) -> list[ApartUnder]:
    by_key = {entry.key: entry for entry in compared.keys}
    return [
        ApartUnder(
            title=group.title,
            apart=tuple(
                Apart(
                    sentence=told.sentence,
                    rules=(
                        merged(*(by_key[key].first.citations for key in told.keys)),
                        merged(*(by_key[key].second.citations for key in told.keys)),
                    ),
                    row=told.keys[0].rpartition(".")[0],
                )
                for told in group.told
            ),
        )
        for group in compared.told.groups
    ]
