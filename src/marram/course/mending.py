"""Outlines that are not sound: closed where they are open, mended where they cross themselves, and told how."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.partition import polygons_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """A geometry that is sound.

    Attributes:
        geometry: The geometry; empty where an outline holds no ground.
        how: How it was mended, in words with its numbers; empty where it was sound.
    """

    geometry: BaseGeometry
    how: str


def mend(geometry: BaseGeometry) -> Mended:
    """Make an outline sound: what lies inside it by its own rings stays, what only its crossing encloses is a part of its own."""
    if geometry.is_valid or not isinstance(geometry, Polygon | MultiPolygon):
        return Mended(geometry=geometry, how="")
    sound = polygons_of(shapely.make_valid(geometry, method="structure", keep_collapsed=False))
    count = len(shapely.get_parts(sound))
    parts = "one part" if count == 1 else f"{count} parts"
    return Mended(geometry=sound, how=f"the outline crossed itself; it was mended to {parts} of {sound.area:.1f} m² together")


OPEN_RING = "a ring was open; it was closed by a straight side"


def close_rings(raw: dict[str, object]) -> tuple[dict[str, object], str]:
    """A GeoJSON geometry whose rings come back to their start, and how it was mended; other geometries as they are."""
    coordinates = raw.get("coordinates")
    if raw.get("type") == "Polygon" and isinstance(coordinates, list):
        whole: list[object] = [_ring(ring) for ring in coordinates]
    elif raw.get("type") == "MultiPolygon" and isinstance(coordinates, list):
        whole = [[_ring(ring) for ring in part] if isinstance(part, list) else part for part in coordinates]
    else:
        return raw, ""
    return raw | {"coordinates": whole}, OPEN_RING if whole != coordinates else ""


def _ring(ring: object) -> object:
    if isinstance(ring, list) and len(ring) > 2 and ring[0] != ring[-1]:
        return [*ring, ring[0]]
    return ring
