"""Several changes over days, from the draft to the verdict: each change gets its own finding, and no pair is credited."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.support.planned_seasons import REPORT, drawn_in, report_of, season_of_changes, without_day, write_trial
from tests.support.running import Done, marram

PLAN = ("trial", "plan", "trial.toml", "--design", "changes-over-days", "--seed", "a seed that nobody guesses", "--sd", "relief_s=3")


def planned(folder: Path, changes: int, *more: str, status: str = "closed", matters: float = 8) -> Done:
    write_trial(folder, changes, status=status, matters=matters)
    return marram(*PLAN, *more, "-o", "plan.json", "--replace", cwd=folder)


def test_each_of_three_changes_has_its_own_verdict(tmp_path: Path) -> None:
    done = planned(tmp_path, 3)
    assert "Drawn: days with some of the changes." in done.stdout
    assert "d01 (b01): " in done.stdout
    season_of_changes(tmp_path, {1: -12.0, 2: 9.0})
    report = report_of(tmp_path)
    first, second, third = report["findings"]
    assert first["estimate"] == pytest.approx(-12, abs=1.5)
    assert second["estimate"] == pytest.approx(9, abs=1.5)
    assert [finding["overall"] for finding in (first, second, third)] == [
        "did what it was meant to",
        "did not do what it was meant to",
        "did not do what it was meant to",
    ]
    assert second["verdict"].startswith("does the opposite")
    assert third["verdict"] == "makes no difference that matters"
    assert all(finding["together"] == [] and finding["randomised_units"] == 16 for finding in report["findings"])
    assert report["departures"] == []
    text = " ".join(marram(*REPORT, "--plan", "plan.json", cwd=tmp_path).stdout.split())
    assert "on days with it" in text
    assert "pairs of days" not in text


def test_aliases_are_told_in_the_names_of_the_changes(tmp_path: Path) -> None:
    done = planned(tmp_path, 5, "--days", "8", "--times", "2", matters=10)
    text = " ".join(done.stdout.split())
    assert "goes with what change" in text
    assert "(Shorter searches)" in text
    aliases = json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))["aliases"]
    assert sorted(len(alias["pairs"]) for alias in aliases) == [1, 1, 1, 1, 2]  # A = BD = CE; B, C, D and E go with one pair each
    season_of_changes(tmp_path, {1: -14.0})
    findings = report_of(tmp_path)["findings"]
    told = {alias["change"]: {tuple(pair) for pair in alias["pairs"]} for alias in aliases}
    for finding in findings:
        assert {tuple(pair) for pair in finding["aliases"]} == told[finding["change"]]
        (sentence,) = [sentence for sentence in finding["says"] if "no such pair is credited" in sentence]
        for one, other in told[finding["change"]]:
            assert f"change {one} (" in sentence
            assert f"change {other} (" in sentence


def test_five_changes_on_sixteen_days_are_clear_of_all_pairs(tmp_path: Path) -> None:
    done = planned(tmp_path, 5)
    assert len(drawn_in(tmp_path / "plan.json")) == 32  # played twice, since nothing else shows the spread of days
    assert done.stdout.count("goes with no pair of changes") == 5


def test_a_screening_is_planned_when_asked_for_and_gives_hints_alone(tmp_path: Path) -> None:
    done = planned(tmp_path, 5, "--days", "8", "--times", "1", "--fold-over")
    assert "A screening" in done.stdout
    assert len({tuple(unit["changes"]) for unit in drawn_in(tmp_path / "plan.json")}) == 16
    season_of_changes(tmp_path, {1: -14.0}, spread=0.2)
    findings = report_of(tmp_path)["findings"]
    assert {finding["verdict"] for finding in findings} == {"too little to judge"}
    hints = [sentence for finding in findings for sentence in finding["says"] if sentence.startswith("A hint and no finding")]
    assert [hint.endswith("It does.") for hint in hints] == [True, False, False, False, False]


def test_days_that_contradict_the_plan_are_told_and_weighed_as_played(tmp_path: Path) -> None:
    planned(tmp_path, 3)
    first, second = drawn_in(tmp_path / "plan.json")[:2]
    wrong = "1 2 3" if first["changes"] != [1, 2, 3] else "none"
    season_of_changes(tmp_path, {1: -12.0}, other={first["day"]: wrong})
    without_day(tmp_path, second["day"])
    report = report_of(tmp_path)
    drawn = " ".join(map(str, first["changes"])) or "none"
    assert report["departures"] == [
        f"Day {second['day']} was planned and not played.",
        f"Day {first['day']} was played with changes {wrong} on, where {drawn} was drawn.",
    ]
    assert report["findings"][0]["estimate"] == pytest.approx(-12, abs=2)


def test_an_open_trial_before_its_end_has_no_word(tmp_path: Path) -> None:
    planned(tmp_path, 3, status="open")
    season_of_changes(tmp_path, {1: -12.0})
    without_day(tmp_path, drawn_in(tmp_path / "plan.json")[-1]["day"])
    first = report_of(tmp_path)["findings"][0]
    assert first["interim"]
    assert "15 of 16 days" in first["reason"]


def test_the_overlay_of_each_kind_of_day_is_written_and_holds_its_changes(tmp_path: Path) -> None:
    planned(tmp_path, 3, "--overlays", "books")
    names = {path.name for path in (tmp_path / "books").iterdir()}
    assert names == {f"changes-{on}.toml" for on in ("1", "2", "3", "1-2", "1-3", "2-3", "1-2-3")}
    done = marram("book", "show", "search.limit_min", "--book", "2023+books/changes-2-3.toml", cwd=tmp_path)
    assert "2" in done.stdout.split("]")[1]
    shown = marram("trial", "show", "books/changes-1-3.toml", cwd=tmp_path)
    assert shown.returncode == 0
    assert "overhanging" in shown.stdout
    assert "search" not in shown.stdout
    bare = marram("trial", "plan", "trial.toml", "--seed", "s", "--sd", "relief_s=3", "--overlays", "more", cwd=tmp_path)
    assert "all changes are on" in bare.stderr


@pytest.mark.parametrize(
    ("changes", "more", "why"),
    [
        (1, (), "1 change would be judged; from 2 to 7"),
        (3, ("--days", "12"), "3 changes on 12 days have no usual plan"),
        (3, ("--days", "16"), "3 changes on 8 days, played 2 times"),
        (3, ("--pairs", "10"), "not planned by pairs"),
        (3, ("--adjust", "wind"), "not planned by adjust"),
        (3, ("--course", "Moor"), "not planned by courses"),
        (3, ("--fold-over",), "the same again"),
        (3, ("--sd", "relief_s=7"), "16 days find an effect on the times of a relief from 8.3 s up; what matters is 8. 24 days would do."),
        (3, ("--met", "1=0.01"), "fewer than 30 say too little"),
    ],
)
def test_a_plan_that_cannot_answer_is_refused(tmp_path: Path, changes: int, more: tuple[str, ...], why: str) -> None:
    done = planned(tmp_path, changes, *more)
    assert done.returncode != 0
    assert why in done.stderr
    assert not (tmp_path / "plan.json").exists()


def test_a_change_that_forbids_another_is_refused_with_separate_arms(tmp_path: Path) -> None:
    text = write_trial(tmp_path, 2).read_text(encoding="utf-8")
    text = text.replace("relief.lateral.size", "relief.penalty-area-lateral-red.allowed").replace("{ club_lengths = 2 }", "true")
    text = text.replace("{ club_lengths = 4 }", "false").replace("search.limit_min", "relief.penalty-area-lateral-red.penalty_strokes")
    text = text.replace("was = 3", "was = 1")
    (tmp_path / "trial.toml").write_text(text, encoding="utf-8")
    done = marram(*PLAN, cwd=tmp_path)
    assert "Where change 1 is on, change 2 never comes up" in done.stderr
    assert "separate arms" in done.stderr


def test_records_without_a_plan_are_weighed_by_the_changes_that_they_name(tmp_path: Path) -> None:
    planned(tmp_path, 3)
    season_of_changes(tmp_path, {1: -12.0})
    report = json.loads(marram(*REPORT, "--json", cwd=tmp_path).stdout)
    assert report["findings"][0]["estimate"] == pytest.approx(-12, abs=1.5)
    assert report["plan_stamp"] is None


def test_days_that_will_be_lost_make_the_good_word_rarer(tmp_path: Path) -> None:
    """Three days in sixteen lost leave three of six degrees of freedom, fewer than a word needs; one leaves five."""
    chances = {}
    for lost in ("0", "0.06", "0.19"):
        planned(tmp_path, 3, "--lost", lost)
        outlook = json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))["changes"][0]["outlook"]
        chances[lost] = [entry["did"] for entry in outlook if entry["supposed"] == 12][0]
    assert chances["0"] >= chances["0.06"] > 0.9
    assert chances["0.19"] == 0


@pytest.mark.parametrize("design", ["cross-over", "groups-within-a-day"])
@pytest.mark.parametrize("more", [("--adjust", "wind"), ("--course", "Moor"), ("--times", "2"), ("--fold-over",), ("--steps", "3")])
def test_other_designs_refuse_what_is_not_theirs(tmp_path: Path, design: str, more: tuple[str, ...]) -> None:
    write_trial(tmp_path, 1)
    done = marram("trial", "plan", "trial.toml", "--design", design, "--seed", "s", "--sd", "relief_s=3", *more, cwd=tmp_path)
    assert done.returncode != 0
    assert "which was asked for" in done.stderr


def rewritten(folder: Path, table: str, row_of: Callable[[list[str]], list[str] | None]) -> None:
    """A table with each row made anew, or left out."""
    head, *rows = (folder / table).read_text(encoding="utf-8").splitlines()
    kept = [",".join(row) for row in (row_of(row.split(",")) for row in rows) if row is not None]
    (folder / table).write_text("\n".join([head, *kept]) + "\n", encoding="utf-8")


def test_values_that_are_all_the_same_give_no_word(tmp_path: Path) -> None:
    planned(tmp_path, 3)
    season_of_changes(tmp_path, {})
    rewritten(tmp_path, "values.csv", lambda row: [*row[:2], "60", row[3]])
    report = report_of(tmp_path)
    assert {finding["verdict"] for finding in report["findings"]} == {"too little to judge"}
    assert all("all the same" in finding["reason"] for finding in report["findings"])
    assert any("All 160 values" in remark for remark in report["remarks"])


def test_an_outcome_recorded_on_the_days_of_one_change_alone_says_nothing_of_it(tmp_path: Path) -> None:
    planned(tmp_path, 3)
    season_of_changes(tmp_path, {1: -12.0})
    on = {unit["day"] for unit in drawn_in(tmp_path / "plan.json") if 1 in unit["changes"]}
    rewritten(tmp_path, "values.csv", lambda row: row if row[0] in on else None)
    first = report_of(tmp_path)["findings"][0]
    assert first["verdict"] == "too little to judge"
    assert "it was recorded on days with it alone" in first["reason"]
