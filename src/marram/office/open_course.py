"""Open a course as it is today: the survey, with the conditions of the day laid on it where there are any."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from marram.course.course import Course
from marram.course.day import Day, with_day
from marram.interchange.courses.course_geojson import read_course
from marram.interchange.field.day_file import read_day


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCourse:
    """A course, and what of it is of the day.

    Attributes:
        course: The course, with the day's conditions on it.
        day: The day's conditions; None where none were given.
    """

    course: Course
    day: Day | None


def open_with_day(course_file: Path, today_file: Path | None) -> OpenCourse:
    """Open a course, and say what of it is of the day.

    Args:
        course_file: The course.
        today_file: The conditions of the day; None where there are none.

    Raises:
        SurveyError: A file cannot be used.
    """
    survey = read_course(course_file)
    if today_file is None:
        return OpenCourse(course=survey, day=None)
    day = read_day(today_file, survey)
    return OpenCourse(course=with_day(survey, day), day=day)


def open_course(course_file: Path, today_file: Path | None) -> Course:
    """Open a course as it is today.

    Args:
        course_file: The course.
        today_file: The conditions of the day; None where there are none.

    Raises:
        SurveyError: A file cannot be used.
    """
    return open_with_day(course_file, today_file).course
