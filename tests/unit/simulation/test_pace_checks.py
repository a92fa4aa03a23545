"""No forecast is given where the pace of play fails its own checks, and the row that fails is named."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from marram.core.errors import OwnFault
from marram.simulation.campaign import pace_checks
from marram.simulation.campaign.pace_checks import refuse_failed_checks
from marram.simulation.pace.groups_on_a_hole import HoleQueue, OneAtATime, queue_of
from marram.simulation.pace.hole_stages import PacedHole


def test_the_checks_are_met() -> None:
    refuse_failed_checks()


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda hole: OneAtATime() if hole.par == 4 else queue_of(hole), "par 4, stages (5, 3, 5), full: 13 min, and 8 is exact"),
        (lambda hole: OneAtATime() if hole.waves_up else queue_of(hole), "par 3, calling up"),
        (lambda hole: OneAtATime() if hole.par == 5 else queue_of(hole), "par 5, stages (5, 2, 3, 2, 5), alone"),
    ],
)
def test_a_row_that_fails_is_named(monkeypatch: pytest.MonkeyPatch, wrong: Callable[[PacedHole], HoleQueue], said: str) -> None:
    monkeypatch.setattr(pace_checks, "queue_of", wrong)
    with pytest.raises(OwnFault) as refused:
        refuse_failed_checks()
    assert said in refused.value.message
