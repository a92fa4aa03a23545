"""What may have happened at a place: the situations that the ground there speaks for, and every other one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely.geometry import Point

from marram.core.citations import Citation
from marram.core.errors import SurveyError
from marram.core.terms import Area
from marram.course.along_hole import AlongHole, tell_along
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.locate import locate
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import area_words

_REACH_M = 2.0
"""A condition nearer than this may be in the way of a stance or a swing (common practice); whether it is, the ruling finds."""
_OF_AREA = {Area.PENALTY_AREA: "penalty-area", Area.OUT_OF_BOUNDS: "out-of-bounds"}
"""Situations that the area in which a ball lies is about."""
_ANYWHERE = ("unplayable", "lost")


@dataclass(frozen=True, slots=True, kw_only=True)
class MayBe:
    """A situation that may be meant.

    Attributes:
        situation: Its name.
        means: What it is.
        citations: The rules.
    """

    situation: str
    means: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """A place, and what may have happened there.

    Attributes:
        hole: Number of the hole.
        position: The place.
        area: The area of the course, as the book calls it.
        along: The place along the hole; None where nothing can be measured along it.
        likely: Situations that the ground there speaks for, the likeliest first.
        others: Every other situation of the book.
    """

    hole: int
    position: Position
    area: str
    along: AlongHole | None
    likely: tuple[MayBe, ...]
    others: tuple[MayBe, ...]


def what_may_be(book: Book) -> tuple[MayBe, ...]:
    """Every situation that a book knows."""
    known = book.catalogue.means_of_situations
    return tuple(
        MayBe(situation=name, means=means, citations=book.citations(f"situation.{name}"))
        for name, means in known.items()
        if book.has_row(f"situation.{name}")
    )


def nearest_hole(course: Course, position: Position) -> int:
    """The hole whose line of play passes nearest, else the one whose green lies nearest.

    Raises:
        SurveyError: The course has no hole with a line of play or a green.
    """
    spot = Point(position.xy)
    greens = {hole.number: None if hole.green is None else hole.green.geometry for hole in course.holes.values()}
    grounds = {hole.number: hole.line if hole.line is not None else greens[hole.number] for hole in course.holes.values()}
    away_m = {number: float(ground.distance(spot)) for number, ground in grounds.items() if ground is not None}
    if not away_m:
        raise SurveyError("No hole has a line of play or a green, so a place belongs to none.", where=course.name, hint="State the hole.")
    return min(away_m, key=lambda number: (away_m[number], number))


def lies_here(course: Course, book: Book, position: Position, hole: int | None = None) -> Here:
    """Tell where a ball lies and what may have happened to it.

    Args:
        course: The course as it is today.
        book: The book.
        position: Where the ball lies.
        hole: Number of the hole being played; None for the one that passes nearest.

    Raises:
        SurveyError: There is no such hole, or none that a place could belong to.
    """
    number = nearest_hole(course, position) if hole is None else course.hole(hole).number
    known = {entry.situation: entry for entry in what_may_be(book)}
    likely = [name for name in dict.fromkeys(_spoken_for(course, book, number, position, tuple(known))) if name in known]
    return Here(
        hole=number,
        position=position,
        area=area_words(book, locate(course, number, position).area),
        along=tell_along(course.hole(number), position),
        likely=tuple(known[name] for name in likely),
        others=tuple(entry for name, entry in known.items() if name not in likely),
    )


def _spoken_for(course: Course, book: Book, hole: int, position: Position, known: tuple[str, ...]) -> Iterator[str]:
    """Situations that the ground speaks for: its area, conditions within reach, then what may happen anywhere."""
    area = locate(course, hole, position).area
    if area in _OF_AREA:
        yield _OF_AREA[area]
    for name in known:
        key = f"situation.{name}.conditions"
        kinds = book.words(key).value if _has_part(book, key) else ()
        if any(condition.near(position, _REACH_M) for kind in kinds for condition in course.conditions(kind, hole)):
            yield name
    if area is not Area.OUT_OF_BOUNDS:
        yield from (name for name in _ANYWHERE if name != "unplayable" or area is not Area.PENALTY_AREA)


def _has_part(book: Book, key: str) -> bool:
    row, _, part = key.rpartition(".")
    return part in book.catalogue.rows[row].parts and book.has(key)
