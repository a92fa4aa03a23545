"""Shares of answers that hang together: limits that hold although players and days come again."""

from __future__ import annotations

import random
from math import erf, sqrt

import pytest

from marram.core.errors import StudyError
from marram.evidence.shares import share
from marram.evidence.weighing.clustered import Answered, clustered_share


def lot(*values: tuple[float, str | None, str]) -> list[Answered]:
    return [Answered(value=value, player=player, day=day) for value, player, day in values]


def test_answers_that_all_stand_alone_are_those_of_a_plain_share_with_more_room() -> None:
    """A hundred players, each on a day of its own: the variance is p(1-p)/(n-1), hardly more than that of Wilson's interval."""
    found = clustered_share([Answered(value=float(number < 60), player=number, day=number) for number in range(100)])
    plain = share(60, 100)
    assert found.independent == pytest.approx(99, abs=0.5)
    assert found.interval95.low == pytest.approx(plain.interval95.low, abs=0.004)
    assert found.interval95.high == pytest.approx(plain.interval95.high, abs=0.004)


def test_one_answer_given_ten_times_by_each_player_is_one() -> None:
    """Twenty players who answer alike on ten days each are worth twenty answers, not two hundred: p(1-p)/(G-1) with G = 20."""
    answers = [Answered(value=float(player < 12), player=player, day=(player, day)) for player in range(20) for day in range(10)]
    found = clustered_share(answers)
    assert (found.of, found.players, found.days) == (200, 20, 200)
    assert found.independent == pytest.approx(19, abs=0.01)


def test_days_on_which_all_answer_alike_are_one_answer_each() -> None:
    answers = [Answered(value=float(day < 4), player=(day, player), day=day) for day in range(8) for player in range(30)]
    assert clustered_share(answers).independent == pytest.approx(7, abs=0.01)


def test_answers_of_nobody_in_particular_stand_for_themselves() -> None:
    named = [Answered(value=float(n % 2), player=n, day=n % 5) for n in range(40)]
    nameless = [Answered(value=float(n % 2), player=None, day=n % 5) for n in range(40)]
    assert clustered_share(named) == clustered_share(nameless)


def test_where_all_say_yes_no_more_is_counted_on_than_there_are_days() -> None:
    found = clustered_share([Answered(value=1.0, player=n, day=n % 6) for n in range(60)])
    assert (found.estimate, found.independent) == (1.0, 6.0)
    assert 0.3 < found.interval95.low < 0.7
    assert found.interval95.high == 1.0


def test_one_player_on_one_day_bounds_nothing() -> None:
    found = clustered_share(lot((1.0, "a", "d1"), (0.0, "a", "d1")))
    assert (found.interval95.low, found.interval95.high) == (0.0, 1.0)


@pytest.mark.parametrize("answers", [[], lot((2.0, "a", "d"))])
def test_what_is_no_yes_or_no_is_refused(answers: list[Answered]) -> None:
    with pytest.raises(StudyError, match="yes and no"):
        clustered_share(answers)


SCENES = [
    (8, 40, 120, 1.0, 0.3, 0.3),
    (8, 40, 60, 1.0, 0.0, 0.3),
    (10, 75, 300, 0.8, 0.5, 0.8),
    (12, 30, 80, 1.0, 0.3, 1.5),
    (20, 40, 120, 1.0, 0.3, 0.3),
]
"""Days, players a day, players in all, spread between players, spread between days, where the middle lies."""


def covers(scene: tuple[int, int, int, float, float, float], seed: int) -> bool:
    days, a_day, in_all, of_players, of_days, middle = scene
    chance = random.Random(seed)
    likes = [chance.gauss(0, of_players) for _ in range(in_all)]
    answers = []
    for day in range(days):
        shift = chance.gauss(0, of_days)
        for player in chance.sample(range(in_all), a_day):
            answers.append(Answered(value=float(middle + likes[player] + shift + chance.gauss(0, 1) > 0), player=player, day=day))
    true_share = 0.5 * (1 + erf(middle / sqrt(1 + of_players**2 + of_days**2) / sqrt(2)))
    found = clustered_share(answers).interval95
    return found.low <= true_share <= found.high


@pytest.mark.long
@pytest.mark.parametrize("scene", SCENES)
def test_95_of_100_intervals_hold_the_share_for_repeated_players_on_shared_days(scene: tuple[int, int, int, float, float, float]) -> None:
    held = sum(covers(scene, seed) for seed in range(1000)) / 1000
    assert 0.93 <= held <= 0.97


def test_plain_intervals_would_be_too_narrow_there_and_these_are_not() -> None:
    held = sum(covers(SCENES[0], seed) for seed in range(60))
    assert held >= 52
