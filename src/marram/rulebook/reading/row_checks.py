"""What rows name and the rule data does not hold: rows, facts, situations, words that logic compares, and what stands in braces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from marram.rulebook.catalogue import Row
from marram.rulebook.facts import Facts
from marram.rulebook.named_facts import faults_of_named_facts
from marram.rulebook.placeholders import unknown_placeholders
from marram.rulebook.values import PartSpec, PartType
from marram.rulebook.vocabulary import CAUTION, RELIEF, faults_of_words

_TERMS = "terms"
_SITUATION = "situation."


def faults_of_names(
    rows: Mapping[str, Row], forms: Mapping[str, Mapping[str, PartSpec]], facts: Facts, *, forms_file: str, facts_file: str
) -> Iterator[tuple[str, str]]:
    """What is misspelt: the file and place, and what is wrong with what would be right.

    Args:
        rows: Every row.
        forms: Every form with its parts.
        facts: The catalogue of facts.
        forms_file: Name of the file of forms, for messages.
        facts_file: Name of the file of facts, for messages.
    """
    files = {row.id: f"{row.situation}.toml" for row in rows.values()}
    for place, fault in faults_of_words({**forms, **{row.id: row.parts for row in rows.values()}}):
        yield f"{files.get(place.rpartition('.')[0], forms_file)}, {place}", fault
    if RELIEF in forms:
        yield from ((f"{facts_file}, {fact}", fault) for fact, fault in faults_of_named_facts(facts))
    for word in forms[CAUTION]["situations"].words if CAUTION in forms else ():
        if _SITUATION + word not in rows:
            yield f"{forms_file}, {CAUTION}.situations", f"there is no situation {word!r}"
    if _TERMS in rows:
        yield from _faults_of_sentences(rows, facts, facts_file)


def _faults_of_sentences(rows: Mapping[str, Row], facts: Facts, facts_file: str) -> Iterator[tuple[str, str]]:
    terms = rows[_TERMS].parts.keys()
    keys = {f"{row.id}.{part}" for row in rows.values() for part in row.parts}
    parts = {part for row in rows.values() for part in row.parts}
    for place, sentence in _sentences(rows, facts, facts_file):
        if "{" in sentence:
            yield from ((place, fault) for fault in unknown_placeholders(sentence, terms, keys, parts))


def _sentences(rows: Mapping[str, Row], facts: Facts, facts_file: str) -> Iterator[tuple[str, str]]:
    """Every sentence that placeholders may stand in, with its place."""
    for fact in facts.values():
        yield from ((f"{facts_file}, {fact.name}", question) for question in {fact.question, *fact.by_edition.values()})
    for row in rows.values():
        where = f"{row.situation}.toml, {row.id}"
        for edition, cell in row.editions.items():
            for part, value in cell.values.items():
                if isinstance(value, str) and row.parts[part].type is PartType.TERM:
                    yield f"{where}, {edition}, {part}", value
        for spec in row.parts.values():
            yield from ((f"{where}, {spec.name}, says", said) for said in spec.says.values())
