"""Looks that are planned before the end of a trial: a word where the bound of the look is passed, and few by chance over all looks."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import Any

import numpy as np
import pytest
from scipy.stats import binom, nct, norm, t

from marram.core.errors import StudyError
from marram.evidence.effects import paired_days
from marram.evidence.findings import weigh_trial
from marram.evidence.guards import GuardWord
from marram.evidence.looks import Bounds, Looks, PlannedLook, alarm_at, chance_of_alarm, plan_looks, standard_errors
from marram.evidence.planning.rehearsal import RehearsedChange, RehearsedGuard, rehearse
from marram.evidence.verdicts import Overall, Verdict, is_praise, line_over
from marram.evidence.weighing.finding_words import finding_sentences
from marram.evidence.weighing.told_findings import TrialReport
from marram.records.outcomes import Worse
from marram.records.rows import Arm, Observation, TrialRecords
from tests.support.seasons import days_of, expecting, trial_of

ROUND = expecting("round_min", 6)
LOOKS = plan_looks(3, 24)
PLANNED: dict[str, Any] = {"planned_pairs": 24, "looks": LOOKS}
OPEN = {"status": '"open"', "from": "2026-04-01"}
CLOSED = {"status": '"closed"', "from": "2026-04-01"}


def season(**differences: Sequence[float]) -> TrialRecords:
    """Pairs of days whose values differ by so much, by outcome: trial day less ordinary day."""
    (pairs,) = {len(each) for each in differences.values()}
    days = days_of(pairs)
    rows = [
        Observation(
            day=day.day, outcome=outcome, value=200 + (each[int((day.pair or "p0")[1:])] if day.arm is Arm.TRIAL else 0.0), group="g1"
        )
        for outcome, each in differences.items()
        for day in days
    ]
    return TrialRecords(days=days, observations=tuple(rows))


def lying(mean: float, far: float, pairs: int) -> list[float]:
    """Differences with a mean, whose |t| stands for so many standard errors of the normal law."""
    wanted = float(t.isf(norm.sf(far), pairs - 1))
    shape = np.array([(-1.0) ** place for place in range(pairs)])
    shape -= shape.mean()
    return list(mean + shape * (abs(mean) * sqrt(pairs) / wanted / shape.std(ddof=1)))


def looked_at(differences: Sequence[float], *, life: dict[str, str] = OPEN, pairs: int = 24, looks: Looks = LOOKS) -> TrialReport:
    return weigh_trial(trial_of(ROUND, **life), season(round_min=differences), planned_pairs=pairs, looks=looks)


def test_the_published_bounds_come_after_equal_numbers_of_pairs() -> None:
    """O'Brien and Fleming, 1979, at 5 %: 3.471, 2.454, 2.004 for three looks; Pocock, 1977: 2.289 at each of three."""
    assert [look.pairs for look in LOOKS.planned] == [8, 16, 24]
    assert list(LOOKS.bounds) == pytest.approx([3.471, 2.454, 2.004], abs=6e-4)
    assert list(plan_looks(3, 24, Bounds.LEVEL).bounds) == pytest.approx([2.289] * 3, abs=6e-4)
    assert [look.pairs for look in plan_looks(3, 20).planned] == [7, 13, 20]


@pytest.mark.parametrize(("looks", "pairs", "hint"), [(2, 10, "Plan 1 look at most"), (5, 24, "Plan 4 looks at most"), (11, 90, "1 to 10")])
def test_a_look_that_could_say_nothing_is_refused(looks: int, pairs: int, hint: str) -> None:
    with pytest.raises(StudyError) as refused:
        plan_looks(looks, pairs)
    assert hint in (refused.value.hint or "")
    assert plan_looks(2, 12).planned[0].pairs == 6


def test_t_is_brought_to_the_normal_law_through_p() -> None:
    """t = 2.365 with 7 degrees of freedom has p = 5 %, and so has z = 1.960."""
    assert standard_errors(0.05) == pytest.approx(1.959964, abs=1e-6)
    assert standard_errors(float(2 * t.sf(2.364624, 7))) == pytest.approx(1.959964, abs=1e-5)
    assert standard_errors(0.0) > 30


