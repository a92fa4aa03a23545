"""Which course goes over at which step, and what a roll-out can find."""

from __future__ import annotations

from collections import Counter
from math import sqrt

import pytest

from marram.core.errors import StudyError
from marram.evidence.planning.steps_of_courses import draw_steps, precision_of_steps, refusals_of_steps

COURSES = ["Moor", "Hollow", "Links", "Down", "Heath", "Dune"]


def test_as_many_courses_go_over_at_each_step_as_can() -> None:
    drawn = draw_steps(COURSES, 3, "a seed")
    assert [each.course for each in drawn] == COURSES
    assert Counter(each.step for each in drawn) == {1: 2, 2: 2, 3: 2}
    assert all(each.first_trial_period == each.step + 1 for each in drawn)
    assert sorted(Counter(each.step for each in draw_steps([*COURSES, "Firth"], 3, "s")).values()) == [2, 2, 3]


def test_every_course_may_come_at_every_step() -> None:
    seen = {(each.course, each.step) for number in range(60) for each in draw_steps(COURSES, 3, f"seed {number}")}
    assert len(seen) == 18
    assert draw_steps(COURSES, 3, "s") == draw_steps(COURSES, 3, "s")


@pytest.mark.parametrize(
    ("courses", "steps", "why"),
    [
        (COURSES[:5], 3, "too few to judge by"),
        (COURSES, 2, "only 20 ways"),  # 6! / (3! 3!)
        (COURSES, 1, "cannot be dealt out"),
        (COURSES, 7, "cannot be dealt out"),
        ([*COURSES, "Moor"], 3, "named twice"),
    ],
)
def test_a_roll_out_that_cannot_tell_is_refused(courses: list[str], steps: int, why: str) -> None:
    assert any(why in message for message, _ in refusals_of_steps(courses, steps))
    with pytest.raises(StudyError, match=why):
        draw_steps(courses, steps, "s")


def test_what_can_be_planned_is_not_refused() -> None:
    assert refusals_of_steps(COURSES, 3) == []
    assert refusals_of_steps(COURSES, 6) == []
    assert refusals_of_steps([*COURSES, "Firth", "Strand"], 2) == []  # 8! / (4! 4!) = 70 ways
    with pytest.raises(StudyError, match="no seed"):
        draw_steps(COURSES, 3, "")


def test_the_least_effect_by_hand() -> None:
    """Two courses, two steps: the weights of the rules are -1/6, 1/3, -1/6 and their negatives, squares 1/3 in all.

    A period's value spreads by sd / sqrt(2) = 3 for sd 3 sqrt(2), so the effect has standard error 3 sqrt(3) = 5.196; with one degree of
    freedom t(0.975) = 12.7062 and t(0.80) = 1.3764.
    """
    found = precision_of_steps(2, 2)
    assert found.error * 3 * sqrt(2) == pytest.approx(3 * sqrt(3))
    assert found.least_effect(3 * sqrt(2), 0.80) == pytest.approx((12.7062 + 1.3764) * 3 * sqrt(3), rel=1e-4)
    # six courses, three steps: 12 periods on trial, less 4 (2 (9/16 + 4/16 + 1/16)) = 7, less 6 (1/9 + 4/9 + 1) = 28/3, plus 24/4 leave 5/3
    assert precision_of_steps(6, 3).error == pytest.approx(sqrt(3 / 5) / sqrt(2))
    assert precision_of_steps(6, 3, days=4).error == pytest.approx(precision_of_steps(6, 3).error / 2)
