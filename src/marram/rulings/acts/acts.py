"""What an act leads to: the first case of its row whose facts are true, in stroke play and in match play."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

from marram.asking.entries import Kind
from marram.asking.finding import find_of_kind
from marram.core.citations import Citation, Cited, merged
from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.terms import Form
from marram.core.words import as_told
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.wording.explain import told_text
from marram.rulings.acts.turns import Reading, Turn, open_facts, reads_in_match_play, reads_in_stroke_play, turns_of

FAMILY = "act."
LAST_HOLE = "put-right"
NEXT_TEE = "before-the-next-tee"
_NOTHING = "-"
_CAUTION = "caution."
_WITH_A_STROKE = "acts-with-a-stroke.acts"
_READ: Mapping[Form, Reading] = {Form.STROKE_PLAY: reads_in_stroke_play, Form.MATCH_PLAY: reads_in_match_play}
_STEM = 4
"""Words that begin alike for so many letters count as the same when acts are looked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActAnswer:
    """What an act leads to under one book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        act: Name of the act, without its family.
        means: What the act is.
        area: Where it happens.
        case: The case that holds; None where the book has no such row, or its cases are not typed.
        cases: All cases.
        holds_unless: Facts not stated that would make an earlier case hold.
        turns: What the verdict turns on, in one form of play or the other: of these a yes would change it.
        turns_in: The same for each of the two forms of play by itself.
        why_none: Why there is no case; empty where there is one.
        advice: What the official tells besides; it decides nothing.
        citations: The rules.
        is_stroke_in_question: Whether the act makes a stroke or touches one.
        last_hole: Until when it is put right on the last hole, a word of ``put-right``; empty where it need not be before a next tee.
        last_hole_words: The same as a sentence, for the case that holds and those that it turns on; empty where it comes up in none.
        cautions: What comes before anything else, by the facts that are stated true.
    """

    book: str
    stamp: str
    act: str
    means: str
    area: str
    case: Consequence | None
    cases: Cases
    holds_unless: tuple[str, ...]
    turns: tuple[Turn, ...]
    turns_in: Mapping[Form, tuple[Turn, ...]]
    why_none: str
    advice: str
    citations: tuple[Citation, ...]
    is_stroke_in_question: bool
    last_hole: str
    last_hole_words: str
    cautions: tuple[Cited[str], ...]

    def last_hole_of(self, put_right: str) -> str:
        """Until when it is put right on the last hole, by when a case is put right else; empty where the hole makes no difference."""
        return self.last_hole if put_right == NEXT_TEE else ""

    def says(self, case: Consequence) -> str:
        """One of its cases as an official reads it out; that the stroke counts is told only where a stroke is in question."""
        return case.in_words(is_stroke_in_question=self.is_stroke_in_question)

    def says_in(self, form: Form, case: Consequence) -> str:
        """One of its cases as it is read out in stroke play or in match play alone."""
        return case.in_words_of(is_match=form is Form.MATCH_PLAY, is_stroke_in_question=self.is_stroke_in_question)


def known_act(catalogue: Catalogue, asked: str) -> str:
    """The name of an act, without its family.

    Raises:
        DataError: There is no such act; the error names the nearest three.
    """
    acts = acts_of(catalogue)
    name = asked.removeprefix(FAMILY)
    if name in acts:
        return name
    near = dict.fromkeys(
        [*get_close_matches(name, acts, n=3, cutoff=0.5), *(entry for entry, _ in find_acts(catalogue, name.replace("-", " ")))]
    )
    hint = f"Nearest: {', '.join([*near, *acts][:3])}. `find_act()` looks for others."
    raise DataError(f"There is no act {asked!r} in the rule data.", where="act", hint=hint)


def acts_of(catalogue: Catalogue) -> dict[str, str]:
    """Every act with what it means."""
    return {row.id.removeprefix(FAMILY): row.means for row in catalogue.rows.values() if row.id.startswith(FAMILY)}


def find_acts(catalogue: Catalogue, words: str) -> list[tuple[str, str]]:
    """Acts that speak of some words, those that fit best first.

    Args:
        catalogue: The rule data.
        words: What is looked for, such as ``touched sand practice swing``.
    """
    return find_of_kind(catalogue, Kind.ACT, words)


