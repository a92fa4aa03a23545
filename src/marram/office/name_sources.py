"""Name the sources behind an answer: where each of its values was seen."""

from __future__ import annotations

from collections.abc import Iterable

from marram.core.citations import Citation
from marram.rulebook.reading.files import packaged_catalogue, packaged_handicapping
from marram.rulebook.sources import Sighting, Sources


def sources_in_short(citations: Iterable[Citation], most: int, more: str, *, of_handicaps: bool = False) -> str:
    """The titles in which rules were seen, the best kinds first, in one sentence; empty where nothing was seen.

    Args:
        citations: The rules.
        most: So many titles are told at most.
        more: What is added where there are more.
        of_handicaps: Whether they are Rules of Handicapping, which have sources of their own.
    """
    return _sources(of_handicaps=of_handicaps).in_short(citations, most, more)


def sightings_of(citation: Citation, *, of_handicaps: bool = False) -> tuple[Sighting, ...]:
    """Each place in which a rule was seen."""
    return _sources(of_handicaps=of_handicaps).sightings([citation])


def _sources(*, of_handicaps: bool) -> Sources:
    return (packaged_handicapping() if of_handicaps else packaged_catalogue()).sources
