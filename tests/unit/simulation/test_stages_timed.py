"""Stage times from local timings: groups that had a hole to themselves tell them, worked by hand."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.records.timings import HoleTiming
from marram.simulation.campaign.stages_timed import alone_on, timed_course
from marram.simulation.pace.hole_stages import PacedHole

HOLES = tuple(PacedHole(number=number, par=par, walk_on_min=0) for number, par in ((1, 4), (2, 4), (3, 3)))
MEANS = ((5.0, 3.0, 5.0), (5.0, 3.0, 5.0), (3.0, 2.0, 4.0))


def timing(hole: int, began_min: float, minutes: float, day: str = "sat") -> HoleTiming:
    began = int(began_min * 60)
    return HoleTiming(day=day, group=f"g{began_min}", hole=hole, began_s=began, cleared_s=began + int(minutes * 60))


def free(hole: int, minutes: float, groups: int = 9) -> list[HoleTiming]:
    """Groups an hour apart: all but the first had the hole to themselves, and are known to."""
    return [timing(hole, 60 * number, minutes) for number in range(groups)]


def test_groups_whose_green_ahead_was_clear_had_the_hole_to_themselves() -> None:
    # b begins while a is on the hole; c begins in the minute that b has cleared; the first of each day counts for nothing.
    found = alone_on([timing(1, 0, 12), timing(1, 10, 15), timing(1, 25, 11), timing(1, 30, 14, day="sun")])
    assert found == {1: [11.0]}


def test_each_hole_is_drawn_out_to_the_time_of_groups_alone() -> None:
    """Hole 1: 8 groups of 14.3 min, of which 1.3 happen besides: 13 = the table. Hole 3: 11.7 less 0.9, of 9: 1.2 times the table."""
    timed = timed_course(HOLES, MEANS, (1.3, 1.3, 0.9), 1.0, [*free(1, 14.3), *free(3, 11.7)])
    assert timed.means[0] == pytest.approx((5, 3, 5))
    assert timed.means[2] == pytest.approx((3.6, 2.4, 4.8))
    assert timed.means[1] == pytest.approx((5, 3, 5))  # nobody was timed there: as the other par 4
    assert timed.own == (1, 3)
    assert (timed.visits, timed.alone) == (18, 16)
    assert "18, of which 16" in timed.provenance


def test_groups_of_another_size_are_brought_to_three() -> None:
    """Four-balls of 13 x 11.5 / 10.5 = 14.238 min play the table."""
    timed = timed_course(HOLES, MEANS, (0, 0, 0), 11.5 / 10.5, free(1, 13 * 11.5 / 10.5))
    assert timed.means[0] == pytest.approx((5, 3, 5), rel=0.002)  # to the second


def test_too_few_on_a_hole_are_taken_with_their_par_and_then_with_all() -> None:
    few = [*free(1, 14.3, 5), *free(2, 11.7, 6), *free(3, 9.9, 2)]
    timed = timed_course(HOLES, MEANS, (0, 0, 0), 1.0, few)
    assert timed.own == ()
    par_4 = (4 * 1.1 + 5 * 0.9) / 9
    assert timed.means[0] == pytest.approx([stage * par_4 for stage in MEANS[0]])
    assert timed.means[2] == pytest.approx([stage * (9 * par_4 + 1.1) / 10 for stage in MEANS[2]])


def test_too_few_in_all_are_refused() -> None:
    with pytest.raises(StudyError, match="Of 8 timings 7 are of groups"):
        timed_course(HOLES, MEANS, (0, 0, 0), 1.0, free(1, 13, 8))
