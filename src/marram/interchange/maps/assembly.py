"""Areas from the ways of a map: rings joined end to end, holes cut out, what is broken mended and told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Frame
from marram.course.mending import mend
from marram.interchange.maps.osm_things import Corner, Relation, Way

_SLIVER_M2 = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembled:
    """A shape in metres, with what had to be done to it.

    Attributes:
        geometry: The shape; empty where nothing could be made.
        repaired: How it was mended, a sentence each.
    """

    geometry: BaseGeometry
    repaired: tuple[str, ...]


def line_of(way: Way, frame: Frame) -> Assembled:
    """A way as a line."""
    points = _points(way.corners, frame)
    line = LineString(points) if len(points) > 1 else LineString()
    return Assembled(geometry=line, repaired=tuple(_missing(way)))


def area_of(way: Way, frame: Frame) -> Assembled:
    """A way as an area; one that does not come back to its start is closed by a straight side."""
    points = _points(way.corners, frame)
    if len(points) < 3:
        return Assembled(geometry=Polygon(), repaired=())
    told = list(_missing(way))
    if not way.is_closed:
        told.append(f"the ring was open and was closed by a straight side of {_gap_m(points):.1f} m")
    return _sound(Polygon(points), told)


def area_of_relation(relation: Relation, ways: Mapping[int, Way], frame: Frame) -> Assembled:
    """The area of a relation: its outer rings less its inner ones."""
    told: list[str] = []
    missing = [number for number, _ in relation.members if number not in ways]
    if missing:
        named = ", ".join(f"way/{number}" for number in missing[:5])
        told.append(f"{len(missing)} of its {len(relation.members)} ways are not in the file ({named}{', …' * (len(missing) > 5)})")
    rings: dict[str, list[Polygon]] = {"outer": [], "inner": []}
    for part in rings:
        members = [ways[number] for number, role in relation.members if number in ways and (role == "inner") == (part == "inner")]
        for way in members:
            told += _missing(way)
        for corners, is_closed in _joined(members):
            points = _points(corners, frame)
            if not is_closed and len(points) > 2:
                told.append(f"an {part} ring was open and was closed by a straight side of {_gap_m(points):.1f} m")
            rings[part] += [Polygon(points)] if len(points) > 2 else []
    outer = [_sound(ring, told).geometry for ring in rings["outer"]]
    inner = [_sound(ring, told).geometry for ring in rings["inner"]]
    ground = shapely.union_all(outer).difference(shapely.union_all(inner)) if outer else Polygon()
    return Assembled(geometry=_only_areas(ground), repaired=tuple(dict.fromkeys(told)))


def _missing(way: Way) -> list[str]:
    return [f"{way.missing} of its corners are not in the file"] if way.missing else []


def _points(corners: Sequence[Corner], frame: Frame) -> list[tuple[float, float]]:
    if not corners:
        return []
    xs_m, ys_m = frame.to_metres([corner[1] for corner in corners], [corner[2] for corner in corners])
    return [(round(x, 3), round(y, 3)) for x, y in zip(xs_m, ys_m, strict=True)]


def _gap_m(points: Sequence[tuple[float, float]]) -> float:
    return LineString([points[0], points[-1]]).length


def _joined(ways: Sequence[Way]) -> list[tuple[tuple[Corner, ...], bool]]:
    """Rings made of ways joined at their ends, each with whether it closed."""
    left = [way.corners for way in ways if len(way.corners) > 1]
    rings = []
    while left:
        chain = list(left.pop(0))
        grown = True
        while grown and chain[0][0] != chain[-1][0]:
            grown = False
            for number, other in enumerate(left):
                if other[0][0] == chain[-1][0]:
                    chain += other[1:]
                elif other[-1][0] == chain[-1][0]:
                    chain += other[-2::-1]
                else:
                    continue
                left.pop(number)
                grown = True
                break
            else:
                grown = _grown_at_start(chain, left)
        rings.append((tuple(chain), chain[0][0] == chain[-1][0]))
    return rings


def _grown_at_start(chain: list[Corner], left: list[tuple[Corner, ...]]) -> bool:
    """Join a way to the start of a chain; whether one was found."""
    for number, other in enumerate(left):
        if other[-1][0] == chain[0][0]:
            chain[:0] = other[:-1]
        elif other[0][0] == chain[0][0]:
            chain[:0] = other[:0:-1]
        else:
            continue
        left.pop(number)
        return True
    return False


def _sound(ring: Polygon, told: list[str]) -> Assembled:
    """A ring as ground: one that crosses itself is mended, and that is told."""
    mended = mend(ring)
    told += [mended.how] if mended.how else []
    return Assembled(geometry=mended.geometry, repaired=tuple(told))


def _only_areas(geometry: BaseGeometry) -> BaseGeometry:
    """The areas of any geometry, without lines, points and slivers."""
    parts = [part for part in shapely.get_parts(geometry) if isinstance(part, Polygon) and part.area >= _SLIVER_M2]
    return parts[0] if len(parts) == 1 else MultiPolygon(parts)
