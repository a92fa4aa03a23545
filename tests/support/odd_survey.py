"""A survey in the making: features in metres about an origin, written as a course file at the end."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from pyproj import Proj
from shapely import affinity
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box, mapping
from shapely.geometry.base import BaseGeometry

MIDDLE_M = (90.0, 0.0)
"""The middle of the three holes."""
BOUNDARY = box(-60, -200, 240, 200)
HOLES = {1: ((0.0, -150.0), (0.0, 150.0)), 2: ((90.0, 150.0), (90.0, -150.0)), 3: ((180.0, -150.0), (180.0, 150.0))}
"""Where each line of play begins and ends."""


class Survey:
    """Features of a course, and a place at which the next odd thing is laid."""

    def __init__(self, rng: random.Random, *, name: str, origin: tuple[float, float]) -> None:
        self.rng, self.name, self.origin = rng, name, origin
        self.features: list[tuple[dict[str, object], BaseGeometry]] = []
        self.boundary: BaseGeometry = BOUNDARY
        self.rings_open: set[str] = set()
        self.sigma_m: float | None = 0.05
        self.middle_m, self.turn_deg = (0.0, 0.0), 0.0
        for number, (start, end) in HOLES.items():
            self.hole(number, start, end)

    def hole(self, number: int, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A sound hole: tee, green, line of play and hole location."""
        own: dict[str, Any] = {"holes": [number]}
        self.add("teeing-area", box(start[0] - 4, start[1] - 5, start[0] + 4, start[1] + 5), name=f"tee-{number}", **own)
        self.add("putting-green", blob(self.rng, 11, 40, end), name=f"green-{number}", **own)
        self.add("line-of-play", LineString([start, end]), name=f"line-{number}", **own, par=4, stroke_index=number)
        at = (end[0] + self.rng.uniform(-4, 4), end[1] + self.rng.uniform(-4, 4))
        self.add("hole-location", Point(at), name=f"hole-{number}", **own)

    def go_to(self, x_m: float, y_m: float) -> None:
        """Go to another place, beside the line of play or on it, and look another way."""
        self.middle_m = (x_m + self.rng.uniform(-18, 18), y_m + self.rng.uniform(-12, 12))
        self.turn_deg = self.rng.uniform(0, 360)

    def here(self, geometry: BaseGeometry) -> BaseGeometry:
        """Ground about (0, 0), turned and moved to the place."""
        turned = affinity.rotate(geometry, self.turn_deg, origin=(0, 0))
        return affinity.translate(turned, *self.middle_m)

    def add(self, kind: str, geometry: BaseGeometry, *, name: str = "", **more: object) -> str:
        """Add a feature, on whole millimetres; it gets a name of its own if none is given."""
        own = name or f"{more.get('what', kind)}-{len(self.features)}"
        held = shapely.transform(geometry, lambda xy: xy.round(3))
        self.features.append(({"id": own, "kind": kind, **more}, held))
        return own

    def lay(self, kind: str, geometry: BaseGeometry, **more: object) -> str:
        """Add a feature that was drawn about (0, 0), at the place."""
        return self.add(kind, self.here(geometry), name="", **more)

    def water(self, geometry: BaseGeometry, mark: str = "", *, what: str = "pond") -> str:
        """Water at the place, red or yellow by chance where no mark is given."""
        return self.lay("penalty-area", geometry, mark=mark or self.mark(), what=what)

    def mark(self) -> str:
        """Red or yellow, by chance."""
        return self.rng.choice(["red", "yellow"])

    def without(self, *kinds: str) -> None:
        """Take all features of some kinds away."""
        self.features = [entry for entry in self.features if entry[0]["kind"] not in kinds]

    def of_kind(self, kind: str) -> list[dict[str, object]]:
        """Properties of all features of a kind, to be changed in place."""
        return [properties for properties, _ in self.features if properties["kind"] == kind]

    def collection(self, oddities: Sequence[str]) -> dict[str, object]:
        """The course file."""
        lon_deg, lat_deg = (round(number, 5) for number in self.origin)
        frame = Proj(proj="tmerc", lat_0=lat_deg, lon_0=lon_deg, k_0=1, ellps="GRS80", units="m")
        head = {"name": self.name, "origin": [lon_deg, lat_deg], "sigma_m": self.sigma_m, "oddities": list(oddities)}
        edge: dict[str, object] = {"id": "boundary", "kind": "boundary"}
        entries = [*([] if self.boundary.is_empty else [(edge, self.boundary)]), *self.features]
        features = [self._written(frame, properties, geometry) for properties, geometry in entries]
        return {"type": "FeatureCollection", "course": head, "features": features}

    def _written(self, frame: Proj, properties: dict[str, object], metres: BaseGeometry) -> dict[str, object]:
        centred = affinity.translate(metres, -MIDDLE_M[0], -MIDDLE_M[1])
        degrees = shapely.transform(centred, lambda xy: np.column_stack(frame(xy[:, 0], xy[:, 1], inverse=True)).round(10))
        rounded = mapping(degrees)
        coordinates = rounded["coordinates"]
        if properties["id"] in self.rings_open:
            coordinates = [ring[:-1] for ring in coordinates]
        return {"type": "Feature", "properties": properties, "geometry": {"type": rounded["type"], "coordinates": coordinates}}


def blob(rng: random.Random, size_m: float, corners: int = 40, middle: tuple[float, float] = (0.0, 0.0)) -> Polygon:
    """A round outline whose radius waves on the way round."""
    waves = [(count, size_m * rng.uniform(-0.12, 0.12), rng.uniform(0, 2 * math.pi)) for count in range(2, 6)]
    turns = [2 * math.pi * number / corners for number in range(corners)]
    radii = [size_m + sum(high * math.cos(count * turn + phase) for count, high, phase in waves) for turn in turns]
    return Polygon([(middle[0] + r * math.cos(t), middle[1] + r * math.sin(t)) for r, t in zip(radii, turns, strict=True)])


def ground(geometry: BaseGeometry) -> Polygon | MultiPolygon:
    """The same ground, told as what it must be."""
    assert isinstance(geometry, Polygon | MultiPolygon)
    return geometry
