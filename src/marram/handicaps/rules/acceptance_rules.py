"""The rules by which a score counts for handicap or does not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.citations import Citation, Cited, merged
from marram.handicaps.rules.rule_reader import RuleReader
from marram.handicaps.rules.score_rules import HolesNotPlayedRules, holes_not_played_rules
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import Accepted, ScoreNeeds

FAMILY = "handicap-format"


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptanceRules:
    """What a score needs to count for handicap.

    Attributes:
        needs: What must hold of the round, in the order in which it is told, each with its words.
        holes: How many holes make a score.
        formats: Whether scores in a format count, by its name.
        cited: The rules behind the needs, and behind each format.
    """

    needs: Mapping[ScoreNeeds, str]
    holes: HolesNotPlayedRules
    formats: Mapping[str, Accepted]
    cited: Mapping[str, tuple[Citation, ...]]


def acceptance_rules(book: Book) -> Cited[AcceptanceRules]:
    """What a score needs to count for handicap under a book."""
    read, holes = RuleReader(book), holes_not_played_rules(book)
    needs = read.words("acceptable-score.needs")
    says = book.catalogue.rows["acceptable-score"].parts["needs"].says
    rows = {row.partition(".")[2]: row for row in read.rows(FAMILY)}
    rules = AcceptanceRules(
        needs={ScoreNeeds(need): says[need] for need in needs},
        holes=holes.value,
        formats={name: Accepted(book.word(f"{row}.accepted").value) for name, row in rows.items()},
        cited={name: book.citations(row) for name, row in rows.items()},
    )
    return Cited(value=rules, citations=merged(read.citations, holes.citations))
