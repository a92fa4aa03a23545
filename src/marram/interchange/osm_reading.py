"""OpenStreetMap files, XML or PBF: everything mapped on and about one golf course, as shapes in degrees."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from marram.core.errors import SurveyError

if TYPE_CHECKING:
    import osmium

Corner = tuple[int, float, float]
"""A point of a way: its number, longitude, latitude, degrees."""
Progress = Callable[[str, int], None]
"""Called with what is being done and how many objects have been read."""

PAD_DEG = 0.0009
"""How far about the course things are read: 100 m of latitude."""
_EVERY = 100_000
_COURSE = ("leisure", "golf_course")


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


@dataclass(frozen=True, slots=True, kw_only=True)
class MapData:
    """What a file holds on and about one course.

    Attributes:
        course: Name of the course's outline in the map, such as ``way/1``; empty where nothing is mapped as a course.
        ways: Ways by number, those of relations included.
        relations: Areas made of several ways.
        nodes: Mapped points.
    """

    course: str
    ways: Mapping[int, Way]
    relations: tuple[Relation, ...]
    nodes: tuple[Node, ...]


@dataclass
class _Index:
    """What a first look over the file found."""

    courses: dict[str, tuple[int, ...]] = field(default_factory=dict)
    golf_ways: list[int] = field(default_factory=list)
    relations: list[Relation] = field(default_factory=list)


def read_map(path: Path, wanted: str, progress: Progress = lambda doing, count: None) -> MapData:
    """Read what is mapped on and about a golf course.

    Args:
        path: A file of OpenStreetMap data, XML or PBF.
        wanted: Which course, such as ``way/1`` or ``relation/9``; empty where there is only one.
        progress: Told how far the reading is.

    Raises:
        SurveyError: The file cannot be read, holds no golf course, or holds several and none is named.
    """
    if not path.is_file():
        raise SurveyError("There is no such file.", where=path.name)
    try:
        index = _look_over(path, progress)
        course, outline = _chosen(index, wanted, path.name)
        bounds = _bounds(_corners_of(path, outline, progress), path.name)
        return _read_near(path, index, course, set(outline), bounds, progress)
    except (RuntimeError, OSError, UnicodeDecodeError) as problem:
        told = str(problem).replace(str(path), path.name)
        hint = "Get it anew and whole; it must be OpenStreetMap XML (.osm) or PBF (.osm.pbf)."
        raise SurveyError(f"The map file cannot be read to its end: {told}", where=path.name, hint=hint) from None


def _look_over(path: Path, progress: Progress) -> _Index:
    """Courses, ways of golf and relations, without any places."""
    import osmium

    index = _Index()
    for count, thing in enumerate(osmium.FileProcessor(str(path), osmium.osm.WAY | osmium.osm.RELATION)):
        if count % _EVERY == 0:
            progress("looking for courses", count)
        tags = thing.tags
        is_course = tags.get(_COURSE[0]) == _COURSE[1]
        if isinstance(thing, osmium.osm.Relation):
            relation = _relation(thing)
            index.relations += [relation] if is_course or relation.tags.get("type") == "multipolygon" else []
            if is_course:
                index.courses[f"relation/{thing.id}"] = tuple(number for number, _ in relation.members)
        elif is_course:
            index.courses[f"way/{thing.id}"] = (thing.id,)
        elif "golf" in tags:
            index.golf_ways.append(thing.id)
    return index


def _relation(thing: object) -> Relation:
    members = tuple((m.ref, m.role or "outer") for m in thing.members if m.type == "w")  # type: ignore[attr-defined]
    return Relation(number=thing.id, tags=_tags(thing), members=members)  # type: ignore[attr-defined]


def _tags(thing: object) -> dict[str, str]:
    return {tag.k: tag.v for tag in thing.tags}  # type: ignore[attr-defined]


def _chosen(index: _Index, wanted: str, where: str) -> tuple[str, tuple[int, ...]]:
    """The course's name in the map, and the ways that say where it lies."""
    listed = ", ".join(sorted(index.courses)) or "none"
    if wanted:
        if wanted not in index.courses:
            raise SurveyError(f"The file has no golf course {wanted!r}.", where=where, hint=f"It has: {listed}.")
        return wanted, index.courses[wanted]
    if len(index.courses) > 1:
        raise SurveyError(f"The file has {len(index.courses)} golf courses.", where=where, hint=f"Name one with --outline: {listed}.")
    if index.courses:
        return next(iter(index.courses.items()))
    if not index.golf_ways:
        raise SurveyError(
            "Nothing in the file is mapped as golf.", where=where, hint="A course has leisure=golf_course or golf=… in the map."
        )
    return "", tuple(index.golf_ways)


