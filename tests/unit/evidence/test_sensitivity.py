"""Lines of sensitivity: where arithmetic by hand says what they must be, when they are told, and that no word hangs on them."""

from __future__ import annotations

from dataclasses import replace
from math import exp, log, sqrt
from statistics import fmean, stdev, variance

import numpy as np
import pytest

from marram.evidence.effects import Interval
from marram.evidence.findings import weigh_trial
from marram.evidence.models.odds_model import proportional_odds
from marram.evidence.models.yes_no_model import fit_yes_no
from marram.evidence.plan import Design
from marram.evidence.sensitivity.beside import with_sensitivity
from marram.evidence.sensitivity.sensitivity_line import Scale, SensitivityLine, Way
from marram.evidence.sensitivity.sensitivity_words import sensitivity_sentences
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import days_of, expecting, only, rows_of, trial_of, weigh

DAYS = days_of(8)
CHANCE = np.random.default_rng(4)
LEAN = {day.day: float(CHANCE.normal(0, 6)) for day in DAYS}
NOISE = {(day.day, group): float(CHANCE.normal(0, 8)) for day in DAYS for group in range(20)}


def lines(outcome: str, rows: list[Observation], matters: float = 1, **more: str) -> dict[Way, SensitivityLine]:
    report = with_sensitivity(weigh(trial_of(expecting(outcome, matters, **more)), DAYS, rows))
    return {line.way: line for line in only(report).sensitivity if line.outcome == outcome}


def round_min(day: TrialDay, group: int) -> float:
    return 240 + LEAN[day.day] + NOISE[day.day, group] - 4 * (day.arm is Arm.TRIAL)


def test_equal_days_say_row_by_row_what_the_days_say() -> None:
    rows = rows_of(DAYS, "round_min", round_min, groups=20)
    report = weigh(trial_of(expecting("round_min", 4)), DAYS, rows)
    effect, found = only(report).effect, only(with_sensitivity(report)).sensitivity
    assert effect is not None
    line = next(line for line in found if line.way is Way.ROWS)
    assert line.estimate == pytest.approx(effect.estimate, abs=1e-6)
    assert line.interval95 is not None
    assert (line.interval95.low, line.interval95.high) == pytest.approx((effect.interval95.low, effect.interval95.high), abs=1e-3)
    assert (line.scale, line.rows) == (Scale.DIFFERENCE, 320)


def test_no_word_hangs_on_it() -> None:
    report = weigh(trial_of(expecting("round_min", 4)), DAYS, rows_of(DAYS, "round_min", round_min, groups=20))
    beside = with_sensitivity(report)
    assert only(beside).sensitivity
    assert replace(only(beside), sensitivity=()) == only(report)
    assert replace(beside, findings=report.findings) == report


def test_trimmed_days_lose_two_of_twenty_at_either_end() -> None:
    rows = rows_of(DAYS, "round_min", lambda day, group: round_min(day, group) + 200 * (group == 3) * (day.day == "trial0"), groups=20)
    found = lines("round_min", rows)[Way.TRIMMED]
    means = {day.day: fmean(sorted(entry.value for entry in rows if entry.day == day.day)[2:-2]) for day in DAYS}
    differences = [means[f"trial{number}"] - means[f"ordinary{number}"] for number in range(8)]
    assert found.estimate == pytest.approx(fmean(differences))
    assert found.interval95 is not None
    half = 2.364624 * stdev(differences) / sqrt(8)  # Student's table, 7 degrees of freedom
    assert found.interval95.high == pytest.approx(fmean(differences) + half, abs=1e-4)
    assert Way.TRIMMED not in lines("round_min", rows_of(DAYS, "round_min", round_min, groups=9))  # a tenth of nine is nobody


def test_each_pair_is_left_out_in_turn() -> None:
    rows = rows_of(DAYS, "round_min", lambda day, group: 240.0 + group - (int(day.pair[1:]) if day.arm is Arm.TRIAL else 0), groups=3)
    found = lines("round_min", rows)[Way.WITHOUT_ONE]
    # the differences are 0, -1, ... -7: without -7 their mean is -3, without 0 it is -4
    assert found.interval95 == Interval(low=-4.0, high=-3.0)
    assert found.estimate == pytest.approx(-3.5)


def lacking(part: float) -> list[Observation]:
    """Groups of the ordinary days have no time, though something else is recorded of them."""
    whole = rows_of(DAYS, "round_min", round_min, groups=20)
    gone = {f"g{number}" for number in range(round(20 * part))}
    return [entry for entry in whole if not (entry.day.startswith("ordinary") and entry.group in gone)]


