"""Cut the real samples of each kind of import out of the parkland map (tests/data/courses/SOURCES.md).

Run as ``python -m builders.real_samples``; the same map gives the same bytes. Corners, tags and numbers are the map's; only the form is
another: a map in binary form, plain GeoJSON, a shore as if it had been walked, a table of par and stroke index. Nothing was walked.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from xml.sax.saxutils import quoteattr

import osmium

HERE = Path(__file__).resolve().parents[2] / "tests" / "data" / "courses"
MAP = HERE / "iom-parkland-18-ponds.osm"
CREDIT = "(c) OpenStreetMap contributors, Open Database License (ODbL) 1.0"
HOLES, BESIDE_DEG = ("12", "13", "14"), 0.0006
"""The holes of the GeoJSON sample, and how far beside their lines it reaches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way of the map: its number, tags and corners as longitude and latitude."""

    number: int
    tags: dict[str, str]
    corners: list[tuple[float, float]]


def ways() -> list[Way]:
    """The ways of the map, in its order."""
    read = osmium.FileProcessor(str(MAP)).with_locations()
    return [
        Way(number=thing.id, tags=dict(thing.tags), corners=[(round(n.lon, 7), round(n.lat, 7)) for n in thing.nodes if n.location.valid()])
        for thing in read
        if thing.is_way()
    ]


def write_binary() -> None:
    """The whole map in binary form."""
    out = HERE / "iom-parkland-18-ponds.osm.pbf"
    out.unlink(missing_ok=True)
    with osmium.SimpleWriter(str(out)) as writer:
        for thing in osmium.FileProcessor(str(MAP)):
            writer.add(thing)


def write_geojson(every: list[Way]) -> None:
    """Three holes as plain GeoJSON, with the map's own words as properties."""
    lines = [way for way in every if way.tags.get("golf") == "hole" and way.tags.get("ref") in HOLES]
    near = [way for way in every if "golf" in way.tags and way.tags["golf"] != "driving_range" and _is_near(way, lines)]
    features = [{"type": "Feature", "properties": dict(_words(way)), "geometry": _geometry(way)} for way in near]
    whole = {"type": "FeatureCollection", "name": "three holes of a parkland", "attribution": CREDIT, "features": features}
    (HERE / "iom-parkland-three-holes.geojson").write_text(json.dumps(whole, indent=None, sort_keys=True) + "\n", encoding="utf-8")


def _is_near(way: Way, lines: list[Way]) -> bool:
    if way.tags["golf"] == "hole":
        return way in lines
    lon, lat = (sum(numbers) / len(way.corners) for numbers in zip(*way.corners, strict=True))
    return any(math.hypot(lon - x, lat - y) < BESIDE_DEG for line in lines for x, y in _along(line))


def _along(line: Way) -> Iterator[tuple[float, float]]:
    for (x, y), (to_x, to_y) in zip(line.corners, line.corners[1:], strict=False):
        yield from ((x + (to_x - x) * part / 20, y + (to_y - y) * part / 20) for part in range(21))


def _words(way: Way) -> Iterator[tuple[str, str]]:
    yield "golf", way.tags["golf"]
    yield "osm", f"way/{way.number}"
    yield from ((name, way.tags[name]) for name in ("ref", "par", "handicap") if name in way.tags)


def _geometry(way: Way) -> dict[str, object]:
    corners = [list(corner) for corner in way.corners]
    return {"type": "LineString", "coordinates": corners} if way.tags["golf"] == "hole" else {"type": "Polygon", "coordinates": [corners]}


def write_walks(every: list[Way]) -> None:
    """The shore of a pond, corner by corner, as a track and as a table."""
    pond = min((way for way in every if way.tags.get("natural") == "water"), key=lambda way: way.number)
    corners = pond.corners[:-1]
    points = "\n".join(f'<trkpt lat="{lat}" lon="{lon}"/>' for lon, lat in corners)
    head = f'<gpx version="1.1" creator="cut from a map" xmlns="http://www.topografix.com/GPX/1/1">\n<metadata><desc>{CREDIT}</desc></metadata>'
    track = f"<trk><name>{quoteattr(f'way {pond.number}')[1:-1]}</name><trkseg>\n{points}\n</trkseg></trk>"
    (HERE / "iom-parkland-shore.gpx").write_text(f'<?xml version="1.0"?>\n{head}\n{track}\n</gpx>\n', encoding="utf-8")
    rows = "\n".join(f"{lon},{lat}" for lon, lat in corners)
    (HERE / "iom-parkland-shore.csv").write_text(f"lon,lat\n{rows}\n", encoding="utf-8")


def write_tees(every: list[Way]) -> None:
    """Par and stroke index as the map states them, with the length of the line drawn there."""
    lines = sorted((way for way in every if way.tags.get("golf") == "hole"), key=lambda way: int(way.tags["ref"]))
    rows = [f"{way.tags['ref']},map,{_length_m(way):.0f},{way.tags['par']},{way.tags['handicap']}" for way in lines]
    text = "\n".join(["hole,tee,length_m,par,stroke_index", *rows])
    (HERE / "iom-parkland-tees.csv").write_text(text + "\n", encoding="utf-8")


def _length_m(way: Way) -> float:
    pairs = zip(way.corners, way.corners[1:], strict=False)
    east = math.cos(math.radians(way.corners[0][1]))
    return sum(math.radians(math.hypot((to_x - x) * east, to_y - y)) * 6_371_000 for (x, y), (to_x, to_y) in pairs)


if __name__ == "__main__":
    found = ways()
    write_binary()
    write_geojson(found)
    write_walks(found)
    write_tees(found)
