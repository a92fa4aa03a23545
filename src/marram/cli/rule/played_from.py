"""Whether a ball was played from a right place, in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line

if TYPE_CHECKING:
    from marram.office.play.beside_ruling import PlayedFrom
    from marram.rulings.case.ruling import RightPlace

_SERIOUS = "Whether the breach is serious is for the official and the Committee to say."
_SAID = {True: "yes", False: "no", None: "cannot be told"}


def wrong_place_lines(played: PlayedFrom | None) -> list[str]:
    """Distances and what a wrong place costs; nothing where the incident does not say where the ball was played."""
    if played is None:
        return []
    lines = ["", "Where the ball was played"]
    lines += [f"{entry.title}: a right place: {_place_words(entry.place)}" for entry in played.off]
    for act in played.acts:
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