@pytest.mark.parametrize("shape", Bounds)
def test_the_p_over_all_looks_is_five_in_a_hundred_just_at_a_bound(shape: Bounds) -> None:
    looks = plan_looks(3, 24, shape)
    for planned in looks.planned:
        look = looks.look_at(planned.pairs)
        assert look is not None
        at_bound = float(2 * norm.sf(planned.bound))
        assert look.p_of_all(at_bound) == pytest.approx(0.05, abs=1e-4)
        assert look.p_of_all(at_bound * 0.9) < 0.05 < look.p_of_all(at_bound * 1.1)


def test_what_lies_far_out_is_hardly_ever_chance() -> None:
    assert alarm_at(4.0, [2.0]) == pytest.approx(2 * norm.sf(8.0))
    assert 0 < alarm_at(40.0, LOOKS.bounds) + 1e-300 < 1e-100
    assert alarm_at(3.0, LOOKS.bounds) == pytest.approx(2 * norm.sf(3 * LOOKS.bounds[2]), rel=0.02)


def test_a_trial_that_ends_between_looks_has_the_bound_of_the_same_sum() -> None:
    """2.004 sqrt(24 / 20) = 2.195; a level bound stays where it is."""
    assert LOOKS.look_at(20) is None
    assert LOOKS.look_at_end(20).bound == pytest.approx(2.004 * sqrt(24 / 20), abs=1e-3)
    assert LOOKS.look_at_end(26).bound == LOOKS.bounds[2]
    assert plan_looks(3, 24, Bounds.LEVEL).look_at_end(20).bound == pytest.approx(2.289, abs=6e-4)


def test_an_early_end_raises_no_more_alarms() -> None:
    sums = np.random.default_rng(5).normal(size=(40_000, 24)).cumsum(axis=1)
    far = np.abs(sums / np.sqrt(np.arange(1, 25)))
    alarms = sum((far[:, pairs - 1] > LOOKS.bound_at(pairs) for pairs in (8, 16, 21)), np.zeros(40_000)) > 0
    assert alarms.mean() <= 0.05 + 3 * sqrt(0.05 * 0.95 / 40_000)


@pytest.mark.parametrize(("pairs", "bound"), [(8, 3.471), (16, 2.454)])
def test_at_a_look_a_word_is_said_just_where_its_bound_is_passed(pairs: int, bound: float) -> None:
    beyond, short = (looked_at(lying(-7, bound + off, pairs)) for off in (0.02, -0.02))
    assert beyond.is_interim
    assert short.is_interim
    (found,) = beyond.findings
    assert (found.verdict, found.overall) == (Verdict.DOES_IT_SIZE_OPEN, Overall.DID)
    assert found.reason == f"interim: look {pairs // 8} of 3, after {pairs} pairs of days, and its bound is passed"
    assert found.look is not None
    assert found.look.is_passed
    assert found.look.interval.high < 0 < found.look.interval.high + 1
    assert found.look.standard_errors == pytest.approx(bound + 0.02, abs=1e-3)
    (none,) = short.findings
    assert (none.verdict, none.overall) == (Verdict.TOO_LITTLE, Overall.OPEN)
    assert f"its bound of {bound:.2f} standard errors is not passed" in none.reason
    assert none.look is not None
    assert not none.look.is_passed
    assert none.look.interval.low < 0 < none.look.interval.high


def test_the_other_way_has_a_word_at_a_look_too() -> None:
    assert looked_at(lying(15, 4.0, 8)).findings[0].overall is Overall.DID_NOT


def test_between_looks_there_is_no_word_however_far_it_lies() -> None:
    report = looked_at(lying(-7, 6.0, 9))
    assert report.look is None
    assert report.findings[0].verdict is Verdict.TOO_LITTLE
    assert report.findings[0].reason == "interim: 9 of 24 pairs are played, and the plan has a word after 8, 16, 24 pairs alone"
    assert report.findings[0].look is None


