"""Groups on one hole, worked by hand from the rules of who may begin when."""

from __future__ import annotations

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.simulation.pace.groups_on_a_hole import queue_of
from marram.simulation.pace.hole_stages import PacedHole


def played(par: int, came: list[float], stages: list[list[float]], *, waves_up: bool = False) -> list[tuple[float, float, float]]:
    """Of each group its waiting on the tee, its waiting beyond, and when the green was clear."""
    queue = queue_of(PacedHole(number=1, par=par, walk_on_min=0, waves_up=waves_up))
    on_tee, beyond = np.full((len(came), 1), np.nan), np.full((len(came), 1), np.nan)
    settled = [
        queue.follow(np.array([at]), np.array(one)[:, None], on_tee[number], beyond[number])
        for number, (at, one) in enumerate(zip(came, stages, strict=True))
    ]
    cleared = [float(one[0]) for one in (*settled, queue.end()) if one is not None]
    return list(zip(on_tee[:, 0].tolist(), beyond[:, 0].tolist(), cleared, strict=True))


def test_a_par_3_is_played_by_one_group_at_a_time() -> None:
    # The first is done at 3 + 2 + 4 = 9; the second came at 1, begins at 9 and is done at 18; the third comes to an empty hole.
    assert played(3, [0, 1, 20], [[3, 2, 4]] * 3) == [(0, 0, 9), (8, 0, 18), (0, 0, 29)]


def test_a_group_that_waits_on_a_par_3_is_called_up() -> None:
    # The first comes to the green at 5 and calls the second up, which plays until 8; the first holes out by 12. The second walks up by
    # 10, finds the green clear at 12, sees nobody on the tee and holes out by 16. The third comes at 20 to an empty hole.
    assert played(3, [0, 1, 20], [[3, 2, 4]] * 3, waves_up=True) == [(0, 3, 12), (4, 2, 16), (0, 0, 29)]


def test_a_group_that_comes_just_too_late_to_be_called_up_waits_until_the_green_is_clear() -> None:
    # The first is at the green at 5; whoever comes at 5 is called up, whoever comes at 5.5 waits for the green, clear at 9.
    assert played(3, [0, 5], [[3, 2, 4]] * 2, waves_up=True)[1] == (0, 2, 16)  # walks up by 10, the green is clear at 8 + 4 = 12
    assert played(3, [0, 5.5], [[3, 2, 4]] * 2, waves_up=True) == [(0, 0, 9), (3.5, 0, 18)]


def test_on_a_par_4_the_next_group_begins_after_the_second_strokes() -> None:
    # First: second strokes by 7, clear at 12. Second came at 1: begins at 7, at the balls at 12, green clear: plays until 14, clear at 19.
    assert played(4, [0, 1], [[5, 2, 5]] * 2) == [(0, 0, 12), (6, 0, 19)]
    # With 4 min to the balls it is there at 11 and waits a minute for the green.
    assert played(4, [0, 1], [[5, 2, 5], [4, 2, 5]]) == [(0, 0, 12), (6, 1, 19)]


def test_on_a_par_5_three_groups_follow_each_other() -> None:
    # First: 4, 6, 9, 11, clear at 15. Second came at 0: begins at 6, at its balls at 10, where the third strokes ahead are played at 11:
    # waits 1, plays until 13, walks to 16, the green was clear at 15, plays until 18, clear at 22.
    assert played(5, [0, 0], [[4, 2, 3, 2, 4]] * 2) == [(0, 0, 15), (6, 1, 22)]
    # A second group with no walk at all waits for both: at its balls at 6, free at 11 (waits 5), plays until 13, free at 15 (waits 2).
    assert played(5, [0, 0], [[4, 2, 3, 2, 4], [0, 2, 0, 2, 4]]) == [(0, 0, 15), (6, 7, 21)]


@pytest.mark.parametrize(
    ("par", "waves_up", "stages", "cycle", "alone"),
    [
        (3, False, [3.3, 2.2, 4.2], 9.7, 9.7),
        (3, True, [3.3, 2.2, 4.2], 7.5, 9.7),
        (4, False, [5, 3, 5], 8.0, 13.0),
        (4, False, [5, 2, 5], 7.0, 12.0),
        (5, False, [4, 2, 3, 2, 4], 7.0, 15.0),
        (5, False, [5, 2, 3, 2, 5], 7.0, 17.0),
    ],
)
def test_equal_groups_clear_a_full_hole_at_its_cycle(par: int, waves_up: bool, stages: list[float], cycle: float, alone: float) -> None:
    """Cycles of the stage models: S1+S2+S3; S1+max(S2,S3); S2+max(S1,S3); max(S1+S2, S2+S3+S4, S4+S5)."""
    cleared = [one[2] for one in played(par, [0.0] * 40, [stages] * 40, waves_up=waves_up)]
    assert cleared[-2] - cleared[-3] == pytest.approx(cycle, abs=1e-9)
    assert played(par, [0.0], [stages], waves_up=waves_up)[0] == pytest.approx((0, 0, alone), abs=1e-9)


def test_a_hole_of_another_par_is_refused() -> None:
    with pytest.raises(StudyError, match="par of 6"):
        PacedHole(number=2, par=6, walk_on_min=0)
    with pytest.raises(StudyError, match="walk of -1"):
        PacedHole(number=2, par=4, walk_on_min=-1)
