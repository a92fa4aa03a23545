"""Who was asked and who answered: cells, weights and worst cases, worked out by hand."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace

import pytest

from marram.evidence.findings import weigh_trial
from marram.evidence.weighing.response import QuestionResponse, responses_to
from marram.evidence.weighing.response_words import response_sentence, response_warnings
from marram.evidence.weighing.weighting import OTHERS
from marram.records.rows import Arm, AskedPlayers, Observation, TrialRecords
from tests.support.seasons import days_of, only, trial_of

ASKING = trial_of({"asks": '["Was it clear?", "Would you keep it?"]', "observes": '["fair", "change_met"]'})


def answers(
    kind: str, values: Sequence[float], outcome: str = "fair", day: str = "trial0", question: int | None = None
) -> list[Observation]:
    """One answer of one player each."""
    return [
        Observation(day=day, outcome=outcome, value=value, player=f"{kind}{number}", change=1, question=question, kind=kind)
        for number, value in enumerate(values)
    ]


def responses(asked: dict[tuple[str, str], int], rows: Sequence[Observation]) -> tuple[QuestionResponse, ...]:
    lines = tuple(AskedPlayers(kind=kind, day=day, asked=number) for (kind, day), number in asked.items())
    return only(weigh_trial(ASKING, TrialRecords(days=days_of(6), observations=tuple(rows), asked=lines))).responses


def fair(asked: dict[tuple[str, str], int], rows: Sequence[Observation]) -> QuestionResponse:
    (found,) = [one for one in responses(asked, rows) if one.outcome.key == "fair" and one.arm is Arm.TRIAL]
    return found


def test_each_kind_counts_as_it_was_asked() -> None:
    """Low: 10 of 20 asked answer, 8 of them 4 or 5; high: 10 of 80, 2 of them. Unweighted 10/20; weighted 0.2 x 0.8 + 0.8 x 0.2 = 0.32.

    If the 80 silent had said the worst 10/100, if the best 90/100.
    """
    found = fair({("low", ""): 20, ("high", ""): 80}, [*answers("low", [4, 5] * 4 + [3, 1]), *answers("high", [5, 4] + [3] * 8)])
    assert [(one.kind, one.asked, one.answered, one.yes) for one in found.kinds] == [("low", 20, 10, 8), ("high", 80, 10, 2)]
    assert found.share is not None
    assert found.share.unweighted == 0.5
    assert found.share.estimate == pytest.approx(0.32)
    assert (found.share.if_silent_said_no, found.share.if_silent_said_yes) == (0.1, 0.9)
    assert found.share.interval95.low < 0.32 < found.share.interval95.high
    told = "of 100 asked 20 answered, and 80 said nothing (heard from, of low: 10 of 20; high: 10 of 80). 50% of the answers give one"
    assert told in response_sentence(found)
    assert "weighted to who was asked 32% (95 %" in response_sentence(found)
    assert response_warnings(found) == ("Of high fewer than half were heard from, 10 of 80: weights cannot put that right.",)


def test_days_stand_for_kinds_where_kinds_are_not_told() -> None:
    rows = [*answers("", [5] * 5), *answers("", [1] * 5, day="trial1")]
    found = fair({("", "trial0"): 10, ("", "trial1"): 30}, rows)
    assert [(one.kind, one.asked, one.answered) for one in found.kinds] == [("trial0", 10, 5), ("trial1", 30, 5)]
    assert found.share is not None
    assert found.share.estimate == pytest.approx(0.25)


def test_kinds_by_day_are_added_up_within_a_set_of_rules() -> None:
    asked = {("low", "trial0"): 10, ("low", "trial1"): 10, ("low", "ordinary0"): 7, ("high", "trial0"): 6}
    rows = [*answers("low", [5] * 4), *answers("low", [4], day="trial1"), *answers("high", [1] * 5), *answers("low", [1], day="ordinary0")]
    told = {(one.arm, kind.kind): (kind.asked, kind.answered) for one in responses(asked, rows) for kind in one.kinds}
    assert told == {(Arm.TRIAL, "low"): (20, 5), (Arm.TRIAL, "high"): (6, 5), (Arm.ORDINARY, "low"): (7, 1)}


def test_ordinary_days_are_left_alone_where_the_table_does_not_name_them() -> None:
    assert {one.arm for one in responses({("low", ""): 9}, [*answers("low", [5]), *answers("low", [5], day="ordinary0")])} == {Arm.TRIAL}


def test_who_did_not_meet_it_was_heard_from_and_his_answer_stands_apart() -> None:
    """Of 10 asked two say that they did not meet it, one of whom answers all the same: 5 answer with the best step, 3 say nothing.

    Had those 3 met it, 5 of 8 or 8 of 8.
    """
    rows = [*answers("low", [5] * 5), *answers("low", [0, 0], outcome="change_met", day="trial1"), *answers("low", [1], day="trial1")]
    found = fair({("low", ""): 10}, rows)
    (kind,) = found.kinds
    assert (kind.asked, kind.did_not_meet, kind.silent, kind.answered, kind.yes) == (10, 2, 3, 5, 5)
    assert found.share is not None
    assert (found.share.if_silent_said_no, found.share.if_silent_said_yes) == (5 / 8, 1.0)
    assert "of 10 asked 5 answered, 2 say that they did not meet it, and 3 said nothing" in response_sentence(found)


def test_kinds_are_weighed_by_how_many_of_them_may_have_met_it() -> None:
    """Low: 20 asked, all heard from, 10 met it, 10 say yes. High: 80 asked, 40 heard from, 10 met it, none says yes.

    So 10 of low and 20 of high met it: (10 x 1 + 20 x 0) / 30. Taken by those asked it would be 20 of 100.
    """
    rows = [*answers("low", [5] * 10), *answers("high", [1] * 10)]
    rows += [*answers("low", [0] * 10, outcome="change_met", day="trial1"), *answers("high", [0] * 30, outcome="change_met", day="trial1")]
    found = fair({("low", ""): 20, ("high", ""): 80}, rows)
    assert found.share is not None
    assert found.share.estimate == pytest.approx(1 / 3)
    assert found.share.unweighted == 0.5
    assert (found.share.if_silent_said_no, found.share.if_silent_said_yes) == (10 / 60, 50 / 60)


def test_each_question_of_the_draft_has_a_response_of_its_own() -> None:
    rows = [*answers("low", [1, 0, 0, 0, 0], outcome="asked_yes", question=2), *answers("low", [4], outcome="asked_step", question=1)]
    told = {one.question: (one.kinds[0].answered, one.kinds[0].yes) for one in responses({("low", ""): 10}, rows)}
    assert told == {"Would you keep it?": (5, 1), "Was it clear?": (1, 1), "": (0, 0)}


def test_a_question_that_nobody_answers_is_told_and_has_no_share() -> None:
    found = fair({("low", ""): 10, ("high", ""): 4}, [])
    assert found.share is None
    assert response_sentence(found).endswith("of 14 asked 0 answered, and 14 said nothing (heard from, of low: 0 of 10; high: 0 of 4).")
    assert [line.split(",")[0] for line in response_warnings(found)] == ["Of low nobody said anything", "Of high nobody said anything"]


def test_kinds_of_whom_none_or_few_answer_are_named() -> None:
    found = fair({("low", ""): 10, ("mid", ""): 6, ("high", ""): 4}, [*answers("low", [5] * 5), *answers("mid", [1] * 4)])
    assert [line.split(":")[0] for line in response_warnings(found)] == [
        "Of mid 4 answered, too few to weigh alone",
        "Of high nobody said anything, of 4 asked",
    ]


def test_where_nobody_wrote_down_who_was_asked_nothing_is_said() -> None:
    assert responses({}, answers("low", [5])) == ()


def test_where_all_who_were_asked_answer_alike_their_share_is_known_and_else_it_is_not() -> None:
    """Eight players alike, a tenth of those asked: worth 8 / 0.9; Wilson at 1 is n / (n + t^2), t = 2.3646 at 7 degrees of freedom.

    The same player twice is no second one: then 7 / 0.9 at 6, t = 2.4469.
    """
    rows = [Observation(day=f"trial{place % 6}", outcome="fair", value=5, player=f"p{place}", change=1, kind="low") for place in range(8)]
    whole, part = (fair({("low", ""): asked}, rows).share for asked in (8, 80))
    again = fair({("low", ""): 80}, [*rows[:7], replace(rows[0], day="trial5")]).share
    assert whole is not None
    assert part is not None
    assert again is not None
    assert (whole.interval95.low, whole.interval95.high) == (1.0, 1.0)
    assert part.interval95.low == pytest.approx(8 / 0.9 / (8 / 0.9 + 2.3646**2), abs=1e-4)
    assert part.interval95.high == 1.0
    assert again.interval95.low == pytest.approx(7 / 0.9 / (7 / 0.9 + 2.4469**2), abs=1e-4)


def test_how_much_kinds_differ_is_no_spread_of_players() -> None:
    """All of low say yes and all of high no, each player once: nothing is left by which players of a kind differ, so 20 answers are 20."""
    found = fair({("low", ""): 50, ("high", ""): 50}, [*answers("low", [5] * 10), *answers("high", [1] * 10)])
    assert found.share is not None
    assert found.share.standard_error == 0
    # worth 20 / 0.8 by Wilson at a half with 18 degrees of freedom, t = 2.1009: half a width of t / 2 / sqrt(25 + t^2)
    assert found.share.interval95.high - 0.5 == pytest.approx(2.1009 / 2 / (25 + 2.1009**2) ** 0.5, abs=1e-4)


def test_players_who_come_again_widen_it() -> None:
    """Five players say the same on two days: squares of players are 4 x 5/4 of one day's, those of answers 2; a design effect of 2.5."""
    once = fair({("low", ""): 1000}, answers("low", [5, 5, 1, 1, 1, 5, 5, 1, 1, 1]))
    again = fair({("low", ""): 1000}, [*answers("low", [5, 5, 1, 1, 1]), *answers("low", [5, 5, 1, 1, 1], day="trial1")])
    assert once.share is not None
    assert again.share is not None
    assert again.share.standard_error == pytest.approx(once.share.standard_error * (2.5 / (10 / 9)) ** 0.5)


