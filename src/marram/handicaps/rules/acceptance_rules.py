"""The rules by which a score counts for handicap or does not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.citations import Citation, Cited, merged
from marram.handicaps.rules.rule_reader import RuleReader
from marram.handicaps.rules.score_rules import HolesNotPlayedRules, holes_not_played_rules
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import Accepted, AfterBreach, ScoreNeeds

FAMILY, BREACHES = "handicap-format", "breach"


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """A breach, and what becomes of a score after it."""

    means: str
    after: AfterBreach


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptanceRules:
    """What a score needs to count for handicap.

    Attributes:
        needs: What must hold of the round, in the order in which it is told, each with its words.
        holes: How many holes make a score.
        formats: Whether scores in a format count, by its name.
        breaches: What becomes of a score after a breach, by its name.
        approved_counts: Whether a round counts under changed rules that the authorized association has approved in writing.
        least_yd: How long a course of 18 holes, and one of nine, must be to be rated.
        cited: The rules behind each format, each breach, changed rules and lengths, by their rows.
    """

    needs: Mapping[ScoreNeeds, str]
    holes: HolesNotPlayedRules
    formats: Mapping[str, Accepted]
    breaches: Mapping[str, Breach]
    approved_counts: bool
    least_yd: tuple[int, int]
    cited: Mapping[str, tuple[Citation, ...]]


def acceptance_rules(book: Book) -> Cited[AcceptanceRules]:
    """What a score needs to count for handicap under a book."""
    read, holes = RuleReader(book), holes_not_played_rules(book)
    needs = read.words("acceptable-score.needs")
    says = book.catalogue.rows["acceptable-score"].parts["needs"].says
    formats, breaches = (_names(read, family) for family in (FAMILY, BREACHES))
    rules = AcceptanceRules(
        needs={ScoreNeeds(need): says[need] for need in needs},
        holes=holes.value,
        formats={name: Accepted(book.word(f"{row}.accepted").value) for name, row in formats.items()},
        breaches={name: _breach(book, row) for name, row in breaches.items()},
        approved_counts=book.yes("changed-rules.approved_counts").value,
        least_yd=(int(book.number("course-length.eighteen_yd").value), int(book.number("course-length.nine_yd").value)),
        cited={row: book.citations(row) for row in (*formats.values(), *breaches.values(), "changed-rules", "course-length")},
    )
    return Cited(value=rules, citations=merged(read.citations, holes.citations))


def _names(read: RuleReader, family: str) -> dict[str, str]:
    return {row.partition(".")[2]: row for row in read.rows(family)}


def _breach(book: Book, row: str) -> Breach:
    return Breach(means=book.catalogue.rows[row].means, after=AfterBreach(book.word(f"{row}.after").value))
