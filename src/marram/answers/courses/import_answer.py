"""What was brought in to a course, as outsiders read it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.interchange.courses.imported import Imported


class AssumedShape(Shape, frozen=True, kw_only=True):
    """Something that was assumed and not surveyed.

    Attributes:
        feature: The feature.
        name: What of it was assumed.
        words: How.
    """

    feature: str
    name: str
    words: str


class MendedShape(Shape, frozen=True, kw_only=True):
    """A feature whose outline was mended.

    Attributes:
        feature: The feature.
        words: How.
    """

    feature: str
    words: str


class LeftOutShape(Shape, frozen=True, kw_only=True):
    """What the source held and the course does not.

    Attributes:
        what: A plain noun.
        why: Why it was left out.
        count: How many there are.
        names: All of them, by their names in the source.
    """

    what: str
    why: str
    count: int
    names: tuple[str, ...]


class CourseImportAnswer(Answer, frozen=True, kw_only=True):
    """What was brought in to a course, and what was left out, mended or assumed.

    Attributes:
        schema: Name and version of this shape.
        course: The course.
        holes: Numbers of its holes.
        features: How many features it has of each kind.
        unmarked: Water that nobody has marked yet.
        assumed: What was assumed and not surveyed.
        repaired: What was mended.
        left_out: What the source held and the course does not.
        remarks: What the official should know besides.
    """

    schema: Literal["marram.course-import/1"] = "marram.course-import/1"
    course: str
    holes: tuple[int, ...]
    features: dict[str, int]
    unmarked: tuple[str, ...]
    assumed: tuple[AssumedShape, ...]
    repaired: tuple[MendedShape, ...]
    left_out: tuple[LeftOutShape, ...]
    remarks: tuple[str, ...]


def course_import_answer(made: Imported, told: Callable[[str], str] = str) -> CourseImportAnswer:
    """What was brought in.

    Args:
        made: The course, with what was brought in.
        told: How fields and jobs are named to whoever asked, in his own terms.
    """
    from marram.office.courses.survey_course import unmarked_water

    features = made.course.features
    return CourseImportAnswer(
        course=made.course.name,
        holes=tuple(made.course.holes),
        features=dict(Counter(feature.kind.value for feature in features)),
        unmarked=tuple(unmarked_water(made.course)),
        assumed=tuple(AssumedShape(feature=feature.id, name=name, words=words) for feature in features for name, words in feature.assumed),
        repaired=tuple(MendedShape(feature=feature.id, words=feature.repaired) for feature in features if feature.repaired),
        left_out=tuple(
            LeftOutShape(what=entry.what, why=entry.why, count=len(entry.names), names=tuple(entry.names)) for entry in made.left_out
        ),
        remarks=tuple(map(told, made.remarks)),
    )
