"""The audit of the rule data, as outsiders read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.books.audit_rules import RulesAudited

_WORDS = {"another_edition": "another edition", "common_practice": "common practice"}


class KnownCounts(Shape, frozen=True, kw_only=True, rename=_WORDS):
    """How many values are known in which way.

    Attributes:
        seen: Seen in a source of the edition.
        another_edition: Seen in a source of another edition only.
        common_practice: Common practice.
        inferred: Inferred.
        memory: From memory.
        default: Typed for nothing, and no sighting.
    """

    seen: int
    another_edition: int
    common_practice: int
    inferred: int
    memory: int
    default: int


class SectionCounts(KnownCounts, frozen=True, kw_only=True):
    """How many values of one section of an edition are known in which way.

    Attributes:
        edition: The edition.
        situation: The section of the rule data.
        seen: Seen in a source of the edition.
        another_edition: Seen in a source of another edition only.
        common_practice: Common practice.
        inferred: Inferred.
        memory: From memory.
        default: Typed for nothing, and no sighting.
    """

    edition: str
    situation: str


class RemarkShape(Shape, frozen=True, kw_only=True):
    """A sentence of the rule data that decides nothing.

    Attributes:
        key: Where it stands.
        edition: The edition.
        text: The sentence.
    """

    key: str
    edition: str
    text: str


class BookAuditAnswer(Answer, frozen=True, kw_only=True):
    """How the values of the rule data are known.

    Attributes:
        schema: Name and version of this shape.
        counts: One entry for each edition and section.
        totals: The same over all.
        remarks: Sentences that decide nothing.
    """

    schema: Literal["marram.book-audit/1"] = "marram.book-audit/1"
    counts: tuple[SectionCounts, ...]
    totals: KnownCounts
    remarks: tuple[RemarkShape, ...]


def book_audit_answer(found: RulesAudited) -> BookAuditAnswer:
    """The audit."""
    return BookAuditAnswer(
        counts=tuple(
            SectionCounts(edition=edition, situation=situation, **_by_member(found, counter))
            for (edition, situation), counter in found.counts.items()
        ),
        totals=KnownCounts(**_by_member(found, found.totals)),
        remarks=tuple(RemarkShape(key=entry.key, edition=entry.edition, text=entry.text) for entry in found.remarks),
    )


def _by_member(found: RulesAudited, counts: Mapping[str, int]) -> dict[str, int]:
    return {kind.replace(" ", "_"): counts.get(kind, 0) for kind in found.kinds}
