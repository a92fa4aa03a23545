"""Tell one row of a rule book as an official reads it: every value in words, with the rule behind it and where it was seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.core.errors import RuleDataError
from marram.core.words import spaced
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Row
from marram.rulebook.consequences import Consequence
from marram.rulebook.differences.change_heading import relief_title
from marram.rulebook.differences.compare import look_up
from marram.rulebook.differences.difference_words import says
from marram.rulebook.differences.differences import group_of
from marram.rulebook.differences.told_change import first_sentence
from marram.rulebook.placeholders import OWN, PLACEHOLDER
from marram.rulebook.values import FACT, Absent, PartSpec, PartType, SizeOf, Value, cases_of, nearest_names
from marram.rulebook.wording.explain import ask, fill
from marram.rulebook.wording.value_words import listed, number_words, size_words

_RELIEF = "relief."
_NAMED = re.compile(r"\b[a-z]+(?:-[a-z]+)+\b")
_NOTHING_TOLD = "-"
"""How the rule data writes a sentence that says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing that a value says.

    Attributes:
        words: What it says.
        row: The row that it names; empty where it names none.
    """

    words: str
    row: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseTold:
    """One case of what an act leads to.

    Attributes:
        questions: What must be answered yes; none for the last case.
        stroke_play: What it costs in stroke play.
        match_play: What it costs in match play.
        after: What becomes of stroke and ball in stroke play.
        after_match: The same in match play, where it is something else; else empty.
    """

    questions: tuple[str, ...]
    stroke_play: str
    match_play: str
    after: str
    after_match: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueTold:
    """A value of a book.

    Attributes:
        key: Its key.
        what: What it speaks of.
        said: What it says, one thing after another; several of a list.
        cases: What an act leads to, case by case; none for other values.
        why_none: Why there is none; empty where there is one.
        citations: The rules, with where they were seen.
        is_usual: Whether the edition states nothing of it, so that what is usual holds.
        is_changed: Whether something laid over the edition sets it.
    """

    key: str
    what: str
    said: tuple[Said, ...]
    cases: tuple[CaseTold, ...]
    why_none: str
    citations: tuple[Citation, ...]
    is_usual: bool
    is_changed: bool

    @property
    def words(self) -> str:
        """What it says in one line; of cases, what the act leads to in each."""
        told = [f"{case.stroke_play}, {case.match_play}" for case in self.cases] or [one.words for one in self.said]
        return self.why_none or listed(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class RowTold:
    """A row of a book.

    Attributes:
        row: Its name.
        title: What it is called.
        about: What it is about.
        heading: The heading of the game under which it stands.
        why_absent: Why the book has no such row; empty where it has one.
        values: Its values, in the order of the rule data.
        citations: The rules of the row, and of whatever changes it.
    """

    row: str
    title: str
    about: str
    heading: str
    why_absent: str
    values: tuple[ValueTold, ...]
    citations: tuple[Citation, ...]


def tell_row(book: Book, row_id: str) -> RowTold:
    """Tell a row of a book.

    Args:
        book: The book.
        row_id: Name of the row.

    Raises:
        RuleDataError: There is no such row; the error names the nearest.
    """
    row = find_row(book, row_id)
    return RowTold(
        row=row_id,
        title=row_title(book, row_id),
        about=row.means,
        heading=group_of(row),
        why_absent=book.why_absent(row_id),
        values=tuple(tell_value(book, f"{row_id}.{part}") for part in row.parts),
        citations=book.citations(row_id),
    )


def find_row(book: Book, row_id: str) -> Row:
    """The row of that name.

    Raises:
        RuleDataError: There is none; the error names the nearest.
    """
    row = book.catalogue.rows.get(row_id)
    if row is None:
        near = nearest_names(row_id, list(book.catalogue.rows))
        raise RuleDataError("The book has no such rule.", where=row_id, hint=f"Nearest: {', '.join(near)}." if near else "")
    return row


def row_title(book: Book, row_id: str) -> str:
    """What a row is called: a relief by its title, anything else by the first sentence of what it means."""
    if row_id.startswith(_RELIEF) and f"{row_id}.title" in book.catalogue.keys:
        title = relief_title(book, row_id.removeprefix(_RELIEF))
        return title[:1].upper() + title[1:]
    return first_sentence(book.catalogue.rows[row_id].means)


def tell_value(book: Book, key: str) -> ValueTold:
    """Tell a value of a book, or why it has none.

    Args:
        book: The book.
        key: Its key.

    Raises:
        RuleDataError: There is no such key.
    """
    row, spec = book.catalogue.find_key(key)
    side = look_up(book, key)
    cell = row.editions[book.edition]
    value = book.cited(key).value if book.has(key) else None
    return ValueTold(
        key=key,
        what=_what(spec),
        said=() if value is None or cases_of(value) else tuple(_said(book, row, spec, value)),
        cases=() if value is None else tuple(_case(book, case) for case in cases_of(value)),
        why_none=side.why_none,
        citations=side.citations,
        is_usual=spec.name in cell.defaulted and spec.name not in cell.seen_of and key not in book.changed,
        is_changed=key in book.changed,
    )


def _what(spec: PartSpec) -> str:
    """What a part speaks of, with words of its closed list as they are said and not as they are written."""
    told = _NAMED.sub(lambda found: spaced(found[0]) if found[0] in spec.words else found[0], spec.means)
    return told[:1].upper() + told[1:]


def _said(book: Book, row: Row, spec: PartSpec, value: Value) -> Iterator[Said]:
    match value:
        case bool():
            yield Said(words="yes" if value else "no")
        case SizeOf():
            yield Said(words=size_words(book.size(f"{row.id}.{spec.name}").value))
            named = value.key.rpartition(".")[0]
            yield Said(words=f"that of “{row_title(book, named)}”", row=named)
        case int() | float():
            yield Said(words=number_words(value, spec.unit, in_figures=True))
        case tuple():
            words = [word for word in value if isinstance(word, str)]
            yield from (_one(book, row, spec, word) for word in words) if words else (Said(words="nothing"),)
        case str() if spec.type in {PartType.TERM, PartType.REMARK}:
            yield Said(words=open_text(book, row.id, value))
        case str():
            yield _one(book, row, spec, value)
        case Absent():
            yield Said(words="nothing")
        case _:
            yield Said(words=says(book, row.id.partition(".")[0], spec, value))


def _one(book: Book, row: Row, spec: PartSpec, word: str) -> Said:
    """A word of a list: a fact by the question that settles it, a row by its title, anything else as its part has it said."""
    if spec.of == FACT and word in book.catalogue.facts:
        return Said(words=ask(book, word, {}))
    named = f"{spec.of.rstrip('.')}.{word}"
    if spec.of and named in book.catalogue.rows:
        return Said(words=row_title(book, named), row=named)
    return Said(words=open_text(book, row.id, says(book, row.id.partition(".")[0], spec, word)))


def open_text(book: Book, row_id: str, text: str) -> str:
    """A sentence of the rule data with the book's values filled in; what is only known at a place stands in square brackets.

    Args:
        book: The book.
        row_id: The row that the sentence is about.
        text: The sentence.
    """
    if text == _NOTHING_TOLD:
        return "nothing"

    def filled(placeholder: str, name: str) -> str:
        try:
            return open_text(book, row_id, fill(book, placeholder, {OWN: row_id}))
        except RuleDataError:
            return f"[{spaced(name.rpartition('.')[2])}]"

    return _NAMED.sub(lambda found: _named(book, found[0]), PLACEHOLDER.sub(lambda found: filled(found[0], found[1]), text))


def _named(book: Book, word: str) -> str:
    """A word that is the name of an act, by what that act is called; any other as it stands."""
    return f"“{row_title(book, f'act.{word}')}”" if f"act.{word}" in book.catalogue.rows else word


def _case(book: Book, case: Consequence) -> CaseTold:
    after = case.after_words(is_match=False, is_stroke_in_question=True)
    after_match = case.after_words(is_match=True, is_stroke_in_question=True)
    return CaseTold(
        questions=tuple(ask(book, fact, {}) for fact in case.when),
        stroke_play=case.stroke_play_words,
        match_play=case.match_play_words,
        after=after,
        after_match="" if after_match == after else after_match,
    )
