"""OpenStreetMap files, XML or PBF: everything mapped on and about one golf course, as shapes in degrees.

A large file is read in three or four passes. What is kept is what lies near the course; the places of all nodes are held while a pass runs
(16 bytes for each node of the file).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import SurveyError
from marram.core.words import shortened
from marram.core.work import Work
from marram.interchange.maps.osm_courses import choose_course, look_over
from marram.interchange.maps.osm_things import Corner, Node, Relation, Way, located, read_ways, tags_of, unwrapped, way_of

PAD_DEG = 0.0009
"""How far about the course things are read: 100 m of latitude."""
_WIDEST_DEG = 0.18
"""A course is smaller than 20 km: degrees of latitude."""
_EVERY = 100_000
_LONGEST_REASON = 300

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class MapData:
    """What a file holds on and about one course.

    Attributes:
        course: Name of the course's outline in the map, such as ``way/1``; empty where nothing is mapped as a course.
        ways: Ways near the course, by number.
        far_ways: Ways that lie elsewhere and belong to an area near the course.
        relations: Areas near the course that are made of several ways.
        nodes: Mapped points near the course.
    """

    course: str
    ways: Mapping[int, Way]
    far_ways: Mapping[int, Way]
    relations: tuple[Relation, ...]
    nodes: tuple[Node, ...]

    @property
    def all_ways(self) -> Mapping[int, Way]:
        """Ways by number, near and far."""
        return {**self.far_ways, **self.ways}


def read_map(path: Path, wanted: str, work: Work | None = None) -> MapData:
    """Read what is mapped on and about a golf course.

    Args:
        path: A file of OpenStreetMap data, XML or PBF.
        wanted: Which course, such as ``way/1`` or what it is called; empty where there is only one.
        work: Told how far the reading is; it may be stopped.

    Raises:
        SurveyError: The file cannot be read, holds no golf course, or holds several and none is named.
    """
    work = work or Work()
    if not path.is_file():
        raise SurveyError("There is no such file.", where=path.name, hint="Give the path of a map file.")
    import osmium

    try:
        index = look_over(path, work)
        course, outline = choose_course(path, index, wanted)
        work.tell("finding the course")
        corners = [corner for way in read_ways(path, set(outline)) for corner in way.corners]
        ways, nodes = _read_near(path, _bounds(corners, path.name), work)
        relations = tuple(entry for entry in index.relations if any(number in ways for number, _ in entry.members))
        elsewhere = {number for entry in relations for number, _ in entry.members} - ways.keys()
        far_ways = {way.number: way for way in read_ways(path, elsewhere)} if elsewhere else {}
        return MapData(course=course, ways=ways, far_ways=far_ways, relations=relations, nodes=nodes)
    except (RuntimeError, OSError, ValueError, MemoryError, osmium.InvalidLocationError) as problem:
        told = shortened(str(problem).replace(str(path), path.name), _LONGEST_REASON) or type(problem).__name__
        hint = "Get it anew and whole; it must be OpenStreetMap XML (.osm) or PBF (.osm.pbf)."
        raise SurveyError(f"The map file cannot be read to its end: {told}", where=path.name, hint=hint) from None


def _bounds(corners: Collection[Corner], where: str) -> Bounds:
    """The box about corners, with some ground about it; its east lies beyond 180 degrees where it crosses the date line."""
    if not corners:
        raise SurveyError("The file does not place a single corner of the course.", where=where, hint="Get it anew, with all nodes.")
    lons, lats = unwrapped([corner[1] for corner in corners]), [corner[2] for corner in corners]
    east_deg = (max(lons) - min(lons)) * math.cos(math.radians(lats[0]))
    widest_deg = max(max(lats) - min(lats), east_deg)
    if widest_deg > _WIDEST_DEG:
        raise SurveyError(
            f"What is mapped as golf lies over {widest_deg * 111:.0f} km, which is no single course.",
            where=where,
            hint="Cut the file to one course, or map its outline as leisure=golf_course.",
        )
    return min(lons) - 2 * PAD_DEG, min(lats) - PAD_DEG, max(lons) + 2 * PAD_DEG, max(lats) + PAD_DEG


def _is_within(lon: float, lat: float, bounds: Bounds) -> bool:
    west, south, east, north = bounds
    return south <= lat <= north and (west <= lon <= east or west <= lon + 360 <= east)


def _read_near(path: Path, bounds: Bounds, work: Work) -> tuple[dict[int, Way], tuple[Node, ...]]:
    """Ways that have a corner in the box, and mapped points in it."""
    import osmium

    ways: dict[int, Way] = {}
    nodes: list[Node] = []
    for count, thing in enumerate(located(path).with_filter(_tagged_points())):
        if count % _EVERY == 0:
            work.tell("reading the course", count)
        if isinstance(thing, osmium.osm.Node):
            place = thing.location
            if place.valid() and _is_within(place.lon, place.lat, bounds):
                nodes.append(Node(number=thing.id, tags=tags_of(thing), lon_deg=place.lon, lat_deg=place.lat))
        elif isinstance(thing, osmium.osm.Way) and _is_near(thing.nodes, bounds):
            ways[thing.id] = way_of(thing)
    return ways, tuple(nodes)


def _tagged_points() -> object:
    """A filter: all ways, and of the nodes only those with tags."""
    import osmium

    tagged = osmium.filter.EmptyTagFilter()
    tagged.enable_for(osmium.osm.NODE)
    return tagged


def _is_near(corners: Iterable[object], bounds: Bounds) -> bool:
    """Whether a corner lies in the box; a corner without a place lies nowhere."""
    for corner in corners:
        place = corner.location  # type: ignore[attr-defined]
        if place.valid() and _is_within(place.lon, place.lat, bounds):
            return True
    return False