def _corners_of(path: Path, numbers: Iterable[int], progress: Progress) -> Iterator[Corner]:
    wanted = set(numbers)
    for way in _ways(path, progress, "finding the course"):
        if way.id in wanted:  # type: ignore[attr-defined]
            yield from _placed(way)[0]


def _ways(path: Path, progress: Progress, doing: str) -> Iterator[object]:
    import osmium

    for count, thing in enumerate(_located(path).with_filter(osmium.filter.EntityFilter(osmium.osm.WAY))):
        if count % _EVERY == 0:
            progress(doing, count)
        yield thing


def _located(path: Path) -> osmium.FileProcessor:
    """Nodes and ways, with the places of a way's corners."""
    import osmium

    return osmium.FileProcessor(str(path), osmium.osm.NODE | osmium.osm.WAY).with_locations()


def _placed(way: object) -> tuple[tuple[Corner, ...], int]:
    """The corners of a way that the file places, and how many it does not."""
    nodes = list(way.nodes)  # type: ignore[attr-defined]
    corners = tuple((node.ref, node.location.lon, node.location.lat) for node in nodes if node.location.valid())
    return corners, len(nodes) - len(corners)


Bounds = tuple[float, float, float, float]


def _bounds(corners: Iterator[Corner], where: str) -> Bounds:
    """The box about corners, with some ground about it; west may lie beyond east at the date line."""
    placed = list(corners)
    if not placed:
        raise SurveyError("The file does not place a single corner of the course.", where=where, hint="Get it anew, with all nodes.")
    lons, lats = [corner[1] for corner in placed], [corner[2] for corner in placed]
    if max(lons) - min(lons) > 180:  # the course lies across the date line
        lons = [lon if lon > 0 else lon + 360 for lon in lons]
    return min(lons) - 2 * PAD_DEG, min(lats) - PAD_DEG, max(lons) + 2 * PAD_DEG, max(lats) + PAD_DEG


def _is_within(lon: float, lat: float, bounds: Bounds) -> bool:
    west, south, east, north = bounds
    return south <= lat <= north and (west <= lon <= east or west <= lon + 360 <= east)


def _read_near(path: Path, index: _Index, course: str, outline: set[int], bounds: Bounds, progress: Progress) -> MapData:
    """Everything in the box; ways of relations wherever they lie, so that areas are whole."""
    import osmium

    of_relations = {number for relation in index.relations for number, _ in relation.members}
    ways: dict[int, Way] = {}
    nodes: list[Node] = []
    tagged = osmium.filter.EmptyTagFilter()
    tagged.enable_for(osmium.osm.NODE)
    for count, thing in enumerate(_located(path).with_filter(tagged)):
        if count % _EVERY == 0:
            progress("reading the course", count)
        if isinstance(thing, osmium.osm.Node):
            if thing.location.valid() and _is_within(thing.location.lon, thing.location.lat, bounds):
                nodes.append(Node(number=thing.id, tags=_tags(thing), lon_deg=thing.location.lon, lat_deg=thing.location.lat))
        elif isinstance(thing, osmium.osm.Way):
            corners, missing = _placed(thing)
            is_near = any(_is_within(lon, lat, bounds) for _, lon, lat in corners)
            if is_near or (thing.id in of_relations and len(ways) < _EVERY) or thing.id in outline:
                ways[thing.id] = Way(number=thing.id, tags=_tags(thing), corners=corners, missing=missing)
    near = {way.number for way in ways.values() if any(_is_within(lon, lat, bounds) for _, lon, lat in way.corners)}
    relations = tuple(entry for entry in index.relations if any(number in near for number, _ in entry.members))
    return MapData(course=course, ways=ways, relations=relations, nodes=tuple(nodes))
