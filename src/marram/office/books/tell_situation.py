"""Tell what a book says of a situation: its options with penalty, ground, conditions and exceptions, and what is closed and why."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.core.errors import RuleDataError
from marram.core.words import spaced
from marram.office.books.tell_row import open_text, row_title
from marram.rulebook.book import Book
from marram.rulebook.values import nearest_names
from marram.rulebook.wording.explain import ask, strokes_words
from marram.sheets.pages.edition_sheet import ReliefLine, edition_sheet

_SITUATION = "situation."
_NEEDED = {"needs": "yes", "needs_if_not_found": "not-found", "only_if": "yes", "needs_not": "no"}
"""Parts that open a relief, with how their facts must stand."""
_TAKEN_AWAY = {"barred_by": "yes", "barred_if_not_found": "not-found", "unless": "yes"}
"""Parts that close it."""
_NOT_TOLD = "-"


@dataclass(frozen=True, slots=True, kw_only=True)
class FactAsked:
    """A fact on which a relief turns.

    Attributes:
        question: The question that settles it.
        when: ``yes`` or ``no``, as it must be answered; ``not-found`` where yes is asked of a ball that was not found alone.
        citations: The rules.
    """

    question: str
    when: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionTold:
    """An option of a situation.

    Attributes:
        title: What the book calls it.
        lies: Where the ball lies for it to apply.
        strokes: Penalty strokes; None where they are those of the situation.
        penalty: What it costs, in words.
        put: How the ball is put in play: dropped, placed, replaced, played.
        ground: The ground on which; empty where nothing is measured.
        measured_from: What is measured from; empty where nothing is.
        nearer: What it may be no nearer the hole than; empty where nothing limits it.
        must_take: Whether it must be taken.
        needed: Facts that open it.
        taken_away: Facts that close it.
        advice: What the player is told besides; empty for nothing.
        citations: The rules.
        chain: Names of the rows that it is told from, the outermost first.
    """

    title: str
    lies: str
    strokes: int | None
    penalty: str
    put: str
    ground: str
    measured_from: str
    nearer: str
    must_take: bool
    needed: tuple[FactAsked, ...]
    taken_away: tuple[FactAsked, ...]
    advice: str
    citations: tuple[Citation, ...]
    chain: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """Where the ball goes and how it is put in play, in one sentence."""
        measured = f"measured from {self.measured_from}" if self.measured_from else ""
        told = ", ".join(filter(None, (f"{self.put} {self.ground}".strip(), measured, self.nearer)))
        return f"{told[:1].upper()}{told[1:]}."


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedTold:
    """A relief that a book does not give in a situation.

    Attributes:
        title: What it is called.
        because: Why it is not given.
        citations: The rules.
        chain: Names of the rows that it is told from, the outermost first.
    """

    title: str
    because: str
    citations: tuple[Citation, ...]
    chain: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SituationTold:
    """What a book says of a situation.

    Attributes:
        situation: Its name.
        title: What it is called in a list.
        means: What it is.
        why_absent: Why the book has no such situation; empty where it has one.
        citations: The rules of the situation.
        forbidden: Questions of which a yes forbids playing the ball as it lies.
        options: What is open, in the order in which it is told.
        closed: What is not given, and why.
        alike: Rows that are told by an option or a reason above, since they read alike.
    """

    situation: str
    title: str
    means: str
    why_absent: str
    citations: tuple[Citation, ...]
    forbidden: tuple[str, ...]
    options: tuple[OptionTold, ...]
    closed: tuple[ClosedTold, ...]
    alike: tuple[str, ...]

    @property
    def every_citation(self) -> tuple[Citation, ...]:
        """Every rule that the page of it names, each once."""
        of_facts = (fact.citations for option in self.options for fact in (*option.needed, *option.taken_away))
        return merged(
            self.citations, *(option.citations for option in self.options), *of_facts, *(entry.citations for entry in self.closed)
        )


def situation_names(book: Book) -> tuple[str, ...]:
    """Names of the situations of the rule data, in their order."""
    return tuple(row.removeprefix(_SITUATION) for row in book.catalogue.rows_of("situation"))


def situation_title(name: str) -> str:
    """What a situation is called in a list."""
    words = spaced(name)
    return words[:1].upper() + words[1:]


def situations_with(book: Book, row_id: str) -> tuple[str, ...]:
    """Names of the situations that open a relief, itself or through another that it carries out.

    Args:
        book: The book.
        row_id: Name of the row.
    """
    return tuple(
        block.situation for block in edition_sheet(book).blocks if any(row_id in line.chain for line in block.lines if not line.why_not)
    )


def tell_situation(book: Book, name: str) -> SituationTold:
    """Tell a situation.

    Args:
        book: The book.
        name: Name of the situation.

    Raises:
        RuleDataError: There is no such situation; the error names the nearest.
    """
    row = f"{_SITUATION}{name}"
    if row not in book.catalogue.rows:
        near = nearest_names(name, situation_names(book))
        raise RuleDataError("The rule data has no such situation.", where=name, hint=f"Nearest: {', '.join(near)}." if near else "")
    block = next((block for block in edition_sheet(book).blocks if block.situation == name), None)
    lines = () if block is None else block.lines
    mandatory = f"{row}.mandatory_if"
    return SituationTold(
        situation=name,
        title=situation_title(name),
        means=book.catalogue.rows[row].means,
        why_absent=book.why_absent(row),
        citations=book.citations(row),
        forbidden=tuple(ask(book, fact, {}) for fact in book.words(mandatory).value) if book.has(mandatory) else (),
        options=tuple(_option(book, line) for line in lines if not line.why_not),
        closed=tuple(_closed(book, line) for line in lines if line.why_not),
        alike=tuple(row for row in _named(book, row) if not any(row in line.chain for line in lines)),
    )


def _named(book: Book, row: str) -> tuple[str, ...]:
    """The rows of relief that a situation names."""
    key = f"{row}.procedures"
    return tuple(f"relief.{name}" for name in book.words(key).value) if book.has(key) else ()


def _option(book: Book, line: ReliefLine) -> OptionTold:
    strokes = next((book.number(f"{row}.penalty_strokes").value for row in line.chain if book.has(f"{row}.penalty_strokes")), None)
    last = line.chain[-1]
    return OptionTold(
        title=line.title,
        lies=line.lies,
        strokes=None if strokes is None else int(strokes),
        penalty=line.penalty if strokes is None else strokes_words(int(strokes)).lower(),
        put=line.put,
        ground=line.ground,
        measured_from=line.measured_from,
        nearer=line.nearer,
        must_take=any(book.has(f"{row}.mandatory") and book.yes(f"{row}.mandatory").value for row in line.chain),
        needed=tuple(_facts(book, line.chain, _NEEDED)),
        taken_away=tuple(_facts(book, line.chain, _TAKEN_AWAY)),
        advice=_advice(book, last),
        citations=merged(*(book.citations(row) for row in reversed(line.chain))),
        chain=line.chain,
    )


def _facts(book: Book, chain: tuple[str, ...], parts: dict[str, str]) -> Iterator[FactAsked]:
    """Facts of some parts of the rows of a chain, each once."""
    asked: set[tuple[str, str]] = set()
    for row in chain:
        for part, when in parts.items():
            key = f"{row}.{part}"
            found = book.words(key) if book.has(key) else None
            for fact in () if found is None else found.value:
                if found is not None and (fact, when) not in asked:
                    asked.add((fact, when))
                    yield FactAsked(question=ask(book, fact, {}), when=when, citations=found.citations)


def _advice(book: Book, row: str) -> str:
    key = f"{row}.advice"
    text = book.word(key).value if book.has(key) else _NOT_TOLD
    return "" if text == _NOT_TOLD else open_text(book, row, text)


def _closed(book: Book, line: ReliefLine) -> ClosedTold:
    return ClosedTold(
        title=line.title or row_title(book, line.chain[-1]),
        because=open_text(book, line.chain[-1], line.why_not),
        citations=merged(*(book.citations(row) for row in reversed(line.chain))),
        chain=line.chain,
    )
