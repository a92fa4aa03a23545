"""A season that nobody played: marked so, weighed in the words of forecasts, and never taken for a pilot."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from statistics import fmean, stdev

import pytest

from marram.core.errors import RecordError, StudyError
from marram.evidence.verdicts import Verdict
from marram.office.forecasts.forecast_asked import ForecastAsked
from marram.office.forecasts.simulated_records import simulated_records
from marram.office.forecasts.spread_of_forecast import with_forecast
from marram.office.trials.past_season import with_past
from marram.office.trials.planned_trial import Spread, trial_stamp
from marram.office.trials.report_trial import finding_lines, headline_of, report_file, report_trial
from marram.office.workroom import Workroom
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Overlay
from tests.support.forecasts import book, trial
from tests.support.reference_courses import reference_holes

ASKED = ForecastAsked(players=18, days=20, seed=3)
EXPECTS = 'expects = { outcome = "search_s", direction = "down", matters = 15 }\nobserves = ["search_s", "round_min", "ball_found"]'
SPREAD = Spread(sd={}, met={}, players=75)


def searching() -> Overlay:
    return trial("search.limit_min", "3", "2", besides=EXPECTS)


def season(folder: Path, asked: ForecastAsked = ASKED, pairs: int = 8) -> tuple[Path, Path]:
    for name, text in simulated_records(searching(), book(), reference_holes(), asked, pairs).items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "days.csv", folder / "values.csv"


def read(folder: Path) -> TrialRecords:
    return Workroom().records(*season(folder), searching())


def test_every_day_says_that_nobody_played_it(tmp_path: Path) -> None:
    records = read(tmp_path)
    assert records.is_simulated
    assert len(records.pairs()) == 8
    firsts = [min(trial_day, ordinary, key=lambda day: day.dated).arm for _, trial_day, ordinary in records.pairs()]
    assert len(set(firsts)) == 2  # which comes first changes
    assert {entry.outcome for entry in records.observations} == {"search_s", "searches", "round_min", "ball_found"}


def test_searches_end_at_the_limit_of_their_day(tmp_path: Path) -> None:
    records = read(tmp_path)
    arms = {day.day: day.arm for day in records.days}
    longest = {
        arm: max(one.value for one in records.observations if one.outcome == "search_s" and arms[one.day] is arm)
        for arm in set(arms.values())
    }
    assert sorted(longest.values()) == [120, 180]


def test_the_report_expects_and_finds_nothing(tmp_path: Path) -> None:
    reported = report_trial(searching(), read(tmp_path), None, book())
    (finding,) = reported.weighed.findings
    said = " ".join([headline_of(reported, finding), *finding_lines(reported, finding)])
    assert said.startswith("Expected, not found: a search takes")
    assert "expected" in finding.words.said(finding.verdict)
    assert {finding.words.said(word).count("does ") for word in Verdict} == {0}
    assert "8 simulated pairs of days" in said
    with pytest.raises(StudyError, match="not drawn"):
        report_file(reported, "marram trial report", ".html")


def test_a_season_of_the_field_keeps_its_words() -> None:
    days, values = Path("examples/season/days.csv"), Path("examples/season/values.csv")
    overlay = Workroom().trial(Path("examples/trials/four-changes.toml"))
    reported = report_trial(overlay, Workroom().records(days, values, overlay), None, book())
    assert not any("xpected, not found" in headline_of(reported, finding) for finding in reported.weighed.findings)


def test_a_simulated_season_is_no_pilot(tmp_path: Path) -> None:
    past = Workroom().past_records(*season(tmp_path), searching())
    with pytest.raises(StudyError, match="they were simulated"):
        with_past(SPREAD, searching(), past)


def test_simulated_and_played_days_do_not_mix(tmp_path: Path) -> None:
    days, values = season(tmp_path)
    days.write_text(days.read_text(encoding="utf-8").replace("ordinary,yes", "ordinary,no", 1), encoding="utf-8")
    with pytest.raises(RecordError, match="some days were simulated and others were played"):
        Workroom().records(days, values, searching())
    days.write_text(days.read_text(encoding="utf-8").replace("ordinary,no", "ordinary,perhaps", 1), encoding="utf-8")
    with pytest.raises(RecordError, match="'perhaps'; expected yes or no"):
        Workroom().records(days, values, searching())


def test_equal_seasons_are_equal_bytes_and_days_are_drawn_apart() -> None:
    one, two = (simulated_records(searching(), book(), reference_holes(), ASKED, 3) for _ in range(2))
    assert one == two
    rows = list(csv.DictReader(io.StringIO(one["values.csv"])))
    rounds = [tuple(row["value"] for row in rows if row["day"] == f"s{day}" and row["outcome"] == "round_min") for day in range(1, 7)]
    assert len(set(rounds)) == 6


def test_a_stated_spread_makes_days_differ_by_it() -> None:
    """24 days with a spread of 40 min besides chance: their means spread by 40 within three standard errors, chance on top (some 8)."""
    wide = ForecastAsked(players=6, days=20, seed=3, spread={"round_min": 40.0})
    rows = list(csv.DictReader(io.StringIO(simulated_records(searching(), book(), reference_holes(), wide, 12)["values.csv"])))
    means = [
        fmean(float(row["value"]) for row in rows if row["day"] == f"s{day}" and row["outcome"] == "round_min") for day in range(1, 25)
    ]
    assert 24 < stdev(means) < 62


@pytest.mark.parametrize("pairs", [0, 201])
def test_a_season_that_cannot_be_meant_is_refused(pairs: int) -> None:
    with pytest.raises(StudyError, match="pairs of days is not simulated"):
        simulated_records(searching(), book(), reference_holes(), ASKED, pairs)


def forecast_file(stamp: str, sd: float | None, schema: str = "marram.forecast/1") -> str:
    effects = [{"outcome": "round_min", "sd_of_difference": None, "of": "a lone group"}, {"outcome": "search_s", "sd_of_difference": sd}]
    return json.dumps({"schema": schema, "trial_stamp": stamp, "together": effects, "more": 1})


def test_a_plan_takes_the_spread_of_a_forecast_that_nobody_else_tells() -> None:
    stamp = trial_stamp(searching())
    assert with_forecast(SPREAD, searching(), forecast_file(stamp, 9.5), where="f.json").sd == {"search_s": 9.5}
    told = Spread(sd={"search_s": 4.0}, met={}, players=75)
    assert with_forecast(told, searching(), forecast_file(stamp, 9.5), where="f.json").sd == {"search_s": 4.0}


def test_what_is_no_forecast_of_this_trial_gives_no_spread() -> None:
    stamp = trial_stamp(searching())
    for text, said in (
        ("no json", "no forecast"),
        ("{}", "no forecast"),
        (forecast_file(stamp, 3, "marram.forecast/9"), "written as"),
        (forecast_file("0000 0000", 3), "is for 0000 0000"),
        (forecast_file(stamp, None), "Nobody stated"),
    ):
        with pytest.raises(StudyError, match=said):
            with_forecast(SPREAD, searching(), text, where="f.json")
