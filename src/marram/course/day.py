"""The conditions of one day, kept apart from the survey: what lies on the ground today and where the holes are cut."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace

from marram.course.course import Course
from marram.course.features import Feature
from marram.course.written_features import with_location


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """What holds on a course for one day.

    Attributes:
        date: The day.
        source: Name of the file that states it.
        features: Conditions of the day. They are drawn, located and ruled on as surveyed ones are; accuracy that nobody stated stays
            unknown, so that what hangs on it is to be measured on the ground.
        locations: Where holes are cut; the others stay where the survey has them.
        remarks: What the official should know, a sentence each.
    """

    date: datetime.date
    source: str
    features: tuple[Feature, ...] = ()
    locations: tuple[Feature, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """What is of the day and not of the survey, in one sentence."""
        told = "; ".join(self._parts()) or "nothing is stated"
        return f"Of the day {self.date.isoformat()} ({self.source}), not of the survey: {told}."

    def _parts(self) -> Iterator[str]:
        for feature in self.features:
            yield f"{feature.noun} ({feature.id})"
        numbers = sorted({number for location in self.locations for number in location.holes})
        if numbers:
            yield f"where hole{'s' * (len(numbers) > 1)} {', '.join(map(str, numbers))} {'are' if len(numbers) > 1 else 'is'} cut"


def with_day(course: Course, day: Day) -> Course:
    """The course as it is on a day.

    Args:
        course: The course as surveyed.
        day: The day's conditions.

    Returns:
        The course with the day's conditions after the surveyed features and each hole location of the day in place of the surveyed one.
    """
    changed = replace(course, features=(*course.features, *day.features))
    for location in day.locations:
        changed = with_location(changed, location)
    return changed
