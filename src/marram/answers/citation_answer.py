"""A citation as outsiders read it, with where the value behind it was seen."""

from __future__ import annotations

from collections.abc import Iterable

from marram.answers.shape import Shape
from marram.core.citations import Citation


class CitationShape(Shape, frozen=True, kw_only=True):
    """A rule behind a line.

    Attributes:
        document: Title of the edition.
        edition: Name of the edition.
        rule: Number of the rule; empty where a value has none.
        rule_number_inferred: Whether the number was worked out and not read.
        overlay: The trial or local rule that changed the value; null where none did.
        seen: Where the value was seen: an id of a source, or `memory`, `inferred`, `common practice`.
        unsure: Whether the source itself is doubtful.
        provenance: The same in words.
        known: How well it is known: seen, inferred, common practice or from memory.
    """

    document: str
    edition: str
    rule: str
    rule_number_inferred: bool
    overlay: str | None
    seen: str
    unsure: bool
    provenance: str
    known: str


def citation_shape(citation: Citation) -> CitationShape:
    """A citation with its provenance."""
    return CitationShape(
        document=citation.document,
        edition=citation.edition,
        rule=citation.rule,
        rule_number_inferred=citation.is_number_inferred,
        overlay=citation.overlay,
        seen=citation.seen,
        unsure=citation.is_unsure,
        provenance=citation.provenance,
        known=citation.known,
    )


def citation_shapes(citations: Iterable[Citation]) -> tuple[CitationShape, ...]:
    """Citations with their provenance, in their order."""
    return tuple(map(citation_shape, citations))
