"""Tell where the values of some rules were seen: document, edition and rule, and each source with its kind and year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.rulebook.catalogue import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceTold:
    """A rule with where its values were seen.

    Attributes:
        citation: The rule.
        places: Each place in which it was seen, with the kind and the year of its source; none for what was seen nowhere.
    """

    citation: Citation
    places: tuple[str, ...]

    @property
    def known(self) -> str:
        """How the values are known, in words: *seen in…*, *from memory*, *inferred*, *common practice…*."""
        return self.citation.provenance


def sources_told(catalogue: Catalogue, citations: Sequence[Citation]) -> tuple[SourceTold, ...]:
    """Tell the sources behind some rules, each rule and place once, in the order given.

    Args:
        catalogue: The rule data.
        citations: The rules.
    """
    return tuple(SourceTold(citation=citation, places=_places(catalogue, citation)) for citation in dict.fromkeys(citations))


def _places(catalogue: Catalogue, citation: Citation) -> tuple[str, ...]:
    found = catalogue.sources.sightings((citation,))
    return tuple(", ".join(filter(None, (sighting.source.words, sighting.place))) for sighting in found)
