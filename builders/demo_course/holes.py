"""Tees, fairways, greens, hole locations and bunkers, made from the plan."""

from collections.abc import Iterable

import numpy as np
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring, unary_union

from builders.demo_course.features import Sheet
from builders.demo_course.plan import DOUBLE_GREEN, HOLES, FairwayBunker, GreenBunker, HolePlan
from builders.demo_course.shapes import (
    Place,
    Points,
    along,
    blob,
    chance,
    eased,
    even,
    kidney,
    largest,
    polygons,
    rectangle,
    resample,
    ribbon,
    softened,
    unit,
    wander,
)

PLANS = {plan.number: plan for plan in HOLES}
TEE_SETS = ("back", "middle", "forward")


def heading_deg(start: Place, end: Place) -> float:
    return float(np.degrees(np.arctan2(end[1] - start[1], end[0] - start[0])))


def approach_deg(number: int) -> float:
    """Direction of the last leg of the line of play."""
    return heading_deg(PLANS[number].line[-2], PLANS[number].line[-1])


def from_green(number: int, onward_m: float, left_m: float) -> Place:
    """A place told from the middle of the green: onward along the last leg, and to its left."""
    at = np.array(PLANS[number].line[-1]) + unit(approach_deg(number)) * onward_m
    at += unit(approach_deg(number) + 90) * left_m
    return float(at[0]), float(at[1])


def add_lines(sheet: Sheet) -> None:
    for plan in HOLES:
        sheet.add("line-of-play", f"line-{plan.number}", LineString(plan.line), holes=[plan.number], par=plan.par,
                  stroke_index=plan.stroke_index)  # fmt: skip


def add_tees(sheet: Sheet) -> None:
    for plan in HOLES:
        line, angle = LineString(plan.line), heading_deg(plan.line[0], plan.line[1])
        rng = chance(f"tees-{plan.number}")
        for name, at_m in zip(TEE_SETS, (0.0, *plan.tees_m), strict=False):
            aside = 0.0 if name == "back" else float(rng.uniform(3.0, 6.5)) * (1 if rng.random() < 0.5 else -1)
            spot = line.interpolate(at_m)
            centre = np.array([spot.x, spot.y]) + unit(angle + 90) * aside
            size = (9.0, 7.0) if name == "back" else (11.0, 8.0) if name == "middle" else (9.0, 7.5)
            shape = rectangle((centre[0], centre[1]), *size, angle + float(rng.uniform(-2.0, 2.0)))
            sheet.add("teeing-area", f"tee-{plan.number}-{name}", shape, holes=[plan.number], tee=name)


def add_greens(sheet: Sheet) -> None:
    for plan in HOLES:
        if plan.number not in DOUBLE_GREEN:
            shape = blob(f"green-{plan.number}", plan.line[-1], plan.green_area_m2, stretch=plan.green_stretch,
                         angle_deg=approach_deg(plan.number) + plan.green_angle_deg, rough=0.085)  # fmt: skip
            sheet.add("putting-green", f"green-{plan.number}", even(shape, 0.75), holes=[plan.number])
    sheet.add("putting-green", "green-1-13", _double_green(), holes=list(DOUBLE_GREEN))
    for plan in HOLES:
        sheet.add("hole-location", f"hole-{plan.number}", Point(from_green(plan.number, *plan.cup)),
                  holes=[plan.number])  # fmt: skip


def _double_green() -> Polygon:
    """Two greens grown into one, with a waist between them."""
    first, second = (PLANS[number].line[-1] for number in DOUBLE_GREEN)
    middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
    tilt = heading_deg(first, second)
    halves = [
        blob("green-1", first, 500.0, stretch=1.15, angle_deg=tilt + 60, rough=0.08),
        blob("green-13", second, 480.0, stretch=1.15, angle_deg=tilt - 50, rough=0.08),
        rectangle(middle, 26.0, 13.0, tilt),
    ]
    return even(eased(largest(softened(unary_union(halves), 6.0)), 2.5), 0.75)


def green_of(sheet: Sheet, number: int) -> Polygon:
    return sheet.polygon("green-1-13" if number in DOUBLE_GREEN else f"green-{number}")


def add_bunkers(sheet: Sheet) -> None:
    for plan in HOLES:
        green = green_of(sheet, plan.number)
        for at, beside in enumerate(plan.by_green):
            name = f"bunker-{plan.number}-{'abcd'[at]}"
            sheet.add("bunker", name, even(_by_green(name, plan.number, green, beside), 0.6))
        for at, flank in enumerate(plan.by_fairway):
            name = f"bunker-{plan.number}-{'fgh'[at]}"
            sheet.add("bunker", name, even(_by_fairway(name, plan, flank), 0.9))


