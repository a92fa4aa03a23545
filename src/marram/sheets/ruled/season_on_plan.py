"""A season on the plan of the course: the places where rulings, searches and drops came up, numbered, with a list beneath."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from marram.core.words import counted
from marram.course.course import Course
from marram.course.frame import Position
from marram.events.observed.log_entry import Thing
from marram.events.observed.season_tally import COUNTED_THINGS, SeasonPlace
from marram.sheets.drawn.course_drawing import draw_map, ground_to_show, marks_to_show
from marram.sheets.drawn.hole_names import with_any_boundary
from marram.sheets.scene.scene import Label, LabelKind, Spot, SpotKind

MOST_PLACES = 40
"""So many places are numbered on a plan; the others are counted beneath."""


def draw_season(course: Course, places: Sequence[SeasonPlace], words: Mapping[str, str], *, events: int) -> str:
    """Draw the places of a season on the plan of a course.

    Args:
        course: The course.
        places: The places, most came up first.
        words: What each thing on the course is, by its id.
        events: How many events there were.
    """
    shown = with_any_boundary(course)
    placed = [(one, at) for one in places if (at := _position(course, one)) is not None]
    drawn, rest = placed[:MOST_PLACES], placed[MOST_PLACES:]
    nowhere = [one for one in places if _position(course, one) is None]
    marks = marks_to_show(course, None, names_all=False)
    numbered = tuple(Label(lines=(str(number),), kind=LabelKind.PLACE, anchor=at) for number, (_, at) in enumerate(drawn, start=1))
    marks = replace(
        marks,
        labels=(*marks.labels, *numbered),
        spots=(*marks.spots, *(Spot(kind=SpotKind.STATION, position=at) for _, at in drawn)),
        meanings=((SpotKind.STATION, "place where something came up"),),
    )
    caption = [f"{number}. {place_words(one, words)}: {counts_words(one.counts)}" for number, (one, _) in enumerate(drawn, start=1)]
    caption += [f"Not measured: {place_words(one, words)}: {counts_words(one.counts)}" for one in nowhere[:MOST_PLACES]]
    left = len(rest) + max(0, len(nowhere) - MOST_PLACES)
    caption += [f"{counted(left, 'place')} more with less."] if left else []
    caption.append(f"Of {counted(events, 'event')}; what nobody wrote down is not here.")
    return draw_map(shown, None, ground_to_show(course, None), title=f"{course.name}: what came up", marks=marks, caption=caption)


def place_words(place: SeasonPlace, words: Mapping[str, str]) -> str:
    """A place as an official says it.

    Args:
        place: The place.
        words: What each thing on the course is, by its id.
    """
    noun = words.get(place.feature, "") or place.spot
    hole = "" if place.hole is None else f"hole {place.hole}"
    said = ", ".join(part for part in (hole, noun) if part) or "a place on the course"
    return f"{said[:1].upper()}{said[1:]}"


def counts_words(counts: Mapping[Thing, int]) -> str:
    """What came up, in words.

    Args:
        counts: Rulings, searches and drops.
    """
    plural = {Thing.RULING: "ruling", Thing.SEARCH: "search", Thing.DROP: "drop"}
    return ", ".join(_told(counts[thing], plural[thing]) for thing in COUNTED_THINGS if counts.get(thing)) or "nothing"


def _told(number: int, noun: str) -> str:
    return f"{number} {noun}{'es' if noun.endswith('ch') else 's'}" if number != 1 else f"1 {noun}"


def _position(course: Course, place: SeasonPlace) -> Position | None:
    """Where a place is drawn: as it was measured, else in the midst of the thing that is named."""
    if place.at is not None:
        return Position(x_m=place.at[0], y_m=place.at[1])
    feature = next((one for one in course.features if one.id == place.feature), None)
    if feature is None:
        return None
    inside = feature.geometry.representative_point()
    return Position(x_m=inside.x, y_m=inside.y)