def test_where_rules_differ_within_a_day_answers_under_the_trial_rules_count() -> None:
    rows = [*answers("low", [5] * 5), *answers("low", [1], day="trial1"), *answers("low", [0], outcome="change_met", day="trial2")]
    turned = [replace(entry, arm=Arm.ORDINARY) if entry.day != "trial0" else entry for entry in rows]
    (kind,) = fair({("low", ""): 10}, turned).kinds
    assert (kind.asked, kind.answered, kind.did_not_meet) == (10, 5, 0)


def test_thin_kinds_taken_together_keep_who_did_not_meet_it() -> None:
    """Low: 20 asked, 10 answer, all yes. Mid: 10 asked, 2 say no, 8 did not meet it; high: 10 asked, 3 say no, 7 did not meet it.

    Mid and high together: 20 asked, all heard from, 5 met it. So low stands for 20 and they for 5: 20 of 25.
    """
    rows = [*answers("low", [5] * 10), *answers("mid", [1] * 2), *answers("high", [1] * 3)]
    rows += [*answers("mid", [0] * 8, outcome="change_met", day="trial1"), *answers("high", [0] * 7, outcome="change_met", day="trial1")]
    found = fair({("low", ""): 20, ("mid", ""): 10, ("high", ""): 10}, rows)
    assert found.share is not None
    assert [cell.name for cell in found.share.cells] == ["low", OTHERS]
    assert found.share.estimate == pytest.approx(0.8)


