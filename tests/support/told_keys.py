"""Which keys are ever told, found from the texts and from what the telling code reads; and other values that they may hold."""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache
from itertools import chain

import pytest

from marram.core.citations import Cited
from marram.core.units import LengthUnit, Size
from marram.rulebook import Book, open_book, packaged_catalogue
from marram.rulebook.catalogue import Row
from marram.rulebook.consequence_words import Added, HoleIs, Out
from marram.rulebook.consequences import Consequence
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.placeholders import OWN, PLACEHOLDER
from marram.rulebook.values import PartSpec, PartType, SizeOf, Value, cases_of
from tests.support.tellings import tellers

TELLING: Mapping[str, frozenset[str]] = {
    "marram.rulebook.wording.explain": frozenset(),
    "marram.showing.forbidden": frozenset(),
    "marram.rulings.acts.form_of_play": frozenset(),
    "marram.rulings.acts.suspension": frozenset(),
    "marram.rulings.acts.search_clock": frozenset({"follow_search", "not_stated"}),
    "marram.rulings.drop.dropping": frozenset(),
    "marram.rulings.drop.law": frozenset(),
    "marram.rulings.acts.objects": frozenset({"rule_on_object", "_act", "_kind", "_allowed"}),
    "marram.rulings.acts.acts": frozenset({"rule_on_act"}),
    "marram.rulings.options": frozenset({"_option", "_measured_fills", "_common_fills", "_where_words"}),
    "marram.sheets.guide.procedure_page": frozenset(),
}
"""Modules that put what a book holds into words, with the functions in them that do so; all of them where none is named."""
_LOOKS_UP = frozenset({"marram.rulebook.book", "marram.rulings.case.procedure", "marram.rulings.case.case"})
"""Modules that only pass on what another asks for."""
EDITIONS = tuple(packaged_catalogue().editions)


@lru_cache
def base(edition: str) -> Book:
    """An edition with nothing laid over it."""
    return open_book(edition, [], packaged_catalogue())


@lru_cache
def keys_in_texts() -> frozenset[str]:
    """Every key that some text names in a placeholder."""
    return frozenset(key for row in packaged_catalogue().rows.values() for text in texts_of(row) for key in _named(row, text))


def texts_of(row: Row) -> Iterator[str]:
    """Every sentence of a row, and every way in which a word of one of its lists is said."""
    for spec in row.parts.values():
        yield from spec.says.values()
    yield from sentences_of(row)


def sentences_of(row: Row) -> Iterator[str]:
    """Every sentence of a row, in any edition."""
    for spec in row.parts.values():
        yield from (spec.default,) if isinstance(spec.default, str) and not spec.decides else ()
        if not spec.decides:
            held = (cell.values.get(spec.name) for cell in row.editions.values())
            yield from dict.fromkeys(text for text in held if isinstance(text, str))


def _named(row: Row, text: str) -> Iterator[str]:
    """Keys that a text names; a part of its own row where the row has it, else it is told of whatever row is asked about."""
    for name, _ in PLACEHOLDER.findall(text):
        part = name.removeprefix(f"{OWN}.")
        if part == name and "." in name:
            yield name
        elif part != name and part in row.parts:
            yield f"{row.id}.{part}"


# What the telling code reads ------------------------------------------------------------------------------------------


class _Forgetting(dict[tuple[str, str], object]):
    """Holds what was looked up just now and owns to nothing: every look-up is made anew, and so is noted."""

    def __contains__(self, asked: object) -> bool:
        return False


@dataclass(frozen=True)
class Noting(Book):
    """A book that notes which keys the telling code reads, each time that it does."""

    notes: frozenset[str] = frozenset()
    _looked_up: dict[tuple[str, str], object] = field(default_factory=_Forgetting, init=False, compare=False, repr=False)

    def cited(self, key: str) -> Cited[Value]:
        """The value of a key; noted where the telling code asks for it."""
        _note(key)
        return super().cited(key)

    def has(self, key: str) -> bool:
        """Whether there is one; noted in the same way."""
        _note(key)
        return super().has(key)


_NOTED: set[str] = set()


def _note(key: str) -> None:
    frame = sys._getframe(2)
    while frame.f_globals["__name__"] in _LOOKS_UP and frame.f_back is not None:
        frame = frame.f_back
    functions = TELLING.get(frame.f_globals["__name__"])
    if functions is not None and (not functions or frame.f_code.co_name in functions):
        _NOTED.add(key)


