"""A season of events on the course: what came up where, and the edges that gave the most of it beside the check of the marking."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import EventError
from marram.events.observed.log_entry import Thing
from marram.events.observed.season_tally import CameUp, SeasonPlace, Tally, came_up, places_of, tally
from marram.office.event_records.keep_log import open_log
from marram.office.events.kept_event import KeptEvent

if TYPE_CHECKING:  # what knows ground is loaded only where a course is opened
    from marram.course.course import Course
    from marram.office.open_course import OpenCourse
    from marram.rulebook.book import Book

BY = ("hole", "place", "act", "hour")
"""What a season is counted by."""
_USUAL_LONGEST_CLUB_IN, _USUAL_TOLERANCE_M = 46.0, 0.10


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonFound:
    """A season of events.

    Attributes:
        events: The events, each with its day where the terms name one.
        found: What came up.
        tallies: What came up by hole, place, act and hour.
        places: The places, most came up first.
    """

    events: tuple[tuple[str, str], ...]
    found: tuple[CameUp, ...]
    tallies: Mapping[str, tuple[Tally, ...]]
    places: tuple[SeasonPlace, ...]


def find_season(events: Sequence[KeptEvent]) -> SeasonFound:
    """Count what came up in the events of a season.

    Args:
        events: The events.

    Raises:
        EventError: There is none.
    """
    if not events:
        raise EventError("The store holds no event.", hint="`new_event()` begins one.")
    found = [
        one
        for event in events
        for one in came_up(event.name, open_log(event).standing, [ruling for ruling in event.rulings if not ruling.is_struck])
    ]
    return SeasonFound(
        events=tuple((event.name, "" if event.terms.day is None else event.terms.day.isoformat()) for event in events),
        found=tuple(found),
        tallies={by: tally(found, by) for by in BY},
        places=places_of(found),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeBeside:
    """A penalty area, by what came up there and by what the check of the marking finds.

    Attributes:
        feature: Its id on the survey.
        words: What it is, as an official says it.
        counts: Rulings, searches and drops of the season there.
        faults: What the check of the marking finds on its edge, each with how many places; none where it finds nothing.
        is_checked: Whether the check tried its edge at all.
    """

    feature: str
    words: str
    counts: Mapping[Thing, int]
    faults: Mapping[str, int]
    is_checked: bool

    @property
    def is_to_look_at(self) -> bool:
        """Whether it gave rulings, and the check finds a fault too."""
        return self.counts.get(Thing.RULING, 0) > 0 and bool(self.faults)


def edges_beside(season: SeasonFound, opened: OpenCourse, book: Book) -> tuple[EdgeBeside, ...]:
    """Set what came up at each penalty area beside what the check of the marking finds on its edge.

    Args:
        season: The season.
        opened: The course.
        book: The book under which the marking is checked.

    Returns:
        Those that gave rulings and have a fault first, then by how much came up; penalty areas with neither are left out.
    """
    from marram.office.courses.check_marking import check_marking
    from marram.office.courses.marking_words import fault_words

    check = check_marking(opened, [book], longest_club_in=_USUAL_LONGEST_CLUB_IN, tolerance_m=_USUAL_TOLERANCE_M)
    at_edges = _by_penalty_area(season, opened.course)
    places = [place for under in check.under for place in under.places if place.is_serious]
    tried = {edge.feature.id for under in check.under for edge in under.edges}
    found = []
    for feature in (one for area in opened.course.penalty_areas for one in area.features):
        own, faulty = at_edges.get(feature.id, ()), [place for place in places if place.feature.id == feature.id]
        holes = sorted({*(one.hole for one in own if one.hole is not None), *(place.hole for place in faulty)})
        if own or faulty:
            found.append(
                EdgeBeside(
                    feature=feature.id,
                    words=_words(feature.noun, holes),
                    counts=Counter(one.thing for one in own),
                    faults=Counter(map(fault_words, faulty)),
                    is_checked=feature.id in tried,
                )
            )
    return tuple(sorted(found, key=lambda one: (not one.is_to_look_at, -sum(one.counts.values()), one.feature)))


def _by_penalty_area(season: SeasonFound, course: Course) -> Mapping[str, Sequence[CameUp]]:
    """What came up at each penalty area: as it was named, else at the one within reach of where it was measured."""
    found: dict[str, list[CameUp]] = {}
    for one in season.found:
        found.setdefault(one.feature or _penalty_area_at(course, one.at), []).append(one)
    return found


_REACH_M = 5.0
"""A place measured no farther from a penalty area than this is told of its edge: about four club-lengths (ours)."""


def _penalty_area_at(course: Course, at: tuple[float, float] | None) -> str:
    from shapely.geometry import Point

    if at is None:
        return ""
    near = [(feature.geometry.distance(Point(at)), feature.id) for area in course.penalty_areas for feature in area.features]
    least_m, name = min(near, default=(_REACH_M + 1, ""))
    return name if least_m <= _REACH_M else ""


def feature_words(course: Course) -> Mapping[str, str]:
    """What each thing on a course is, as an official says it.

    Args:
        course: The course.
    """
    return {feature.id: feature.noun for feature in course.features}


def _words(noun: str, holes: Sequence[int]) -> str:
    return f"{noun}, hole{'s' * (len(holes) > 1)} {' and '.join(map(str, holes))}" if holes else noun


def unknown_features(season: SeasonFound, course: Course) -> tuple[str, ...]:
    """Things that the log names and the survey does not have.

    Args:
        season: The season.
        course: The course.
    """
    known = {feature.id for feature in course.features}
    return tuple(sorted({one.feature for one in season.found if one.feature} - known))


def draw_found(season: SeasonFound, opened: OpenCourse) -> str:
    """Draw the places of a season on the plan of the course.

    Args:
        season: The season.
        opened: The course.
    """
    from marram.sheets.ruled.season_on_plan import draw_season

    return draw_season(opened.course, season.places, feature_words(opened.course), events=len(season.events))