@pytest.mark.parametrize(("part", "is_told"), [(0.0, False), (0.05, True), (0.15, True), (0.2, True), (0.3, False)])
def test_what_is_missing_is_filled_in_between_a_twentieth_and_a_fifth(part: float, is_told: bool) -> None:
    assert (Way.FILLED in lines("round_min", lacking(part))) is is_told


def test_filling_in_widens_the_limits_and_keeps_the_middle() -> None:
    rows = lacking(0.2)
    effect, found = only(weigh(trial_of(expecting("round_min", 4)), DAYS, rows)).effect, lines("round_min", rows)[Way.FILLED]
    assert effect is not None
    assert found.estimate is not None
    assert found.interval95 is not None
    assert found.estimate == pytest.approx(effect.estimate, abs=1.0)
    assert found.estimate != pytest.approx(effect.estimate, abs=1e-6)  # something was filled in
    assert found.interval95.high - found.interval95.low > effect.interval95.high - effect.interval95.low


def count(day: TrialDay, group: int) -> float:
    return float((group + int(day.pair[1:])) % 4 + (group % 2) * (day.arm is Arm.ORDINARY))


def test_counts_are_told_as_the_ratio_of_all_of_them() -> None:
    rows = rows_of(DAYS, "rulings", count, groups=20)
    sums = [sum(entry.value for entry in rows if entry.day.startswith(side)) for side in ("trial", "ordinary")]
    found = lines("rulings", rows)
    for way in (Way.ROWS, Way.EVENTS):
        assert found[way].estimate == pytest.approx(sums[0] / sums[1], abs=1e-6)
        assert found[way].scale is Scale.RATES_RATIO
    # each pair has the same ratio of its sums, so that pairs hanging together leave nothing unsure
    ends = found[Way.EVENTS].interval95
    assert ends is not None
    assert log(ends.high / ends.low) == pytest.approx(2 * 1.959964 * sqrt(1 / sums[0] + 1 / sums[1]), abs=1e-6)
    p = found[Way.EVENTS].p
    assert p is not None
    assert p < 0.01


def uneven(day: TrialDay, group: int) -> float:
    return float((group * 7 + int(day.pair[1:]) * 3) % 5 + (int(day.pair[1:]) % 3) * (day.arm is Arm.ORDINARY))


def test_limits_of_a_ratio_of_rates_are_those_of_the_pairs() -> None:
    """By the sandwich: each pair says by how much its days lie off the mean day of their kind; eight pairs leave seven degrees."""
    rows = rows_of(DAYS, "rulings", uneven, groups=20)
    days = {day.day: sum(entry.value for entry in rows if entry.day == day.day) for day in DAYS}
    trial, ordinary = (sum(value for day, value in days.items() if day.startswith(side)) for side in ("trial", "ordinary"))
    off = [(days[f"trial{one}"] - trial / 8) / trial - (days[f"ordinary{one}"] - ordinary / 8) / ordinary for one in range(8)]
    error = sqrt(sum(one**2 for one in off) * 8 / 7 * 319 / 318)
    ends = lines("rulings", rows)[Way.ROWS].interval95
    assert ends is not None
    assert log(ends.high / ends.low) == pytest.approx(2 * 2.364624 * error, rel=1e-4)


@pytest.mark.parametrize(("most", "how"), [(2, "as chance has it"), (30, "more widely than chance has it")])
def test_counts_that_spread_more_widely_are_fitted_so(most: int, how: str) -> None:
    rows = rows_of(DAYS, "rulings", lambda day, group: float(most * (group % 5 == int(day.pair[1:]) % 5) + group % 2), groups=20)
    assert how in lines("rulings", rows)[Way.ROWS].model


def test_limits_of_odds_know_how_few_pairs_and_how_often_players_there_are() -> None:
    rows = rows_of(
        DAYS, "ball_found", lambda day, group: float((group * 3 + int(day.pair[1:])) % (4 if day.arm is Arm.TRIAL else 3) == 0), groups=20
    )
    pairs, trial = [entry.day[-1] for entry in rows], [float(entry.day.startswith("trial")) for entry in rows]
    ends = fit_yes_no([entry.value for entry in rows], {"trial": trial}, pairs, are_few=True).terms[1].interval(0.95, 6)  # 8 less 2
    found = lines("ball_found", rows, 0.1, direction="up")[Way.ROWS].interval95
    assert found is not None
    assert (found.low, found.high) == pytest.approx((exp(ends.low), exp(ends.high)))
    given = [replace(entry, value=min(5.0, entry.value + 2 * (entry.day in {"trial2", "trial5"}))) for entry in answers(12)]
    clusters = ([entry.player for entry in given], [entry.day[-1] for entry in given])
    fit = proportional_odds(
        [entry.value for entry in given], {"trial": [float("trial" in entry.day) for entry in given]}, clusters=clusters
    )
    ends, found = fit.terms[0].interval(0.95, 7), lines("fair", given, direction="up")[Way.ROWS].interval95
    assert found is not None
    assert (found.low, found.high) == pytest.approx((exp(ends.low), exp(ends.high)))


