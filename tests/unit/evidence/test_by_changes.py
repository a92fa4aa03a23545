"""Days with some of the changes, weighed: each change gets its own finding from one outcome that all of them may move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from random import Random

import pytest

from marram.core.errors import StudyError
from marram.evidence.designs.by_changes import ByChanges
from marram.evidence.designs.said_besides import after_days_of_changes
from marram.evidence.findings import weigh_trial
from marram.evidence.planning.days_of_changes import DayOfChanges, draw_days, give_letters
from marram.evidence.planning.fractions_of_days import usual_fraction
from marram.evidence.verdicts import Overall, Verdict
from marram.evidence.weighing.told_findings import TrialReport
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.rulebook.overlays.overlay import Overlay
from tests.support.seasons import expecting, trial_of

NAMED = {1: "the first", 2: "the second", 3: "the third", 4: "the fourth"}
Value = Callable[[DayOfChanges, int], float]


def drawn(changes: int, days: int, times: int = 2) -> tuple[DayOfChanges, ...]:
    plan = usual_fraction(changes, days)
    return draw_days(plan, give_letters(range(1, changes + 1), plan), times=times, seed="a seed")


def records_of(plan: Sequence[DayOfChanges], value: Value, groups: int = 10, outcome: str = "relief_s") -> TrialRecords:
    first = date(2026, 4, 4)
    days = tuple(
        TrialDay(
            day=day.day,
            dated=first + timedelta(days=place),
            pair="",
            arm=Arm.TRIAL if day.on else Arm.ORDINARY,
            course="Moor",
            changes=day.on,
        )
        for place, day in enumerate(plan)
    )
    rows = tuple(
        Observation(day=day.day, outcome=outcome, value=value(day, group), group=f"g{group}") for day in plan for group in range(groups)
    )
    return TrialRecords(days=days, observations=rows)


def weighed(trial: Overlay, plan: Sequence[DayOfChanges], records: TrialRecords, meeting: Sequence[frozenset[int]] = ()) -> TrialReport:
    blocks = {day.day: day.block for day in plan}
    return weigh_trial(
        trial, records, comparing=lambda kept: ByChanges(kept, blocks), finish=[after_days_of_changes(NAMED, frozenset(meeting))]
    )


def noisy(effects: dict[int, float], spread: float = 1.0, seed: int = 4) -> Value:
    chance = Random(seed)
    of_day: dict[str, float] = {}

    def value(day: DayOfChanges, group: int) -> float:
        of_day.setdefault(day.day, chance.gauss(0, spread))
        return 60 + of_day[day.day] + sum(effects.get(number, 0.0) for number in day.on) + group % 3

    return value


def test_one_outcome_that_all_may_move_gives_each_change_its_own_finding() -> None:
    trial = trial_of(expecting("relief_s", 6), expecting("relief_s", 6), expecting("relief_s", 6))
    plan = drawn(3, 8, times=3)
    report = weighed(trial, plan, records_of(plan, noisy({1: -12.0})))
    first, second, third = report.findings
    assert first.effect is not None
    assert first.effect.estimate == pytest.approx(-12, abs=1.5)
    assert (first.verdict, first.overall) == (Verdict.DOES_IT, Overall.DID)
    assert {finding.verdict for finding in (second, third)} == {Verdict.NO_DIFFERENCE}
    assert all(not finding.together and not finding.also_touched_by for finding in report.findings)
    assert report.pairs == 24


def test_each_change_that_works_is_credited_apart() -> None:
    trial = trial_of(expecting("relief_s", 4), expecting("relief_s", 4, "up"), expecting("relief_s", 4))
    plan = drawn(3, 8, times=3)
    report = weighed(trial, plan, records_of(plan, noisy({1: -9.0, 2: 9.0})))
    assert [finding.overall for finding in report.findings] == [Overall.DID, Overall.DID, Overall.DID_NOT]


def test_days_that_were_never_played_alike_give_a_hint_and_no_word() -> None:
    trial = trial_of(*[expecting("relief_s", 4)] * 4)
    plan = drawn(4, 16, times=1)
    bare = weighed(trial, plan, records_of(plan, noisy({1: -12.0})))
    assert bare.findings[0].verdict is Verdict.TOO_LITTLE
    assert "played alike" in bare.findings[0].reason
    assert any(sentence.startswith("A hint and no finding") and sentence.endswith("It does.") for sentence in bare.findings[0].besides)
    assert any(sentence.endswith("It does not.") for sentence in bare.findings[1].besides)


def test_a_pair_that_touches_the_same_keeps_a_change_that_goes_with_it_from_credit() -> None:
    """Five changes on eight days: the fourth goes with the first and second together."""
    trial = trial_of(*[expecting("relief_s", 4)] * 4)
    plan = drawn(4, 8)  # D = ABC: no change goes with a pair
    fine = weighed(trial, plan, records_of(plan, noisy({4: -9.0})), [frozenset({1, 2})])
    assert fine.findings[3].overall is Overall.DID
    half = [day for day in drawn(3, 4 * 2, times=2) if len(day.on) % 2]  # C = AB: on with both of the others, or with neither
    made = [DayOfChanges(day=day.day, block="b", on=day.on) for day in half] + [
        DayOfChanges(day=f"{day.day}x", block="b", on=day.on) for day in half
    ]
    two = trial_of(*[expecting("relief_s", 4)] * 3)
    apart = weighed(two, made, records_of(made, noisy({3: -9.0})))
    meets = weighed(two, made, records_of(made, noisy({3: -9.0})), [frozenset({1, 2})])
    assert apart.findings[2].overall is Overall.DID
    assert meets.findings[2].verdict is Verdict.NOT_SHOWN
    assert "change 1 (the first) and change 2 (the second) do together" in meets.findings[2].reason
    assert any("not from what change 1 (the first) and change 2" in sentence for sentence in apart.findings[2].besides)


def test_a_limit_holds_on_the_days_of_its_own_change_alone() -> None:
    """A search of 170 s is beyond the two minutes of the days with change 1, and within the three of all others."""
    trial = trial_of(expecting("search_s", 15), expecting("search_s", 15), expecting("search_s", 15))
    plan = drawn(3, 8)
    long = {day.day for day in plan if 1 in day.on}

    def value(day: DayOfChanges, group: int) -> float:
        return 170.0 if group == 0 else 60.0 + (group * 7 + int(day.day[1:]) * 3) % 11

    report = weighed(trial, plan, records_of(plan, value, outcome="search_s"))
    queried = [row for row in report.records.left_out if row.is_query]
    assert {row.day for row in queried} == long
    assert len(queried) == len(long)
    assert sum(row.read for row in report.rows) == len(plan) * 10


def test_rows_missing_on_the_days_of_a_change_leave_that_change_alone_without_word() -> None:
    trial = trial_of(*[expecting("round_min", 8)] * 3)
    plan = drawn(3, 8)
    records = records_of(plan, noisy({1: -12.0}), outcome="round_min")
    on = {day.day for day in plan if 1 in day.on}
    thin = TrialRecords(
        days=records.days,
        observations=tuple(entry for entry in records.observations if entry.day not in on or entry.group in {"g0", "g1", "g2"}),
    )
    first, second, _ = weighed(trial, plan, thin).findings
    assert first.verdict is Verdict.TOO_LITTLE
    assert "70% of the values of days with it are missing" in first.reason
    assert "values of" in second.reason  # half of its days lack as much
    assert first.missing is not None
    assert first.missing.share(Arm.TRIAL) == pytest.approx(0.7)


def test_six_days_on_either_side_are_the_fewest() -> None:
    trial = trial_of(*[expecting("relief_s", 4)] * 3)
    plan = drawn(3, 8, times=3)
    records = records_of(plan, noisy({1: -9.0}))
    on = [day.day for day in plan if 1 in day.on]
    for left, is_judged in ((6, True), (5, False)):
        gone = set(on[left:])
        kept = [day for day in plan if day.day not in gone]
        thin = TrialRecords(
            days=tuple(day for day in records.days if day.day not in gone),
            observations=tuple(entry for entry in records.observations if entry.day not in gone),
        )
        assert (weighed(trial, kept, thin).findings[0].verdict is not Verdict.TOO_LITTLE) is is_judged


def test_a_change_that_was_on_just_where_two_others_differ_goes_with_them_too() -> None:
    """C on where one of A and B was on and not the other: what A and B do together looks the same, turned round."""
    kinds = [(), (1, 3), (2, 3), (1, 2)] * 4
    plan = [DayOfChanges(day=f"d{place:02d}", block="b", on=on) for place, on in enumerate(kinds)]
    trial = trial_of(*[expecting("relief_s", 4)] * 3)
    third = weighed(trial, plan, records_of(plan, noisy({})), [frozenset({1, 2})]).findings[2]
    assert third.alike == ((1, 2),)
    assert third.verdict is Verdict.NO_DIFFERENCE  # what is no praise needs none taken back


def test_a_change_that_was_never_on_is_not_weighed() -> None:
    trial = trial_of(*[expecting("relief_s", 4)] * 4)
    plan = drawn(3, 8)
    last = weighed(trial, plan, records_of(plan, noisy({}))).findings[3]
    assert last.verdict is Verdict.TOO_LITTLE
    assert "days without it alone" in last.reason


def test_a_day_that_does_not_say_what_was_on_is_refused() -> None:
    day = TrialDay(day="d01", dated=date(2026, 4, 4), pair="", arm=Arm.TRIAL, course="Moor")
    with pytest.raises(StudyError, match="which changes were on"):
        ByChanges(TrialRecords(days=(day,), observations=()))