@lru_cache
def read_by(edition: str) -> Mapping[str, frozenset[str]]:
    """The keys that each teller reads under an edition, as the telling code asks for them."""
    catalogue = packaged_catalogue()
    book = Noting(edition=edition, catalogue=catalogue, overlays=(), changed={})
    found = {}
    for name, tell in tellers().items():
        _NOTED.clear()
        tell(book)
        found[name] = frozenset(key for key in _NOTED if catalogue.find_key(key)[1].decides)
    return found


@lru_cache
def told_by(edition: str) -> Mapping[str, tuple[str, ...]]:
    """Each key that is told under an edition, with the tellers that read it."""
    found: dict[str, list[str]] = defaultdict(list)
    for teller, keys in read_by(edition).items():
        for key in keys:
            found[key].append(teller)
    return {key: tuple(found[key]) for key in sorted(found) if base(edition).has(key)}


def told_keys() -> tuple[str, ...]:
    """Every key that is told under any edition."""
    return tuple(sorted(set(chain.from_iterable(told_by(edition) for edition in EDITIONS))))


_MANY = 3
"""Of a long closed list so many words are tried."""

# Other values ---------------------------------------------------------------------------------------------------------


def other_values(spec: PartSpec, value: Value) -> list[Value]:
    """Other values that a part may hold, made from its type and its closed list."""
    match spec.type:
        case PartType.YES_NO:
            return [not value]
        case PartType.NUMBER:
            return [value + 1] if isinstance(value, int | float) else []
        case PartType.WORD:
            return list[Value](word for word in spec.words if word != value)[:_MANY]
        case PartType.WORDS | PartType.ROWS:
            return _other_lists(spec, tuple(word for word in value if isinstance(word, str)) if isinstance(value, tuple) else ())
        case PartType.SIZE:
            size = value if isinstance(value, Size) else Size(amount=6, unit=LengthUnit.INCHES)
            return [replace(size, amount=size.amount + 1), Size(amount=3, unit=LengthUnit.METRES)]
        case PartType.CASES:
            *rest, last = cases_of(value)
            return [(*rest, _other_case(last))]
        case _:
            return []


def _other_case(case: Consequence) -> Consequence:
    """A penalty that costs more strokes in the form of play in which the case can happen."""
    if case.only_in == "match-play":
        return replace(case, match_strokes=case.match_strokes + 1, hole=HoleIs.NOTHING, out=Out.NOT, added=Added.NOTHING, allowed=True)
    match_strokes = case.match_strokes + (0 if case.hole else 1)
    return replace(case, strokes=case.strokes + 1, match_strokes=match_strokes, out=Out.NOT, added=Added.NOTHING, allowed=True)


def _other_lists(spec: PartSpec, words: tuple[str, ...]) -> list[Value]:
    family = packaged_catalogue().rows
    known = spec.words or tuple(row.removeprefix(f"{spec.of}.") for row in family if row.startswith(f"{spec.of}."))
    more = [(word, *words) for word in known if word not in words][:1]
    fewer = [words[:-1]] if words else []
    return [*more, *fewer]


def changed_book(edition: str, key: str, now: Value) -> Book:
    """An edition with one key changed."""
    was = base(edition).cited(key).value
    book = open_book(edition, [one_change(key, was, now)], packaged_catalogue())
    book.__dict__["stamp"] = "0000 0000"  # nothing that is told hangs on it, and it takes longer than the telling
    return book


def one_change(key: str, was: Value, now: Value) -> Overlay:
    """A trial of one change."""
    change = Change(number=1, key=key, was=was, now=now, because="To try it.", standing=Standing.UNOFFICIAL)
    return Overlay(name="trial", title="A trial", dated=date(2026, 3, 1), on=(), after=(), changes=(change,))


def held(book: Book, key: str) -> Value:
    """What a book holds under a key; the size itself where it is that of another."""
    value = book.cited(key).value
    return book.size(key).value if isinstance(value, SizeOf) else value


@contextmanager
def marked(key: str) -> Iterator[None]:
    """While it lasts, what is told of one key from its placeholder stands in brackets."""
    from marram.rulebook.wording import explain

    tell, clause_of = explain.tell, explain.clause_of

    def tell_marked(book: Book, name: str, fills: Mapping[str, str] | None = None, *, joint: str = "and") -> str:
        words = tell(book, name, fills, joint=joint)
        return f"⟦{words}⟧" if name == key else words

    def clause_marked(book: Book, clause: str, name: str, fills: Mapping[str, str] | None = None) -> str:
        words = clause_of(book, clause, name, fills)
        return f"⟦{words}⟧" if name == key and words else words

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(explain, "tell", tell_marked)
        patch.setattr(explain, "clause_of", clause_marked)
        yield