def test_shares_are_told_as_odds() -> None:
    rows = rows_of(
        DAYS, "ball_found", lambda day, group: float((group + int(day.pair[1:])) % (3 if day.arm is Arm.TRIAL else 2) == 0), groups=20
    )
    yes = [fmean(entry.value for entry in rows if entry.day.startswith(side)) for side in ("trial", "ordinary")]
    found = lines("ball_found", rows, 0.1, direction="up")[Way.ROWS]
    assert found.estimate == pytest.approx(yes[0] / (1 - yes[0]) / (yes[1] / (1 - yes[1])), rel=0.02)
    assert found.scale is Scale.ODDS_RATIO


def test_times_that_run_long_are_told_as_a_ratio() -> None:
    rows = rows_of(
        DAYS, "ruling_s", lambda day, group: 60 * exp(NOISE[day.day, group] / 40) * (0.8 if day.arm is Arm.TRIAL else 1.0), groups=20
    )
    logs = [fmean(log(entry.value) for entry in rows if entry.day.startswith(side)) for side in ("trial", "ordinary")]
    found = lines("ruling_s", rows)[Way.ROWS]
    assert found.estimate == pytest.approx(exp(logs[0] - logs[1]), rel=1e-6)
    assert found.scale is Scale.TIMES_RATIO


def answers(players: int) -> list[Observation]:
    return [
        Observation(
            day=day.day, outcome="fair", value=float(1 + (player * 3 + int(day.pair[1:])) % 4 + (day.arm is Arm.TRIAL)), player=f"m{player}"
        )
        for day in DAYS
        for player in range(players)
    ]


@pytest.mark.parametrize(("players", "are_compared"), [(9, False), (12, True)])
def test_answers_are_told_as_odds_and_within_players_where_enough_answer_under_both(players: int, are_compared: bool) -> None:
    found = lines("fair", answers(players), direction="up", asks='["Fair?"]')
    assert found[Way.ROWS].scale is Scale.ODDS_RATIO
    assert (found[Way.ROWS].estimate or 0) > 1
    assert found[Way.ROWS].rows == 16 * players
    assert (Way.WITHIN_PLAYERS in found) is are_compared


def test_two_values_a_day_and_six_pairs_are_enough() -> None:
    assert Way.ROWS in lines("round_min", rows_of(DAYS, "round_min", round_min, groups=2))
    six = days_of(6)
    records = TrialRecords(days=six, observations=tuple(rows_of(six, "round_min", round_min, groups=20)))
    assert only(with_sensitivity(weigh_trial(trial_of(expecting("round_min", 4)), records))).sensitivity


def of_courses(courses: int) -> list[SensitivityLine]:
    """Each course has one pair, and is moved by an amount of its own."""
    days = tuple(replace(day, course=f"c{int(day.pair[1:]) % courses}") for day in DAYS)
    rows = rows_of(days, "round_min", lambda day, group: round_min(day, group) - int(day.pair[1:]) * (day.arm is Arm.TRIAL), groups=20)
    report = with_sensitivity(weigh(trial_of(expecting("round_min", 4)), days, rows))
    return [line for line in only(report).sensitivity if line.way is Way.COURSES]


def test_courses_that_each_play_one_pair_say_what_the_pairs_say() -> None:
    """With one pair of equal days on each course, the effects of courses are the differences of the pairs."""
    (found,) = of_courses(8)
    means = {day.day: 240 + LEAN[day.day] + fmean(NOISE[day.day, group] for group in range(20)) for day in DAYS}
    differences = [means[f"trial{one}"] - 4 - one - means[f"ordinary{one}"] for one in range(8)]
    assert found.estimate == pytest.approx(fmean(differences), abs=1e-3)
    assert found.interval95 is not None
    half = 2.364624 * stdev(differences) / sqrt(8)
    assert found.interval95.high - fmean(differences) == pytest.approx(half, rel=0.01)
    noise = fmean(variance([NOISE[day.day, group] for group in range(20)]) for day in DAYS)
    assert f"spread by {sqrt(variance(differences) - 2 * noise / 20):.2g} from course to course" in found.model


@pytest.mark.parametrize("courses", [1, 5])
def test_few_courses_say_nothing_of_courses(courses: int) -> None:
    assert of_courses(courses) == []


def test_a_value_for_each_day_leaves_the_rows_unsaid() -> None:
    assert Way.ROWS not in lines("round_min", rows_of(DAYS, "round_min", round_min, groups=1))


