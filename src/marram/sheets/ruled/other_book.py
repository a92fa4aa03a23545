"""What another book says otherwise than the book in force, laid over the drawing of that."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.course.frame import Position
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.option_places import is_only_a_point, option_away, option_place
from marram.sheets.drawn.relief_marks import Marks
from marram.sheets.drawn.relief_shapes import is_drawn_alike, line_items, option_spots, seen_part
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Spot, Window

_SAME_PLACE_M = 0.3


def other_book_marks(ruling: Ruling, sign: str, name: str, role: Role, in_force: Ruling, window: Window) -> Marks:
    """What another book says otherwise than the book in force: edges of areas, lines and points of its own.

    Args:
        ruling: What the other book says.
        sign: The letter or number that stands for it.
        name: What it is called, for what lies outside the window.
        role: How it is drawn.
        in_force: What the book in force says.
        window: What is shown.
    """
    own = {option.procedure: option for option in in_force.options}
    items: list[Item] = []
    labels: list[Label] = []
    spots: list[Spot] = []
    away: list[tuple[Position, str]] = []
    for option in ruling.options:
        outline = option.relief_area.outline() if option.relief_area is not None else Point()
        if not outline.is_empty and not is_drawn_alike(outline, own.get(option.procedure)):
            items.append(Item(role=role, geometry=outline.boundary, title=sign))
            labels += _book_label(outline, sign, role, window)
        place = option_place(option)
        if place is None or _is_told(option, place, in_force):
            continue
        items += [replace(item, role=role, title=sign) for item in line_items(option) if item.role is Role.LINE_BACK]
        spots += option_spots(option, window)
        outside = option_away(option, window)
        away += [(outside[0], f"{name}: {outside[1]}")] if outside is not None else []
        if is_only_a_point(option) and window.holds(place):
            labels.append(Label(lines=(sign,), kind=LabelKind.BOOK, anchor=place))
    return Marks(items=tuple(items), spots=tuple(spots), labels=tuple(labels), dimensions=(), away=tuple(away))


def _book_label(outline: BaseGeometry, sign: str, role: Role, window: Window) -> Iterator[Label]:
    """The sign of a book on the edge that it draws."""
    inside = seen_part(outline.boundary, window)
    if not inside.is_empty:
        spot = inside.interpolate(0.5, normalized=True) if inside.geom_type == "LineString" else inside.representative_point()
        at = Position(x_m=spot.x, y_m=spot.y)
        yield Label(lines=(sign,), kind=LabelKind.BOOK, anchor=at, must_show=False, along=inside, names=role)


def _is_told(option: Option, place: Position, in_force: Ruling) -> bool:
    """Whether the book in force draws an option of the same place, with a line where this one has a line."""
    alike = [own for own in in_force.options if (own.line is None) == (option.line is None)]
    return any(at is not None and at.distance_m(place) < _SAME_PLACE_M for at in map(option_place, alike))