def _by_green(name: str, number: int, green: Polygon, plan: GreenBunker) -> Polygon:
    """A kidney whose hollow side looks at the green, moved out until the wanted gap is left."""
    angle = approach_deg(number) + plan.angle_deg
    centre = np.array(PLANS[number].line[-1])
    bend = float(chance(name + " bend").uniform(0.44, 0.62))
    away = 4.0
    while True:
        place = centre + unit(angle) * away
        shape = kidney(name, (place[0], place[1]), plan.area_m2, angle_deg=angle - 90, bend=-bend)
        if green.distance(shape) >= plan.gap_m:
            return shape
        away += 0.05


def _by_fairway(name: str, plan: HolePlan, bunker: FairwayBunker) -> Polygon:
    middle = centre_line(plan)
    at = int(np.argmin(np.abs(along(middle) - bunker.from_tee_m)))
    ahead = middle[at + 1] - middle[at - 1]
    angle = float(np.degrees(np.arctan2(ahead[1], ahead[0])))
    place = middle[at] + unit(angle + 90) * bunker.offset_m
    rng = chance(name + " turn")
    bend = float(rng.uniform(0.3, 0.5)) * (1 if bunker.offset_m < 0 else -1)
    turn = float(rng.uniform(-28, 28))
    return kidney(name, (place[0], place[1]), bunker.area_m2, angle_deg=angle + turn, bend=bend)


def centre_line(plan: HolePlan) -> Points:
    """The line of play with its corner rounded as a mower would, at steps of a metre."""
    chain = resample(np.array(plan.line, dtype=float), 1.0, closed=False)
    if len(plan.line) == 2:
        return chain
    start, corner, end = (np.array(p, dtype=float) for p in plan.line)
    reach = 0.3 * min(float(np.hypot(*(corner - start))), float(np.hypot(*(end - corner))))
    enter = corner + (start - corner) / np.hypot(*(start - corner)) * reach
    leave = corner + (end - corner) / np.hypot(*(end - corner)) * reach
    t = np.linspace(0.0, 1.0, 200)[:, None]
    bow = (1 - t) ** 2 * enter + 2 * t * (1 - t) * corner + t**2 * leave
    return resample(np.vstack([start[None], bow, end[None]]), 1.0, closed=False)


def _mown(plan: HolePlan) -> BaseGeometry:
    """The fairway before anything is cut out of it: 25 to 40 m wide, waisted, with round ends."""
    line = LineString(centre_line(plan))
    start = line.length - 26.0 if plan.par == 3 else plan.fairway_from_m
    middle = resample(np.array(substring(line, start, line.length - 2.0).coords), 1.0, closed=False)
    at = along(middle)
    rng = chance(f"fairway-{plan.number}")
    wide = 16.4 + 2.3 * wander(rng, at, 50, 130)
    sway = 2.2 * wander(rng, at, 90, 190)
    if plan.par == 3:
        wide, sway = np.full_like(at, 7.0), np.zeros_like(at)
    ends = np.sqrt(np.clip(1 - (1 - np.clip(at / 15.0, 0, 1)) ** 2, 0.003, 1))
    narrow = 1 - 0.10 * np.clip((at - at[-1] + 60.0) / 60.0, 0, 1)
    half = np.clip(wide, 14.2, 19.2) * ends * narrow
    return ribbon(middle, np.maximum(half + sway * ends, 0.4), np.maximum(half - sway * ends, 0.4)).buffer(0)


def add_fairways(sheet: Sheet) -> None:
    """Fairways with an apron round each green, kept clear of bunkers, tees, penalty areas and paths."""
    cut = unary_union([
        sheet.together("bunker").buffer(1.1), sheet.together("teeing-area").buffer(3.0),
        sheet.together("penalty-area").buffer(1.8), sheet.together("immovable-obstruction").buffer(0.6),
    ])  # fmt: skip
    for plan in HOLES:
        apron: BaseGeometry = green_of(sheet, plan.number).buffer(3.2)
        if plan.number in DOUBLE_GREEN:
            apron = apron.intersection(Point(plan.line[-1]).buffer(21.0))
        joined = softened(_joined([_mown(plan), apron]), 4.0).difference(cut)
        kept = [part for part in polygons(softened(joined, 1.3)) if part.area > 120.0]
        parts = [even(eased(part, 0.8), 1.3) for part in sorted(kept, key=lambda part: -part.area)]
        sheet.add("fairway", f"fairway-{plan.number}", unary_union(parts), holes=[plan.number])


def _joined(shapes: Iterable[BaseGeometry]) -> BaseGeometry:
    return unary_union([shape.buffer(2.0) for shape in shapes]).buffer(-2.0)