def test_a_model_that_cannot_be_fitted_says_so_in_words() -> None:
    rows = rows_of(DAYS, "ball_found", lambda day, group: float(day.arm is Arm.TRIAL), groups=5)
    report = with_sensitivity(weigh(trial_of(expecting("ball_found", 0.1, "up")), DAYS, rows))
    line = next(line for line in only(report).sensitivity if line.way is Way.ROWS)
    assert (line.estimate, line.interval95) == (None, None)
    assert "cannot be fitted" in line.why_none
    assert "row by row nothing can be said, since" in sensitivity_sentences(only(report))[0]


def test_a_guard_counted_seldom_is_told_event_by_event() -> None:
    rows = rows_of(DAYS, "round_min", round_min, groups=10)
    disputes = rows_of(DAYS, "disputes", lambda day, group: float(group == 1 and day.day in {"trial1", "trial2", "ordinary3"}), groups=10)
    change = expecting("round_min", 4, guards='[{ outcome = "disputes", margin = 0.1 }]', observes='["round_min", "disputes"]')
    found = [
        line for line in only(with_sensitivity(weigh(trial_of(change), DAYS, [*rows, *disputes]))).sensitivity if line.outcome == "disputes"
    ]
    assert [line.way for line in found] == [Way.EVENTS]
    assert found[0].estimate == pytest.approx(2.0)
    assert found[0].p == pytest.approx(0.2819, abs=1e-4)  # (2 - 1) / sqrt(3) = 0.5774 standard errors


def test_a_guard_counted_often_enough_is_left_to_its_days() -> None:
    rows = [*rows_of(DAYS, "round_min", round_min, groups=10), *rows_of(DAYS, "disputes", lambda day, group: float(group < 3), groups=10)]
    change = expecting("round_min", 4, guards='[{ outcome = "disputes", margin = 0.1 }]', observes='["round_min", "disputes"]')
    assert {line.outcome for line in only(with_sensitivity(weigh(trial_of(change), DAYS, rows))).sensitivity} == {"round_min"}


def test_events_on_one_side_alone_leave_no_ratio() -> None:
    rows = rows_of(DAYS, "rulings", lambda day, group: float(day.arm is Arm.TRIAL and group < 4), groups=10)
    found = lines("rulings", rows)[Way.EVENTS]
    assert found.estimate is None
    assert "leaves no ratio" in found.why_none


def test_sentences_say_that_they_are_no_verdict() -> None:
    report = with_sensitivity(weigh(trial_of(expecting("round_min", 4)), DAYS, rows_of(DAYS, "round_min", round_min, groups=20)))
    (told,) = sensitivity_sentences(only(report))
    assert told.startswith("Sensitivity, not the verdict.")
    assert "row by row" in told
    assert "each pair left out in turn, from" in told
    assert sensitivity_sentences(only(weigh(trial_of(expecting("round_min", 4)), DAYS, rows_of(DAYS, "round_min", round_min)))) == ()


@pytest.mark.parametrize(
    ("outcome", "scale", "told"),
    [
        ("ruling_s", Scale.TIMES_RATIO, "0.80 times as long on trial days (95 %: 0.70 to 0.90)"),
        ("rulings", Scale.RATES_RATIO, "0.80 times as often on trial days (95 %: 0.70 to 0.90)"),
        ("ball_found", Scale.ODDS_RATIO, "the odds of yes on trial days are 0.80 times those of ordinary days (95 %: 0.70 to 0.90)"),
        ("fair", Scale.ODDS_RATIO, "the odds of a higher answer on trial days are 0.80 times"),
        ("round_min", Scale.DIFFERENCE, "0.80 min more on trial days (95 %: 0.70 min more to 0.90 min more)"),
    ],
)
def test_each_scale_is_told_in_its_own_words(outcome: str, scale: Scale, told: str) -> None:
    ends = Interval(low=0.7, high=0.9)
    line = SensitivityLine(way=Way.ROWS, outcome=outcome, scale=scale, estimate=0.8, interval95=ends, rows=9, model="a model")
    finding = only(weigh(trial_of(expecting("round_min", 4)), DAYS, rows_of(DAYS, "round_min", round_min)))
    assert f"row by row (a model; 9 values), {told}" in sensitivity_sentences(replace(finding, sensitivity=(line,)))[0]


def test_what_is_no_trial_of_paired_days_is_given_back_as_it_is() -> None:
    report = weigh(trial_of(expecting("round_min", 4)), DAYS, rows_of(DAYS, "round_min", round_min, groups=20))
    other = replace(report, words=replace(report.words, design=Design.STEPPED))
    assert with_sensitivity(other) is other


def test_too_few_pairs_have_no_lines() -> None:
    few = days_of(5)
    records = TrialRecords(days=few, observations=tuple(rows_of(few, "round_min", round_min, groups=20)))
    assert only(with_sensitivity(weigh_trial(trial_of(expecting("round_min", 4)), records))).sensitivity == ()
