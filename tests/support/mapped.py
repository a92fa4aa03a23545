"""Small maps for tests, written with the library that reads them: metres east and north of a corner of the world."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import osmium

from marram.interchange.courses.imported import Imported
from marram.interchange.maps.map_import import MapOptions, import_map

Corner = tuple[float, float]
_DEG_PER_M = 1 / 111_320


class Map:
    """A small map, written with the library that reads it."""

    def __init__(self, path: Path, lon: float = 0.0, lat: float = 0.0) -> None:
        self.path, self.lon, self.lat = path, lon, lat
        path.unlink(missing_ok=True)
        self.writer = osmium.SimpleWriter(str(path))
        self.nodes: list[tuple[int, float, float, dict[str, str]]] = []
        self.ways: list[tuple[int, list[int], dict[str, str]]] = []
        self.relations: list[tuple[int, list[tuple[str, int, str]], dict[str, str]]] = []

    def node(self, corner: Corner, **tags: str) -> int:
        lon = self.lon + corner[0] * _DEG_PER_M
        number = len(self.nodes) + 1
        self.nodes.append((number, (lon + 180) % 360 - 180, self.lat + corner[1] * _DEG_PER_M, tags))
        return number

    def way(self, corners: Sequence[Corner], *, closed: bool = True, lost: int = 0, **tags: str) -> int:
        refs = [self.node(corner) for corner in corners]
        refs = refs + refs[:1] if closed else refs
        refs += [900_000 + number for number in range(lost)]
        number = len(self.ways) + 1
        self.ways.append((number, refs, {key.replace("__", ":"): value for key, value in tags.items()}))
        return number

    def box(self, x: float, y: float, width: float, height: float, **tags: str) -> int:
        return self.way([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], closed=True, lost=0, **tags)

    def relation(self, members: list[tuple[int, str]], **tags: str) -> None:
        number = len(self.relations) + 1
        self.relations.append((number, [("w", way, role) for way, role in members], {"type": "multipolygon", **tags}))

    def write(self) -> Path:
        mutable = osmium.osm.mutable
        for number, lon, lat, tags in self.nodes:
            self.writer.add_node(mutable.Node(id=number, version=1, location=(lon, lat), tags=tags))
        for number, refs, tags in self.ways:
            self.writer.add_way(mutable.Way(id=number, version=1, nodes=refs, tags=tags))
        for number, members, tags in self.relations:
            self.writer.add_relation(mutable.Relation(id=number, version=1, members=members, tags=tags))
        self.writer.close()
        return self.path


def hole(made: Map, number: int = 1, x: float = 0.0) -> None:
    """A hole of 200 m from south to north."""
    made.way([(x, 10), (x, 210)], closed=False, golf="hole", ref=str(number), par="4", handicap=str(number))
    made.box(x - 5, 5, 10, 10, golf="tee")
    made.box(x - 10, 200, 20, 20, golf="green")


def imported(
    tmp_path: Path, fill: Callable[[Map], object], *, lon: float = 0.0, options: MapOptions | None = None, name: str = "a.osm.pbf"
) -> Imported:
    made = Map(tmp_path / name, lon=lon)
    made.box(-200, -50, 400, 400, leisure="golf_course")
    hole(made)
    fill(made)
    return import_map(made.write(), options or MapOptions())
