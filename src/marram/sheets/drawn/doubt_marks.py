"""What is in doubt about a ruling, as marks: the fan of a line back, and another person's estimate with the ground both have in common."""

from __future__ import annotations

from collections.abc import Iterator

from marram.rulings.case.ruling import Doubt
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Window


def doubt_items(doubt: Doubt) -> Iterator[Item]:
    """Shapes under and over the areas of an option."""
    if doubt.fan is not None and not doubt.fan.is_empty:
        yield Item(role=Role.FAN, geometry=doubt.fan, title="where the line may run, by the accuracy of the survey")
    if doubt.other_area is not None and doubt.other_area.parts:
        yield Item(role=Role.OTHER_ESTIMATE, geometry=doubt.other_area.outline(), title="area by the other estimate")
    if doubt.overlap is not None and not doubt.overlap.is_empty:
        yield Item(role=Role.COMMON_GROUND, geometry=doubt.overlap, title="ground in both areas")


def doubt_labels(doubt: Doubt, window: Window) -> Iterator[Label]:
    """Words beside the other estimate."""
    place = doubt.other_reference
    if place is not None and window.holds(place):
        yield Label(lines=("other estimate",), kind=LabelKind.FACT, anchor=place)