def test_at_the_end_the_last_bound_holds_in_place_of_five_in_a_hundred() -> None:
    """1.98 standard errors are beyond 1.96 and short of 2.004."""
    without = weigh_trial(trial_of(ROUND, **OPEN), season(round_min=lying(-7, 1.98, 24)), planned_pairs=24)
    assert is_praise(without.findings[0].verdict)
    short, beyond = (looked_at(lying(-7, far, 24)) for far in (1.98, 2.03))
    assert not short.is_interim
    assert short.findings[0].verdict is Verdict.NOT_SHOWN
    assert beyond.findings[0].verdict is Verdict.DOES_IT_SIZE_OPEN
    assert beyond.findings[0].reason == ""


def test_a_trial_that_is_closed_before_its_end_is_held_to_the_bound_of_its_pairs() -> None:
    """After 20 of 24 pairs 2.195 is the bound."""
    short, beyond = (looked_at(lying(-7, far, 20), life=CLOSED) for far in (2.1, 2.25))
    assert not short.is_interim
    assert short.findings[0].verdict is Verdict.NOT_SHOWN
    assert beyond.findings[0].verdict is Verdict.DOES_IT_SIZE_OPEN
    told = " ".join(finding_sentences(beyond.findings[0]))
    assert "The end, of 3 planned looks, after 20 pairs of days: an effect must lie 2.20 standard errors" in told


def test_what_is_said_at_a_look_tells_its_bound_and_that_other_intervals_are_not_widened() -> None:
    told = " ".join(finding_sentences(looked_at(lying(-7, 3.6, 8)).findings[0]))
    assert (
        "Look 1 of 3, after 8 pairs of days: an effect must lie 3.47 standard errors from nothing; this lies 3.60, and the bound is" in told
    )
    assert "At the level of this look (99.95%)" in told
    assert "other intervals are not widened for the looks" in told


def test_a_guard_not_yet_shown_leaves_an_interim_line_open_and_is_held_to_its_own_bound() -> None:
    """At the first of three looks a guard needs an interval of more than 99 %: sd 1 over eight pairs makes that wider than 1."""
    guarded = trial_of(ROUND | {"guards": '[{ outcome = "waiting_min", margin = 1, worse = "up" }]'}, **OPEN)
    loose, tight = (
        weigh_trial(guarded, season(round_min=lying(-7, 3.6, 8), waiting_min=[wide * (-1) ** n for n in range(8)]), **PLANNED)
        for wide in (1.0, 0.1)
    )
    assert loose.findings[0].guards[0].word is GuardWord.OPEN
    assert loose.findings[0].overall is Overall.OPEN
    assert loose.findings[0].verdict is Verdict.DOES_IT_SIZE_OPEN
    assert tight.findings[0].guards[0].word is GuardWord.KEPT
    assert tight.findings[0].overall is Overall.DID
    look = LOOKS.look_at(8)
    assert look is not None
    assert 0.99 < look.guard_level < look.level
    last = LOOKS.look_at(24)
    assert last is not None
    assert 0.90 < last.guard_level < 0.92


def test_changes_weighed_together_share_the_allowance_at_every_look() -> None:
    """Two outcomes, one just beyond its bound both ways: over all looks 2.5 % one way, doubled 5 %; with three it is 7.5 %."""
    still = [(-1.0) ** n for n in range(8)]
    far = lying(-7, 3.48, 8)
    two = trial_of(ROUND, expecting("waiting_min", 4), **OPEN)
    three = trial_of(ROUND, expecting("waiting_min", 4), expecting("strokes", 4), **OPEN)
    both = season(round_min=far, waiting_min=still)
    assert weigh_trial(two, both, **PLANNED).findings[0].verdict is Verdict.DOES_IT_SIZE_OPEN
    all_three = season(round_min=far, waiting_min=still, strokes=still)
    assert weigh_trial(three, all_three, **PLANNED).findings[0].verdict is Verdict.TOO_LITTLE
    # an outcome that has no rows yet may be judged at another look, and takes its share now
    assert weigh_trial(three, both, **PLANNED).findings[0].verdict is Verdict.TOO_LITTLE


