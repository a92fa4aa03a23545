"""The ground of a drawing: features of the course as shapes, clipped to the window."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Window

_ROLES = {
    FeatureKind.FAIRWAY: Role.FAIRWAY,
    FeatureKind.BUNKER: Role.BUNKER,
    FeatureKind.IMMOVABLE_OBSTRUCTION: Role.OBSTRUCTION,
    FeatureKind.GROUND_UNDER_REPAIR: Role.REPAIR,
    FeatureKind.TEMPORARY_WATER: Role.TEMPORARY_WATER,
    FeatureKind.ANIMAL_HOLE: Role.ANIMAL_HOLE,
    FeatureKind.NO_PLAY_ZONE: Role.NO_PLAY_ZONE,
    FeatureKind.DROPPING_ZONE: Role.DROPPING_ZONE,
    FeatureKind.BOUNDARY_OBJECT: Role.WALL,
    FeatureKind.INTEGRAL_OBJECT: Role.WALL,
    FeatureKind.TREES: Role.TREES,
    FeatureKind.OTHER_CONDITION: Role.REPAIR,
}
_EDGES = {Mark.RED: Role.RED_EDGE, Mark.YELLOW: Role.YELLOW_EDGE, Mark.UNMARKED: Role.UNMARKED_EDGE}
_NAMES = {
    FeatureKind.BUNKER: ("bunker",),
    FeatureKind.IMMOVABLE_OBSTRUCTION: (),
    FeatureKind.GROUND_UNDER_REPAIR: ("GUR",),
    FeatureKind.TEMPORARY_WATER: ("TW",),
    FeatureKind.NO_PLAY_ZONE: ("NPZ",),
    FeatureKind.DROPPING_ZONE: ("DZ",),
    FeatureKind.FAIRWAY: ("fairway",),
    FeatureKind.TREES: ("trees",),
    FeatureKind.ANIMAL_HOLE: ("animal hole",),
    FeatureKind.OTHER_CONDITION: (),
}
TEE_LETTER = ("T",)
_PAD_M = 3.0


def ground_items(course: Course, hole: int | None, window: Window) -> list[Item]:
    """Everything on the ground that the window shows, cut a little wider than the window."""
    view = _view(window)
    items = [*_open_ground(course, hole, view)]
    for area in course.penalty_areas:
        ground = area.geometry.intersection(view)
        if not ground.is_empty:
            items.append(Item(role=Role.WATER, geometry=ground, title=f"{area.mark} penalty area"))
            # The edge is that of the whole area, so that the window cuts it and draws none of its own.
            items.append(Item(role=_EDGES[area.mark], geometry=area.geometry.boundary.intersection(view)))
    beyond = view.difference(course.boundary)
    if not beyond.is_empty:
        items.append(Item(role=Role.OUT_OF_BOUNDS, geometry=beyond, title="out of bounds"))
        items.append(Item(role=Role.BOUNDARY, geometry=course.boundary.boundary.intersection(view)))
    return items


def _view(window: Window) -> BaseGeometry:
    least_x, least_y, most_x, most_y = window.bounds
    return box(least_x - _PAD_M, least_y - _PAD_M, most_x + _PAD_M, most_y + _PAD_M)


def _open_ground(course: Course, hole: int | None, view: BaseGeometry) -> Iterator[Item]:
    for feature in course.features:
        role = _role(feature, hole)
        if role is not None and feature.geometry.intersects(view):
            yield Item(role=role, geometry=feature.geometry.intersection(view), title=feature.noun)


def _role(feature: Feature, hole: int | None) -> Role | None:
    if feature.kind is FeatureKind.PUTTING_GREEN:
        return Role.GREEN if hole is None or hole in feature.holes else Role.WRONG_GREEN
    if feature.kind is FeatureKind.TEEING_AREA:
        return Role.TEE if hole is None or hole in feature.holes else Role.OTHER_TEE
    return _ROLES.get(feature.kind)


def ground_labels(course: Course, hole: int, window: Window, area_names: dict[Mark, str]) -> list[Label]:
    """Names of what the window shows, one for each kind of ground, where the most of it is seen; T on the hole's own tee alone."""
    view = box(*window.bounds)
    found: dict[tuple[str, ...], BaseGeometry] = {}
    for geometry, lines in _named_ground(course, hole, area_names, view):
        seen = geometry.intersection(view)
        if not seen.is_empty and (lines not in found or seen.area > found[lines].area):
            found[lines] = seen
    return [_ground_label(lines, seen) for lines, seen in sorted(found.items(), key=lambda pair: -pair[1].area)]


def _ground_label(lines: tuple[str, ...], seen: BaseGeometry) -> Label:
    # A tee is smaller than its letter on the plan of a hole; every other name stands on its own ground.
    on = None if lines == TEE_LETTER else seen
    return Label(lines=lines, kind=LabelKind.GROUND, anchor=_inner(seen), must_show=False, is_inside=True, ground=on)


def _inner(ground: BaseGeometry) -> Position:
    largest = max(shapely.get_parts(ground), key=lambda part: part.area)
    tolerance_m = max(0.05, 0.01 * float(largest.area) ** 0.5)
    middle = shapely.maximum_inscribed_circle(largest, tolerance=tolerance_m).coords[0] if largest.area else None
    point = middle or largest.representative_point().coords[0]
    return Position(x_m=float(point[0]), y_m=float(point[1]))


def _named_ground(
    course: Course, hole: int, area_names: dict[Mark, str], view: BaseGeometry
) -> Iterator[tuple[BaseGeometry, tuple[str, ...]]]:
    greens = shapely.union_all([feature.geometry for feature in course.of_kind(FeatureKind.PUTTING_GREEN)])
    for area in course.penalty_areas:
        if area.mark in area_names:
            yield area.geometry, (area_names[area.mark],)
    yield view.difference(course.boundary), ("out of bounds",)
    for feature in course.features:
        if not feature.geometry.intersects(view):
            continue
        if feature.kind is FeatureKind.PUTTING_GREEN:
            yield feature.geometry, ("putting green",) if hole in feature.holes else ("wrong green",)
        elif feature.kind is FeatureKind.TEEING_AREA and hole in feature.holes:
            yield feature.geometry, TEE_LETTER
        elif feature.kind in _NAMES and feature.is_surveyed:
            # A survey may draw the fairway on under the green; the name belongs where the fairway is seen.
            hidden = greens if feature.kind is FeatureKind.FAIRWAY else Polygon()
            yield feature.geometry.difference(hidden), _NAMES[feature.kind] or (feature.noun,)
