"""The boundary with its walls, paths and buildings, ground conditions, and trees."""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.affinity import rotate
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import unary_union

from builders.demo_course.features import Sheet
from builders.demo_course.holes import PLANS, approach_deg, from_green, green_of
from builders.demo_course.shapes import (
    Place,
    blob,
    chance,
    closed_curve,
    divided,
    eased,
    even,
    exact,
    largest,
    left_of,
    open_curve,
    polygons,
    rectangle,
    ribbon,
    softened,
    unit,
)
from builders.demo_course.water import FAR_SIGMA_M, all_water, stretch_of_boundary

CLUBHOUSE: Place = (2.0, -322.0)


def add_boundary(sheet: Sheet) -> None:
    room = [feature.shape.buffer(42.0) for feature in sheet.of_kind("line-of-play")]
    room.append(Point(CLUBHOUSE).buffer(34.0))
    ground = unary_union(room).buffer(230.0, quad_segs=90).buffer(-260.0, quad_segs=90).buffer(30.0, quad_segs=60)
    sheet.add("boundary", "boundary", orient(even(largest(ground), 2.0)))


def add_walls(sheet: Sheet) -> None:
    """Walls stand just outside the boundary: the edge on the course side is the boundary edge."""
    stretches = {"wall-north": ((410, 380), (250, 380)), "wall-west": ((-560, 60), (-560, -190)),
                 "wall-clubhouse": ((-150, -360), (120, -360))}  # fmt: skip
    for name, (start, end) in stretches.items():
        inner = stretch_of_boundary(sheet, start, end)
        outer = inner - left_of(inner) * 0.5
        sheet.add("boundary-object", name, Polygon(np.vstack([inner, outer[::-1]])), what="wall")
    low = open_curve([(336, -118), (340, -70), (334, -20), (341, 30), (337, 62)], 1.5)
    half = np.full(len(low), 0.3)
    sheet.add("integral-object", "wall-low", ribbon(low, half, half), what="wall")


@dataclass(frozen=True, slots=True, kw_only=True)
class PathPlan:
    """A path that comes up beside a green and goes on to the next tee."""

    green: int
    before: tuple[Place, ...]  # onward and to the left of the middle of the green, metres
    beside: tuple[Place, ...]  # angle as in plan.py, metres from the edge of the green to the middle of the path
    after: tuple[Place, ...]  # places on the plan


PATHS: tuple[PathPlan, ...] = (
    PathPlan(green=2, before=((-95, 26), (-45, 28)), beside=((115, 14), (70, 3.6), (40, 4.4)), after=((-464, 296),)),
    PathPlan(green=5, before=((-80, 22), (-36, 20)), beside=((115, 4.4), (80, 3.4), (50, 9)), after=((-229, 113),)),
    PathPlan(green=8, before=((-110, -14), (-50, -20)), beside=((250, 4), (285, 3.3), (320, 8)),
             after=((-180, 172), (-136, 156))),
    PathPlan(green=9, before=(), beside=((300, 7), (330, 3.8), (0, 3.4)), after=((-62, -284), (-18, -306))),
    PathPlan(green=10, before=((-80, -26), (-36, -24)), beside=((270, 5), (305, 3.3), (345, 4)),
             after=((516, -262), (515, -250))),
    PathPlan(green=11, before=((-85, 24), (-36, 27)), beside=((110, 11), (75, 3.6), (40, 6)), after=((492, 127),)),
    PathPlan(green=14, before=((-70, -22), (-32, -20)), beside=((245, 4.2), (272, 3.2)),
             after=((403, 225), (414, 208))),
    PathPlan(green=15, before=((-90, -27), (-40, -34)), beside=((238, 23), (284, 3.4), (308, 9)),
             after=((352, -231), (342, -229))),
    PathPlan(green=16, before=((-90, 22), (-40, 24)), beside=((110, 6), (75, 3.3), (40, 7)), after=((272, 168),)),
    PathPlan(green=18, before=(), beside=((62, 9), (30, 5.2), (0, 4.0)), after=((34, -286), (16, -306))),
)  # fmt: skip


def add_paths(sheet: Sheet) -> None:
    for plan in PATHS:
        places = [from_green(plan.green, *place) for place in plan.before]
        places += [_off_green(sheet, plan.green, *place) for place in plan.beside]
        line = open_curve([*places, *plan.after], 1.2)
        half = np.full(len(line), float(chance(f"path-{plan.green}").uniform(1.05, 1.35)))
        sheet.add("immovable-obstruction", f"path-{plan.green}", even(ribbon(line, half, half), 1.2), what="path")


def _off_green(sheet: Sheet, number: int, angle_deg: float, away_m: float) -> Place:
    centre = np.array(PLANS[number].line[-1])
    ray = unit(approach_deg(number) + angle_deg)
    reach = LineString([centre, centre + ray * 60]).intersection(green_of(sheet, number)).length
    place = centre + ray * (reach + away_m)
    return float(place[0]), float(place[1])