def stems_of(words: str) -> set[str]:
    """The beginnings of the words of a text, by which words that begin alike count as the same."""
    letters = "".join(letter if letter.isalnum() else " " for letter in words.lower())
    return {word[:_STEM] for word in letters.split() if len(word) > 2}


def rule_on_act(book: Book, act: str, facts: Mapping[str, bool]) -> ActAnswer:
    """Say what an act leads to.

    Args:
        book: The book.
        act: Name of the act, without its family.
        facts: Named facts that are known, true or false.
    """
    key = f"{FAMILY}{act}"
    row = book.catalogue.rows[key]
    why_none = book.why_absent(key) if not book.has_row(key) else "" if book.has(f"{key}.cases") else "its cases are not typed"
    cases = () if why_none else book.cases(f"{key}.cases").value
    case = next((case for case in cases if all(_is_true(name, facts) for name in case.when)), None)
    earlier = cases[: cases.index(case)] if case is not None else ()
    turns = turns_of(book, cases, case, facts) if case is not None else ()
    is_late = any(open_case.put_right == NEXT_TEE for open_case in (case, *(turn.then for turn in turns)) if open_case is not None)
    return ActAnswer(
        book=book.name,
        stamp=book.stamp,
        act=act,
        means=row.means,
        area=book.word(f"{key}.area").value if book.has(f"{key}.area") else "",
        case=case,
        cases=cases,
        holds_unless=tuple(dict.fromkeys(name for other in earlier for name in open_facts(other, facts))),
        turns=turns,
        turns_in={form: turns_of(book, cases, case, facts, (reading,)) if case is not None else () for form, reading in _READ.items()},
        why_none=why_none,
        advice=told_advice(book, key),
        citations=merged(book.citations(key), _changes_of_last_hole(book) if is_late else ()),
        last_hole=book.word(f"{LAST_HOLE}.last_hole").value if is_late else "",
        last_hole_words=told_text(book, f"{LAST_HOLE}.sentence") if is_late else "",
        is_stroke_in_question=act in book.words(_WITH_A_STROKE).value,
        cautions=_cautions(book, facts),
    )


def _changes_of_last_hole(book: Book) -> tuple[Citation, ...]:
    """What an overlay says of the last hole; unchanged it stands in the rule of the act itself."""
    return tuple(citation for citation in book.citations(LAST_HOLE) if citation.overlay is not None)


def _cautions(book: Book, facts: Mapping[str, bool]) -> tuple[Cited[str], ...]:
    """The cautions that a fact stated true brings up."""
    rows = [row for row in book.catalogue.rows if row.startswith(_CAUTION) and book.has_row(row)]
    touched = [row for row in rows if any(_is_true(fact, facts) for fact in book.words(f"{row}.facts").value)]
    return tuple(book.word(f"{row}.text") for row in touched)


def told_advice(book: Book, key: str) -> str:
    """What a row has the official tell besides; empty where there is nothing."""
    told = told_text(book, f"{key}.advice") if book.has(f"{key}.advice") else _NOTHING
    return "" if told == _NOTHING else told


def _is_true(name: str, facts: Mapping[str, bool]) -> bool:
    return facts.get(name) is True


def facts_read(books: Iterable[Book], act: str) -> tuple[str, ...]:
    """The facts that any of some books reads of an act."""
    key = f"{FAMILY}{act}.cases"
    return tuple(dict.fromkeys(name for book in books if book.has(key) for case in book.cases(key).value for name in case.when))


def facts_not_read(facts: Iterable[str], read: Iterable[str]) -> tuple[str, ...]:
    """The facts stated that a book does not read, in the order in which they were stated."""
    known = set(read)
    return tuple(name for name in facts if name not in known)


def refuse_unread(facts: Iterable[str], read_by: Iterable[Iterable[str]], what: str, field: str = Field.FACT) -> None:
    """See that every fact stated is read by some book.

    Args:
        facts: Facts stated.
        read_by: The facts that each book reads.
        what: What is asked about, in words.
        field: The field that they were stated in.

    Raises:
        DataError: One is not; the error names those that are.
    """
    read = tuple(dict.fromkeys(name for names in read_by for name in names))
    for name in facts_not_read(facts, read):
        hint = f"Read are: {', '.join(map(as_told, read))}." if read else "No fact changes the answer."
        raise DataError(f"No book asked reads the fact {as_told(name)!r} of {what}.", field=field, hint=hint)
