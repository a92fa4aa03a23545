"""What people put on the ground: the boundary, walls, paths, ground under repair, zones, and the day's water."""

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.ops import substring, unary_union

from builders.demo_course.features import Sheet
from builders.demo_course.holes import approach_deg, from_green
from builders.demo_course.plan import HOLES
from builders.demo_course.shapes import Place, blob, even, largest, open_curve, rectangle, ribbon, softened


def make_boundary() -> Polygon:
    """One smooth edge round all holes, at least 40 m from each line of play."""
    lines = unary_union([LineString(plan.line) for plan in HOLES])
    return even(Polygon(largest(softened(lines.buffer(150).buffer(-106), 25)).exterior), 4.0)


def add_boundary(sheet: Sheet, boundary: Polygon) -> None:
    sheet.add("boundary", "boundary", boundary)
    edge = LineString(boundary.exterior.coords)
    for number, (start, end) in enumerate(((0.04, 0.13), (0.46, 0.55)), start=1):
        stretch = substring(edge, start, end, normalized=True)
        outside = stretch.buffer(0.5, single_sided=True, cap_style="flat")
        if outside.intersection(boundary).area > outside.area / 2:
            outside = stretch.buffer(-0.5, single_sided=True, cap_style="flat")
        sheet.add("boundary-object", f"wall-{number}", largest(outside), what="wall")


def add_paths(sheet: Sheet) -> None:
    """Paths, some within 3 m of a green, and a stone shed."""
    for number, places in _PATHS.items():
        middle = open_curve([from_green(number, onward_m, left_m) for onward_m, left_m in places], 1.0)
        half = 1.2 + 0.15 * np.sin(np.arange(len(middle)) / 9.0)
        path = ribbon(middle, half, half).buffer(0)
        clear = path.difference(sheet.together("putting-green", "bunker", "penalty-area").buffer(0.8))
        sheet.add("immovable-obstruction", f"path-{number}", largest(clear), what="path")
    shed = rectangle(from_green(10, -150, 30), 7.0, 5.0, approach_deg(10) + 12)
    sheet.add("immovable-obstruction", "shed", shed, what="stone shed")
    sheet.add("integral-object", "low-wall", rectangle(from_green(17, -45, 18), 12.0, 0.6, 70), what="low wall")


_PATHS: dict[int, list[Place]] = {
    7: [(-62, 24), (-40, 25), (-18, 33), (6, 31), (22, 18), (30, 2), (34, -22)],
    2: [(-60, -21), (-30, -24), (-6, -19), (14, -16), (26, -4), (34, 16)],
    5: [(-64, 20), (-36, 21), (-8, 17), (10, 15.5), (22, 5), (30, -10)],
    9: [(-58, 24), (-30, 22), (-4, 27), (18, 22), (28, 6), (30, -14)],
    11: [(-60, -20), (-32, -22), (-4, -25), (16, -19), (25, -3), (28, 16)],
    15: [(-60, -26), (-34, -24), (-10, -28), (12, -24), (26, -10), (32, 8)],
    18: [(-70, -28), (-40, -30), (-10, -32), (14, -27), (28, -8), (34, 14)],
}


def add_conditions(sheet: Sheet) -> None:
    """Ground under repair, zones, temporary water and an animal hole."""
    repair = blob("gur-15", _beside_pond_15(sheet), 46, stretch=1.4, angle_deg=70, rough=0.08)
    repair = largest(repair.difference(sheet.polygon("pond-15")))
    sheet.add("ground-under-repair", "gur-15", even(repair, 0.6), what="young plants")
    sheet.add("no-play-zone", "zone-15", even(largest(repair.buffer(-0.25)), 0.6), what="young plants")
    sheet.add("ground-under-repair", "gur-1", even(_patch("gur-1", 1, -52, 5, 38), 0.7), what="new turf")
    sheet.add("ground-under-repair", "gur-13", even(_patch("gur-13", 13, -88, -4, 52), 0.7), what="drain trench")
    reeds = blob("reeds-4", (sheet.polygon("pond-4").centroid.x, sheet.polygon("pond-4").centroid.y), 90,
                 stretch=1.4, angle_deg=20, rough=0.1)  # fmt: skip
    sheet.add("no-play-zone", "zone-4", even(reeds, 0.8), what="reeds")
    bunker = sheet.polygon("bunker-8-a")
    half = rectangle((bunker.centroid.x + 3.2, bunker.centroid.y), 6.4, 30.0, 0)
    sheet.add("temporary-water", "water-bunker-8", largest(bunker.intersection(half)), what="temporary water")
    sheet.add("temporary-water", "water-6", even(_patch("water-6", 6, -96, 4, 24), 0.6), what="temporary water")
    sheet.add("animal-hole", "burrow-13", even(_patch("burrow-13", 13, -60, 9, 0.5), 0.1), what="rabbit hole")
    sheet.add("dropping-zone", "zone-drop-12", rectangle(from_green(12, -58, 9), 4.0, 4.0, 30), holes=[12],
              serves="pond-12")  # fmt: skip
    sheet.add("dropping-zone", "zone-drop-7", rectangle(from_green(7, -34, -20), 4.0, 4.0, 10), holes=[7],
              serves="pond-7")  # fmt: skip


def _patch(name: str, hole: int, onward_m: float, left_m: float, area_m2: float) -> Polygon:
    return blob(name, from_green(hole, onward_m, left_m), area_m2, stretch=1.35, angle_deg=30, rough=0.1)


def _beside_pond_15(sheet: Sheet) -> Place:
    """A place on the edge of the pond by the fifteenth, on the side away from the hole."""
    pond = sheet.polygon("pond-15")
    hole = from_green(15, 0, 0)
    away = np.array([pond.centroid.x, pond.centroid.y]) - np.array(hole)
    away /= np.hypot(*away)
    reach = 0.0
    while pond.distance(LineString([(0, 0), (0, 0.001)])) >= 0 and reach < 60:
        spot = np.array([pond.centroid.x, pond.centroid.y]) + away * reach
        if not pond.buffer(1.2).contains(LineString([spot, spot + 0.001])):
            return float(spot[0]), float(spot[1])
        reach += 0.25
    return float(pond.centroid.x), float(pond.centroid.y)


def add_trees(sheet: Sheet, boundary: Polygon) -> None:
    """Copses between the holes, kept off everything that is played."""
    play = unary_union([LineString(plan.line).buffer(26) for plan in HOLES])
    taken = unary_union([play, sheet.together("putting-green", "teeing-area", "penalty-area", "bunker").buffer(8)])
    for number, (x, y) in enumerate(_COPSES, start=1):
        copse = blob(f"copse-{number}", (x, y), 620, stretch=1.5, angle_deg=31 * number, rough=0.14)
        left = [part for part in [copse.difference(taken).intersection(boundary.buffer(-4))] if part.area > 120]
        if left:
            sheet.add("trees", f"copse-{number}", even(largest(softened(left[0], 2.0)), 1.5), what="trees", sigma_m=0.5)


_COPSES: tuple[Place, ...] = (
    (-150, -10), (-232, -120), (-320, 60), (-430, -60), (-420, 220), (-160, 180), (-300, 245), (-440, 20),
    (-20, -120), (20, 40), (230, 60), (240, -170), (350, 60), (440, -60), (180, 250), (300, 290), (200, -250),
    (380, -290), (-190, -310), (-400, -250),
)  # fmt: skip
