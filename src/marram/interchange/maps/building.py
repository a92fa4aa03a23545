"""From mapped things to the features of a course: what each is, where it stands, what had to be assumed, what is left out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import shapely
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.check.faults import LeftOut
from marram.course.frame import Frame
from marram.interchange.maps.assembly import Assembled, area_of, area_of_relation, line_of
from marram.interchange.maps.map_tags import Meaning, NotTaken, meaning_of, width_of
from marram.interchange.maps.osm_reading import MapData
from marram.interchange.maps.osm_things import Way, unwrapped

ROAD_REACH_M, NEAR_EDGE_M, ASSUMED_PAD_M = 20.0, 3.0, 30.0
"""How far beyond the boundary a line is followed; how near the edge a wall defines it; how far about golf an assumed boundary lies."""
_SMALLEST_M2 = 0.05
_EDGE_SHARE = 0.5


@dataclass(slots=True, kw_only=True)
class Raw:
    """A thing of the map on its way to becoming a feature.

    Attributes:
        source: Its name in the map, such as ``way/12``.
        tags: Its tags.
        kind: What it is.
        what: A plain noun.
        geometry: Its shape, metres.
        proposed: The mark that its tags suggest.
        assumed: What was assumed, by name.
        repaired: How it was mended.
    """

    source: str
    tags: Mapping[str, str]
    kind: FeatureKind
    what: str
    geometry: BaseGeometry
    proposed: Mark | None = None
    assumed: dict[str, str] = field(default_factory=dict)
    repaired: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Everything of a map that has a place on the course.

    Attributes:
        frame: The metric frame.
        boundary: The boundary.
        raws: The things, the boundary not among them.
        left_out: What has no place.
        remarks: What the official should know.
    """

    frame: Frame
    boundary: Raw
    raws: tuple[Raw, ...]
    left_out: tuple[LeftOut, ...]
    remarks: tuple[str, ...]


class _Builder:
    """Turns things into raws and keeps what is left out."""

    def __init__(self, data: MapData, where: str) -> None:
        self.data, self.where, self.ways = data, where, data.all_ways
        self.frame = _frame(data)
        self.left: dict[tuple[str, str], list[str]] = {}
        self.remarks: list[str] = []
        self.whole: dict[int, tuple[FeatureKind, str]] = {}
        self.boundary = self._boundary()
        ground = self.boundary.geometry
        self.reach = ground.buffer(ROAD_REACH_M)
        self.edge = ground.boundary.buffer(NEAR_EDGE_M)
        shapely.prepare(self.reach)
        shapely.prepare(self.edge)

    def leave(self, what: str, why: str, source: str) -> None:
        self.left.setdefault((what, why), []).append(source)

    def _boundary(self) -> Raw:
        kind, _, number = self.data.course.partition("/")
        if kind == "way":
            made = area_of(self.data.ways[int(number)], self.frame)
        elif kind == "relation":
            relation = next(entry for entry in self.data.relations if entry.number == int(number))
            made = area_of_relation(relation, self.ways, self.frame)
        else:
            return self._assumed_boundary()
        if made.geometry.is_empty:
            raise SurveyError(
                "The outline of the course holds no ground.", where=self.where, hint="Get the map file anew, with all its ways."
            )
        return Raw(
            source=self.data.course, tags={}, kind=FeatureKind.BOUNDARY, what="", geometry=made.geometry, repaired=list(made.repaired)
        )

    def _assumed_boundary(self) -> Raw:
        golf = [line_of(way, self.frame).geometry for way in _golf_ways(self.data)]
        hull = shapely.union_all(golf).convex_hull.buffer(ASSUMED_PAD_M)
        words = f"drawn {ASSUMED_PAD_M:g} m about everything mapped as golf"
        self.remarks.append(f"The map has no outline of the course; a boundary was {words}.")
        return Raw(source="", tags={}, kind=FeatureKind.BOUNDARY, what="", geometry=hull, assumed={"outline": words})

    def things(self) -> list[Raw]:
        """All things of the map, turned into raws where they have a place."""
        raws: list[Raw] = []
        for relation in self.data.relations:
            name = f"relation/{relation.number}"
            meaning = None if name == self.data.course else meaning_of(relation.tags)
            if isinstance(meaning, NotTaken):
                self.leave(meaning.what, meaning.why, name)
            elif meaning is not None:
                self.whole |= {number: (meaning.kind, name) for number, role in relation.members if role == "outer"}
                raws += self._placed(name, relation.tags, meaning, area_of_relation(relation, self.ways, self.frame))
        for way in self.data.ways.values():
            raws += self._way(way)
        for node in self.data.nodes:
            raws += self._node(node.number, node.tags, node.lon_deg, node.lat_deg)
        return raws

    def _way(self, way: Way) -> list[Raw]:
        name = f"way/{way.number}"
        meaning = None if name == self.data.course else meaning_of(way.tags)
        if meaning is None:
            return []
        if isinstance(meaning, NotTaken):
            if self._touches(line_of(way, self.frame).geometry):
                self.leave(meaning.what, meaning.why, name)
            return []
        kind, area = self.whole.get(way.number, (None, ""))
        if kind is meaning.kind:
            self.leave(meaning.what or meaning.kind.value.replace("-", " "), f"it is the edge of {area}, which is brought in", name)
            return []
        is_line = meaning.kind is FeatureKind.LINE_OF_PLAY or (meaning.width_m is not None and not _is_drawn_as_area(way))
        made = line_of(way, self.frame) if is_line else area_of(way, self.frame)
        return self._placed(name, way.tags, meaning, made)

    def _node(self, number: int, tags: Mapping[str, str], lon_deg: float, lat_deg: float) -> list[Raw]:
        name, meaning = f"node/{number}", meaning_of(tags)
        at = Point(self.frame.to_position(lon_deg, lat_deg).xy)
        if meaning is None or not self._touches(at):
            return []
        if isinstance(meaning, NotTaken):
            self.leave(meaning.what, meaning.why, name)
            return []
        if meaning.kind is FeatureKind.HOLE_LOCATION or (meaning.kind is FeatureKind.TREES and meaning.width_m is not None):
            return self._placed(name, tags, meaning, Assembled(geometry=at, repaired=()))
        self.leave(meaning.what or meaning.kind.value.replace("-", " "), "it is mapped as a point, without an outline", name)
        return []

    def _touches(self, geometry: BaseGeometry) -> bool:
        return bool(self.boundary.geometry.intersects(geometry))

    def _placed(self, source: str, tags: Mapping[str, str], meaning: Meaning, made: Assembled) -> list[Raw]:
        """The thing where it has a place on the course; else it is left out, and why."""
        noun = meaning.what or meaning.kind.value.replace("-", " ")
        if made.geometry.is_empty:
            self.leave(noun, "no shape could be made of it: corners or ways are missing", source)
            return []
        raw = Raw(source=source, tags=tags, kind=meaning.kind, what=meaning.what, geometry=made.geometry, repaired=list(made.repaired))
        raw.proposed = meaning.proposed
        if raw.kind not in {FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION}:
            self._give_ground(raw, meaning)
        if not self._touches(raw.geometry) and raw.kind is not FeatureKind.BOUNDARY_OBJECT:
            self.leave(noun, "it lies outside the boundary", source)
            return []
        if meaning.surface_unknown:
            raw.assumed["surface"] = "artificial: no tag says what it is made of"
        return [raw]

    def _give_ground(self, raw: Raw, meaning: Meaning) -> None:
        """Width for lines and points; only what lies on or near the course is kept of what runs on."""
        geometry = raw.geometry
        if isinstance(geometry, LineString) or geometry.geom_type == "MultiLineString":
            near = geometry.intersection(self.reach)
            if raw.what in {"wall", "fence"} and near.length > 0 and near.intersection(self.edge).length >= _EDGE_SHARE * near.length:
                raw.kind = FeatureKind.BOUNDARY_OBJECT
            width_m = self._width(raw, meaning)
            raw.geometry = _areas(near.buffer(width_m / 2, cap_style="flat", join_style="mitre", mitre_limit=2.0))
        elif isinstance(geometry, Point):
            raw.geometry = geometry.buffer(self._width(raw, meaning) / 2, quad_segs=6)
        elif not self.reach.covers(geometry):
            raw.geometry = _areas(geometry.intersection(self.boundary.geometry.buffer(3 * ROAD_REACH_M)))

    def _width(self, raw: Raw, meaning: Meaning) -> float:
        stated_m, remark = width_of(raw.tags)
        if remark:
            self.remarks.append(f"{raw.source}: {remark}; the usual width was taken.")
        if stated_m is not None:
            return stated_m
        usual_m = meaning.width_m or 1.0
        name = "size" if isinstance(raw.geometry, Point) else "width"
        raw.assumed[name] = f"{usual_m:g} m, usual for a {meaning.what} (common practice)"
        return usual_m


