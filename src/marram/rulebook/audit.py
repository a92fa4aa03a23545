"""The audit: how many values logic can read, how many were seen, rest on memory or are mere defaults, and which remarks are open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.citations import COMMON_PRACTICE, ELSEWHERE, INFERRED, MEMORY, SEEN, Citation, provenance_class
from marram.rulebook.catalogue import Catalogue, EditionRow, Row
from marram.rulebook.values import PartType

DEFAULT = "default"
PROVENANCES = (SEEN, ELSEWHERE, COMMON_PRACTICE, INFERRED, MEMORY, DEFAULT)
"""How a value is known, best first. A default was typed for nothing and is no sighting, so it is counted apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """A sentence of the rule data that decides nothing."""

    key: str
    edition: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Audit:
    """What the rule data holds.

    Attributes:
        counts: For each edition and situation, how many values are known in each of the ways of `PROVENANCES`.
        remarks: Every remark.
    """

    counts: Mapping[tuple[str, str], Counter[str]]
    remarks: tuple[Remark, ...]


def audit_catalogue(catalogue: Catalogue) -> Audit:
    """Count every value that logic reads, by edition, situation and provenance, and list the remarks."""
    counts: dict[tuple[str, str], Counter[str]] = {}
    remarks = []
    for row in catalogue.rows.values():
        for edition, cell in row.editions.items():
            counter = counts.setdefault((edition, row.situation), Counter())
            counter.update(_provenances(row, cell))
            remarks += [
                Remark(key=f"{row.id}.{name}", edition=edition, text=str(value))
                for name, value in cell.values.items()
                if row.parts[name].type is PartType.REMARK
            ]
    return Audit(counts=counts, remarks=tuple(remarks))


def _provenances(row: Row, cell: EditionRow) -> list[str]:
    if cell.citation is None:
        return []
    names = [name for name in cell.values if row.parts[name].decides]
    return [DEFAULT if name in cell.defaulted and name not in cell.seen_of else _known(cell, cell.citation, name) for name in names]


def _known(cell: EditionRow, citation: Citation, name: str) -> str:
    return provenance_class(cell.seen_of[name]) if name in cell.seen_of else citation.known
