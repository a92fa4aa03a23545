"""What an OpenStreetMap file is made of, ways, areas of several ways and points, and the passes that read them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.words import on_one_line

if TYPE_CHECKING:
    import osmium

Corner = tuple[int, float, float]
"""A point of a way: its number, longitude, latitude, degrees."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way: a line of corners, closed where the last is the first.

    Attributes:
        number: Its number in the map.
        tags: Its tags.
        corners: Its corners that the file places.
        missing: How many corners the file names and does not place.
    """

    number: int
    tags: Mapping[str, str]
    corners: tuple[Corner, ...]
    missing: int

    @property
    def is_closed(self) -> bool:
        """Whether it comes back to where it began."""
        return len(self.corners) > 3 and self.corners[0][0] == self.corners[-1][0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """An area made of several ways.

    Attributes:
        number: Its number in the map.
        tags: Its tags.
        members: Numbers of its ways with their part: ``outer`` or ``inner``.
    """

    number: int
    tags: Mapping[str, str]
    members: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A mapped point."""

    number: int
    tags: Mapping[str, str]
    lon_deg: float
    lat_deg: float


def tags_of(thing: object) -> dict[str, str]:
    """The tags of anything in the file."""
    return {tag.k: on_one_line(tag.v) for tag in thing.tags}  # type: ignore[attr-defined]


def way_of(way: object) -> Way:
    """A way of the file, kept after the file has been read on."""
    nodes = list(way.nodes)  # type: ignore[attr-defined]
    corners = tuple((node.ref, node.location.lon, node.location.lat) for node in nodes if node.location.valid())
    return Way(number=way.id, tags=tags_of(way), corners=corners, missing=len(nodes) - len(corners))  # type: ignore[attr-defined]


def relation_of(thing: object) -> Relation:
    """An area of the file, kept after the file has been read on."""
    members = tuple((m.ref, m.role or "outer") for m in thing.members if m.type == "w")  # type: ignore[attr-defined]
    return Relation(number=thing.id, tags=tags_of(thing), members=members)  # type: ignore[attr-defined]


def located(path: Path) -> osmium.FileProcessor:
    """Nodes and ways, with the places of a way's corners."""
    import osmium

    return osmium.FileProcessor(str(path), osmium.osm.NODE | osmium.osm.WAY).with_locations()


def read_ways(path: Path, numbers: Collection[int]) -> Iterator[Way]:
    """Ways by their numbers, wherever they lie."""
    import osmium

    only_ways = osmium.filter.EntityFilter(osmium.osm.WAY)
    for thing in located(path).with_filter(only_ways).with_filter(osmium.filter.IdFilter(numbers)):
        yield way_of(thing)


def unwrapped(lons_deg: list[float]) -> list[float]:
    """Longitudes of one course, counted on past 180 degrees where it lies across the date line."""
    if max(lons_deg) - min(lons_deg) > 180:
        return [lon if lon > 0 else lon + 360 for lon in lons_deg]
    return lons_deg
