"""Players' answers: each question counted, those who met the change apart, ordinary days apart, and held against each other."""

from __future__ import annotations

import pytest

from marram.evidence.weighing.answers_given import Met
from marram.records.rows import Arm, Observation
from tests.support.seasons import days_of, only, trial_of, weigh

ASKING = trial_of({"asks": '["Was it clear?", "Would you keep it?"]', "observes": '["fair", "change_met"]'})


def answer(day: str, outcome: str, value: float, player: str, question: int | None = None) -> Observation:
    return Observation(day=day, outcome=outcome, value=value, player=player, change=1, question=question)


def met(day: str, player: str, times: int) -> Observation:
    return Observation(day=day, outcome="change_met", value=times, player=player, change=1)


def test_who_met_it_means_met_it() -> None:
    rows = [met("trial0", "a", 2), met("trial0", "b", 0), met("trial1", "b", 1)]
    rows += [
        answer("trial0", "fair", 5, "a"),
        answer("trial0", "fair", 1, "b"),
        answer("trial1", "fair", 4, "b"),
        answer("trial0", "fair", 3, "c"),
    ]
    told = {lot.met: lot.counts for lot in only(weigh(ASKING, days_of(6), rows)).answers}
    assert told == {Met.MET: (0, 0, 0, 1, 1), Met.NOT_MET: (1, 0, 0, 0, 0), Met.NOT_KNOWN: (0, 0, 1, 0, 0)}
    fair = only(weigh(ASKING, days_of(6), rows)).fair
    assert fair is not None
    assert (fair.met, fair.top_two.estimate) == (Met.MET, 1.0)


def test_where_nobody_says_who_met_it_all_who_answered_are_told_as_such() -> None:
    fair = only(weigh(ASKING, days_of(6), [answer("trial0", "fair", 5, "a")])).fair
    assert fair is not None
    assert fair.met is Met.NOT_KNOWN
    nobody = only(weigh(ASKING, days_of(6), [answer("trial0", "fair", 5, "a"), met("trial0", "a", 0)]))
    assert nobody.fair is None


def test_each_question_of_the_draft_is_counted_by_itself() -> None:
    rows = [answer("trial0", "asked_step", 4, "a", question=1), answer("trial0", "asked_yes", 1, "a", question=2)]
    rows += [answer("trial0", "asked_yes", 0, "b", question=2)]
    told = {(lot.outcome.key, lot.question): lot.counts for lot in only(weigh(ASKING, days_of(6), rows)).answers}
    assert told == {("asked_step", "Was it clear?"): (0, 0, 0, 1, 0), ("asked_yes", "Would you keep it?"): (1, 1)}


def test_answers_of_ordinary_days_stand_apart() -> None:
    rows = [answer("trial0", "fair", 5, "a"), answer("ordinary0", "fair", 1, "a")]
    told = {lot.arm: lot.counts for lot in only(weigh(ASKING, days_of(6), rows)).answers}
    assert told == {Arm.TRIAL: (0, 0, 0, 0, 1), Arm.ORDINARY: (1, 0, 0, 0, 0)}


def test_shares_at_each_cut() -> None:
    rows = [answer("trial0", "fair", step, f"p{step}") for step in (1, 2, 3, 4, 5)]
    (told,) = only(weigh(ASKING, days_of(6), rows)).answers
    assert [share.estimate for share in told.at_least] == [0.8, 0.6, 0.4, 0.2]
    assert told.top_two.estimate == 0.4


def test_the_chance_of_a_better_answer_is_worked_out_within_pairs() -> None:
    """In each pair trial answers 4 and 2 against ordinary 3 and 2: higher in 4>3, 4>2; a tie 2=2; so 2.5 of 4."""
    rows = []
    for pair in range(6):
        rows += [answer(f"trial{pair}", "fair", value, f"t{value}") for value in (4, 2)]
        rows += [answer(f"ordinary{pair}", "fair", value, f"o{value}") for value in (3, 2)]
    (compared,) = only(weigh(ASKING, days_of(6), rows)).answers_compared
    assert compared.chance_of_better == pytest.approx(2.5 / 4)
    assert only(weigh(ASKING, days_of(5), [row for row in rows if row.day[-1] != "5"])).answers_compared == ()
