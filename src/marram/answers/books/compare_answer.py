"""Differences between two books as a JSON object, as text, and as a page of a handbook."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from marram.answers.books.book_answer import side_object
from marram.core.terms import ADVICE
from marram.rulebook.book import Book
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.differences.differences import ToldComparison, sentences_of

_WIDTH = 100


def compare_object(books: tuple[Book, Book], told: ToldComparison) -> dict[str, object]:
    """Every key that differs, with both values and the sentence that tells it."""
    by_key = sentences_of(told)
    return {
        "advice": ADVICE,
        "books": [{"book": book.name, "stamp": book.stamp} for book in books],
        "counts": {"all": len(told.told), "groups": [{"group": group.title, "count": len(group.told)} for group in told.groups]},
        "differences": [
            {
                "key": entry.key,
                "situation": entry.situation,
                "means": entry.spec.means,
                "unit": entry.spec.unit,
                "first": side_object(entry.first),
                "second": side_object(entry.second),
                "group": by_key[entry.key].group,
                "sentence": by_key[entry.key].sentence,
                "together": [key for key in by_key[entry.key].keys if key != entry.key],
            }
            for entry in compare_books(*books)
        ],
    }


def compare_text(told: ToldComparison) -> str:
    """The sentences under their headings, with the numbers in front."""
    lines = [f"{told.books[0]} [{told.stamps[0]}] against {told.books[1]} [{told.stamps[1]}]", told.count_words, ""]
    lines += [f"{len(group.told):>4}  {group.title}" for group in told.groups]
    for group in told.groups:
        lines += ["", f"{group.title} ({len(group.told)})"]
        lines += [fill(entry.sentence, _WIDTH, initial_indent="  ", subsequent_indent="      ") for entry in group.told]
    return "\n".join([*lines, "", ADVICE])


def compare_page(told: ToldComparison) -> str:
    """The same as a page in Markdown, ending in a line break."""
    return "\n".join(_page_lines(told)) + "\n"


def _page_lines(told: ToldComparison) -> Iterator[str]:
    yield from (f"# What differs between {told.books[0]} and {told.books[1]}", "")
    yield from (f"{name}: {title}, stamp {stamp}.  " for name, title, stamp in zip(told.books, told.titles, told.stamps, strict=True))
    yield from ("", told.count_words, "", "| heading | differences |", "| --- | ---: |")
    yield from (f"| {group.title} | {len(group.told)} |" for group in told.groups)
    for group in told.groups:
        yield from ("", f"## {group.title}", "")
        yield from (f"- {_escaped(entry.sentence)}" for entry in group.told)
    yield from ("", ADVICE)


def _escaped(words: str) -> str:
    """Words in which no sign is taken for a mark of the page."""
    return "".join(f"\\{sign}" if sign in "\\*_`<[]" else sign for sign in words)