def build_ground(data: MapData, where: str) -> Ground:
    """Turn a map into ground.

    Args:
        data: What the map holds.
        where: The file, for errors.

    Raises:
        SurveyError: The outline of the course holds no ground.
    """
    builder = _Builder(data, where)
    raws = [raw for raw in builder.things() if not raw.geometry.is_empty and (raw.geometry.area >= _SMALLEST_M2 or _is_thin(raw))]
    left_out = tuple(LeftOut(what=what, why=why, names=tuple(names)) for (what, why), names in sorted(builder.left.items()))
    return Ground(
        frame=builder.frame, boundary=builder.boundary, raws=tuple(raws), left_out=left_out, remarks=tuple(dict.fromkeys(builder.remarks))
    )


def _is_thin(raw: Raw) -> bool:
    return raw.kind in {FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION}


def _frame(data: MapData) -> Frame:
    """The frame in the middle of the course, or of what is mapped as golf."""
    kind, _, number = data.course.partition("/")
    if kind == "way":
        ways = [data.ways[int(number)]]
    elif kind == "relation":
        members = next(entry.members for entry in data.relations if entry.number == int(number))
        ways = [data.all_ways[member] for member, _ in members if member in data.all_ways]
    else:
        ways = _golf_ways(data)
    corners = [corner for way in ways for corner in way.corners]
    lons, lats = unwrapped([corner[1] for corner in corners]), [corner[2] for corner in corners]
    middle = (max(lons) + min(lons)) / 2
    return Frame(round(middle - 360 if middle > 180 else middle, 6), round((max(lats) + min(lats)) / 2, 6))


def _golf_ways(data: MapData) -> list[Way]:
    """Ways of everything mapped as golf."""
    of_areas = {number for relation in data.relations if "golf" in relation.tags for number, _ in relation.members}
    return [way for way in data.all_ways.values() if "golf" in way.tags or way.number in of_areas]


def _is_drawn_as_area(way: Way) -> bool:
    """Whether a thing that may be a line is drawn as an area: it says so, or is water with a shore."""
    is_shore = "waterway" in way.tags and way.tags.get("natural") == "water"
    return way.is_closed and (way.tags.get("area") == "yes" or is_shore or way.tags.get("waterway") == "riverbank")


def _areas(geometry: BaseGeometry) -> BaseGeometry:
    parts = [part for part in shapely.get_parts(geometry) if isinstance(part, Polygon) and part.area >= _SMALLEST_M2]
    return parts[0] if len(parts) == 1 else shapely.MultiPolygon(parts)
