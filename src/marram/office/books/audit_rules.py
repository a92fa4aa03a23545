"""Audit the rule data: how its values are known, edition by edition."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from marram.rulebook.audit import PROVENANCES, Remark, audit_catalogue
from marram.rulebook.catalogue import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class RulesAudited:
    """How the values of the rule data are known.

    Attributes:
        kinds: The ways in which a value may be known, best first.
        counts: For each edition and section, how many values are known in each way.
        totals: The same over all.
        remarks: Sentences that decide nothing.
    """

    kinds: tuple[str, ...]
    counts: Mapping[tuple[str, str], Mapping[str, int]]
    totals: Mapping[str, int]
    remarks: tuple[Remark, ...]


def audit_rules(catalogue: Catalogue) -> RulesAudited:
    """Count what is seen, from memory and open, edition by edition.

    Args:
        catalogue: The rule data.
    """
    found = audit_catalogue(catalogue)
    totals: Counter[str] = Counter()
    for counter in found.counts.values():
        totals.update(counter)
    return RulesAudited(kinds=PROVENANCES, counts=found.counts, totals=totals, remarks=found.remarks)
