"""Records as people bring them back, odd in every way: each is read rightly, queried or refused; none is weighed silently, none fails."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from tests.support.running import Run

TRIAL = """title = "A trial"
dated = 2026-03-01
on = ["2023"]

[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Because."
asks = ["Was it clear?"]
expects = { outcome = "round_min", direction = "down", matters = 6 }
observes = ["round_min", "fair", "change_met"]

[[change]]
key = "overhanging-ball-wait.wait_s"
was = 10
now = 20
because = "Because."
expects = { outcome = "search_s", direction = "down", matters = 5 }
observes = ["search_s", "fair"]
"""
FIRST = date(2026, 4, 4)
Row = Sequence[object]


def day_rows(pairs: int, written: Callable[[date], object] = date.isoformat) -> list[Row]:
    rows: list[Row] = [("day", "date", "pair", "rules", "course")]
    for number in range(pairs):
        for place, rules in enumerate(("trial", "ordinary")):
            dated = FIRST + timedelta(weeks=2 * number + place)
            rows.append((f"{rules[0]}{number}", written(dated), f"p{number + 1:02d}", rules, "Moor"))
    return rows


def value_rows(pairs: int, value: Callable[[int, str, int], object], outcome: str = "round_min", change: object = "") -> list[Row]:
    rows: list[Row] = [("day", "outcome", "value", "group", "player", "change")]
    return rows + [
        (f"{rules[0]}{number}", outcome, value(number, rules, group), f"g{group}", f"a{group}", change)
        for number in range(pairs)
        for rules in ("trial", "ordinary")
        for group in range(6)
    ]


def usual(number: int, rules: str, group: int) -> object:
    return 240 + number + (group * 7 + number * 3) % 5 - (15 + number % 3 if rules == "trial" else 0)


def write(path: Path, rows: Sequence[Row]) -> str:
    if path.suffix == ".xlsx":
        book = Workbook()
        sheet = book.active
        assert sheet is not None
        for row in rows:
            sheet.append(list(row))
        book.save(path)
    else:
        path.write_text("\n".join(",".join(map(str, row)) for row in rows) + "\n")
    return str(path)


class Season:
    """A trial and its two tables in a folder, and what the command says of them."""

    def __init__(self, called: Run, folder: Path) -> None:
        self.called, self.folder = called, folder
        (folder / "trial.toml").write_text(TRIAL)

    def report(self, days: Sequence[Row], values: Sequence[Row], *more: str, form: str = "csv") -> tuple[int, dict[str, Any], str]:
        tables = ("--days", write(self.folder / f"days.{form}", days), "--values", write(self.folder / f"values.{form}", values))
        code, out, complaint = self.called("trial", "report", str(self.folder / "trial.toml"), *tables, "--json", *more)
        assert "Traceback" not in complaint
        return code, json.loads(out), complaint


@pytest.fixture
def season(called: Run, tmp_path: Path) -> Season:
    return Season(called, tmp_path)


PLAIN = "does it: clearly enough to matter"


def verdict(answer: dict[str, Any], change: int = 1) -> tuple[str, str]:
    finding = answer["findings"][change - 1]
    return finding["verdict"], finding["reason"]


def test_a_workbook_with_real_dates_is_read(season: Season) -> None:
    for written in (lambda day: datetime(day.year, day.month, day.day), lambda day: day):
        code, answer, _ = season.report(day_rows(8, written), value_rows(8, usual), form="xlsx")
        assert code == 0
        assert answer["pairs"] == 8
        assert verdict(answer)[0] == PLAIN


@pytest.mark.parametrize("written", ["%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y", "%d %B %Y", "%a %d %b %Y", "%B %d, %Y"])
def test_dates_as_people_write_them_are_read_where_one_of_the_column_settles_them(season: Season, written: str) -> None:
    """4 and 11 April may be read two ways; 18 and 25 April settle it for all."""
    days = day_rows(8, lambda day: f'"{day.strftime(written)}"')
    code, answer, _ = season.report(days, value_rows(8, usual))
    assert code == 0, answer
    assert verdict(answer)[0] == PLAIN
    assert not answer["left_out"]


def test_dates_that_nothing_settles_are_refused_each_with_its_row(season: Season) -> None:
    days = [("day", "date", "pair", "rules"), ("t0", "04/05/2026", "p0", "trial"), ("o0", "11/05/2026", "p0", "ordinary")]
    code, answer, _ = season.report(days, [("day", "outcome", "value", "group"), ("t0", "round_min", 240, "g1")])
    assert code == 2
    told = json.dumps(answer["error"])
    assert "row 2" in told
    assert "row 3" in told
    assert "04/05/2026" in told


def test_a_column_that_is_written_both_ways_is_refused(season: Season) -> None:
    days = [("day", "date", "pair", "rules"), ("t0", "18/04/2026", "p0", "trial"), ("o0", "04/25/2026", "p0", "ordinary")]
    code, answer, _ = season.report(days, [("day", "outcome", "value", "group"), ("t0", "round_min", 240, "g1")])
    assert code == 2
    assert "has the day first and" in json.dumps(answer["error"])


def test_hours_among_minutes_are_read_where_they_say_so_and_refused_where_they_do_not(season: Season) -> None:
    def said(number: int, rules: str, group: int) -> object:
        minutes = int(str(usual(number, rules, group)))
        return f"{minutes // 60} h {minutes % 60} min" if group % 2 else f"{minutes // 60}:{minutes % 60:02d}"

    plain = season.report(day_rows(8), value_rows(8, usual))[1]
    mixed = season.report(day_rows(8), value_rows(8, said))[1]
    assert mixed["findings"][0]["estimate"] == plain["findings"][0]["estimate"]
    code, answer, _ = season.report(day_rows(8), value_rows(8, lambda *at: 4.1 if at == (3, "trial", 2) else usual(*at)))
    assert code == 2
    assert "4.1 min cannot be; expected 90 to 480" in json.dumps(answer["error"]) or "4.1" in json.dumps(answer["error"])


def test_minutes_among_seconds_are_queried(season: Season) -> None:
    def searched(number: int, rules: str, group: int) -> object:
        return 1.5 if (number, rules, group) == (2, "trial", 3) else 100 + (group * 7 + number) % 9 - (10 if rules == "trial" else 0)

    code, answer, _ = season.report(day_rows(8), value_rows(8, searched, "search_s"))
    assert code == 0
    queried = [row for row in answer["left_out"] if row["queried"]]
    assert len(queried) == 1
    assert "reads like minutes" in queried[0]["reason"]


def test_one_pair_alone_says_nothing(season: Season) -> None:
    code, answer, _ = season.report(day_rows(1), value_rows(1, usual))
    assert code == 0
    assert verdict(answer) == ("too little to judge", "1 pair of days; 6 are the fewest that can show anything")
    assert answer["findings"][0]["interval95"] is None


@pytest.mark.parametrize("differ", [0, 15])
def test_constant_outcomes_say_nothing_and_are_remarked_on(season: Season, differ: int) -> None:
    code, answer, _ = season.report(day_rows(8), value_rows(8, lambda number, rules, group: 240 - (differ if rules == "trial" else 0)))
    assert code == 0
    assert verdict(answer)[0] == "too little to judge"
    assert "show no spread" in verdict(answer)[1]
    if not differ:
        assert any("All 96 values of round_min are 240" in remark for remark in answer["remarks"])


def test_answers_all_alike_are_remarked_on_and_bound_nothing(season: Season) -> None:
    values = [*value_rows(8, usual), *value_rows(8, lambda *_: 5, "fair", 1)[1:]]
    code, answer, _ = season.report(day_rows(8), values)
    assert code == 0
    assert any("All 96 values of fair are 5" in remark for remark in answer["remarks"])
    trial_days = [lot for lot in answer["findings"][0]["answers"] if lot["rules"] == "trial"]
    assert trial_days[0]["counts"] == [0, 0, 0, 0, 48]
    assert trial_days[0]["top_two_interval95"][0] < 0.95  # six players, though each answered eight times
    assert all(compared["interval95"] is None for compared in answer["findings"][0]["answers_compared"])


def test_answers_for_a_change_that_nobody_met_are_told_as_theirs_and_credit_nothing(season: Season) -> None:
    trial_alone = [row for row in value_rows(8, lambda *_: 5, "fair", 1)[1:] if str(row[0]).startswith("t")]
    met = [row for row in value_rows(8, lambda *_: 0, "change_met", 1)[1:] if str(row[0]).startswith("t")]
    code, answer, _ = season.report(day_rows(8), [*value_rows(8, usual), *trial_alone, *met])
    assert code == 0
    assert verdict(answer) == ("too little to judge", "nobody met it")
    finding = answer["findings"][0]
    assert finding["met"] == 0
    assert finding["fair"] is None
    assert all("not" in lot["met"] for lot in finding["answers"])


def test_answers_for_a_change_that_the_trial_has_not_are_refused(season: Season) -> None:
    values = [*value_rows(8, usual), ("t0", "fair", 5, "", "a1", 3)]
    code, answer, _ = season.report(day_rows(8), values)
    assert code == 2
    told = json.dumps(answer["error"])
    assert "row 98" in told
    assert "change" in told


def test_a_plan_edited_after_it_was_frozen_is_refused(season: Season, called: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.json"
    words = ("--seed", "moor", "--pairs", "8", "--sd", "round_min=5", "--leave-out", "2", "-o", str(plan))
    assert called("trial", "plan", str(tmp_path / "trial.toml"), *words)[0] == 0
    whole = plan.read_text()
    for altered in (whole.replace('"matters": 6.0', '"matters": 3.0'), whole.replace('"judged_by": "the days"', '"judged_by": "nobody"')):
        assert altered != whole
        plan.write_text(altered)
        code, answer, _ = season.report(day_rows(8), value_rows(8, usual), "--plan", str(plan))
        assert code == 4
        assert "altered after it was frozen" in answer["error"]["message"]
    plan.write_text(whole)
    (tmp_path / "trial.toml").write_text(TRIAL.replace("matters = 6", "matters = 3"))
    code, answer, _ = season.report(day_rows(8), value_rows(8, usual), "--plan", str(plan))
    assert code == 4
    assert "changed after it was planned" in answer["error"]["message"]


def test_records_of_two_trials_in_one_table_are_told_apart(season: Season, called: Run, tmp_path: Path) -> None:
    """Days of another trial in the same pairs are refused; in pairs of their own they are queried, since no coin was thrown for them."""
    plan = tmp_path / "plan.json"
    words = ("--seed", "moor", "--pairs", "8", "--sd", "round_min=5", "--leave-out", "2", "-o", str(plan))
    assert called("trial", "plan", str(tmp_path / "trial.toml"), *words)[0] == 0
    twice = [*day_rows(8), *(("x" + str(row[0]), row[1], row[2], row[3], "Bay") for row in day_rows(8)[1:])]
    code, answer, _ = season.report(twice, value_rows(8, usual), "--plan", str(plan))
    assert code == 2
    assert "expected one day under each" in json.dumps(answer["error"])
    other = [*day_rows(8), *((f"x{row[0]}", row[1], f"x{row[2]}", row[3], "Bay") for row in day_rows(8)[1:])]
    more = [(f"x{row[0]}", *row[1:]) for row in value_rows(8, lambda number, rules, group: 240 + group + number)[1:]]
    code, answer, _ = season.report(other, [*value_rows(8, usual), *more], "--plan", str(plan))
    assert code == 0
    assert any("xp01 was played and not planned" in told for told in answer["departures"])
    assert answer["pairs"] == 8
    assert len([row for row in answer["left_out"] if row["queried"] and "no pair xp" in row["reason"]]) == 96
    assert answer["findings"][0]["estimate"] == season.report(day_rows(8), value_rows(8, usual))[1]["findings"][0]["estimate"]
    rows: list[Row] = [*value_rows(8, usual), *more]
    said = [(*row, "checked" if row[0] == "day" else "yes" if str(row[0]).startswith("x") else "") for row in rows]
    assert season.report(other, said, "--plan", str(plan))[1]["pairs"] == 16


def test_an_outcome_recorded_on_one_kind_of_day_says_nothing(season: Season) -> None:
    values = [row for row in value_rows(8, usual) if not str(row[0]).startswith("o")]
    code, answer, _ = season.report(day_rows(8), values)
    assert code == 0
    assert verdict(answer) == ("too little to judge", "it was recorded on trial days alone, so that there is nothing to hold it against")
