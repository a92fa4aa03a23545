"""Places and outlines as outsiders read them: longitude and latitude, with metres of the course frame beside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.shape import Shape

if TYPE_CHECKING:  # what measures ground is loaded only where there is some
    from shapely.geometry import MultiPolygon, Polygon

    from marram.course.frame import Frame, Position

LonLat = tuple[float, float]
Rings = tuple[tuple[LonLat, ...], ...]


class PlaceShape(Shape, frozen=True, kw_only=True):
    """A place on the course.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
    """

    at: LonLat
    x_m: float
    y_m: float


class PolygonShape(Shape, frozen=True, kw_only=True, tag_field="type", tag="Polygon"):
    """An outline as a GeoJSON polygon.

    Attributes:
        type: What GeoJSON calls it.
        coordinates: Its rings, the outer one first; none where it is empty.
    """

    coordinates: Rings


class MultiPolygonShape(Shape, frozen=True, kw_only=True, tag_field="type", tag="MultiPolygon"):
    """Several outlines as a GeoJSON multipolygon.

    Attributes:
        type: What GeoJSON calls it.
        coordinates: The rings of each polygon, the outer one first.
    """

    coordinates: tuple[Rings, ...]


OutlineShape = PolygonShape | MultiPolygonShape


def place_shape(frame: Frame, position: Position) -> PlaceShape:
    """A place in degrees and metres."""
    return PlaceShape(at=lonlat_of(frame, position), x_m=round(position.x_m, 3), y_m=round(position.y_m, 3))


def lonlat_of(frame: Frame, position: Position) -> LonLat:
    """Longitude and latitude of a place, nine decimals."""
    lon_deg, lat_deg = frame.to_lonlat(position)
    return round(lon_deg, 9), round(lat_deg, 9)


def outline_in_degrees(frame: Frame, outline: Polygon | MultiPolygon) -> OutlineShape:
    """An outline in longitude and latitude, nine decimals, its outer rings counter-clockwise."""
    from shapely import orient_polygons

    from marram.interchange.courses.course_geojson import to_degrees

    told = to_degrees(frame, orient_polygons(outline))
    return _outline(str(told["type"]), told["coordinates"])


def outline_in_metres(outline: Polygon | MultiPolygon) -> OutlineShape:
    """An outline in metres of the course frame, its outer rings counter-clockwise."""
    from shapely import orient_polygons
    from shapely.geometry import mapping

    told = mapping(orient_polygons(outline))
    return _outline(str(told["type"]), told["coordinates"])


def _outline(kind: str, coordinates: object) -> OutlineShape:
    made = PolygonShape if kind == "Polygon" else MultiPolygonShape
    return made(coordinates=coordinates)  # type: ignore[arg-type]


def rounded(value: float | None, digits: int = 3) -> float | None:
    """A number to so many decimals; None stays None."""
    return None if value is None else round(value, digits)
