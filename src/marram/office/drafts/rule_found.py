"""Find the keys of a book that some words are about: by the row that is spoken of, and by the part of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from marram.asking.entries import read_phrases
from marram.asking.heard_words import Lexicon, read_lexicon
from marram.asking.index import Index, Text
from marram.office.drafts.offered_field import is_changeable
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Row
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import PartSpec, PartType

_ROWS_LOOKED_AT, _OF_EACH_ROW, _NEARLY = 40, 2, 0.05
_BY_PART, _BY_STATED, _BY_LED, _BY_RULE = 0.6, 0.03, 0.04, 1.0
"""How much the part counts beside the row, that the edition states it, and that its rule is typed: the row leads, the part decides."""
_MEANS, _NAME, _BESIDES = 2.0, 1.5, 0.5
_HINTS = {
    PartType.SIZE: "how far how large how wide length distance club-lengths inches metres size of the relief area",
    PartType.YES_NO: "whether allowed may must",
    PartType.ROWS: "which",
}
_UNIT_HINTS = {"min": "how long time limit minutes", "s": "how long time limit seconds", "strokes": "penalty strokes cost how many"}
_LED = {"size": 3, "limit_min": 3, "penalty_strokes": 2, "cases": 2, "allowed": 1}
"""Parts that an official means first where only the row is spoken of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleFound:
    """A key that some words are about.

    Attributes:
        key: The key.
        score: How well it fits, by which keys are ranked.
    """

    key: str
    score: float


def find_rules(book: Book, words: str, most: int = 8) -> tuple[RuleFound, ...]:
    """The keys of a book that some words are about, the likeliest first.

    Args:
        book: The book.
        words: What somebody looks for: words, a key, or the number of a rule.
        most: How many at most.
    """
    if is_changeable(book, words.strip()):
        return (RuleFound(key=words.strip(), score=1.0),)
    finder = _finder()
    said = finder.lexicon.hear(words)
    by_row = {match.id: match.score for match in finder.rows.find(said)[:_ROWS_LOOKED_AT]}
    by_part = {match.id: match.score for match in finder.parts.find(said)}
    numbers = [word for word in words.lower().split() if any(letter.isdigit() for letter in word)]
    asked = by_row.keys() | set(_rows_of_rule(book, numbers))
    found = [_scored(book, row, spec, by_row, by_part, numbers) for row, spec in _parts_of(book, asked)]
    best = sorted(found, key=lambda hit: (-round(hit.score, 6), -_LED.get(hit.key.rpartition(".")[2], 0), hit.key))
    return tuple(_few_of_each(best))[:most]


def _few_of_each(best: Sequence[RuleFound]) -> Iterator[RuleFound]:
    """The first key of each row, and one that fits nearly as well: the others are found from these."""
    told: dict[str, list[float]] = {}
    for hit in best:
        scores = told.setdefault(hit.key.rpartition(".")[0], [])
        if len(scores) < _OF_EACH_ROW and (not scores or hit.score > scores[0] - _NEARLY):
            scores.append(hit.score)
            yield hit


def parts_beside(book: Book, key: str) -> tuple[str, ...]:
    """The other keys of a row that can be changed."""
    row, _ = book.catalogue.find_key(key)
    named = (f"{row.id}.{part}" for part in row.parts)
    return tuple(other for other in named if other != key and is_changeable(book, other))


def _scored(
    book: Book, row: Row, spec: PartSpec, by_row: Mapping[str, float], by_part: Mapping[str, float], numbers: list[str]
) -> RuleFound:
    cell = row.editions.get(book.edition)
    is_stated = cell is None or spec.name not in cell.defaulted
    score = by_row.get(row.id, 0.0) + _BY_PART * by_part.get(_part_id(row, spec), 0.0) + _BY_STATED * is_stated
    score += _BY_LED * _LED.get(spec.name, 0) + _BY_RULE * sum(number in _rule_of(book, row.id) for number in numbers)
    return RuleFound(key=f"{row.id}.{spec.name}", score=score)


def _parts_of(book: Book, rows: set[str]) -> Iterator[tuple[Row, PartSpec]]:
    for row_id in sorted(rows):
        row = book.catalogue.rows[row_id]
        yield from ((row, spec) for spec in row.parts.values() if is_changeable(book, f"{row_id}.{spec.name}"))


def _rows_of_rule(book: Book, numbers: list[str]) -> list[str]:
    if not numbers:
        return []
    return [row for row in book.catalogue.rows if book.has_row(row) and any(number in _rule_of(book, row) for number in numbers)]


def _rule_of(book: Book, row_id: str) -> str:
    return " ".join(citation.rule.lower() for citation in book.citations(row_id)) if book.has_row(row_id) else ""


def _part_id(row: Row, spec: PartSpec) -> str:
    return f"{row.id.partition('.')[0] if '.' in row.id else row.id}.{spec.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Finder:
    """Two indexes of the rule data: its rows, and the parts that rows of one form share; each with its own count of rare words."""

    rows: Index
    parts: Index
    lexicon: Lexicon


@lru_cache(maxsize=1)
def _finder() -> _Finder:
    """The indexes of the rule data that comes with Marram, gathered once a process."""
    catalogue, lexicon, phrases = packaged_catalogue(), read_lexicon(), read_phrases()
    decided = [row for row in catalogue.rows.values() if any(spec.decides for spec in row.parts.values())]
    rows = {row.id: [*_row_texts(row), *(Text(words=phrase) for phrase in phrases.get(row.id, ()))] for row in decided}
    parts = {_part_id(row, spec): list(_part_texts(spec)) for row in decided for spec in row.parts.values() if spec.decides}
    return _Finder(rows=Index(lexicon, rows, {}), parts=Index(lexicon, parts, {}), lexicon=lexicon)


def _row_texts(row: Row) -> Iterator[Text]:
    """A row by what it means and by its name; one that is no row of a form by what its parts say as well."""
    yield Text(words=row.means, weight=_MEANS)
    yield Text(words=row.id.partition(".")[2].replace("-", " ") or row.id.replace("-", " "), weight=_NAME)
    if "." not in row.id:
        yield from (Text(words=spec.means, weight=_BESIDES, is_phrase=False) for spec in row.parts.values() if spec.decides)


def _part_texts(spec: PartSpec) -> Iterator[Text]:
    yield Text(words=spec.means)
    yield Text(words=spec.name.replace("_", " "), weight=_NAME)
    hint = f"{_HINTS.get(spec.type, '')} {_UNIT_HINTS.get(spec.unit, '')} {' '.join(spec.says.values())}".strip()
    if hint:
        yield Text(words=hint, weight=_BESIDES, is_phrase=False)
