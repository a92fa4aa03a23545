"""Whether a ball was played from a right place, as text and JSON."""

from __future__ import annotations

from marram.cli.common import rules_line
from marram.course.frame import Position
from marram.rulebook.book import Book
from marram.rulings.case.ruling import RightPlace, Ruling
from marram.rulings.drop.wrong_place import acts_of_wrong_place, how_far_off

_SERIOUS = "Whether the breach is serious is for the official and the Committee to say."
_SAID = {True: "yes", False: "no", None: "cannot be told"}


def wrong_place_object(book: Book, ruling: Ruling, played_from: Position | None) -> dict[str, object]:
    """Distances and what a wrong place costs; nothing where the incident does not say where the ball was played."""
    from marram.cli.act.command import act_object

    if played_from is None:
        return {}
    off = how_far_off(ruling)
    distances = [
        {"procedure": entry.procedure, "distance_m": round(entry.distance_m, 3), "right_place": entry.place.is_right} for entry in off
    ]
    return {"played_from": {"nearest_right_place": distances, "acts": [act_object(act) for act in acts_of_wrong_place(book)]}}


def wrong_place_lines(book: Book, ruling: Ruling, played_from: Position | None) -> list[str]:
    """The same in words."""
    if played_from is None:
        return []
    lines = ["", "Where the ball was played"]
    lines += [f"{entry.title}: a right place: {_place_words(entry.place)}" for entry in how_far_off(ruling)]
    for act in acts_of_wrong_place(book):
        if act.case is not None:
            said = " ".join(words for words in (act.says(act.case), act.last_hole_words) if words)
            lines.append(f"{act.means.rstrip('.')}: {said} {rules_line(act.citations)}")
    return [*lines, _SERIOUS]


def _place_words(place: RightPlace) -> str:
    tail = f" {place.question}" if place.question else ""
    if place.must_measure_on_ground:
        accuracy = "unknown" if place.accuracy_m is None else f"{place.accuracy_m:.2f} m"
        tail += f" Measure on the ground: margin {place.margin_m:.2f} m, survey accuracy {accuracy}."
    return f"{_SAID[place.is_right]}; {place.because}.{tail} {rules_line(place.citations)}"
