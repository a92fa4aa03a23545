"""The catalogue of sources: where values of the rule data were seen, when that appeared and of which edition it speaks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from marram.core.citations import Citation, is_a_source, split_seen

KINDS = ("official text", "official explanation", "reprint", "secondary")
"""Best first: the Rules themselves; their authors' explanation; a third party who quotes; one who tells in words of its own."""
_MEMBERS = {"title", "year", "editions", "kind"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A published source.

    Attributes:
        title: What it calls itself, as a `seen` of the rule data begins.
        year: Year in which it appeared; None where it is undated.
        editions: The editions of which it speaks.
        kind: One of `KINDS`.
    """

    title: str
    year: int | None
    editions: tuple[str, ...]
    kind: str

    @property
    def words(self) -> str:
        """The source as an official reads it in a list."""
        dated = str(self.year) if self.year is not None else "undated"
        return f"{self.title} ({self.kind}, {dated}, speaks of {' and '.join(self.editions)})"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """A source with the place in it.

    Attributes:
        source: The source.
        place: Page, rule or section; empty for the whole.
    """

    source: Source
    place: str


class Sources:
    """All sources, looked up by how a `seen` begins."""

    def __init__(self, sources: Iterable[Source]) -> None:
        """Keep the sources; of two titles that begin alike the longer is tried first."""
        self.all = tuple(sources)
        self._longest_first = sorted(self.all, key=lambda source: -len(source.title))
        self._found: dict[str, Sighting | None] = {}

    def find(self, place: str) -> Sighting | None:
        """The source that a place of a `seen` names; None where none of the catalogue does."""
        if place not in self._found:
            source = next((source for source in self._longest_first if place.startswith(source.title)), None)
            within = "" if source is None else place[len(source.title) :].lstrip(",: ").strip()
            self._found[place] = None if source is None else Sighting(source=source, place=within)
        return self._found[place]

    def sightings(self, citations: Iterable[Citation]) -> tuple[Sighting, ...]:
        """Where the values of some citations were seen, each place once, the best kind of source first."""
        places = dict.fromkeys(
            place for citation in citations if citation.overlay is None for place in split_seen(citation.seen) if is_a_source(place)
        )
        found = [sighting for place in places if (sighting := self.find(place)) is not None]
        return tuple(sorted(found, key=lambda sighting: KINDS.index(sighting.source.kind)))

    def in_short(self, citations: Iterable[Citation], most: int, more: str) -> str:
        """The titles behind some citations in one sentence, the best kinds first; empty where nothing was seen in a source.

        Args:
            citations: The rules.
            most: How many titles are named.
            more: What is said after the number of those not named.
        """
        titles = list(dict.fromkeys(found.source.title for found in self.sightings(citations)))
        tail = f"; and {len(titles) - most} more{more}" if len(titles) > most else ""
        return f"Sources: {'; '.join(titles[:most])}{tail}." if titles else ""

    def faults(self, seen: str) -> tuple[str, ...]:
        """What is wrong with a `seen`: places that name no source of the catalogue, with the nearest titles."""
        unknown = [place for place in split_seen(seen) if is_a_source(place) and self.find(place) is None]
        titles = [source.title for source in self.all] if unknown else []
        return tuple(
            f"seen names {place!r}, which begins with no title of sources.toml; nearest: "
            + "; ".join(get_close_matches(place, titles, n=3, cutoff=0.0))
            for place in unknown
        )

    def seen_in(self, citation: Citation, seen: str) -> Citation:
        """The citation of a part that was seen elsewhere than its row."""
        is_elsewhere = self._is_elsewhere(seen, citation.edition)
        return replace(citation, seen=seen, is_unsure=False, is_elsewhere=is_elsewhere)

    def _is_elsewhere(self, seen: str, edition: str) -> bool:
        """Whether every source that a `seen` names speaks of other editions only."""
        found = [sighting for place in split_seen(seen) if is_a_source(place) and (sighting := self.find(place)) is not None]
        return bool(found) and all(edition not in sighting.source.editions for sighting in found)


def parse_sources(raw: Mapping[str, object], editions: Iterable[str]) -> tuple[Sources, tuple[str, ...]]:
    """Read the catalogue of sources.

    Args:
        raw: The parsed file: a list ``source`` of tables.
        editions: Names of the editions of the rules.

    Returns:
        The sources that are sound, and every fault in words.
    """
    tables = raw.get("source", [])
    if set(raw) - {"source"} or not isinstance(tables, list):
        return Sources(()), ("a catalogue of sources is a list of [[source]] and nothing else",)
    known, sound, faults = set(editions), [], []
    for number, table in enumerate(tables, start=1):
        wrong = _faults_of(table, known)
        faults += [f"source {number}: {fault}" for fault in wrong]
        if isinstance(table, dict) and not wrong:
            spoken_of = tuple(table["editions"])
            sound.append(Source(title=table["title"], year=table.get("year"), editions=spoken_of, kind=table["kind"]))
    counts = Counter(source.title for source in sound)
    return Sources(sound), (*faults, *(f"the title {title!r} stands twice" for title, count in counts.items() if count > 1))


def _faults_of(raw: object, editions: set[str]) -> list[str]:
    if not isinstance(raw, dict):
        return ["a source must be a table"]
    faults = [f"unknown member {name!r}; a source has {', '.join(sorted(_MEMBERS))}" for name in sorted(raw.keys() - _MEMBERS)]
    if not isinstance(raw.get("title"), str) or not raw["title"].strip():
        faults.append("title is missing")
    if not isinstance(raw.get("year", 2000), int):
        faults.append("year must be a whole number; leave it out where the source is undated")
    named = raw.get("editions")
    if not isinstance(named, list) or not named or not set(named) <= editions:
        faults.append(f"editions must name one or more of {', '.join(sorted(editions))}")
    if raw.get("kind") not in KINDS:
        faults.append(f"kind must be one of {', '.join(KINDS)}")
    return faults
