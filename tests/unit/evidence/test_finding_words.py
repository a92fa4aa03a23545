"""What is said of a finding: sentences with what was measured, whatever the days and rows bring up."""

from __future__ import annotations

import re

from marram.evidence.findings import weigh_trial
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.finding_words import (
    account_sentences,
    answer_sentence,
    compared_sentence,
    finding_sentences,
    guard_sentence,
)
from marram.records.rows import Arm, Observation, TrialRecords
from tests.support.seasons import days_of, expecting, only, rows_of, steady, trial_of, weigh

ROUND = expecting("round_min", 5)


def test_the_first_sentences_tell_both_kinds_of_day_the_difference_and_what_it_rests_on() -> None:
    days = days_of(8)
    finding = only(weigh(trial_of(ROUND), days, rows_of(days, "round_min", steady(220, 240))))
    first, second, *_ = finding_sentences(finding)
    assert finding.effect is not None
    told = [f"{value:.2f}" for value in (finding.effect.trial_mean, finding.effect.ordinary_mean, abs(finding.effect.estimate))]
    assert re.findall(r"\d+\.\d\d", first)[:3] == told
    assert first.count("less") == 3
    assert second.startswith("At least 5 min less was wanted. This rests on 8 pairs of days and 160 values")
    assert "fewer than one of a thousand" in second
    wide = finding.effect.interval95
    assert f"(95 % interval: {-wide.low:.2f} min less to {-wide.high:.2f} min less)" in first


def test_more_is_told_as_more_and_counts_for_each_group() -> None:
    days = days_of(8)
    rows = rows_of(days, "rulings", lambda day, group: float((group + int(day.pair[1:])) % 3 + 2 * (day.arm is Arm.TRIAL)))
    first, second, *rest = finding_sentences(only(weigh(trial_of(expecting("rulings", 0.5, "up")), days, rows)))
    assert "more for each group on trial days" in first
    assert "At least 0.5 more for each group was wanted" in second
    assert any("times as often on trial days" in line for line in rest)


def test_what_is_shared_is_said_and_by_whom_else_it_may_have_come() -> None:
    days = days_of(8)
    watching = {"observes": '["round_min"]'}
    report = weigh(trial_of(ROUND, ROUND, watching), days, rows_of(days, "round_min", steady(220, 240)))
    told = " ".join(finding_sentences(report.findings[0]))
    assert "Change 2 was in force on the same days and to move the same" in told
    assert "no day says which of them did it. Together: did what it was meant to." in told
    assert "Change 3 may have moved it too" in told


def test_what_a_limit_does_by_definition_is_told_apart() -> None:
    """Ordinary searches of 100 and 160 s against 80 and 120 s: cut at 120 s the ordinary mean is 110 s, so 20 of the 30 s... by hand.

    Trial mean 100; ordinary 130; cut 110. The whole difference is -30, of which the limit makes -20 and play -10.
    """
    days = days_of(8)

    def value(day: object, group: int) -> float:
        number = int(day.pair[1:]) % 3 * 0.1  # type: ignore[attr-defined]
        if day.arm is Arm.TRIAL:  # type: ignore[attr-defined]
            return (80.0 if group % 2 else 120.0) - number
        return 100.0 if group % 2 else 160.0

    finding = only(weigh(trial_of(expecting("search_s", 10)), days, rows_of(days, "search_s", value)))
    assert finding.by_definition is not None
    assert finding.by_definition.limit == 120
    assert round(finding.by_definition.share_of_difference, 6) == -20
    told = " ".join(finding_sentences(finding))
    assert "Of this, 20.00 s less comes of the limit itself" in told
    assert "10.09 s less is left" in told


def test_balls_found_are_told_beside_it() -> None:
    days = days_of(6)
    rows = rows_of(days, "search_s", lambda day, group: 50.0 + group + int(day.pair[1:]) % 4 * (day.arm is Arm.TRIAL))
    rows += rows_of(days, "ball_found", lambda day, group: float(group < (6 if day.arm is Arm.TRIAL else 8)))
    told = " ".join(finding_sentences(only(weigh(trial_of(expecting("search_s", 10)), days, rows))))
    assert "Balls found in time: 20% of all searches fewer on trial days" in told


