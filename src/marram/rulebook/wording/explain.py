"""Steps and reasons in the edition's own words, with what the book in force holds filled in.

A sentence names what it tells: ``{putting_green}`` is a term of the edition, ``{search.limit_min}`` the value of a key, in words, and
``{drop-way.straight_down:straight}`` the clause that the value of a key chooses. So whatever an overlay changes is told as changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar

from marram.core.errors import RuleDataError
from marram.core.terms import Area, Mark
from marram.core.units import LengthUnit, Size
from marram.rulebook.book import Book
from marram.rulebook.consequences import Consequence
from marram.rulebook.placeholders import OWN, PLACEHOLDER
from marram.rulebook.values import SizeOf, Value, cases_of
from marram.rulebook.wording.value_words import listed, number_words, said_as, size_words

_AREA_TERMS = {
    Area.GENERAL_AREA: "general_area",
    Area.TEEING_AREA: "teeing_area",
    Area.PUTTING_GREEN: "putting_green",
    Area.BUNKER: "bunker",
    Area.OUT_OF_BOUNDS: "out_of_bounds",
    Area.PENALTY_AREA: "penalty_area",
}


def area_words(book: Book, area: Area, mark: Mark | None = None) -> str:
    """An area of the course as the edition calls it."""
    if area is Area.PENALTY_AREA and mark is not None:
        return term(book, f"penalty_area_{mark.value}")
    return term(book, _AREA_TERMS[area])


def in_area_words(book: Book, area: Area, mark: Mark | None = None) -> str:
    """Where a ball lies, as a phrase that follows *the ball lies*."""
    words = area_words(book, area, mark)
    if area is Area.OUT_OF_BOUNDS or words.startswith("through "):
        return words
    article = "a" if area in {Area.BUNKER, Area.PENALTY_AREA} else "the"
    article = "an" if article == "a" and words[0] in "aeiou" else article
    preposition = "on" if words.endswith(("green", "ground")) else "in"
    return f"{preposition} {article} {words}"


ROLL_LIMIT = "dropped-ball-roll-limit.roll_limit"
"""How far a dropped ball may roll; where the club is known it is told with metres beside it."""
_OR, _NOTHING, _NOT_STATED = "or", "-", "not stated"


_TOLD: ContextVar[set[str] | None] = ContextVar("told", default=None)


@contextmanager
def noting_told() -> Iterator[set[str]]:
    """Keep, while it lasts, the keys whose values are put into words; what tells them cites whatever changed them."""
    told: set[str] = set()
    before = _TOLD.set(told)
    try:
        yield told
    finally:
        _TOLD.reset(before)


def note_told(key: str) -> None:
    """Keep a key whose value an answer rests on, beside those that sentences fill in."""
    told = _TOLD.get()
    if told is not None:
        told.add(key)


def fill(book: Book, sentence: str, fills: Mapping[str, str] | None = None) -> str:
    """A sentence with the edition's terms, the book's values and the measured numbers filled in.

    Args:
        book: The book in force.
        sentence: The sentence with its placeholders.
        fills: What was measured, and under `OWN` the row that the sentence is about.

    Raises:
        RuleDataError: A placeholder names nothing that is known.
    """
    if "{" not in sentence:
        return sentence
    known = fills or {}

    def filled(found: re.Match[str]) -> str:
        name, clause = found.groups()
        key = name.replace(f"{OWN}.", f"{known[OWN]}.", 1) if OWN in known and name.startswith(f"{OWN}.") else name
        if clause is not None and clause != _OR:
            return clause_of(book, clause, key, known)
        if clause is None and key in known:
            note_told(key)
            return known[key]
        return tell(book, key, known, joint=clause or "and") if "." in key else term(book, key, known)

    return PLACEHOLDER.sub(filled, sentence)


def tell(book: Book, key: str, fills: Mapping[str, str] | None = None, *, joint: str = "and") -> str:
    """What a book holds under a key, in words; *not stated* where it holds nothing.

    Args:
        book: The book in force.
        key: The key.
        fills: What was measured.
        joint: The word before the last of a list.
    """
    _, spec = book.catalogue.find_key(key)
    note_told(key)
    if not book.has(key):
        return _NOT_STATED
    value = _held(book, key)
    if isinstance(value, bool | str | tuple) and not cases_of(value):
        return listed([fill(book, said, fills) for said in said_as(spec, value)], joint)
    if isinstance(value, int | float):
        return number_words(value, spec.unit)
    cases = cases_of(value)
    return cost_words(cases[-1]) if cases else size_words(value) if isinstance(value, Size) else _NOT_STATED


def word_said(book: Book, key: str, word: str) -> str:
    """How a word of the closed list of a key is said."""
    note_told(key)
    _, spec = book.catalogue.find_key(key)
    return " ".join(fill(book, said) for said in said_as(spec, word))


def _held(book: Book, key: str) -> Value:
    value = book.cited(key).value
    return book.size(key).value if isinstance(value, SizeOf) else value


def clause_of(book: Book, clause: str, key: str, fills: Mapping[str, str] | None = None) -> str:
    """The clause that the value of a key chooses.

    Args:
        book: The book in force.
        clause: First part of the clause's name.
        key: The key whose value makes the rest of it.
        fills: What was measured.

    Raises:
        RuleDataError: There is no such clause for what the book holds.
    """
    note_told(key)
    names = [f"clauses.{clause}-{ending}" for ending in _endings(book, key)]
    found = next((name for name in names if name in book.catalogue.keys), None)
    if found is None:
        raise RuleDataError(f"There is no clause {clause!r} for what {book.name} holds.", where=key, hint=f"Expected: {names[-1]}.")
    told = book.word(found).value
    return "" if told == _NOTHING else fill(book, told, fills)


def _endings(book: Book, key: str) -> list[str]:
    """How the name of a clause may end for what a book holds."""
    book.catalogue.find_key(key)
    if not book.has(key):
        return ["none"]
    value = _held(book, key)
    if isinstance(value, bool):
        return ["yes" if value else "no"]
    if isinstance(value, str):
        return [value]
    if isinstance(value, tuple):
        return ["listed" if value else "none"]
    return [f"{value:g}", "stated"] if isinstance(value, int | float) else ["stated"]


def told_text(book: Book, key: str, fills: Mapping[str, str] | None = None) -> str:
    """A sentence of the rule data, filled in."""
    note_told(key)
    return fill(book, book.word(key).value, {OWN: key.rpartition(".")[0]} | dict(fills or {}))


def term(book: Book, name: str, fills: Mapping[str, str] | None = None) -> str:
    """A term as the edition says it."""
    note_told(f"terms.{name}")
    return fill(book, book.word(f"terms.{name}").value, fills)


def say(book: Book, name: str, fills: Mapping[str, str]) -> str:
    """A step, filled in."""
    note_told(f"say.{name}")
    return fill(book, book.word(f"say.{name}").value, fills)


def ask(book: Book, fact: str, fills: Mapping[str, str]) -> str:
    """The question that settles a fact, as the edition asks it; what nothing fills is told by its own name."""
    return fill(book, book.catalogue.facts[fact].asked_in(book.edition), {"condition": "condition"} | dict(fills))


def cost_words(cost: Consequence | None) -> str:
    """A penalty in stroke play and in match play."""
    if cost is None:
        return "no source seen says what that costs"
    stroke, match = cost.stroke_play_words, cost.match_play_words
    return stroke if stroke == match else f"{stroke}, in match play {match}"


def strokes_words(count: int) -> str:
    """Penalty strokes in words."""
    words = number_words(count, "strokes") if count else "no penalty"
    return words[:1].upper() + words[1:]


def size_with_metres(size: Size, size_m: float) -> str:
    """A size as stated, with metres beside it where it is told in other units."""
    return size.words if size.unit is LengthUnit.METRES else f"{size.words} ({size_m:.2f} m)"


def interval_words(intervals_m: tuple[tuple[float, float], ...]) -> str:
    """Stretches of a line in words."""
    stretches = [f"{near_m:.2f} m to {far_m:.2f} m" for near_m, far_m in intervals_m]
    return "none" if not stretches else " and ".join(stretches)
