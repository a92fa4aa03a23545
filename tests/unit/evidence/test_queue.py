"""The queue of groups: what must hold of it whatever its numbers, and that it says the same twice."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.plan import Design, Primary, refusals_of
from marram.evidence.planning.queue import queue_shown


def test_groups_that_never_wait_show_all_that_is_saved() -> None:
    found = queue_shown(9.0, interval_min=400.0)
    assert found.ordinary_min == pytest.approx(18 * 13.3, abs=0.3)
    assert found.all_field_min == pytest.approx(-9.0, abs=4 * found.all_field_error_min)
    assert found.within_day_min == pytest.approx(found.within_day_net_min, abs=1e-9)
    assert found.within_day_min == pytest.approx(-9.0, abs=4 * found.within_day_error_min)
    assert abs(found.lag_correlation) < 0.1
    assert found.part_shown == pytest.approx(1.0, abs=0.15)


def test_groups_that_queue_show_little_of_it_and_hang_together() -> None:
    tight, wide = queue_shown(5.4, interval_min=8.0), queue_shown(5.4, interval_min=14.0)
    assert tight.ordinary_min > wide.ordinary_min > 18 * 13.3
    assert tight.lag_correlation > wide.lag_correlation > 0
    assert 0 < tight.part_shown < 0.35
    assert tight.within_day_net_min == pytest.approx(-5.4, abs=4 * tight.within_day_net_error_min)
    assert tight.sd_of_day_mean_min > 0


def test_the_round_counts_from_the_start_and_not_from_the_starting_time() -> None:
    """With starts a minute apart groups wait at the first tee for hours, which is not part of their round."""
    assert queue_shown(5.4, interval_min=1.0, days=50).ordinary_min < 360


def test_the_same_is_drawn_twice() -> None:
    assert queue_shown(5.4, days=20) == queue_shown(5.4, days=20)
    assert queue_shown(5.4, days=20, seed=2) != queue_shown(5.4, days=20)


@pytest.mark.parametrize(("saved", "interval", "days"), [(0.0, 10.0, 50), (200.0, 10.0, 50), (5.0, 0.0, 50), (5.0, 10.0, 1)])
def test_what_cannot_be_simulated_is_told(saved: float, interval: float, days: int) -> None:
    with pytest.raises(StudyError, match="cannot be simulated"):
        queue_shown(saved, interval_min=interval, days=days)


def test_a_plan_of_groups_within_a_day_is_told_how_little_they_would_show() -> None:
    primary = Primary(outcome="hole_min", matters=0.3, sd_of_difference=1.0)
    [refusal] = refusals_of([primary], pairs=8, design=Design.GROUPS_IN_A_DAY)
    assert "Simulated" in refusal.message
    assert "saves a group 5.4 min a round" in refusal.message  # eighteen holes of 0.3 min
