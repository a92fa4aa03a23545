"""Where a procedure can be shown, as outsiders read it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from marram.answers.courses.day_answer import DayShape, day_shape
from marram.answers.place_answer import PlaceShape, lonlat_of, rounded
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from marram.office.courses.find_places import PlacesFound, ShownPlace
    from marram.showing.worth import Shown


class BookTitled(Shape, frozen=True, kw_only=True):
    """A book.

    Attributes:
        book: Its name.
        stamp: Its stamp.
        title: Its title.
    """

    book: str
    stamp: str
    title: str


class ShownUnderShape(Shape, frozen=True, kw_only=True):
    """What one book gives at a place.

    Attributes:
        book: The book.
        option: The procedure that it gives.
        penalty_strokes: Its penalty strokes.
        area_m2: The relief area, square metres; null where none is measured.
        share: What part of the measured shape may be used, from 0 to 1.
    """

    book: str
    option: str
    penalty_strokes: int
    area_m2: float | None
    share: float


class ShownPlaceShape(PlaceShape, frozen=True, kw_only=True):
    """A place at which the procedure can be shown.

    Attributes:
        at: Longitude and latitude, degrees.
        x_m: Metres east in the course frame.
        y_m: Metres north in the course frame.
        rank: How good it is, 1 for the best.
        hole: Number of the hole.
        situation: The situation that shows the procedure there.
        feature: What the place is about.
        before_green_m: Metres before the green along the line of play; null where that cannot be told.
        right_m: Metres to the right of the line of play, to the left where below zero; null where that cannot be told.
        area_m2: The relief area under the book that gives least, square metres; null where none is measured.
        share: What part of the measured shape may be used under that book.
        margin_m: How far from turning out otherwise, metres; null where nothing hangs on it.
        reach_m: How far the place is from the nearest tee, path or fairway, metres; null where the course has none.
        score: From 0 to 1, the least of all books.
        reasons: Why the place is good.
        watch: What to watch there.
        under: What each book gives.
    """

    rank: int
    hole: int
    situation: str
    feature: str
    before_green_m: float | None
    right_m: float | None
    area_m2: float | None
    share: float
    margin_m: float | None
    reach_m: float | None
    score: float
    reasons: tuple[str, ...]
    watch: tuple[str, ...]
    under: tuple[ShownUnderShape, ...]


class CoursePlacesAnswer(Answer, frozen=True, kw_only=True):
    """Where on a course a relief procedure can be shown well.

    Attributes:
        schema: Name and version of this shape.
        books: The books asked.
        procedure: The procedure.
        places: The places, best first.
        why_none: Why there is none; empty where there are some.
        today: What of the course is of the day; left out where no such file was given.
    """

    schema: Literal["marram.course-places/1"] = "marram.course-places/1"
    books: tuple[BookTitled, ...]
    procedure: str
    places: tuple[ShownPlaceShape, ...]
    why_none: str
    today: DayShape | UnsetType = UNSET


def course_places_answer(found: PlacesFound, told: Callable[[str], str] = str) -> CoursePlacesAnswer:
    """The places.

    Args:
        found: What was found.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    return CoursePlacesAnswer(
        books=tuple(BookTitled(book=book.name, stamp=book.stamp, title=book.title) for book in found.books),
        procedure=found.procedure,
        places=tuple(_place(found, rank, place) for rank, place in enumerate(found.places, start=1)),
        why_none=told(found.why_none),
        today=UNSET if found.day is None else day_shape(found.day, found.course.frame),
    )


def _place(found: PlacesFound, rank: int, place: ShownPlace) -> ShownPlaceShape:
    least, along = place.least, found.along(place)
    return ShownPlaceShape(
        at=lonlat_of(found.course.frame, place.at),
        x_m=round(place.at.x_m, 3),
        y_m=round(place.at.y_m, 3),
        rank=rank,
        hole=place.incident.hole,
        situation=place.incident.situation,
        feature=place.spot.feature,
        before_green_m=None if along is None else round(along.before_green_m, 2),
        right_m=None if along is None else round(along.right_m, 2),
        area_m2=rounded(least.area_m2, 4),
        share=round(least.share, 4),
        margin_m=rounded(least.option.margin_m),
        reach_m=rounded(place.standing.reach_m, 2),
        score=round(place.score, 4),
        reasons=place.reasons,
        watch=place.watch,
        under=tuple(map(_under, place.under)),
    )


def _under(shown: Shown) -> ShownUnderShape:
    return ShownUnderShape(
        book=shown.book,
        option=shown.option.procedure,
        penalty_strokes=shown.option.penalty_strokes,
        area_m2=rounded(shown.area_m2, 4),
        share=round(shown.share, 4),
    )
