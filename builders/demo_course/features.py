"""The features of the demo course and how they are written down."""

import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray
from pyproj import Transformer
from shapely.geometry import MultiPolygon, Polygon, mapping
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

ORIGIN = (-2.47, 55.31)
NAME = "Thimble Moor"
SIGMA_M = 0.05

Value = str | int | float | list[int] | list[float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One feature in metres, with the properties that are written beside `id` and `kind`."""

    id: str
    kind: str
    shape: BaseGeometry
    more: dict[str, Value] = field(default_factory=dict)


@dataclass(slots=True, kw_only=True)
class Sheet:
    """The plan as it grows: features in the order in which they are written."""

    features: list[Feature] = field(default_factory=list)

    def add(self, kind: str, name: str, shape: BaseGeometry, **more: Value) -> None:
        self.features.append(Feature(id=name, kind=kind, shape=shape, more=more))

    def of_kind(self, *kinds: str) -> Iterator[Feature]:
        return (feature for feature in self.features if feature.kind in kinds)

    def shape_of(self, name: str) -> BaseGeometry:
        return next(feature.shape for feature in self.features if feature.id == name)

    def polygon(self, name: str) -> Polygon:
        shape = self.shape_of(name)
        if not isinstance(shape, Polygon):
            raise TypeError(f"{name} is a {shape.geom_type}")
        return shape

    def together(self, *kinds: str) -> BaseGeometry:
        return unary_union([feature.shape for feature in self.of_kind(*kinds)])

    def replace(self, name: str, shape: BaseGeometry, **more: Value) -> None:
        for at, old in enumerate(self.features):
            if old.id == name:
                self.features[at] = Feature(id=name, kind=old.kind, shape=shape, more={**old.more, **more})
                return
        raise KeyError(name)


def to_degrees() -> Transformer:
    """From the metric frame of the course to longitude and latitude."""
    frame = f"+proj=tmerc +lon_0={ORIGIN[0]} +lat_0={ORIGIN[1]} +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m"
    return Transformer.from_crs(frame, "EPSG:4326", always_xy=True)


def _wound(shape: BaseGeometry) -> BaseGeometry:
    """Outer rings counter-clockwise, as GeoJSON asks."""
    if isinstance(shape, Polygon):
        return orient(shape)
    if isinstance(shape, MultiPolygon):
        return MultiPolygon([orient(part) for part in shape.geoms])
    return shape


def _line(feature: Feature, transformer: Transformer) -> str:
    def placed(places_m: NDArray[np.float64]) -> NDArray[np.float64]:
        # Whole millimetres first: two features that share an edge then share its coordinates to the last digit.
        east, north = np.round(places_m, 3).T
        return np.round(np.column_stack(transformer.transform(east, north)), 9)

    written = {
        "type": "Feature",
        "properties": {"id": feature.id, "kind": feature.kind, **feature.more},
        "geometry": mapping(shapely.transform(_wound(feature.shape), placed)),
    }
    return json.dumps(written, separators=(",", ":"))


def write(sheet: Sheet, path: Path) -> None:
    """Write the course as GeoJSON, one feature a line."""
    transformer = to_degrees()
    course = {"name": NAME, "origin": list(ORIGIN), "sigma_m": SIGMA_M, "surveyed_by": "invented"}
    lines = ",\n".join(_line(feature, transformer) for feature in sheet.features)
    head = f'{{"type":"FeatureCollection",\n"course":{json.dumps(course)},\n"features":[\n'
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"{head}{lines}\n]}}\n", encoding="utf-8")
