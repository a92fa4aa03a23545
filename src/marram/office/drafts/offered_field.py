"""What is typed for the new value of a key, by its kind, and read back: a length, a number, yes or no, one of some words, several."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from marram.core.citations import Citation
from marram.interchange.books.value_text import written
from marram.office.trials.draft_change import read_new_value
from marram.rulebook.book import Book
from marram.rulebook.consequences import Cases
from marram.rulebook.differences.change_heading import relief_title
from marram.rulebook.differences.difference_words import says
from marram.rulebook.differences.told_change import first_sentence, said_of
from marram.rulebook.facts import yes_no_facts
from marram.rulebook.values import FACT, Absent, PartSpec, PartType, SizeOf, Value, cases_of, parse_stated
from marram.rulebook.wording.value_words import NAMED_UNITS


class FieldKind(StrEnum):
    """What kind of field a key is filled in by."""

    LENGTH = "length"
    NUMBER = "number"
    YES_NO = "yes-no"
    CHOICE = "choice"
    SEVERAL = "several"
    CASES = "cases"


_KINDS = {
    PartType.SIZE: FieldKind.LENGTH,
    PartType.NUMBER: FieldKind.NUMBER,
    PartType.YES_NO: FieldKind.YES_NO,
    PartType.WORD: FieldKind.CHOICE,
    PartType.WORDS: FieldKind.SEVERAL,
    PartType.ROWS: FieldKind.SEVERAL,
    PartType.CASES: FieldKind.CASES,
}
LENGTH_UNITS = {"club-lengths": "club-lengths", "in": "inches", "m": "metres"}
"""Units of a length as they are typed, and as they are told."""
_AS, NO_VALUE = "as ", "no value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """Something that may be chosen: as it is typed, in words, and whether the book holds it now."""

    value: str
    words: str
    is_held: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedField:
    """The field of a key.

    Attributes:
        key: The key.
        kind: What kind of field it is.
        about: What the row is about, without a full stop.
        part: What the part says, with a capital.
        holds: What the book holds, as it is typed.
        says: The same in words.
        unit: Unit of a number in words; empty where it has none.
        offers: What may be chosen.
        cases: The cases that the book holds; empty for other kinds.
        facts: Facts for which a case may be added; empty for other kinds.
        citations: The rules.
    """

    key: str
    kind: FieldKind
    about: str
    part: str
    holds: str
    says: str
    unit: str
    offers: tuple[Offer, ...]
    cases: Cases
    facts: tuple[Offer, ...]
    citations: tuple[Citation, ...]


def offer_field(book: Book, key: str) -> OfferedField:
    """The field of a key.

    Args:
        book: The book.
        key: A key of it.

    Raises:
        RuleDataError: There is no such key.
    """
    row, spec = book.catalogue.find_key(key)
    held = book.cited(key).value if book.has(key) else Absent()
    return OfferedField(
        key=key,
        kind=_KINDS[spec.type],
        about=first_sentence(row.means),
        part=_capital(spec.means.rstrip(".")),
        holds=written(held),
        says=value_said(book, key, held),
        unit=unit_words(spec),
        offers=tuple(_offers(book, key, spec, held)),
        cases=cases_of(held),
        facts=_facts(book) if spec.type is PartType.CASES else (),
        citations=book.citations(row.id) if book.has_row(row.id) else (),
    )


def is_changeable(book: Book, key: str) -> bool:
    """Whether a key of a book can be given another value: logic reads it, and the book has it."""
    return key in book.catalogue.keys and book.catalogue.keys[key][1].decides and book.has(key)


def unit_words(spec: PartSpec) -> str:
    """The unit of a number, in words for more than one."""
    if spec.type is not PartType.NUMBER or spec.unit == "count":
        return ""
    named = NAMED_UNITS.get(spec.unit, spec.unit)
    return (
        "inches"
        if named == "inch"
        else f"{named}s"
        if spec.unit in NAMED_UNITS
        else {"pct": "per cent", "deg": "degrees"}.get(named, named)
    )


def value_said(book: Book, key: str, value: Value) -> str:
    """A value of a key as an official reads it out."""
    row, spec = book.catalogue.find_key(key)
    if isinstance(value, tuple) and not cases_of(value) and spec.type is PartType.ROWS:
        return ", ".join(_row_words(book, f"{spec.of.rstrip('.')}.{name}") for name in value if isinstance(name, str)) or "nothing"
    if isinstance(value, SizeOf):
        own = book.size(key).value if book.has(key) and book.cited(key).value == value else None
        told = said_of(book, row.id, spec, value)
        return told if own is None else f"{says(book, row.id.partition('.')[0], spec, own)}, {told}"
    return said_of(book, row.id, spec, value)


def _offers(book: Book, key: str, spec: PartSpec, held: Value) -> list[Offer]:
    family = key.partition(".")[0]
    match spec.type:
        case PartType.YES_NO:
            return [
                Offer(value=typed, words=says(book, family, spec, is_so), is_held=held is is_so)
                for typed, is_so in (("yes", True), ("no", False))
            ]
        case PartType.WORD:
            return [Offer(value=word, words=says(book, family, spec, word), is_held=word == held) for word in spec.words]
        case PartType.WORDS:
            return _in_order(
                [Offer(value=word, words=_word_said(book, family, spec, word), is_held=_holds(held, word)) for word in spec.words], held
            )
        case PartType.ROWS:
            start = f"{spec.of.rstrip('.')}."
            rows = [row for row in book.catalogue.rows_of(start.partition(".")[0]) if row.startswith(start) and _may_be_named(book, row)]
            named = [
                Offer(value=row.removeprefix(start), words=_row_words(book, row), is_held=_holds(held, row.removeprefix(start)))
                for row in rows
            ]
            return _in_order(named, held)
        case PartType.SIZE:
            sizes = [
                other for other, (_, each) in book.catalogue.keys.items() if each.type is PartType.SIZE and other != key and book.has(other)
            ]
            return [
                Offer(value=f"{_AS}{other}", words=_size_words(book, other), is_held=held == SizeOf(key=other))
                for other in sizes
                if not _follows(book, other)
            ]
        case _:
            return []


def _facts(book: Book) -> tuple[Offer, ...]:
    """Facts that a case may turn on."""
    return tuple(Offer(value=name, words=name.replace("_", " ")) for name in yes_no_facts(book.catalogue.facts))


def _in_order(offers: list[Offer], held: Value) -> list[Offer]:
    """What is held first, in its own order, which the book may mean; then the rest."""
    order = [word for word in held if isinstance(word, str)] if isinstance(held, tuple) else []
    known = {offer.value for offer in offers}
    gone = [Offer(value=word, words=word.replace("-", " "), is_held=True) for word in order if word not in known]
    return sorted([*offers, *gone], key=lambda offer: order.index(offer.value) if offer.value in order else len(order))


def _follows(book: Book, key: str) -> bool:
    return isinstance(book.cited(key).value, SizeOf)


def _holds(held: Value, word: str) -> bool:
    return isinstance(held, tuple) and word in held


def _word_said(book: Book, family: str, spec: PartSpec, word: str) -> str:
    return word.replace("_", " ") if spec.of == FACT else says(book, family, spec, word)


def _may_be_named(book: Book, row_id: str) -> bool:
    """Whether a list may name a row: the book has it, and of the reliefs it is a procedure and no test."""
    return book.has_row(row_id) and (not row_id.startswith("relief.") or "title" in book.catalogue.rows[row_id].parts)


def _row_words(book: Book, row_id: str) -> str:
    row = book.catalogue.rows.get(row_id)
    if row is None:
        return row_id.partition(".")[2].replace("-", " ")
    if row_id.startswith("relief.") and "title" in row.parts:
        return f"{relief_title(book, row_id.partition('.')[2])}: {_low(first_sentence(row.means))}"
    return first_sentence(row.means)


def _size_words(book: Book, key: str) -> str:
    row, _ = book.catalogue.find_key(key)
    return f"{first_sentence(row.means)}: {book.size(key).value.words}"


# What is typed -------------------------------------------------------------------------------------------------------


def typed_length(typed: str) -> tuple[str, str]:
    """The amount and the unit of a typed length; the unit is empty where none is known."""
    amount, _, unit = typed.strip().partition(" ")
    told = {"club-length": "club-lengths", "inch": "in", "inches": "in", "metre": "m", "metres": "m"}.get(unit.strip(), unit.strip())
    return amount, told if told in LENGTH_UNITS else ""


def typed_words(typed: str) -> tuple[str, ...]:
    """The words of a typed list."""
    return () if typed.strip() in {"none", "-", NO_VALUE} else tuple(word.strip() for word in typed.split(",") if word.strip())


def typed_now(book: Book, key: str, raw: object) -> str:
    """A value of a file as it is typed; empty where it does not fit its key.

    Args:
        book: The book.
        key: A key of the rule data.
        raw: What the file holds.
    """
    value = parse_stated(raw, book.catalogue.find_key(key)[1])
    return "" if value is None else written(value)


def read_filled(book: Book, key: str, typed: str) -> tuple[Value | None, str]:
    """Read the new value of a key.

    Args:
        book: The book.
        key: A key of it.
        typed: What was typed, or put together from the parts of a field.

    Returns:
        The value, or None with what is wrong with it, as a sentence.
    """
    if not typed.strip():
        return None, ""
    value, fault = read_new_value(book, key, typed)
    return value, _sentence(fault) if fault else ""


def _sentence(text: str) -> str:
    told = _capital(text.strip())
    return told if told.endswith((".", "?")) else f"{told}."


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _low(words: str) -> str:
    return words[:1].lower() + words[1:]