@pytest.fixture
def no_coins(monkeypatch: pytest.MonkeyPatch) -> None:
    """No word rests on the turning of coins, and it takes nearly all the time of a report."""
    monkeypatch.setattr("marram.evidence.effects._sign_flip_p", lambda values, seed: 1.0)


def _is_ever_praised(chance: np.random.Generator, changes: int, looks: Looks, pairs: int) -> bool:
    """Whether any change is praised at any look of a season in which nothing has an effect, by the report itself."""
    outcomes = ("round_min", "waiting_min", "strokes")[:changes]
    trial = trial_of(*(expecting(outcome, 0.01) for outcome in outcomes), **OPEN)
    drawn = {outcome: list(chance.normal(0, 6, pairs)) for outcome in outcomes}
    for look in looks.planned:
        so_far = season(**{outcome: each[: look.pairs] for outcome, each in drawn.items()})
        report = weigh_trial(trial, so_far, planned_pairs=pairs, looks=looks)
        if any(is_praise(found.verdict) for found in report.findings):
            return True
    return False


def share_praised(seasons: int, changes: int, looks: Looks, pairs: int) -> float:
    chance = np.random.default_rng([11, changes])
    return sum(_is_ever_praised(chance, changes, looks, pairs) for _ in range(seasons)) / seasons


@pytest.mark.usefixtures("no_coins")
def test_looking_again_and_again_praises_nothing_by_chance() -> None:
    """One change is praised one way alone, so at most in 2.5 of 100 seasons."""
    assert share_praised(120, 1, plan_looks(2, 12), 12) <= 0.025 + 3 * sqrt(0.025 * 0.975 / 120)


@pytest.mark.long
@pytest.mark.usefixtures("no_coins")
@pytest.mark.parametrize("shape", Bounds)
@pytest.mark.parametrize("changes", [1, 3])
def test_two_thousand_seasons_of_looks_raise_false_praise_in_at_most_five_of_a_hundred(changes: int, shape: Bounds) -> None:
    found = share_praised(2_000, changes, plan_looks(4, 24, shape), 24)
    assert found <= 0.05 + 2 * sqrt(0.05 * 0.95 / 2_000)
    if changes == 1:  # one change is praised one way alone
        assert found == pytest.approx(0.025, abs=3 * sqrt(0.025 * 0.975 / 2_000))


def test_many_seasons_by_the_t_test_alone_keep_the_bounds() -> None:
    """t with few pairs is no normal law: through p its bounds hold all the same."""
    drawn = np.random.default_rng(7).normal(size=(20_000, 24))
    alarms = np.zeros(20_000, dtype=bool)
    for look in LOOKS.planned:
        seen = drawn[:, : look.pairs]
        far = np.abs(seen.mean(axis=1) / seen.std(axis=1, ddof=1) * sqrt(look.pairs))
        alarms |= norm.isf(t.sf(far, look.pairs - 1)) >= look.bound
    assert alarms.mean() == pytest.approx(0.05, abs=3 * sqrt(0.05 * 0.95 / 20_000) + 0.003)


def test_the_outlook_is_drawn_with_the_looks() -> None:
    """Where twice what matters is there most seasons end early; where nothing is, hardly any does, and praise stays within 2.5 of 100."""
    change = RehearsedChange(number=1, outcome="round_min", matters=5, sd=6, wants_less=True)
    found = {outlook.supposed: outlook for outlook in rehearse([change], pairs=24, seasons=1500, looks=LOOKS)}
    plain = {outlook.supposed: outlook for outlook in rehearse([change], pairs=24, seasons=200)}
    assert sum(found[0.0].ended_at) < 0.03
    assert sum(share for word, share in found[0.0].verdicts.items() if is_praise(word)) <= 0.025 + 3 * sqrt(0.025 * 0.975 / 1500)
    # the noncentral t: an effect of 10 with sd 6 over eight pairs, against the |t| that stands for 3.471
    early = nct.sf(t.isf(norm.sf(LOOKS.bounds[0]), 7), 7, 10 / 6 * sqrt(8))
    assert found[2.0].ended_at[0] == pytest.approx(early, abs=3 * sqrt(0.25 / 1500))
    assert sum(found[2.0].ended_at) > 0.98
    assert found[2.0].overall[Overall.DID] > 0.98
    assert plain[2.0].ended_at == ()
    assert sum(found[1.0].overall.values()) == pytest.approx(1)


