"""Penalty areas, and the traps that they are marked with on purpose."""

import numpy as np
from shapely.geometry import LineString, Polygon, box

from builders.demo_course.features import Sheet
from builders.demo_course.holes import from_green
from builders.demo_course.shapes import (
    Place,
    blob,
    closed_curve,
    even,
    largest,
    open_curve,
    ribbon,
    with_vertices,
)

POND_SIGMA_M = 0.10
FAR_SIGMA_M = 0.5

TRAPS = {
    "pond-14": "a slot in the edge that opens towards the hole: at its end there is nowhere to drop",
    "pond-6": "the far edge runs 0.6 m from the boundary: relief is nearly all out of bounds",
    "pond-16": "the edge touches a bunker: relief is only in the bunker",
    "mere-8-red": "it meets a yellow penalty area: relief at the meeting edge is only inside the other one",
    "pond-15": "the edge runs beside a no play zone in ground under repair",
}
"""Places where the marking leaves a player with little or nothing, by id of the penalty area."""


def add_water(sheet: Sheet, boundary: Polygon) -> None:
    """All penalty areas; the boundary is needed where one lies against it on purpose."""
    add_pond_by_seventh(sheet)
    _pond(sheet, "pond-4", blob("pond-4", from_green(4, -16, -38), 620, stretch=1.5, angle_deg=20, rough=0.12))
    _pond(sheet, "pond-12", _front_pond(), mark="yellow")
    _add_streams(sheet)
    _add_mere(sheet)
    _add_slotted_pond(sheet)
    _add_pond_at_boundary(sheet, boundary)
    _add_pond_at_bunker(sheet)
    _pond(sheet, "pond-15", blob("pond-15", from_green(15, -34, 27), 300, stretch=1.3, angle_deg=70, rough=0.1))


def _pond(sheet: Sheet, name: str, shape: Polygon, *, mark: str = "red", spacing_m: float = 0.8) -> None:
    more = {"trap": TRAPS[name]} if name in TRAPS else {}
    sheet.add("penalty-area", name, even(shape, spacing_m), mark=mark, what="pond", sigma_m=POND_SIGMA_M, **more)


def _local(number: int, places: list[Place]) -> list[Place]:
    return [from_green(number, onward_m, left_m) for onward_m, left_m in places]


def add_pond_by_seventh(sheet: Sheet) -> None:
    """The pond right of the seventh green, with a bay in the edge that looks away from the green."""
    ring = [(-21, -27), (-9, -23), (5, -22.5), (17, -26), (24, -35), (18, -45), (9, -46), (2, -37), (-3, -36.5),
            (-8, -45), (-18, -48), (-26, -38)]  # fmt: skip
    _pond(sheet, "pond-7", closed_curve(_local(7, ring), 0.6), spacing_m=0.6)


def _front_pond() -> Polygon:
    return blob("pond-12", from_green(12, -31, 1), 430, stretch=1.9, angle_deg=198, rough=0.1)


def _stream(sheet: Sheet, name: str, controls: list[Place], *, mark: str, half_m: float, sigma_m: float) -> None:
    middle = open_curve(controls, 1.2)
    shape = ribbon(middle, np.full(len(middle), half_m), np.full(len(middle), half_m)).buffer(0)
    sheet.add("penalty-area", name, largest(shape), mark=mark, what="stream" if mark == "yellow" else "ditch",
              sigma_m=sigma_m)  # fmt: skip


def _add_streams(sheet: Sheet) -> None:
    brook = [(22, -132), (58, -150), (92, -146), (124, -162), (158, -158), (190, -176), (222, -174)]
    _stream(sheet, "stream-18", brook, mark="yellow", half_m=1.5, sigma_m=0.05)
    ditch = [(352, 140), (346, 60), (340, -30), (351, -110), (356, -160)]
    _stream(sheet, "ditch-15-16", ditch, mark="red", half_m=1.1, sigma_m=FAR_SIGMA_M)


def add_boundary_stream(sheet: Sheet, boundary: Polygon) -> None:
    """A ditch that winds over the boundary on the eleventh."""
    edge = LineString(boundary.exterior.coords)
    near = [edge.interpolate(edge.project(LineString([(300, y), (900, y)]).intersection(edge))) for y in
            (-150, -110, -70, -30, 10, 50)]  # fmt: skip
    controls = [(point.x + (2.4 if at % 2 else -2.4), point.y) for at, point in enumerate(near)]
    _stream(sheet, "ditch-11", controls, mark="red", half_m=1.6, sigma_m=0.1)


def _add_mere(sheet: Sheet) -> None:
    """One water with a yellow and a red part that share an edge."""
    water = even(blob("mere-8", from_green(8, -14, -40), 900, stretch=1.7, angle_deg=4, rough=0.1), 0.8)
    x, y = from_green(8, -14, -40)
    halves = (box(x - 90, y - 60, x, y + 60), box(x, y - 60, x + 90, y + 60))
    yellow, red = (largest(water.intersection(half)) for half in halves)
    for name, shape, other, mark in (("mere-8-yellow", yellow, red, "yellow"), ("mere-8-red", red, yellow, "red")):
        more = {"trap": TRAPS[name]} if name in TRAPS else {}
        sheet.add("penalty-area", name, with_vertices(shape, other), mark=mark, what="pond", sigma_m=POND_SIGMA_M,
                  **more)  # fmt: skip


def _add_slotted_pond(sheet: Sheet) -> None:
    water = even(blob("pond-14", from_green(14, -70, 32), 420, stretch=1.5, angle_deg=24, rough=0.08), 0.8)
    middle = np.array([water.centroid.x, water.centroid.y])
    hole = np.array(from_green(14, 2, 2))
    ahead = (hole - middle) / np.hypot(*(hole - middle))
    slot = LineString([middle + ahead * 3.0, middle + ahead * 40.0]).buffer(0.22, cap_style="flat")
    cut = largest(water.difference(slot))
    sheet.add("penalty-area", "pond-14", cut, mark="red", what="pond", sigma_m=POND_SIGMA_M, trap=TRAPS["pond-14"])


def _add_pond_at_boundary(sheet: Sheet, boundary: Polygon) -> None:
    """A pond whose far edge follows the boundary at 0.6 m, beside the first part of the fourth hole."""
    at = blob("pond-6", (-540.0, -120.0), 1500, stretch=1.9, angle_deg=90, rough=0.08)
    inside = largest(at.intersection(boundary.buffer(-0.6)))
    sheet.add("penalty-area", "pond-6", even(inside, 0.8), mark="red", what="pond", sigma_m=POND_SIGMA_M,
              trap=TRAPS["pond-6"])  # fmt: skip


def _add_pond_at_bunker(sheet: Sheet) -> None:
    """A pond that wraps round the back of a greenside bunker, edge to edge."""
    bunker = sheet.polygon("bunker-16-b")
    x, y = bunker.centroid.x, bunker.centroid.y
    outward = np.array([x, y]) - np.array(from_green(16, 0, 0))
    outward /= np.hypot(*outward)
    water = blob("pond-16", (x + outward[0] * 11, y + outward[1] * 11), 330, stretch=1.2, angle_deg=0, rough=0.06)
    cut = with_vertices(largest(even(water, 0.7).difference(bunker)), bunker)
    sheet.add("penalty-area", "pond-16", cut, mark="red", what="pond", sigma_m=POND_SIGMA_M, trap=TRAPS["pond-16"])


