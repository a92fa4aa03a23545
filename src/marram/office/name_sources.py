"""Name the sources behind an answer: where each of its values was seen."""

from __future__ import annotations

from collections.abc import Iterable

from marram.core.citations import Citation
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.sources import Sighting


def sources_in_short(citations: Iterable[Citation], most: int, more: str) -> str:
    """The titles in which rules were seen, the best kinds first, in one sentence; empty where nothing was seen.

    Args:
        citations: The rules.
        most: So many titles are told at most.
        more: What is added where there are more.
    """
    return packaged_catalogue().sources.in_short(citations, most, more)


def sightings_of(citation: Citation) -> tuple[Sighting, ...]:
    """Each place in which a rule was seen."""
    return packaged_catalogue().sources.sightings([citation])
