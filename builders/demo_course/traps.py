"""Flaws of marking that were built into the course on purpose, so that a check of the marking has something to find."""

from dataclasses import dataclass

from shapely.geometry import LineString, Point

from builders.demo_course.features import Sheet, to_degrees
from builders.demo_course.shapes import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Trap:
    """A place on the edge of a red penalty area where lateral relief goes wrong when the hole is played."""

    number: int
    feature: str
    hole: int
    near: Place  # the place itself is the point of the edge that is nearest to this one
    text: str


TRAPS: tuple[Trap, ...] = (
    Trap(number=1, feature="pond-9", hole=9, near=(-151.7, -117.0),
         text="notch: from its tip nearly all the ground not nearer the hole is in the same penalty area"),
    Trap(number=2, feature="ditch-13", hole=13, near=(330.0, 365.0),
         text="edge 0.6 m from the boundary: most of the ground not nearer the hole is out of bounds"),
    Trap(number=3, feature="pond-upper", hole=18, near=(209.6, -67.0),
         text="bunker tight against the edge: relief only in the bunker"),
    Trap(number=4, feature="pond-upper", hole=16, near=(227.5, -93.0),
         text="narrow neck: relief only in the next penalty area"),
    Trap(number=5, feature="ditch-6", hole=6, near=(-311.0, -60.0),
         text="no-play zone in ground under repair beside the edge: nearly all the relief is in the zone"),
)  # fmt: skip


def note_traps(sheet: Sheet) -> None:
    """Write each trap on the feature whose edge it lies on; two traps on one feature stand in one list."""
    transformer = to_degrees()
    for name in dict.fromkeys(trap.feature for trap in TRAPS):
        here = [trap for trap in TRAPS if trap.feature == name]
        places: list[float] = []
        for trap in here:
            place = place_of(sheet, trap)
            lon, lat = transformer.transform(place.x, place.y)
            places += [round(lon, 9), round(lat, 9)]
        sheet.replace(name, sheet.shape_of(name), trap="; ".join(trap.text for trap in here),
                      trap_numbers=[trap.number for trap in here], trap_holes=[trap.hole for trap in here],
                      trap_places=places)  # fmt: skip


def place_of(sheet: Sheet, trap: Trap) -> Point:
    """The point of the edge that is meant."""
    edge = LineString(sheet.polygon(trap.feature).exterior.coords)
    return edge.interpolate(edge.project(Point(trap.near)))