@pytest.mark.usefixtures("no_coins")
def test_the_outlook_agrees_with_seasons_that_are_weighed() -> None:
    """The chance of a line at the first look, by the report itself."""
    guard = RehearsedGuard(outcome="waiting_min", margin=2.0, worse=Worse.UP, sd=1.0)
    change = RehearsedChange(number=1, outcome="round_min", matters=6, sd=6, wants_less=True, guards=(guard,))
    (said,) = rehearse([change], pairs=24, seasons=1500, looks=LOOKS, supposed=(1.5,))
    trial = trial_of(ROUND | {"guards": '[{ outcome = "waiting_min", margin = 2, worse = "up" }]'}, **OPEN)
    chance = np.random.default_rng(3)
    ended = 0
    for _ in range(150):
        records = season(round_min=list(chance.normal(-9, 6, 8)), waiting_min=list(chance.normal(0, 1, 8)))
        ended += weigh_trial(trial, records, planned_pairs=24, looks=LOOKS).findings[0].overall is not Overall.OPEN
    assert ended / 150 == pytest.approx(said.ended_at[0], abs=3 * sqrt(0.25 / 150))


def test_frozen_bounds_are_taken_as_they_were_frozen() -> None:
    own = Looks(planned=(PlannedLook(pairs=8, bound=3.0), PlannedLook(pairs=16, bound=2.2)))
    look = own.look_at(8)
    assert look is not None
    assert look.passed_by(float(2 * norm.sf(3.01)))
    assert not look.passed_by(float(2 * norm.sf(2.99)))
    assert look.p_of_all(float(2 * norm.sf(3.0))) == pytest.approx(chance_of_alarm([3.0, 2.2]))
    assert paired_days([("a", 1, 0), ("b", 1, 0)]).has_spread is False


def test_a_change_that_is_judged_elsewhere_takes_no_share_of_the_allowance() -> None:
    """Two outcomes share 5 %, so one just beyond its bound is praised; a third that days do not judge leaves that as it is."""
    still = [(-1.0) ** n for n in range(8)]
    records = season(round_min=lying(-7, 3.48, 8), waiting_min=still)
    three = trial_of(ROUND, expecting("waiting_min", 4), expecting("strokes", 4), **OPEN)
    assert weigh_trial(three, records, elsewhere=frozenset({3}), **PLANNED).findings[0].verdict is Verdict.DOES_IT_SIZE_OPEN


def test_a_guard_that_is_harmed_is_told_before_the_end_though_another_is_open() -> None:
    assert line_over(Verdict.DOES_IT, [GuardWord.HARMED, GuardWord.OPEN], is_interim=True) is Overall.MIXED
    assert line_over(Verdict.DOES_IT, [GuardWord.KEPT, GuardWord.OPEN], is_interim=True) is Overall.OPEN
    assert line_over(Verdict.DOES_IT, [GuardWord.KEPT, GuardWord.OPEN]) is Overall.MIXED


def test_a_look_is_taken_once_so_many_pairs_are_kept_and_not_before() -> None:
    """An effect ten times the spread passes any bound: the first look ends just those seasons in which eight of 24 pairs are kept."""
    change = RehearsedChange(number=1, outcome="round_min", matters=5, sd=1, wants_less=True)
    (found,) = rehearse([change], pairs=24, lost=0.8, seasons=1500, looks=LOOKS, supposed=(2.0,))
    assert found.ended_at[0] == pytest.approx(binom.sf(7, 24, 0.2), abs=3 * sqrt(0.09 * 0.91 / 1500))
