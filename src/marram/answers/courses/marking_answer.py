"""The check of a course's marking, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.courses.day_answer import DayShape, day_shape
from marram.answers.place_answer import PlaceShape, lonlat_of, rounded
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from marram.course.frame import Frame
    from marram.office.courses.check_marking import MarkingCheck, MarkingUnderBook, NotChecked
    from marram.relief.marking.places import EdgeSum, MarkingPlace
    from marram.relief.marking.stakes import WideSpacing


class EdgeShape(Shape, frozen=True, kw_only=True):
    """One edge, played over on one hole.

    Attributes:
        feature: The penalty area.
        hole: Number of the hole.
        points: Crossing points that were tried.
        none: Points at which there is nowhere to drop.
        small: Points at which the area is small.
        least_m2: The smallest relief area, square metres.
        faults: How many points have which fault.
    """

    feature: str
    hole: int
    points: int
    none: int
    small: int
    least_m2: float
    faults: dict[str, int]


class AreaLeftShape(Shape, frozen=True, kw_only=True):
    """What of a relief area lies in one area of the course.

    Attributes:
        area: The area of the course.
        area_m2: How much, square metres.
    """

    area: str
    area_m2: float


class MarkingPlaceShape(PlaceShape, frozen=True, kw_only=True):
    """A place with a fault.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
        fault: What is wrong.
        serious: Whether it counts as a fault.
        feature: The penalty area.
        hole: Number of the hole.
        before_green_m: Metres before the green along the line of play; null where that cannot be told.
        right_m: Metres to the right of the line of play, to the left where below zero; null where that cannot be told.
        points: Crossing points that are told together here.
        extent_m: How much of the edge they take, metres.
        area_m2: The smallest relief area there, square metres.
        parts: What of it lies in which area of the course.
        out_of_bounds_m2: What of the measured ground is out of bounds, square metres.
        no_play_zone_m2: What of it is in a no play zone.
        same_penalty_area_m2: What of it is in the penalty area that the ball has left.
        remedy: What would put it right.
        dropping_zones: Dropping zones that serve the penalty area.
    """

    fault: str
    serious: bool
    feature: str
    hole: int
    before_green_m: float | None
    right_m: float | None
    points: int
    extent_m: float
    area_m2: float
    parts: tuple[AreaLeftShape, ...]
    out_of_bounds_m2: float
    no_play_zone_m2: float
    same_penalty_area_m2: float
    remedy: str
    dropping_zones: tuple[str, ...]


class StakesShape(PlaceShape, frozen=True, kw_only=True):
    """Stakes that stand too far apart for the curve that they mark.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
        feature: What they mark.
        gaps: How many gaps are too wide.
        spacing_m: How far apart they stand, metres.
        radius_m: Radius of the curve, metres.
        off_m: How far the edge may lie from the line between two of them, metres.
        wanted_m: How far apart would do, metres.
    """

    feature: str
    gaps: int
    spacing_m: float
    radius_m: float
    off_m: float
    wanted_m: float


class NotCheckedShape(Shape, frozen=True, kw_only=True):
    """An edge or a hole that was not checked.

    Attributes:
        name: Its name.
        because: Why not.
    """

    name: str
    because: str


class MarkingBookShape(Shape, frozen=True, kw_only=True):
    """The marking under one book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        size: Size of lateral relief as the book states it; empty where it gives none.
        size_m: The same on the ground, metres; null where it gives none.
        edges: Sums by hole and feature.
        places: Places with a fault, worst first.
        not_checked: What was left out.
        why_untried: Why not a single place was tried; empty where some were.
        citations: The rules.
    """

    book: str
    stamp: str
    size: str
    size_m: float | None
    edges: tuple[EdgeShape, ...]
    places: tuple[MarkingPlaceShape, ...]
    not_checked: tuple[NotCheckedShape, ...]
    why_untried: str
    citations: tuple[CitationShape, ...]


class CourseMarkingAnswer(Answer, frozen=True, kw_only=True):
    """Where the marking of a course leaves a player nowhere good to drop.

    Attributes:
        schema: Name and version of this shape.
        course: The course.
        longest_club_in: The club that measures, inches.
        stake_tolerance_m: How far an edge may lie from the line between two stakes, metres.
        edges: The edges under the first book.
        books: One entry for each book asked.
        stakes: Stakes or survey points too far apart.
        holes: What is wrong with the holes themselves.
        faults: How many faults there are.
        untried: Whether nothing was tried, so that nothing is said of the marking.
        today: What of the course is of the day; left out where no such file was given.
    """

    schema: Literal["marram.course-marking/1"] = "marram.course-marking/1"
    course: str
    longest_club_in: float
    stake_tolerance_m: float
    edges: tuple[EdgeShape, ...]
    books: tuple[MarkingBookShape, ...]
    stakes: tuple[StakesShape, ...]
    holes: tuple[NotCheckedShape, ...]
    faults: int
    untried: bool
    today: DayShape | UnsetType = UNSET


def course_marking_answer(check: MarkingCheck) -> CourseMarkingAnswer:
    """The check; the edges of the first book stand at the top as well."""
    frame = check.course.frame
    return CourseMarkingAnswer(
        course=check.course.name,
        longest_club_in=check.longest_club_in,
        stake_tolerance_m=check.tolerance_m,
        edges=tuple(map(_edge, check.under[0].edges)),
        books=tuple(_under(check, found, frame) for found in check.under),
        stakes=tuple(_stakes(stretch, frame) for stretch in check.wide_spacing),
        holes=tuple(map(_unchecked, check.odd_holes)),
        faults=check.faults,
        untried=check.is_untried,
        today=UNSET if check.day is None else day_shape(check.day, frame),
    )


def _under(check: MarkingCheck, found: MarkingUnderBook, frame: Frame) -> MarkingBookShape:
    return MarkingBookShape(
        book=found.book.name,
        stamp=found.book.stamp,
        size="" if found.size is None else found.size.words,
        size_m=rounded(found.size_m, 4),
        edges=tuple(map(_edge, found.edges)),
        places=tuple(_place(check, place, frame) for place in found.places),
        not_checked=tuple(map(_unchecked, found.not_checked)),
        why_untried=found.why_untried,
        citations=citation_shapes(found.citations),
    )


def _edge(edge: EdgeSum) -> EdgeShape:
    from marram.office.courses.marking_words import fault_counts

    return EdgeShape(
        feature=edge.feature.id,
        hole=edge.hole,
        points=edge.points,
        none=edge.none,
        small=edge.small,
        least_m2=round(edge.least_m2, 4),
        faults=dict(fault_counts(edge)),
    )


def _place(check: MarkingCheck, place: MarkingPlace, frame: Frame) -> MarkingPlaceShape:
    from marram.office.courses.check_marking import dropping_zones_of
    from marram.office.courses.marking_words import remedy_of

    along = place.along
    return MarkingPlaceShape(
        at=lonlat_of(frame, place.at),
        x_m=round(place.at.x_m, 3),
        y_m=round(place.at.y_m, 3),
        fault=place.fault.value,
        serious=place.is_serious,
        feature=place.feature.id,
        hole=place.hole,
        before_green_m=None if along is None else round(along.before_green_m, 2),
        right_m=None if along is None else round(along.right_m, 2),
        points=place.points,
        extent_m=round(place.extent_m, 2),
        area_m2=round(place.usable_m2, 4),
        parts=tuple(AreaLeftShape(area=area.value, area_m2=round(m2, 4)) for area, m2 in place.area_m2.items() if m2 > 5e-5),
        out_of_bounds_m2=round(place.out_of_bounds_m2, 4),
        no_play_zone_m2=round(place.zone_m2, 4),
        same_penalty_area_m2=round(place.own_m2, 4),
        remedy=remedy_of(place),
        dropping_zones=dropping_zones_of(check.course, place.feature),
    )


def _stakes(stretch: WideSpacing, frame: Frame) -> StakesShape:
    return StakesShape(
        at=lonlat_of(frame, stretch.at),
        x_m=round(stretch.at.x_m, 3),
        y_m=round(stretch.at.y_m, 3),
        feature=stretch.feature.id,
        gaps=stretch.gaps,
        spacing_m=round(stretch.spacing_m, 2),
        radius_m=round(stretch.radius_m, 2),
        off_m=round(stretch.off_m, 3),
        wanted_m=round(stretch.wanted_m, 2),
    )


def _unchecked(entry: NotChecked) -> NotCheckedShape:
    return NotCheckedShape(name=entry.name, because=entry.because)
