"""Rows of the first page: on one scale, better to the right, with their words and the square beside them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marram.evidence.effects import UNBOUNDED, Interval, PairedDifference
from marram.evidence.guards import GuardWord
from marram.evidence.telling.answer_bars import AnswerBar, answer_bars
from marram.evidence.telling.scaled_rows import Sign, change_rows, guard_rows
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.response import KindResponse, QuestionResponse
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport
from marram.evidence.weighing.weighting import Cell, weighted_share
from marram.records.outcomes import Worse, find_outcome
from marram.records.rows import Arm
from marram.rulebook.differences.told_change import ToldChange
from tests.support.seasons import days_of, expecting, only, rows_of, steady, trial_of, weigh

TOLD = {number: ToldChange(about=f"Rule {number}", before="three", now="two") for number in (1, 2, 3)}


def report_of(*changes: dict[str, str], outcome: str = "round_min", trial: float = 220, ordinary: float = 240) -> TrialReport:
    days = days_of(8)
    return weigh(trial_of(*changes), days, rows_of(days, outcome, steady(trial, ordinary)))


def with_finding(report: TrialReport, **changed: object) -> TrialReport:
    return replace(report, findings=(replace(only(report), **changed),))  # type: ignore[arg-type]


def effect_of(finding: ChangeFinding) -> tuple[float, Interval]:
    assert finding.effect is not None
    return finding.effect.estimate, finding.effect.interval95


@pytest.mark.parametrize(("direction", "turn"), [("down", -1), ("up", 1)])
def test_an_effect_is_told_in_multiples_of_what_matters_with_better_above_nothing(direction: str, turn: int) -> None:
    report = report_of(expecting("round_min", 5, direction))
    (row,) = change_rows(report, TOLD)
    estimate, interval = effect_of(only(report))
    assert row.effect is not None
    assert row.effect.estimate == pytest.approx(turn * estimate / 5)
    assert row.effect.interval95 == pytest.approx(sorted((turn * interval.low / 5, turn * interval.high / 5)))
    assert row.unit_of_scale == 5
    assert row.sentence[0] == "A group takes "
    assert row.sentence[1] == f"{abs(estimate):.2f} min less"
    assert f"5 {'less' if direction == 'down' else 'longer'} would matter." in row.limits


def test_an_interval_on_one_side_tells_its_way_once_and_one_on_both_tells_it_twice() -> None:
    (clear,) = change_rows(report_of(expecting("round_min", 5)), TOLD)
    near, _, far = clear.limits.partition(" (95 %)")[0].partition(" to ")
    assert float(near) < float(far.partition(" ")[0])
    assert far.endswith(" min less")
    report = report_of(expecting("round_min", 5), trial=238.5)
    (open_row,) = change_rows(report, TOLD)
    assert " min less to " in open_row.limits
    assert " longer (95 %)" in open_row.limits


def test_what_nothing_bounds_is_said_and_has_no_interval() -> None:
    report = report_of(expecting("round_min", 5))
    finding = only(report)
    assert isinstance(finding.effect, PairedDifference)
    loose = replace(finding.effect, interval95=UNBOUNDED, interval90=UNBOUNDED)
    (row,) = change_rows(with_finding(report, effect=loose), TOLD)
    assert row.effect is not None
    assert (row.effect.interval95, row.effect.interval90) == (None, None)
    assert row.limits == "The days bound nothing; 5 min less would matter."


def test_a_change_of_which_nothing_was_expected_has_nothing_to_draw() -> None:
    (row,) = change_rows(report_of({"observes": '["round_min"]'}), TOLD)
    assert (row.effect, row.unit_of_scale, row.outcome, row.limits) == (None, None, "", "")
    assert row.sentence == ("Rule 1: two instead of three.", "", "")
    assert (row.word, row.reason) == ("Too little to judge", "nothing was expected of it")


@pytest.mark.parametrize(
    ("verdict", "sign"),
    [
        (Verdict.DOES_IT, Sign.FULL),
        (Verdict.DOES_IT_SIZE_OPEN, Sign.HALF),
        (Verdict.WORKS_LESS, Sign.HALF),
        (Verdict.NOT_SHOWN, Sign.HALF),
        (Verdict.TOO_LITTLE, Sign.HALF),
        (Verdict.NO_DIFFERENCE, Sign.EMPTY),
        (Verdict.OPPOSITE, Sign.EMPTY),
        (Verdict.OPPOSITE_SLIGHT, Sign.EMPTY),
    ],
)
def test_the_square_is_full_for_shown_half_for_open_and_empty_for_no(verdict: Verdict, sign: Sign) -> None:
    (row,) = change_rows(with_finding(report_of(expecting("round_min", 5)), verdict=verdict, pairs_to_settle=None), TOLD)
    assert (row.word, row.sign) == (verdict.value[0].upper() + verdict.value[1:], sign)


def test_what_would_settle_it_is_said() -> None:
    (row,) = change_rows(with_finding(report_of(expecting("round_min", 5)), verdict=Verdict.NOT_SHOWN, pairs_to_settle=18), TOLD)
    assert row.reason == "about 18 pairs in all would settle it"


def test_changes_of_which_the_same_is_said_share_a_row_and_others_do_not() -> None:
    same = change_rows(report_of(expecting("round_min", 5), expecting("round_min", 5)), TOLD)
    assert [row.changes for row in same] == [(1, 2)]
    other = change_rows(report_of(expecting("round_min", 5), expecting("round_min", 4)), TOLD)
    assert [row.changes for row in other] == [(1,), (2,)]


def guarded(worse: Worse, estimate: float | None, word: GuardWord = GuardWord.KEPT, outcome: str = "strokes") -> TrialReport:
    ends = None if estimate is None else Interval(low=estimate - 0.2, high=estimate + 0.3)
    wide = None if estimate is None else Interval(low=estimate - 0.4, high=estimate + 0.6)
    guard = GuardFinding(
        outcome=find_outcome(outcome), margin=0.5, worse=worse, estimate=estimate, interval90=ends, ratio=None, word=word, interval95=wide
    )
    return with_finding(report_of(expecting("round_min", 5)), guards=(guard,))


@pytest.mark.parametrize(
    ("worse", "turn", "margin"),
    [(Worse.UP, -1, "0.5 more is the margin."), (Worse.DOWN, 1, "0.5 fewer is the margin."), (Worse.EITHER, -1, "0.5 either way is the")],
)
def test_what_must_not_get_worse_is_told_in_margins_with_worse_below_nothing(worse: Worse, turn: int, margin: str) -> None:
    """0.1 strokes more, 90 % from 0.1 fewer to 0.4 more, 95 % from 0.3 fewer to 0.7 more; the margin is 0.5."""
    (row,) = guard_rows(guarded(worse, 0.1))
    assert row.effect is not None
    assert row.effect.estimate == pytest.approx(turn * 0.2)
    assert row.effect.interval90 == pytest.approx(sorted((turn * -0.2, turn * 0.8)))
    assert row.effect.interval95 == pytest.approx(sorted((turn * -0.6, turn * 1.4)))
    assert row.is_either_way is (worse is Worse.EITHER)
    assert row.sentence == ("A round takes ", "0.10 strokes more", ".")
    assert row.limits.startswith("0.10 strokes fewer to 0.40 more (90 %); ")
    assert margin in row.limits


@pytest.mark.parametrize(("word", "sign"), [(GuardWord.KEPT, Sign.FULL), (GuardWord.OPEN, Sign.HALF), (GuardWord.HARMED, Sign.EMPTY)])
def test_the_square_of_what_must_not_get_worse(word: GuardWord, sign: Sign) -> None:
    (row,) = guard_rows(guarded(Worse.UP, 0.1, word))
    assert (row.sign, row.reason) == (sign, "")


def test_a_guard_without_values_says_so() -> None:
    (row,) = guard_rows(guarded(Worse.UP, None, GuardWord.OPEN))
    assert (row.effect, row.reason) == (None, "too few pairs have values")
    assert row.limits == "0.5 more is the margin."


def test_a_guard_is_weighed_at_95_as_well() -> None:
    days = days_of(8)
    change = expecting("round_min", 5) | {"guards": '[{ outcome = "strokes", margin = 1.5 }]', "observes": '["round_min", "strokes"]'}
    rows = rows_of(days, "round_min", steady(220, 240)) + rows_of(days, "strokes", steady(90, 90))
    (guard,) = only(weigh(trial_of(change), days, rows)).guards
    assert guard.interval90 is not None
    assert guard.interval95 is not None
    assert guard.interval95.low < guard.interval90.low < guard.interval90.high < guard.interval95.high


def test_a_share_is_told_in_a_hundred() -> None:
    (row,) = guard_rows(guarded(Worse.UP, 0.1, outcome="stick_in"))
    assert row.sentence[1] == "10.0 more"
    assert row.limits == "10.0 fewer to 40.0 more (90 %); 50 more is the margin."


def test_an_answer_bar_tells_its_share_with_the_worst_of_the_silent() -> None:
    bar = AnswerBar(change=3, counts=(1, 2, 3, 4, 5), share=0.6, interval95=(0.541, 0.658), worst_cases=(0.38, 0.75), asked=40, answered=15)
    assert bar.words == "60 in 100 call it fairer (54 to 66); 38 to 75, whatever the silent think."
    assert bar.drawn_words == "Change 3: 5 much fairer, 4 fairer, 3 no different, 2 less fair, 1 much less fair."
    bare = replace(bar, interval95=None, worst_cases=None, asked=None)
    assert bare.words == "60 in 100 call it fairer."
    assert replace(bar, share=None).words == "Nobody answered."


def test_the_bar_is_of_trial_days_and_weighted_to_who_was_asked() -> None:
    """Of ordinary days others were asked, and their answers are no answer about the change."""
    kinds = {
        Arm.ORDINARY: (KindResponse(kind="all", asked=9, did_not_meet=0, answered=8, yes=8),),
        Arm.TRIAL: (
            KindResponse(kind="low", asked=100, did_not_meet=10, answered=30, yes=15),
            KindResponse(kind="high", asked=50, did_not_meet=0, answered=20, yes=5),
        ),
    }
    share = weighted_share(
        [Cell(name="low", invited=100, answered=30, yes=15, not_theirs=10), Cell(name="high", invited=50, answered=20, yes=5)]
    )
    responses = tuple(
        QuestionResponse(outcome=find_outcome("fair"), question="", arm=arm, kinds=kinds[arm], share=share if arm is Arm.TRIAL else None)
        for arm in (Arm.ORDINARY, Arm.TRIAL)
    )
    (bar,) = answer_bars(with_finding(report_of(expecting("round_min", 5)), responses=responses))
    assert (bar.asked, bar.answered, bar.share) == (150, 50, share.estimate)
    assert bar.worst_cases == (share.if_silent_said_no, share.if_silent_said_yes)
    assert answer_bars(report_of(expecting("round_min", 5))) == ()
