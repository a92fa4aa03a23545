"""Outlines that are not sound: closed where they are open, mended where they cross themselves, and told how."""

from __future__ import annotations

import re
from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from marram.course.partition import GRID_M, polygons_of

_UNSOUND = re.compile(r"\bcross(?:ed|es) itself\b|\bring was open\b|\bnot in the file\b")
_CHANGED = re.compile(r"changed (\d+(?:\.\d+)?) m²|straight side of (\d+(?:\.\d+)?) m\b")
_SLIGHT = 1.0
"""Up to 1 m² changed, or a gap of up to 1 m closed, is known and harmless (a threshold of our own)."""


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
    """Make an outline sound: what lies inside it by its own rings stays, what only its crossing encloses is a part of its own.

    Args:
        geometry: Any geometry, metres; only polygons are mended.

    Returns:
        The geometry on whole millimetres, so that it is written and read back as it is.
    """
    if geometry.is_valid or not isinstance(geometry, Polygon | MultiPolygon):
        return Mended(geometry=geometry, how="")
    whole = shapely.make_valid(geometry, method="structure", keep_collapsed=False)
    sound = polygons_of(shapely.set_precision(whole, GRID_M))
    count = len(shapely.get_parts(sound))
    parts = "one part" if count == 1 else f"{count} parts"
    # The corners alone count a lobe that runs the other way round as less ground, which tells how much the crossing was about.
    change = f"{geometry.area:.1f} m² by its corners before, so mending changed {abs(sound.area - geometry.area):.1f} m²"
    return Mended(geometry=sound, how=f"the outline crossed itself; it was mended to {parts} of {sound.area:.1f} m² together ({change})")


def is_slight(how: str) -> bool:
    """Whether the words tell of no more than 1 m² changed or gaps of 1 m closed; False where they give no number."""
    amounts = [float(square_m or side_m) for square_m, side_m in _CHANGED.findall(how)]
    return len(amounts) >= max(1, len(_UNSOUND.findall(how))) and max(amounts) <= _SLIGHT


def has_crossed(how: str) -> bool:
    """Whether the words tell of an outline that crossed itself, and not of an open ring alone."""
    return "cross" in how


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """A GeoJSON geometry whose rings come back to their start.

    Attributes:
        geometry: The geometry object.
        sides: First and last corner of each ring that was open, as they stood.
    """

    geometry: dict[str, object]
    sides: tuple[tuple[object, object], ...]


def close_rings(raw: dict[str, object]) -> Closed:
    """Close the open rings of a GeoJSON geometry by a straight side; other geometries stay as they are."""
    coordinates = raw.get("coordinates")
    sides: list[tuple[object, object]] = []
    if raw.get("type") == "Polygon" and isinstance(coordinates, list):
        whole: list[object] = [_ring(ring, sides) for ring in coordinates]
    elif raw.get("type") == "MultiPolygon" and isinstance(coordinates, list):
        whole = [[_ring(ring, sides) for ring in part] if isinstance(part, list) else part for part in coordinates]
    else:
        return Closed(geometry=raw, sides=())
    return Closed(geometry=raw | {"coordinates": whole}, sides=tuple(sides))


def _ring(ring: object, sides: list[tuple[object, object]]) -> object:
    if isinstance(ring, list) and len(ring) > 2 and ring[0] != ring[-1]:
        sides.append((ring[0], ring[-1]))
        return [*ring, ring[0]]
    return ring
