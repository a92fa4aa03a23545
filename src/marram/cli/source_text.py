"""Where the values of an answer were seen, told once at its end: the best sources in short, or every place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from marram.core.terms import ADVICE

if TYPE_CHECKING:
    from marram.core.citations import Citation

_WIDTH = 100
_TOLD = 3
"""So many titles are told where nobody asks for all: the best kinds first."""


def source_lines(citations: Iterable[Citation], *, all_sources: bool, of_handicaps: bool = False) -> list[str]:
    """The sources behind an answer.

    Args:
        citations: Every rule of the answer.
        all_sources: Whether each rule is told with every place in which it was seen.
        of_handicaps: Whether they are Rules of Handicapping, which have sources of their own.

    Returns:
        Lines of text; none where nothing was seen in a source.
    """
    from marram.office.name_sources import sources_in_short

    cited = tuple(dict.fromkeys(citation for citation in citations if citation.overlay is None))
    if all_sources:
        return ["Sources", *(line for citation in cited for line in _places(citation, of_handicaps=of_handicaps))] if cited else []
    in_short = sources_in_short(cited, _TOLD, " (--sources tells all)", of_handicaps=of_handicaps)
    return [_wrapped(in_short)] if in_short else []


def end_of_answer(citations: Iterable[Citation], *, all_sources: bool, of_handicaps: bool = False) -> str:
    """What stands last in every answer: the sources, and that it is advice."""
    return "\n".join([*source_lines(citations, all_sources=all_sources, of_handicaps=of_handicaps), ADVICE])


def _places(citation: Citation, *, of_handicaps: bool) -> Iterator[str]:
    """A rule with each place in which it was seen."""
    from marram.office.name_sources import sightings_of

    for sighting in sightings_of(citation, of_handicaps=of_handicaps):
        place = f", {sighting.place}" if sighting.place else ""
        yield _wrapped(f"{citation.reference}: {sighting.source.words}{place}.", "   ")
    if citation.mark:
        yield _wrapped(f"{citation.reference}: {citation.mark}.", "   ")


def _wrapped(text: str, indent: str = "") -> str:
    return fill(text, width=_WIDTH, initial_indent=indent, subsequent_indent=indent + "   ")