def add_buildings(sheet: Sheet) -> None:
    east, north = CLUBHOUSE
    house = unary_union([box(east - 16, north - 6, east + 16, north + 6), box(east - 5, north - 12, east + 8, north + 9)])
    sheet.add("immovable-obstruction", "clubhouse", largest(rotate(house, 4, origin=CLUBHOUSE)), what="clubhouse")
    sheet.add("immovable-obstruction", "shed-stone", rectangle((-446, 44), 7.0, 4.6, 74.0), what="shed")


def add_conditions(sheet: Sheet) -> None:
    ditch = sheet.polygon("ditch-6").buffer(0.25)
    worn = blob("repair-6", (-309.0, -57.5), 380.0, stretch=1.6, angle_deg=82, rough=0.12).difference(ditch)
    repair = exact(largest(worn), 1.0)
    zone = blob("zone-6", (-312.0, -58.0), 190.0, stretch=1.5, angle_deg=84, rough=0.05).intersection(repair)
    sheet.add("ground-under-repair", "repair-6", repair, what="young trees")
    sheet.add("no-play-zone", "zone-6", divided(largest(zone), 0.8), what="young trees")
    reeds = blob("zone-lower", (232.0, -124.0), 150.0, stretch=1.6, angle_deg=70, rough=0.12)
    sheet.add("no-play-zone", "zone-pond", even(largest(reeds.intersection(sheet.polygon("pond-lower").buffer(-0.8))), 0.9),
              what="reed bed")  # fmt: skip
    for name, place, size in (("repair-15", (401.0, -38.0), 74.0), ("repair-12", from_green(12, 4.0, -27.0), 46.0)):
        patch = blob(name, place, size, stretch=1.5, angle_deg=40, rough=0.14)
        sheet.add("ground-under-repair", name, even(patch, 1.0), what="worn turf")

    sand = sheet.polygon("bunker-15-f")
    middle = sand.centroid
    rain = closed_curve([(middle.x - 14, middle.y - 14), (middle.x + 14, middle.y - 14), (middle.x + 12, middle.y - 0.6),
                         (middle.x + 3, middle.y + 0.9), (middle.x - 4, middle.y - 0.9), (middle.x - 12, middle.y + 0.6)],
                        0.5)  # fmt: skip
    sheet.add("temporary-water", "water-bunker-15", divided(largest(sand.intersection(rain)), 0.6), what="rain water")
    pool = blob("water-9", (-112.0, -132.0), 17.0, stretch=1.5, angle_deg=60, rough=0.14)
    sheet.add("temporary-water", "water-9", even(pool, 0.5), what="rain water")
    hole = blob("animal-2", (-318.0, 263.0), 0.6, stretch=1.3, angle_deg=20, rough=0.1)
    sheet.add("animal-hole", "animal-hole-2", even(hole, 0.15), what="burrow")


def _room_for_trees(sheet: Sheet) -> BaseGeometry:
    kept_open = [
        sheet.together("line-of-play").buffer(21.0), sheet.together("fairway").buffer(7.0),
        sheet.together("putting-green").buffer(15.0), sheet.together("teeing-area").buffer(8.0),
        sheet.together("bunker").buffer(5.0), all_water(sheet).buffer(4.0), Point(CLUBHOUSE).buffer(30.0),
        sheet.together("immovable-obstruction", "integral-object").buffer(2.5),
        sheet.together("ground-under-repair", "dropping-zone", "animal-hole").buffer(3.0),
    ]  # fmt: skip
    return sheet.polygon("boundary").buffer(-5.0).difference(unary_union(kept_open))


def add_trees(sheet: Sheet) -> None:
    """Clumps of crowns wherever play leaves room, thicker in some parts than in others."""
    room = _room_for_trees(sheet)
    rng = chance("trees")
    waves = [(unit(float(a)), float(w), float(p)) for a, w, p in rng.uniform((0, 120, 0), (360, 300, 6.28), (6, 3))]
    crowns: list[Polygon] = []
    shapely.prepare(room)
    for x in np.arange(-560.0, 560.0, 8.5):
        for y in np.arange(-380.0, 380.0, 8.5):
            place = np.array([x, y]) + rng.uniform(-5, 5, 2)
            thick = sum(float(np.sin(2 * np.pi * (place @ way) / wave + phase)) for way, wave, phase in waves)
            crown = Point(place).buffer(float(rng.uniform(3.2, 7.5)), quad_segs=8)
            if thick + rng.uniform(-1.6, 1.6) > 0.35 and room.contains(crown):
                crowns.append(crown)
    wood = softened(unary_union(crowns), 1.8)
    kept = sorted((part for part in polygons(wood) if part.area > 90.0), key=lambda part: (part.bounds, part.area))
    for number, part in enumerate(kept, start=1):
        glades = [ring for ring in part.interiors if Polygon(ring).area > 80.0]
        sheet.add("trees", f"trees-{number}", even(eased(Polygon(part.exterior, glades), 0.6), 1.6), sigma_m=FAR_SIGMA_M)
