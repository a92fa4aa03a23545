"""A stepped roll-out, from the draft to what went with the rules."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.planned_seasons import REPORT, drawn_in, report_of, season_of_steps, write_trial
from tests.support.running import Done, marram

COURSES = ("Ash Moor", "Birch Hollow", "Copse Links", "Dune Down", "Elm Heath", "Furze Field")
PLAN = ("trial", "plan", "trial.toml", "--design", "stepped-roll-out", "--seed", "a seed that nobody guesses", "--sd", "relief_s=3")


def planned(
    folder: Path, *more: str, courses: tuple[str, ...] = COURSES, changes: int = 1, status: str = "closed", matters: float = 8
) -> Done:
    write_trial(folder, changes, status=status, matters=matters)
    named = [word for course in courses for word in ("--course", course)]
    return marram(*PLAN, *named, *more, "-o", "plan.json", cwd=folder)


def test_the_report_says_what_went_with_the_rules(tmp_path: Path) -> None:
    done = planned(tmp_path, "--days", "2")
    assert done.stdout.count(": trial rules from period ") == 6
    assert "not what they caused" in " ".join(done.stdout.split())
    season_of_steps(tmp_path, lambda _: -12.0)
    report = report_of(tmp_path)
    (finding,) = report["findings"]
    assert finding["estimate"] == pytest.approx(-12, abs=1.5)
    assert finding["verdict"] == "went with it: clearly enough to matter"
    assert finding["overall"] == "went with what it was meant to do"
    assert finding["randomised_units"] == 6
    assert finding["since_switch"] == pytest.approx([-12, -12, -12], abs=3)
    assert any("By the time since the switch" in sentence for sentence in finding["says"])
    assert report["departures"] == []
    text = " ".join(marram(*REPORT, "--plan", "plan.json", cwd=tmp_path).stdout.split())
    assert "With courses and season taken out" in text or "with courses and season taken out" in text
    assert "does it" not in text
    assert "Did what it was meant to" not in text


def test_a_season_that_rises_is_not_taken_for_the_rules(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    season_of_steps(tmp_path, lambda _: 0.0)
    (finding,) = report_of(tmp_path)["findings"]
    assert finding["trial_mean"] - finding["ordinary_mean"] > 8
    assert abs(finding["estimate"]) < 2
    assert finding["verdict"] == "went with no difference that matters"


def test_courses_that_went_over_at_another_step_are_told(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    drawn = {str(unit["unit"]): unit["rules"].index("trial") + 1 for unit in drawn_in(tmp_path / "plan.json")}
    late = next(course for course, period in drawn.items() if period == 2)
    season_of_steps(tmp_path, lambda _: -12.0, other={late: 3})
    report = report_of(tmp_path)
    told = report["departures"]
    assert any(
        sentence.startswith("By the steps as they were drawn, and not as they were played: ") for sentence in report["findings"][0]["says"]
    )
    assert report["findings"][0]["verdict"] == "went with it: clearly enough to matter"  # the drawn steps show it too
    assert f"Course {late} went over in period 3, where period 2 was drawn." in told
    assert "3 courses went over in period 3, where 2 were drawn." in told


def test_a_course_that_never_goes_over_is_told_left_out_and_leaves_too_few(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    season_of_steps(tmp_path, lambda _: -12.0, other={COURSES[0]: 9})
    report = report_of(tmp_path)
    (finding,) = report["findings"]
    assert finding["verdict"] == "too little to judge"
    assert "5 courses; 6 are the fewest" in finding["reason"]
    assert any("Ash Moor never played trial rules" in told and "80 values are left out" in told for told in report["departures"])
    read = sum(row["read"] for row in report["rows"])
    assert read == 6 * 4 * 2 * 10
    assert read - sum(row["weighed"] for row in report["rows"]) == 80


def test_a_course_that_goes_back_is_refused(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "1")
    season_of_steps(tmp_path, lambda _: -12.0, days=1)
    text = (tmp_path / "days.csv").read_text(encoding="utf-8")
    rows = [row.replace(",trial,", ",ordinary,") if row.startswith("A4") else row for row in text.splitlines()]
    (tmp_path / "days.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    drawn = next(unit for unit in drawn_in(tmp_path / "plan.json") if unit["unit"] == COURSES[0])
    if drawn["rules"].index("trial") + 1 < 4:
        done = marram(*REPORT, "--plan", "plan.json", cwd=tmp_path)
        assert "ordinary rules after trial rules" in done.stderr
    else:
        assert any("never played trial rules" in told for told in report_of(tmp_path)["departures"])


def test_an_effect_that_turns_with_time_is_not_praised(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    season_of_steps(tmp_path, lambda since: -9.0 + 9.0 * since, spread=0.3)
    (finding,) = report_of(tmp_path)["findings"]
    assert finding["verdict"] == "not shown either way"
    assert "time since the switch" in finding["reason"] or "every period after the switch" in finding["reason"]


def test_all_changes_go_over_together_and_share_a_finding(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2", changes=2)
    season_of_steps(tmp_path, lambda _: -12.0)
    first, second = report_of(tmp_path)["findings"]
    assert (first["together"], second["together"]) == ([2], [1])
    assert first["overall"] == "open"
    assert first["overall_together"] == "went with what it was meant to do"


@pytest.mark.parametrize(
    ("courses", "more", "why"),
    [
        (COURSES[:5], (), "5 courses are too few to judge by: 6 are the fewest"),
        (COURSES, ("--steps", "2"), "only 20 ways"),
        (COURSES, ("--steps", "9"), "9 steps cannot be dealt out among 6 courses"),
        ((*COURSES, COURSES[0]), (), "Course Ash Moor is named twice"),
        ((), (), "0 courses are too few"),
        (COURSES, ("--pairs", "10"), "not planned by pairs"),
        (
            COURSES,
            ("--sd", "relief_s=4.5"),
            "6 courses find an effect on the times of a relief from 8.6 s up; what matters is 8. 7 courses would do.",
        ),
    ],
)
def test_a_roll_out_that_cannot_answer_is_refused(tmp_path: Path, courses: tuple[str, ...], more: tuple[str, ...], why: str) -> None:
    done = planned(tmp_path, *more, courses=courses)
    assert done.returncode != 0
    assert why in done.stderr


def test_records_without_a_plan_are_weighed_by_their_periods(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    season_of_steps(tmp_path, lambda _: -12.0)
    report = json.loads(marram(*REPORT, "--json", cwd=tmp_path).stdout)
    assert report["findings"][0]["verdict"] == "went with it: clearly enough to matter"


def test_an_open_roll_out_before_its_end_has_no_word(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2", status="open")
    season_of_steps(tmp_path, lambda _: -12.0)
    for name in ("days.csv", "values.csv"):
        rows = (tmp_path / name).read_text(encoding="utf-8").splitlines()
        (tmp_path / name).write_text("\n".join(row for row in rows if row[1:2] != "4") + "\n", encoding="utf-8")
    (finding,) = report_of(tmp_path)["findings"]
    assert finding["interim"]
    assert "0 of 6 courses" in finding["reason"]


def test_an_open_roll_out_at_its_end_has_its_word(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2", status="open")
    season_of_steps(tmp_path, lambda _: -12.0)
    (finding,) = report_of(tmp_path)["findings"]
    assert not finding["interim"]
    assert finding["verdict"] == "went with it: clearly enough to matter"


def test_values_that_are_all_the_same_or_of_one_kind_of_day_give_no_word(tmp_path: Path) -> None:
    planned(tmp_path, "--days", "2")
    season_of_steps(tmp_path, lambda _: -12.0)
    head, *rows = (tmp_path / "values.csv").read_text(encoding="utf-8").splitlines()
    same = [",".join([*row.split(",")[:2], "60", row.split(",")[3]]) for row in rows]
    (tmp_path / "values.csv").write_text("\n".join([head, *same]) + "\n", encoding="utf-8")
    (finding,) = report_of(tmp_path)["findings"]
    assert finding["verdict"] == "too little to judge"
    assert "all the same" in finding["reason"]
    trial = {row.split(",")[0] for row in (tmp_path / "days.csv").read_text(encoding="utf-8").splitlines() if ",trial," in row}
    (tmp_path / "values.csv").write_text("\n".join([head, *(row for row in rows if row.split(",")[0] in trial)]) + "\n", encoding="utf-8")
    (finding,) = report_of(tmp_path)["findings"]
    assert finding["verdict"] == "too little to judge"
    assert "it was recorded on trial days alone" in finding["reason"]
