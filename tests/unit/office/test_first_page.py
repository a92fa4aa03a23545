"""The first page of a report: JSON, text and drawing give the same figures, whatever the design, and no word covers another."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from html import unescape
from pathlib import Path
from random import Random
from typing import Any

import pytest

from marram.answers.shape import Answer, json_text
from marram.answers.trials.first_page_answer import first_page_shape
from marram.answers.trials.report_answer import trial_report_answer
from marram.evidence.designs.drawn_lots import draw_halves, draw_orders
from marram.evidence.telling.first_page import FirstPage
from marram.office.trials.planned_trial import DrawnUnit
from marram.office.trials.report_trial import TrialReported, report_file, report_trial
from marram.office.workroom import Workroom
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.sheets.drawn.effect_plot import axis_of
from marram.sheets.pages.report_first_page import NARROW, PAPER, WIDE, draw_pictures
from tests.support.drawn_seasons import Built, days_of_units, rows_of_units
from tests.support.first_pages import line_ends, overlaps, point_at, text_boxes, value_at
from tests.support.pdf_reading import words_of
from tests.support.seasons import expecting, trial_of

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
TURNS = {Arm.TRIAL: (Arm.TRIAL, Arm.ORDINARY), Arm.ORDINARY: (Arm.ORDINARY, Arm.TRIAL)}
DESIGNS = ("cross-over", "by half", "groups", "paired days", "some changes", "roll-out")
SEEDS = range(6)
"""Six seasons of each of six designs."""
TRIAL = trial_of(
    expecting("strokes", 2)
    | {"guards": '[{ outcome = "penalty_strokes", margin = 0.4, worse = "up" }]', "observes": '["strokes", "penalty_strokes", "fair"]'},
    expecting("drops_per_relief", 0.2) | {"observes": '["drops_per_relief", "fair"]'},
)


@lru_cache
def demo() -> TrialReported:
    room, season = Workroom(), EXAMPLES / "season"
    trial = room.trial(EXAMPLES / "trials" / "four-changes.toml")
    records = room.records(season / "days.csv", season / "values.csv", trial, season / "asked.csv")
    return report_trial(trial, records, None, room.book("2023"))


def drawn_units(design: str, seed: int) -> list[DrawnUnit]:
    if design == "by half":
        orders = [first for both in draw_orders([f"e{number}" for number in range(6)], str(seed)).values() for first in both]
        return [DrawnUnit(unit=f"d{number}", day=f"d{number}", rules=TURNS[first]) for number, first in enumerate(orders)]
    days = [(f"d{day}", draw_halves([f"g{group}" for group in range(4 + 4 * seed)], f"d{day}", str(seed))) for day in range(3)]
    return [
        DrawnUnit(unit=f"{day} {group}", day=day, group=group, rules=TURNS[arm] if design == "cross-over" else (arm,))
        for day, drawn in days
        for group, arm in drawn.items()
    ]


def drawn_days(design: str, seed: int) -> Iterator[TrialDay]:
    chance = Random(seed)
    for number in range(16):
        dated, name = date(2026, 4, 4) + timedelta(days=5 * number), f"d{number:02d}"
        if design == "paired days":
            arm = list(Arm)[(number + number // 2 * chance.randint(0, 1)) % 2] if number % 2 == 0 else None
            yield TrialDay(day=name, dated=dated, pair=f"p{number // 2}", arm=arm or None, course="Moor")
        elif design == "some changes":
            on = tuple(change for change, bit in ((1, number & 1), (2, number & 2)) if bit)
            yield TrialDay(day=name, dated=dated, pair="", arm=Arm.TRIAL if on else Arm.ORDINARY, course="Moor", changes=on)
        else:
            course, period = number // 4, number % 4
            arm = Arm.TRIAL if period > course % 3 else Arm.ORDINARY
            yield TrialDay(
                day=name, dated=dated, pair="", arm=arm, course=f"Course {course} " + "of the long name" * seed, period=str(period + 1)
            )


def with_arms(days: list[TrialDay]) -> list[TrialDay]:
    """The second day of a pair has the other rules than its first."""
    other = {day.pair: Arm.ORDINARY if day.arm is Arm.TRIAL else Arm.TRIAL for day in days if day.arm is not None}
    return [
        TrialDay(day=day.day, dated=day.dated, pair=day.pair, arm=day.arm or other[day.pair], course=day.course) if day.pair else day
        for day in days
    ]


def season(design: str, seed: int) -> TrialRecords:
    """A season with an effect of any size, a tenth of its rows lost."""
    chance = Random(f"{design} {seed}")
    effect = chance.choice((-40.0, -4.0, -1.0, 0.0, 3.0))
    if design in {"cross-over", "by half", "groups"}:
        drawn = drawn_units(design, seed)
        days, rows = days_of_units(drawn), rows_of_units(drawn, "strokes", Built(trial=effect), chance)
        rows += rows_of_units(drawn, "penalty_strokes", Built(level=8, sd_day=0.2, sd_group=0.2, sd_row=1), chance, of=round)
        rows += rows_of_units(drawn, "drops_per_relief", Built(level=3, sd_day=0.1, sd_group=0.2, sd_row=0.5), chance, of=round)
    else:
        days = tuple(with_arms(list(drawn_days(design, seed))))
        rows = [
            Observation(
                day=day.day,
                outcome=outcome,
                value=max(1.0, level + chance.gauss(0, spread) + (day.arm is Arm.TRIAL) * effect * spread / 6),
                group=f"g{group}",
                player=f"p{group}",
            )
            for day in days
            for group in range(6)
            for outcome, level, spread in (("strokes", 90, 6.0), ("penalty_strokes", 8, 1.0), ("drops_per_relief", 3, 0.5))
        ]
    kept = [row for row in rows if chance.random() > 0.1 and not (seed == 5 and row.day in {"d1", "d04", "d05"})]
    answers = [
        Observation(
            day=row.day, outcome="fair", value=float(chance.randint(1, 5)), player=row.player, group=row.group, change=1, arm=row.arm
        )
        for row in kept
        if row.outcome == "strokes" and chance.random() < 0.3
    ]
    return TrialRecords(days=days, observations=(*kept, *answers))


@lru_cache(maxsize=64)
def reported(design: str, seed: int) -> TrialReported:
    return report_trial(TRIAL, season(design, seed), None, Workroom().book("2023"))


def test_each_design_is_known_by_its_tables_and_draws_its_own_season() -> None:
    pages = [reported(design, 1) for design in DESIGNS]
    assert len({report.weighed.words.design for report in pages}) == len(DESIGNS)
    assert [(report.first.season.each, len(report.first.season.columns), len(report.first.season.rows)) for report in pages] == [
        ("day", 3, 2),
        ("day", 12, 2),
        ("day", 3, 1),
        ("day", 16, 1),
        ("day", 16, 2),
        ("period", 4, 4),
    ]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("design", DESIGNS)
def test_no_word_of_a_drawn_season_covers_another(design: str, seed: int) -> None:
    page = reported(design, seed).first
    for widths in (PAPER, WIDE, NARROW):
        for name, svg in draw_pictures(page, widths).items():
            width = float(re.search(r'viewBox="0 0 ([\d.]+)', svg)[1])  # type: ignore[index]
            boxes = text_boxes(svg)
            assert not overlaps(boxes), (name, widths)
            assert all(left >= -0.5 and right <= width + 0.5 for _, (left, _, right, _) in boxes), (name, widths)


@pytest.mark.parametrize("design", DESIGNS)
def test_what_is_drawn_is_what_the_answer_says(design: str) -> None:
    for seed in SEEDS:
        check_rows(reported(design, seed).first)


def check_rows(page: FirstPage) -> None:
    shape = first_page_shape(page)
    rows = [*page.changes, *page.guards]
    axis, pictures = axis_of(rows, WIDE.plot), draw_pictures(page, WIDE)
    names = [*(f"change-{number}" for number in range(len(page.changes))), *(f"guard-{number}" for number in range(len(page.guards)))]
    for name, told in zip(names, [*shape.changes, *shape.guards], strict=True):
        svg, (low, high) = pictures[name], axis.ends
        if told.estimate is None:
            assert "nothing to draw" in svg
            continue
        point = point_at(svg)
        if point is not None:
            assert value_at(axis, point) == pytest.approx(told.estimate, abs=0.002)
        else:
            assert not low + 0.5 < told.estimate < high - 0.5
        if told.interval95 is None:
            continue
        ends = line_ends(svg, "thin")
        assert ends is not None
        for x, end in zip(ends, told.interval95, strict=True):
            if low < end < high:
                assert value_at(axis, x) == pytest.approx(end, abs=0.002)
            else:
                assert 'class="arrowhead"' in svg


def test_rows_are_the_findings_in_multiples_of_what_matters() -> None:
    """Every finding and every guard of the answer has its row, and no row is of anything else."""
    answer = _plain(trial_report_answer(demo(), "x"))
    page = answer["first_page"]
    assert [number for row in page["changes"] for number in row["changes"]] == [1, 2, 3, 4]
    for finding in answer["findings"]:
        (row,) = (row for row in page["changes"] if finding["change"] in row["changes"])
        turn = -1 if finding["direction"] == "down" else 1
        assert row["estimate"] == pytest.approx(turn * finding["estimate"] / finding["matters"], abs=1e-3)
        assert row["interval95"] == pytest.approx(sorted(turn * end / finding["matters"] for end in finding["interval95"]), abs=1e-3)
        assert row["interval90"] == pytest.approx(sorted(turn * end / finding["matters"] for end in finding["interval90"]), abs=1e-3)
        assert row["sentence"] == finding["headline"]
        assert row["word"].lower() == finding["verdict"]
    guards = [(finding["change"], guard) for finding in answer["findings"] for guard in finding["guards"]]
    assert len(guards) == len(page["guards"]) == 2
    for (change, guard), row in zip(guards, page["guards"], strict=True):
        assert (row["changes"], row["outcome"], row["unit_of_scale"]) == ([change], guard["outcome"], guard["margin"])
        assert row["estimate"] == pytest.approx(-guard["estimate"] / guard["margin"], abs=1e-3)
        assert row["interval95"] == pytest.approx(sorted(-end / guard["margin"] for end in guard["interval95"]), abs=1e-3)
        assert row["word"].lower() == guard["word"]


def _plain(answer: Answer) -> Any:  # noqa: ANN401 - whatever JSON holds
    return json.loads(json_text(answer))


def test_every_row_answer_and_loss_of_the_answer_stands_in_page_and_print() -> None:
    page = _plain(trial_report_answer(demo(), "x"))["first_page"]
    html = " ".join(
        unescape(
            re.sub(r"<[^>]+>", "", re.sub(r"<style>.*?</style>", "", report_file(demo(), "x", ".html").decode(), flags=re.DOTALL))
        ).split()
    )
    paper = words_of(report_file(demo(), "x", ".pdf"))
    told = [page["mark"], page["about"], *page["spoken"]]
    for row in (*page["changes"], *page["guards"]):
        told += [row["sentence"], row["limits"], row["word"], *([row["reason"]] if row["reason"] else [])]
    for band in page["rests_on"]:
        told += [loss["reason"] for step in band["steps"] for loss in step["losses"]]
    for bar in page["answers"]:
        told += [f"{bar['answered']} answered"] if sum(bar["counts"]) else [f"change {bar['change']}: nobody answered"]
    told.append("750 asked about each")
    for words in told:
        assert words in html
        assert words in paper
    for band in page["rests_on"]:
        for step in band["steps"]:
            count = f"{step['count']:,}".replace(",", " ")
            assert f"{count} {step['word']}" in html.replace("\u2009", " ")
            assert f"{count} {step['word']}" in paper.replace("\u2009", " ")


def test_the_season_of_the_demo_is_twenty_days_in_pairs() -> None:
    season = _plain(trial_report_answer(demo(), "x"))["first_page"]["season"]
    days = (EXAMPLES / "season" / "days.csv").read_text(encoding="utf-8").splitlines()[1:]
    read = [(cells[0], cells[1], cells[2], [[cells[3]]]) for cells in (line.split(",") for line in days)]
    assert [(column["name"], column["date"], column["joined"], column["cells"]) for column in season["columns"]] == read
    assert all(column["held"] and column["weighed"] for column in season["columns"])


def test_shares_are_those_of_who_was_asked() -> None:
    answer = _plain(trial_report_answer(demo(), "x"))
    for bar in answer["first_page"]["answers"]:
        (finding,) = (finding for finding in answer["findings"] if finding["change"] == bar["change"])
        (response,) = finding["responses"]
        share = response["share"]
        assert bar["asked"] == response["asked"]
        if share is None:
            assert (bar["share"], bar["counts"]) == (None, [0] * 5)
            continue
        assert bar["share"] == pytest.approx(share["weighted"], abs=1e-4)
        assert bar["worst_cases"] == pytest.approx([share["if_silent_said_worst"], share["if_silent_said_best"]], abs=1e-4)
        assert bar["counts"] == finding["fair"]["counts"]
