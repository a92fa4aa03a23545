"""What days cannot tell apart is not credited: findings are shared, and false praise is rare over all changes together."""

from __future__ import annotations

import random

import pytest

from marram.evidence.verdicts import Overall, Verdict, is_praise
from marram.records.rows import Arm, TrialDay
from tests.support.seasons import days_of, expecting, rows_of, steady, trial_of, weigh

ROUND = expecting("round_min", 5)


def test_three_changes_that_expect_one_outcome_share_one_finding_and_none_is_credited() -> None:
    days = days_of(8)
    report = weigh(trial_of(ROUND, ROUND, ROUND), days, rows_of(days, "round_min", steady(220, 240)))
    assert [finding.together for finding in report.findings] == [(2, 3), (1, 3), (1, 2)]
    assert len({(finding.effect.estimate, finding.p_holm) for finding in report.findings if finding.effect}) == 1
    assert {finding.verdict for finding in report.findings} == {Verdict.DOES_IT}
    assert {finding.overall for finding in report.findings} == {Overall.OPEN}
    assert {finding.overall_together for finding in report.findings} == {Overall.DID}


def test_what_is_shared_is_weighed_once() -> None:
    """Three changes with one outcome are one test: p is not raised for them, as it is where there are two outcomes."""
    days = days_of(8)
    rows = rows_of(days, "round_min", steady(220, 240))
    shared = weigh(trial_of(ROUND, ROUND, ROUND), days, rows).findings[0]
    alone = weigh(trial_of(ROUND), days, rows).findings[0]
    assert alone.effect is not None
    assert shared.p_holm == alone.p_holm == alone.effect.p_t
    more = [*rows, *rows_of(days, "waiting_min", steady(20, 20))]
    two = weigh(trial_of(ROUND, expecting("waiting_min", 5)), days, more).findings
    assert two[0].p_holm == pytest.approx(2 * alone.effect.p_t)
    assert two[0].together == ()


def test_rows_tagged_with_a_change_are_its_own_unless_they_belong_to_the_round() -> None:
    days = days_of(6)
    rulings = rows_of(days, "rulings", lambda day, group: float(group % 3), change=1) + rows_of(
        days, "rulings", lambda day, group: float(group % 2), change=2
    )
    report = weigh(trial_of(expecting("rulings", 0.5), expecting("rulings", 0.5)), days, rulings)
    assert [finding.together for finding in report.findings] == [(), ()]
    rounds = rows_of(days, "round_min", steady(220, 240), change=1)
    report = weigh(trial_of(ROUND, ROUND), days, rounds)
    assert [finding.together for finding in report.findings] == [(2,), (1,)]


def test_a_change_that_only_observes_or_guards_an_outcome_is_named() -> None:
    days = days_of(6)
    guarding = {"observes": '["waiting_min"]', "guards": '[{ outcome = "round_min", margin = 5 }]'}
    report = weigh(trial_of(ROUND, guarding, {"observes": '["round_min"]'}), days, rows_of(days, "round_min", steady(220, 240)))
    assert (report.findings[0].together, report.findings[0].also_touched_by) == ((), (2, 3))
    assert report.findings[0].overall is Overall.DID


OUTCOMES = (("round_min", 5.0), ("waiting_min", 3.0), ("hole_min", 0.5), ("green_repair_s", 10.0))


def _season_where_nothing_changed(seed: int) -> bool:
    """Whether anything is praised in a season of four changes, each with an outcome of its own, none of which does anything."""
    chance = random.Random(seed)
    days = days_of(8)
    rows = []
    for outcome, matters in OUTCOMES:
        means = {day.day: 20 * matters + chance.gauss(0, matters) for day in days}

        def value(day: TrialDay, group: int, means: dict[str, float] = means, spread: float = matters) -> float:
            return means[day.day] + chance.gauss(0, spread)

        rows += rows_of(days, outcome, value, groups=4)
    found = weigh(trial_of(*(expecting(outcome, matters) for outcome, matters in OUTCOMES)), days, rows).findings
    return any(is_praise(finding.verdict) for finding in found)


@pytest.mark.long
def test_over_all_changes_false_praise_is_at_most_one_in_twenty() -> None:
    seasons = 1000
    praised = sum(map(_season_where_nothing_changed, range(seasons)))
    assert praised <= 0.05 * seasons + 2 * (0.05 * 0.95 * seasons) ** 0.5
    assert praised >= 0.01 * seasons, "hardly ever: the rule would be too strict to show anything"


def test_false_praise_is_held_down_for_a_few_seasons() -> None:
    assert sum(map(_season_where_nothing_changed, range(12))) <= 3


def test_an_effect_that_one_outcome_alone_would_show_is_not_praised_among_four() -> None:
    """One-sided p of 0.014 alone is praise; among four outcomes Holm raises it to 0.056."""
    days = days_of(8)
    differences = (-4.0, -1.0, -3.0, 1.0, -2.5, 0.0, -2.5, -1.0)  # mean -1.625, sd 1.664: t = -2.763 on 7 degrees of freedom

    def value(day: TrialDay, group: int) -> float:
        return 100 + (differences[int(day.pair[1:])] if day.arm is Arm.TRIAL else 0)

    rows = rows_of(days, "round_min", value)
    alone = weigh(trial_of(expecting("round_min", 1)), days, rows).findings[0]
    assert alone.effect is not None
    assert alone.effect.p_t / 2 == pytest.approx(0.0140, abs=0.0005)
    assert alone.verdict is Verdict.DOES_IT_SIZE_OPEN
    others = [row for outcome in ("waiting_min", "hole_min", "green_repair_s") for row in rows_of(days, outcome, steady(20, 20))]
    four = weigh(trial_of(expecting("round_min", 1), *(expecting(outcome, 5) for outcome, _ in OUTCOMES[1:])), days, [*rows, *others])
    assert four.findings[0].verdict is Verdict.NOT_SHOWN
    assert "by chance" in four.findings[0].reason