def test_a_guard_says_which_way_is_worse_and_better_is_never_harm() -> None:
    days = days_of(8)
    rows = rows_of(days, "round_min", steady(220, 240)) + rows_of(days, "waiting_min", steady(10, 30))
    members = ROUND | {"guards": '[{ outcome = "waiting_min", margin = 2 }]'}
    (guard,) = only(weigh(trial_of(members), days, rows)).guards
    assert guard.word.value == "kept"
    assert "More would be worse, and up to 2 min may pass: kept" in guard_sentence(guard)
    narrow = guard.interval90
    assert narrow is not None
    assert f"(90 % interval: {-narrow.low:.2f} min less to {-narrow.high:.2f} min less)" in guard_sentence(guard)
    either = ROUND | {"guards": '[{ outcome = "waiting_min", margin = 2, worse = "either" }]'}
    (changed,) = only(weigh(trial_of(either), days, rows)).guards
    assert changed.word.value == "harmed"


def test_what_hangs_on_single_days_and_what_is_missing_is_said() -> None:
    days = days_of(8)

    def value(day: object, group: int) -> float:
        number = int(day.pair[1:])  # type: ignore[attr-defined]
        effect = 20.0 if number == 5 else -4.0 - number % 3
        return 240 + (effect if day.arm is Arm.TRIAL else 0.0)  # type: ignore[attr-defined]

    rows = [row for row in rows_of(days, "round_min", value) if (row.day, row.group) != ("trial1", "g3")]
    told = " ".join(finding_sentences(only(weigh(trial_of(expecting("round_min", 3)), days, rows))))
    assert "without pair p5 alone the word would be another" in told
    assert "Values are missing: 1% of those of trial days" in told


def test_answers_are_told_with_question_and_players() -> None:
    days = days_of(6)
    trial = trial_of({"asks": '["Was it clear?"]', "observes": '["fair"]'})
    rows = [Observation(day="trial0", outcome="asked_yes", value=1, player="a", change=1, question=1)]
    rows += [Observation(day=day.day, outcome="fair", value=4 if day.arm is Arm.TRIAL else 3, player=f"p{day.pair}") for day in days]
    finding = only(weigh(trial, days, rows))
    told = [answer_sentence(lot) for lot in finding.answers]
    assert any(line.startswith("“Was it clear?”: of 1 answers") and "100% say yes" in line for line in told)
    assert any("on ordinary days" in line for line in told)
    (compared,) = finding.answers_compared
    assert "with a chance of 100%" in compared_sentence(compared)


def test_an_interim_report_has_no_word_until_the_plan_ends_or_the_trial_is_closed() -> None:
    days = days_of(8)
    records = TrialRecords(days=days, observations=tuple(rows_of(days, "round_min", steady(220, 240))))
    open_trial = trial_of(ROUND, status='"open"', **{"from": "2026-04-01"})
    early = weigh_trial(open_trial, records, planned_pairs=12)
    assert early.is_interim
    assert early.findings[0].verdict is Verdict.TOO_LITTLE
    assert early.findings[0].reason == "interim: 8 of 12 pairs are played, and the plan has no word before its end"
    closed = weigh_trial(trial_of(ROUND, status='"closed"', **{"from": "2026-04-01"}), records, planned_pairs=12)
    assert not closed.is_interim
    assert closed.findings[0].verdict is Verdict.DOES_IT
    assert not weigh_trial(open_trial, records, planned_pairs=8).is_interim
    assert not weigh_trial(open_trial, records).is_interim


def test_every_row_is_told_by_outcome_and_kind_of_day() -> None:
    days = days_of(6)
    rows = rows_of(days, "round_min", steady(220, 240)) + rows_of(days[:1], "green_repair_s", lambda day, group: 30.0)
    told = account_sentences(weigh(trial_of(ROUND), days, rows))
    assert "Times of a round, trial days: 60 read, 60 weighed." in told
    assert "Times of repairing the green, trial days: 10 read, 0 weighed; 10 not: no verdict or answer rests on it." in told
