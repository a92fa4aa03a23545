"""A stepped roll-out planned: which course goes over to the trial rules at which step, drawn, and what it can find."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from math import sqrt
from typing import Final

from marram.core.errors import StudyError
from marram.evidence.fitting.least_squares import independent, indicators
from marram.evidence.fitting.stepped_effect import ways_of
from marram.evidence.planning.units_plan import Precision

FEWEST_COURSES: Final = 6
"""With fewer courses there are too few ways of dealing out the steps, and too little to judge."""
FEWEST_WAYS: Final = 40
"""With fewer ways of dealing out the steps even an effect that the draw shows best is not told apart from chance at 5 %, both ways."""
FEWEST_STEPS: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseStep:
    """A course and the step at which it goes over.

    Attributes:
        course: Name of the course.
        step: Number of the step; step 1 is before the second period.
    """

    course: str
    step: int

    @property
    def first_trial_period(self) -> int:
        """The period from which it plays trial rules; in period 1 nobody does."""
        return self.step + 1


def refusals_of_steps(courses: Sequence[str], steps: int) -> list[tuple[str, str]]:
    """Why a roll-out cannot answer its question, each with what to do instead; none where it can.

    Args:
        courses: Names of the courses.
        steps: How many steps.
    """
    found = []
    twice = sorted({name for name in courses if courses.count(name) > 1})
    if twice:
        found.append((f"Course {twice[0]} is named twice.", "Name each course once."))
    if len(courses) < FEWEST_COURSES:
        found.append((f"{len(courses)} courses are too few to judge by: {FEWEST_COURSES} are the fewest.", "Name more courses."))
    if not FEWEST_STEPS <= steps <= max(len(courses), FEWEST_STEPS):
        message = f"{steps} steps cannot be dealt out among {len(courses)} courses."
        found.append((message, f"Plan from {FEWEST_STEPS} steps to one for each course."))
    elif ways_of(_dealt(len(courses), steps)) < FEWEST_WAYS:
        message = f"There are only {ways_of(_dealt(len(courses), steps))} ways of dealing {steps} steps out among {len(courses)} courses"
        found.append((f"{message}: chance alone would show as much too often.", "Plan more steps, or more courses."))
    return found


def draw_steps(courses: Sequence[str], steps: int, seed: str) -> tuple[CourseStep, ...]:
    """Draw at which step each course goes over, as many courses at each step as can be.

    Args:
        courses: Names of the courses.
        steps: How many steps.
        seed: Text from which it is drawn.

    Raises:
        StudyError: The seed is empty, or the roll-out cannot answer its question.
    """
    if not seed.strip():
        raise StudyError("The draw has no seed.", where="plan", hint="Write down a text that nobody can guess, and keep it closed.")
    refused = refusals_of_steps(courses, steps)
    if refused:
        raise StudyError(" ".join(why for why, _ in refused), where="plan", hint=" ".join(instead for _, instead in refused))
    order = sorted(courses, key=lambda course: sha256(f"step\n{seed}\n{course}".encode()).digest())
    drawn = dict(zip(order, _dealt(len(courses), steps), strict=True))
    return tuple(CourseStep(course=course, step=drawn[course]) for course in courses)


def precision_of_steps(courses: int, steps: int, *, days: int = 1) -> Precision:
    """How precisely a roll-out tells an effect.

    Args:
        courses: How many courses.
        steps: How many steps.
        days: Days of each course in each period.

    Accuracy: by Student's t with as many degrees of freedom as courses less one; the limits by the draw come near it.

    Source: Hussey and Hughes, Design and analysis of stepped wedge cluster randomized trials (2007), with courses taken out.
    """
    of_period = 1 / sqrt(2 * days)  # a day spreads by a pilot's standard deviation of the difference of two days over the root of two
    error = of_period / sqrt(sum(weight * weight for weight in _weights(courses, steps)))
    return Precision(error=error, freedom=courses - 1, units=courses, fewest=courses, sd_of_a_lot=error * sqrt(courses) / 2)


def _dealt(courses: int, steps: int) -> list[int]:
    """The steps to be dealt out, in order, as evenly as can be."""
    return [place * steps // courses + 1 for place in range(courses)]


def _weights(courses: int, steps: int) -> list[float]:
    """How much each course and period says of the rules, courses and periods taken out."""
    import numpy as np

    cells = [(course, period) for course in range(courses) for period in range(1, steps + 2)]
    own = _dealt(courses, steps)
    ground = [[1.0] * len(cells), *indicators([str(course) for course, _ in cells]), *indicators([str(period) for _, period in cells])]
    basis, _ = np.linalg.qr(np.array([ground[place] for place in independent(ground)]).T)
    played = np.array([float(period > own[course]) for course, period in cells])
    return [float(weight) for weight in played - basis @ (basis.T @ played)]
