"""On a printer without colour every sign is told from every other by its pattern, line, studs or shape; no tint or ink is counted."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations

from shapely.geometry import LineString, box

from marram.course.frame import Position
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.scene import Item, Role, SpotKind, Window
from marram.sheets.scene.style import plain_classes
from marram.sheets.scene.svg import View, draw_item, draw_spot

VIEW = View(window=Window(middle=Position(x_m=0.0, y_m=0.0), width_m=100.0, height_m=40.0), x=0.0, y=0.0, units_per_m=1.0, name="test")
LINE, AREA = LineString([(-20, 0), (20, 0)]), box(-20, -8, 20, 8)
LINES = frozenset(
    {Role.BOUNDARY, Role.HOLE_ARC, Role.LINE_TO_HOLE, Role.FLIGHT, Role.LINE_BARRED, Role.LINE_BACK}
    | {Role.OTHER_BOOK, Role.THIRD_BOOK, Role.RED_EDGE, Role.YELLOW_EDGE, Role.UNMARKED_EDGE}
)
TOLD_BY_SHAPE = {frozenset({Role.TEE, Role.FOOT})}
"""A tee is a large square with its T, feet are small ovals in pairs; both are white with a thin edge."""
_RULE = re.compile(r"([^{}]+)\{([^}]*)\}")
_SHAPES = ("stroke-width", "stroke-dasharray", "stroke-linecap")


def style_of(names: str) -> dict[str, str]:
    """What the classes of an element say, later rules over earlier ones."""
    found: dict[str, str] = {}
    for selectors, members in _RULE.findall(plain_classes(PRINT)):
        for selector in selectors.split(","):
            if selector.strip().removeprefix(".drawing .") in names.split():
                found |= dict(member.split(":", 1) for member in members.split(";") if member)
    return found


def features_of(marks: str) -> frozenset[tuple[str, ...]]:
    """What is seen of a sign without its colours."""
    found = set()
    for element in ET.fromstring(f"<g>{marks}</g>").iter():
        style = style_of(element.attrib.get("class", ""))
        fill = element.attrib.get("fill", style.get("fill", ""))
        kind = fill if fill in {"none", ""} or fill.startswith("url") else "filled"
        shape = element.attrib.get("d", "") if "transform" in element.attrib or "stud" in element.attrib.get("class", "") else element.tag
        has_edge = "edge" if style.get("stroke", "none") != "none" else ""
        found.add((shape, kind, has_edge, *(style.get(name, "") for name in _SHAPES)))
    return frozenset(found)


def test_no_two_signs_of_the_ground_or_the_ruling_look_alike_without_colour() -> None:
    drawn = {role: features_of("".join(draw_item(Item(role=role, geometry=LINE if role in LINES else AREA), VIEW))) for role in Role}
    alike = {frozenset({one, other}) for one, other in combinations(drawn, 2) if drawn[one] == drawn[other]}
    assert alike == TOLD_BY_SHAPE


def test_no_two_points_look_alike_without_colour() -> None:
    drawn = {kind: re.sub(r'class="[^"]*"', "", draw_spot(kind, 0.0, 0.0)) for kind in SpotKind}
    assert len(set(drawn.values())) == len(drawn)
