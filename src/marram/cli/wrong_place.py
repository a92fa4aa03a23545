"""How far from a right place a ball was played, as text and JSON."""

from __future__ import annotations

from marram.cli.common import rules_line
from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulings.ruling import Ruling
from marram.rulings.wrong_place import acts_of_wrong_place, how_far_off

_SERIOUS = "Whether the breach is serious is for the official and the Committee to say."


def wrong_place_object(book: Book, ruling: Ruling, played_from: Position | None) -> dict[str, object]:
    """Distances and what a wrong place costs; nothing where the incident does not say where the ball was played."""
    from marram.cli.act import act_object

    if played_from is None:
        return {}
    off = how_far_off(ruling, played_from)
    distances = [{"procedure": entry.procedure, "distance_m": round(entry.distance_m, 3)} for entry in off]
    return {"played_from": {"nearest_right_place": distances, "acts": [act_object(act) for act in acts_of_wrong_place(book)]}}


def wrong_place_lines(book: Book, ruling: Ruling, played_from: Position | None) -> list[str]:
    """The same in words."""
    if played_from is None:
        return []
    lines = ["", "Where the ball was played"]
    for entry in how_far_off(ruling, played_from):
        where = "inside: a right place" if entry.distance_m == 0 else f"{entry.distance_m:.2f} m from the nearest right place"
        lines.append(f"{entry.title}: {where}.")
    for act in acts_of_wrong_place(book):
        if act.case is not None:
            lines.append(f"{act.means.rstrip('.')}: {act.case.sentence} {rules_line(act.citations)}")
    return [*lines, _SERIOUS]
