"""The chances that a plan promises are those of the very words of the report."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import t

from marram.core.errors import StudyError
from marram.evidence.planning.rehearsal import Outlook, RehearsedChange, RehearsedGuard, _Drawn, _Played, rehearse
from marram.evidence.verdicts import Overall, Verdict, holm, is_praise
from marram.records.outcomes import Worse
from marram.records.rows import Arm, Observation, TrialDay
from tests.support.seasons import days_of, expecting, trial_of, weigh

SEARCHES = RehearsedChange(number=1, outcome="round_min", matters=5, sd=6, wants_less=True)
STROKES = RehearsedGuard(outcome="strokes", margin=1.0, worse=Worse.EITHER, sd=1.0)


def by_effect(found: tuple[Outlook, ...], change: int = 1) -> dict[float, Outlook]:
    return {outlook.supposed: outlook for outlook in found if outlook.change == change}


def test_where_the_effect_is_just_what_matters_half_the_seasons_come_out_smaller() -> None:
    """The good words ask for an estimate of at least what matters: an effect of 5 is seen nearly always."""
    found = by_effect(rehearse([SEARCHES], pairs=12, seasons=2000))
    assert found[1.0].overall[Overall.DID] == pytest.approx(0.5, abs=0.05)
    assert found[2.0].overall[Overall.DID] > 0.97
    assert found[0.0].overall[Overall.DID] < 0.03


def test_guards_take_their_share() -> None:
    """A guard with sd 1 over twelve pairs has a 90 % interval of +-0.52 about its mean: inside +-1 nearly always; with sd 3 hardly ever."""
    calm = by_effect(rehearse([replace(SEARCHES, guards=(STROKES,))], pairs=12))[2.0]
    wild = by_effect(rehearse([replace(SEARCHES, guards=(replace(STROKES, sd=3.0),))], pairs=12))[2.0]
    assert calm.overall[Overall.DID] > 0.8
    assert wild.overall[Overall.DID] < 0.1
    assert wild.overall[Overall.MIXED] > 0.85


def test_lost_days_leave_too_little() -> None:
    """Of six pairs one lost leaves five: with a tenth lost, 1 - 0.9^6 = 47 % of the seasons say too little."""
    found = by_effect(rehearse([SEARCHES], pairs=6, lost=0.1, seasons=2000))[0.0]
    assert found.verdicts[Verdict.TOO_LITTLE] == pytest.approx(1 - 0.9**6, abs=0.03)


def test_more_than_a_fifth_of_the_pairs_lost_leaves_too_little_however_many_are_left() -> None:
    """Of twelve pairs ten must be left: with three in ten lost a chance of 25.3 %, by the binomial, though six nearly always are."""
    found = by_effect(rehearse([SEARCHES], pairs=12, lost=0.3, seasons=2000))[0.0]
    assert found.verdicts[Verdict.TOO_LITTLE] == pytest.approx(1 - 0.2528, abs=0.03)


def test_false_praise_over_four_changes_is_at_most_one_in_twenty_each_less() -> None:
    changes = [
        replace(SEARCHES, number=number, outcome=outcome)
        for number, outcome in enumerate(("round_min", "waiting_min", "hole_min", "strokes"), 1)
    ]
    found = rehearse(changes, pairs=10, seasons=4000, supposed=(0.0,))
    praised = [sum(share for word, share in outlook.verdicts.items() if is_praise(word)) for outlook in found]
    assert sum(praised) <= 0.05 + 0.01
    assert sum(praised) >= 0.02


def test_every_chance_is_counted_and_they_sum_to_one() -> None:
    for outlook in rehearse([replace(SEARCHES, guards=(STROKES,))], pairs=8, seasons=200):
        assert sum(outlook.overall.values()) == pytest.approx(1)
        assert sum(outlook.verdicts.values()) == pytest.approx(1)


def test_all_seasons_at_once_are_raised_as_each_alone() -> None:
    changes = [replace(SEARCHES, number=n, outcome=name) for n, name in enumerate(("round_min", "waiting_min", "hole_min"), 1)]
    drawn = _Drawn(changes, _Played(pairs=8, lost=0.0, seasons=20, seed=3, looks=None), 0.5).seen()
    alone = {name: t.cdf(drawn.means[name] / (drawn.sds[name] / 8**0.5), 7) for name in ("round_min", "waiting_min", "hole_min")}
    for season in range(20):
        expected = holm([float(alone[name][season]) for name in alone])
        assert [float(drawn.raised[name, True][season]) for name in alone] == pytest.approx(list(expected))


@pytest.mark.parametrize(("lost", "seasons"), [(1.0, 10), (-0.1, 10), (0.0, 0)])
def test_what_cannot_be_drawn_is_refused(lost: float, seasons: int) -> None:
    with pytest.raises(StudyError):
        rehearse([SEARCHES], pairs=8, lost=lost, seasons=seasons)


def _played(seed: int, *, effect: float, guarded: bool) -> Overall:
    """The line over a season that is drawn as day values and weighed by the report itself."""
    chance = np.random.default_rng(seed)
    days = days_of(10)
    rows: list[Observation] = []
    for outcome, base, moved, spread in (("round_min", 240.0, effect, 6.0), ("strokes", 90.0, 0.0, 1.0)):
        for number in range(10):
            shift = float(chance.normal(0, 4))
            difference = float(chance.normal(moved, spread))
            for arm in Arm:
                day: TrialDay = next(day for day in days if day.pair == f"p{number}" and day.arm is arm)
                value = base + shift + (difference if arm is Arm.TRIAL else 0.0)
                rows += [Observation(day=day.day, outcome=outcome, value=value, group="g1", player="a")]
    members = expecting("round_min", 5) | ({"guards": '[{ outcome = "strokes", margin = 1, worse = "either" }]'} if guarded else {})
    return weigh(trial_of(members), days, rows).findings[0].overall


@pytest.mark.long
@pytest.mark.parametrize("times", [0.0, 1.0, 1.5])
def test_seasons_that_are_played_end_as_the_rehearsal_said(times: float) -> None:
    said = by_effect(rehearse([replace(SEARCHES, guards=(STROKES,))], pairs=10, seasons=4000))[times]
    played = [_played(seed, effect=-5 * times, guarded=True) for seed in range(1000)]
    for word in Overall:
        assert played.count(word) / 1000 == pytest.approx(said.overall[word], abs=0.05)