def test_a_kind_of_whom_nobody_was_asked_is_not_named() -> None:
    found = fair({("low", ""): 10, ("high", ""): 0}, answers("low", [5] * 6))
    assert response_warnings(found) == ()


def season(chance: random.Random) -> tuple[dict[tuple[str, str], int], list[Observation], float]:
    """Forty players of each kind asked on six days; whether one answers is the player's own way, and what, mostly so."""
    forms, rows = [], []
    for kind, (answers_at_all, yes) in {"low": (0.9, 0.7), "mid": (0.7, 0.5), "high": (0.35, 0.3)}.items():
        for player in range(40):
            own, will = chance.gauss(0, 0.2), chance.random() < answers_at_all
            for day in range(6):
                value = 5 if chance.random() < yes + own else 1
                forms.append(value)
                if will:
                    rows.append(Observation(day=f"trial{day}", outcome="fair", value=value, player=f"{kind}{player}", change=1, kind=kind))
    return dict.fromkeys((("low", ""), ("mid", ""), ("high", "")), 240), rows, forms.count(5) / len(forms)


@pytest.mark.long
def test_the_interval_holds_the_share_of_all_who_were_asked() -> None:
    """Of 1,000 seasons 95 in 100 are to hold it, within two in 100."""
    held = 0
    for seed in range(1000):
        asked, rows, true = season(random.Random(seed))
        lines = tuple(AskedPlayers(kind=kind, day=day, asked=number) for (kind, day), number in asked.items())
        (found,) = responses_to(ASKING.changes[0], TrialRecords(days=days_of(6), observations=tuple(rows), asked=lines))
        assert found.share is not None
        held += found.share.interval95.low <= true <= found.share.interval95.high
    assert 0.93 <= held / 1000 <= 0.97


def test_players_who_answer_now_so_and_now_otherwise_are_worth_no_more_than_their_answers() -> None:
    """Five players say yes on one day and no on the other: ten answers, by the plain sum (1 - 0.01) x 0.25 / 9."""
    rows = [*answers("low", [5] * 5), *answers("low", [1] * 5, day="trial1")]
    found = fair({("low", ""): 1000}, rows)
    assert found.share is not None
    assert found.share.standard_error == pytest.approx((0.99 * 0.25 / 9) ** 0.5)
