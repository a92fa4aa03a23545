"""A stepped roll-out, weighed: what went with the trial rules, told so, and what the table of days must say."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import pytest

from marram.core.errors import StudyError
from marram.evidence.designs.by_steps import BySteps, steps_played, without_unswitched
from marram.evidence.designs.said_besides import after_steps
from marram.evidence.findings import weigh_trial
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import expecting, only, trial_of

TRIAL = trial_of(expecting("relief_s", 6))
SWITCHES = {f"course {letter}": 2 + place % 3 for place, letter in enumerate("ABCDEF")}


def season(effect: float, later: float = 0.0, switches: dict[str, int] | None = None, seed: int = 3, spread: float = 1.0) -> TrialRecords:
    """Courses that differ by 10, a season that rises by 15 a period, two days in each period."""
    chance, own, first = Random(seed), switches or SWITCHES, date(2026, 4, 4)
    days, rows = [], []
    for place, (course, switch) in enumerate(own.items()):
        for period in range(1, 5):
            for number in range(2):
                name = f"{course[-1]}{period}{number}"
                on = period >= switch
                days.append(
                    TrialDay(
                        day=name,
                        dated=first + timedelta(weeks=2 * period + number),
                        pair="",
                        arm=Arm.TRIAL if on else Arm.ORDINARY,
                        course=course,
                        period=str(period),
                    )
                )
                level = 60 + 10 * place + 15 * period + chance.gauss(0, spread) + (effect + later * (period - switch)) * on
                rows += [Observation(day=name, outcome="relief_s", value=level + group % 3, group=f"g{group}") for group in range(8)]
    return TrialRecords(days=tuple(days), observations=tuple(rows))


def weighed(records: TrialRecords) -> TrialReport:
    kept, _ = without_unswitched(records)
    return weigh_trial(TRIAL, kept, comparing=BySteps, finish=[after_steps])


def said(finding: ChangeFinding) -> str:
    return finding.words.said(finding.verdict)


def test_an_effect_is_told_as_what_went_with_the_rules() -> None:
    finding = only(weighed(season(-12.0)))
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(-12, abs=1.5)
    assert finding.effect.units == 6
    assert said(finding) == "went with it: clearly enough to matter"
    assert finding.words.said(finding.overall) == "went with what it was meant to do"
    assert any("By the time since the switch" in sentence for sentence in finding.besides)
    assert not any("does" in finding.words.went_with[word] for word in finding.words.went_with)


def test_nothing_is_seen_where_nothing_changed() -> None:
    """Both the season and the courses move the plain means by far more than the effect that matters."""
    finding = only(weighed(season(0.0)))
    assert finding.effect is not None
    assert finding.effect.trial_mean - finding.effect.ordinary_mean > 6
    assert said(finding) in {"went with no difference that matters", "not shown either way"}


def test_an_effect_that_wears_off_at_once_is_not_praised_as_one_number() -> None:
    """-8 in the first period after the switch, nothing in the second, +8 in the third: taken for constant it looks like more than -8."""
    finding = only(weighed(season(-8.0, later=8.0, spread=0.3)))
    assert finding.effect is not None
    assert finding.effect.estimate < -8
    assert finding.verdict is Verdict.NOT_SHOWN
    assert "not the same in every period" in finding.reason or "other way" in finding.reason


def test_fewer_than_six_courses_are_too_few() -> None:
    five = {course: switch for course, switch in SWITCHES.items() if course != "course F"}
    finding = only(weighed(season(-12.0, switches=five)))
    assert finding.verdict is Verdict.TOO_LITTLE
    assert "5 courses; 6 are the fewest" in finding.reason


def test_a_course_that_never_goes_over_is_left_out_and_counted() -> None:
    records = season(-12.0, switches={**SWITCHES, "course G": 9})
    kept, told = without_unswitched(records)
    assert told == ("Course course G never played trial rules: it cannot be held against itself, and its 64 values are left out.",)
    report = weigh_trial(TRIAL, kept, comparing=BySteps)
    assert report.pairs == 6
    assert sum(row.read for row in report.rows) == len(records.observations)
    assert sum(count for row in report.rows for _, count in row.left_out) == 64
    assert without_unswitched(season(-12.0)) == (season(-12.0), ())


def with_day(records: TrialRecords, day: str, **more: object) -> TrialRecords:
    from dataclasses import replace

    days = tuple(replace(each, **more) if each.day == day else each for each in records.days)  # type: ignore[arg-type]
    return replace(records, days=days)


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"arm": Arm.ORDINARY}, "both sets of rules in one period"),
        ({"course": ""}, "names no course"),
        ({"period": "May"}, "period 'May'; expected a number"),
        ({"period": "0"}, "period '0'; expected a number"),
    ],
)
def test_a_table_that_tells_no_roll_out_is_refused(more: dict[str, object], why: str) -> None:
    with pytest.raises(StudyError, match=why):
        steps_played(with_day(season(0.0), "A40", **more))


def test_a_course_that_goes_back_is_refused() -> None:
    back = with_day(with_day(season(0.0), "A40", arm=Arm.ORDINARY), "A41", arm=Arm.ORDINARY)
    with pytest.raises(StudyError, match="course A, period 4: ordinary rules after trial rules in period 2"):
        steps_played(back)


def test_periods_without_values_are_told_and_too_many_leave_no_word() -> None:
    from dataclasses import replace

    records = season(-12.0)
    lost = {f"{cell}{number}" for cell in ("A3", "A4", "D3", "D4", "B1", "E1") for number in (0, 1)}  # 6 of 24
    thin = replace(records, observations=tuple(entry for entry in records.observations if entry.day not in lost))
    finding = only(weighed(thin))
    assert finding.verdict is Verdict.TOO_LITTLE
    assert "25% of the periods of the courses have no values" in finding.reason


def test_what_the_drawn_steps_do_not_show_is_not_praised() -> None:
    """All courses went over at other steps than were drawn: as they were played there is an effect, by the draw there is none to see."""
    drawn = {course: 2 + (switch - 2 + 1 + place % 2) % 3 for place, (course, switch) in enumerate(SWITCHES.items())}
    records = season(-12.0)

    def weighed_by(steps: dict[str, int]) -> ChangeFinding:
        return only(weigh_trial(TRIAL, records, comparing=lambda kept: BySteps(kept, drawn=steps), finish=[after_steps]))

    finding = weighed_by(drawn)
    assert finding.verdict is Verdict.NOT_SHOWN
    assert "by the drawn ones it is not shown" in finding.reason
    as_drawn = weighed_by(SWITCHES)
    assert said(as_drawn) == "went with it: clearly enough to matter"
    assert not any("as they were drawn, and not" in sentence for sentence in as_drawn.besides)
    assert any("as they were drawn, and not" in sentence for sentence in finding.besides)
