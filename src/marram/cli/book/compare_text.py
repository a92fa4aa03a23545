"""Differences between two books, for the terminal and as a page of a handbook."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from marram.core.terms import ADVICE

if TYPE_CHECKING:
    from marram.rulebook.differences.differences import ToldComparison

_WIDTH = 100


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
