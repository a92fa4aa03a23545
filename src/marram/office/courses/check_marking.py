"""Check the marking of a course under one or several rule books."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import Point

from marram.core.citations import Citation, merged
from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.terms import Area, FeatureKind, Mark
from marram.core.units import INCH_M, Size
from marram.core.work import Work
from marram.course.course import Course
from marram.course.day import Day
from marram.course.features import Feature
from marram.course.partition import PenaltyArea
from marram.office.open_course import OpenCourse
from marram.relief.marking.edges import LateralRelief, is_playable, try_marking
from marram.relief.marking.places import EdgeSum, MarkingPlace, find_places, sum_edges
from marram.relief.marking.stakes import WideSpacing, find_wide_spacing
from marram.rulebook.book import Book
from marram.rulebook.vocabulary import Leaves, ReliefShape
from marram.rulebook.wording.explain import size_with_metres

USUAL_LONGEST_CLUB_IN = 46.0
"""Longest club of a set but the putter, as most players carry it (common practice)."""
SHORTEST_CLUB_IN, LONGEST_CLUB_IN = 18.0, 48.0
_ROW = "relief.penalty-area-lateral-red"


@dataclass(frozen=True, slots=True, kw_only=True)
class NotChecked:
    """An edge or a hole that was not checked, and why."""

    name: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkingUnderBook:
    """The marking under one book.

    Attributes:
        book: The book.
        size: Size of lateral relief as the book states it; None where the book gives none.
        size_m: The same on the ground.
        edges: Sums by hole and feature.
        places: Places with a fault, worst first.
        not_checked: What was left out, and why.
        citations: The rules that it rests on.
        why_untried: Why not a single place was tried, so that nothing is said of the marking; empty where some were.
    """

    book: Book
    size: Size | None
    size_m: float | None
    edges: tuple[EdgeSum, ...]
    places: tuple[MarkingPlace, ...]
    not_checked: tuple[NotChecked, ...]
    citations: tuple[Citation, ...]
    why_untried: str = ""

    @property
    def size_words(self) -> str:
        """The size as stated, with metres beside; empty where the book gives none."""
        return "" if self.size is None or self.size_m is None else size_with_metres(self.size, self.size_m)

    @property
    def tried(self) -> int:
        """How many crossing points were tried."""
        return sum(edge.points for edge in self.edges)


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkingCheck:
    """The marking of a course.

    Attributes:
        course: The course.
        longest_club_in: The club that measures, inches.
        tolerance_m: How far an edge may lie from the line between two stakes.
        under: What each book finds.
        wide_spacing: Stakes or survey points too far apart; no book has a part in that.
        odd_holes: What is wrong with the holes themselves.
        day: What of the course is of the day and not of the survey; None where no such file was given.
    """

    course: Course
    longest_club_in: float
    tolerance_m: float
    under: tuple[MarkingUnderBook, ...]
    wide_spacing: tuple[WideSpacing, ...]
    odd_holes: tuple[NotChecked, ...]
    day: Day | None = None

    @property
    def faults(self) -> int:
        """How many faults there are; places where the area is small and nothing else are told and not counted."""
        serious = sum(place.is_serious for found in self.under for place in found.places)
        return serious + len(self.wide_spacing) + len(self.odd_holes) + self.is_stuck

    @property
    def is_untried(self) -> bool:
        """Whether no book tried a single place, so that a list without faults says nothing of the marking."""
        return all(found.why_untried for found in self.under)

    @property
    def is_stuck(self) -> bool:
        """Whether nothing was tried though there may be something to try: unmarked water, or red with no hole played over it."""
        return self.is_untried and any(area.mark is not Mark.YELLOW for area in self.course.penalty_areas)


def check_marking(
    opened: OpenCourse, books: Sequence[Book], *, longest_club_in: float, tolerance_m: float, work: Work | None = None
) -> MarkingCheck:
    """Check the marking of a course.

    Args:
        opened: The course as it is today.
        books: The books.
        longest_club_in: Length of the club that measures, inches.
        tolerance_m: How far an edge may lie from the line between two stakes, metres.
        work: Told how far the check is; it may be stopped.

    Raises:
        DataError: A length cannot be used.
    """
    if not SHORTEST_CLUB_IN <= longest_club_in <= LONGEST_CLUB_IN:
        raise DataError(
            f"A longest club of {longest_club_in:g} in cannot be.",
            field=Field.LONGEST_CLUB_IN,
            hint=f"Give inches from {SHORTEST_CLUB_IN:g} to {LONGEST_CLUB_IN:g}.",
        )
    if not 0 < tolerance_m < 10:
        raise DataError(f"A tolerance of {tolerance_m:g} m cannot be used.", field=Field.TOLERANCE_M, hint="Give metres above 0, below 10.")
    course, work = opened.course, work or Work()
    return MarkingCheck(
        course=course,
        longest_club_in=longest_club_in,
        tolerance_m=tolerance_m,
        under=tuple(_under_book(course, book, longest_club_in, work) for book in books),
        wide_spacing=find_wide_spacing(course, tolerance_m=tolerance_m),
        odd_holes=_odd_holes(course),
        day=opened.day,
    )


def _under_book(course: Course, book: Book, longest_club_in: float, work: Work) -> MarkingUnderBook:
    why_closed = _why_closed(book)
    if why_closed:
        unchecked = tuple(NotChecked(name=_names(area), because=why_closed) for area in course.penalty_areas)
        return MarkingUnderBook(
            book=book,
            size=None,
            size_m=None,
            edges=(),
            places=(),
            not_checked=unchecked,
            citations=book.citations(_ROW),
            why_untried=why_closed,
        )
    size = book.size(f"{_ROW}.size")
    relief = LateralRelief(
        size_m=size.value.in_metres(longest_club_in * INCH_M),
        marks=frozenset(Mark(mark) for mark in book.words(f"{_ROW}.marks").value),
        in_areas=frozenset(Area(area) for area in book.words(f"{_ROW}.in_areas").value),
    )
    tried = try_marking(course, relief, work=work)
    edges = sum_edges(course, tried)
    return MarkingUnderBook(
        book=book,
        size=size.value,
        size_m=relief.size_m,
        edges=edges,
        places=find_places(course, tried),
        not_checked=_not_checked(course, relief, {edge.feature.id for edge in edges}),
        citations=merged(book.citations(_ROW), size.citations),
        why_untried="" if edges else _why_untried(course, relief),
    )


def _why_untried(course: Course, relief: LateralRelief) -> str:
    """What stands in the way where no place could be tried."""
    if not course.penalty_areas:
        return "The course has no penalty area."
    marks = Counter(area.mark for area in course.penalty_areas)
    if not relief.marks & set(marks):
        wanted = " or ".join(sorted(relief.marks))
        told = ", ".join(f"{count} {mark.value}" for mark, count in sorted(marks.items()))
        return f"No penalty area is marked {wanted}, which lateral relief needs; there are: {told}."
    if not any(is_playable(hole) for hole in course.holes.values()):
        return "No hole has both a line of play and a hole location, and without a hole no area of relief can be measured."
    return "No hole is played over any edge that lies open on the course."


def _why_closed(book: Book) -> str:
    """Why a book cannot be checked; empty where it can."""
    if not book.has_row(_ROW):
        return f"The book gives no lateral relief: {book.why_absent(_ROW)}."
    if not book.yes(f"{_ROW}.allowed").value:
        return "The book gives no lateral relief."
    if book.word(f"{_ROW}.shape").value != ReliefShape.DISC or book.word(f"{_ROW}.leaves").value != Leaves.SAME_PENALTY_AREA:
        return "The book measures lateral relief in a way that this check does not know."
    return ""


def _names(area: PenaltyArea) -> str:
    return ", ".join(feature.id for feature in area.features)


def _not_checked(course: Course, relief: LateralRelief, checked: set[str]) -> tuple[NotChecked, ...]:
    found: dict[str, str] = {}
    for area in course.penalty_areas:
        for feature in area.features:
            if area.mark not in relief.marks:
                found[feature.id] = f"marked {area.mark.value}: no lateral relief from it"
            elif feature.id not in checked:
                found[feature.id] = "no hole is played over any part of its edge that lies open on the course"
    inside = {feature.id for area in course.penalty_areas for feature in area.features}
    outside = [feature.id for feature in course.of_kind(FeatureKind.PENALTY_AREA) if feature.id not in inside]
    found |= dict.fromkeys(outside, "it lies outside the boundary")
    return tuple(NotChecked(name=name, because=because) for name, because in sorted(found.items()))


def _odd_holes(course: Course) -> tuple[NotChecked, ...]:
    found = []
    for hole in course.holes.values():
        if not is_playable(hole):
            missing = [name for name, has in (("line of play", hole.line), ("hole location", hole.location)) if has is None]
            found.append(NotChecked(name=f"hole {hole.number}", because=f"not checked: it has no {' and no '.join(missing)}"))
        elif hole.location is not None:
            found += [
                NotChecked(name=f"hole {hole.number}", because=f"the hole location lies in a penalty area ({_names(area)})")
                for area in course.penalty_areas
                if area.geometry.covers(Point(hole.location.xy))
            ]
    return tuple(found)


def dropping_zones_of(course: Course, feature: Feature) -> tuple[str, ...]:
    """Names of the dropping zones that serve a feature."""
    zones = course.of_kind(FeatureKind.DROPPING_ZONE)
    return tuple(zone.id for zone in zones if zone.serves == feature.id)
