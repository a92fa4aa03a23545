"""Designs of a trial: each is asked for by one name, its frozen plan says which it is, and the report weighs by what the plan says."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from marram.cli.trial.plan_command import plan
from marram.core.errors import StudyError
from marram.evidence.plan import Design
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.known_designs import DESIGNS, design_of, plan_by_design
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import Spread
from marram.office.workroom import Workroom
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import expecting, trial_of

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
WHOLE = str(EXAMPLES / "trials" / "four-changes.toml")
SPREAD = ["--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4"]
NO_RECORDS = TrialRecords(days=(), observations=())


def test_every_name_has_one_design() -> None:
    assert [design.name for design in DESIGNS] == list(DesignName)
    assert len({design.design for design in DESIGNS}) == len(DESIGNS)


def freeze(out: Path, *words: str) -> Path:
    CliRunner().invoke(plan, [*words, "-o", str(out)], catch_exceptions=False)
    return out


def test_the_stamp_of_a_plan_of_paired_days_stays(tmp_path: Path) -> None:
    """Golden: the stamp of this plan from before designs had names; plans that were frozen then must not look altered."""
    out = freeze(tmp_path / "plan.json", WHOLE, "--seed", "three-firths-2026", *SPREAD)
    content = json.loads(out.read_text(encoding="utf-8"))
    assert content["plan_stamp"] == "413f 1cc5"
    assert not {"drawn", "advice"} & set(content)
    named = freeze(tmp_path / "named.json", WHOLE, "--seed", "three-firths-2026", *SPREAD, "--design", "paired-days")
    assert named.read_bytes() == out.read_bytes()
    assert Workroom().plan(out).design is Design.PAIRED_DAYS


def test_records_without_a_plan_of_days_are_weighed_by_pairs() -> None:
    assert design_of(None, NO_RECORDS).name is DesignName.PAIRED_DAYS


def test_a_plan_of_what_days_do_not_judge_is_refused() -> None:
    with pytest.raises(StudyError, match=r"plan is of a station exercise.*Days are weighed by: paired days of the whole field"):
        design_of(ReadPlan(stamp="", trial_stamp="", pairs=(), design=Design.STATION), NO_RECORDS)


@pytest.mark.parametrize("option", ["days", "groups", "waves"])
def test_paired_days_are_planned_by_their_pairs_alone(option: str) -> None:
    asked = AskedPlan(seed="moor", **{option: 2})  # type: ignore[arg-type]
    with pytest.raises(StudyError, match=f"planned by their pairs; {option} of another design"):
        plan_by_design(trial_of(expecting("search_s", 5)), Spread(sd={"search_s": 4.0}, met={}, players=60), asked)


@pytest.mark.parametrize(
    ("rows", "name"),
    [
        ([("g1", None, Arm.TRIAL), ("g2", None, Arm.ORDINARY)], DesignName.GROUPS),
        ([("g1", 1, Arm.TRIAL), ("g1", 2, Arm.ORDINARY), ("g2", 1, Arm.TRIAL), ("g2", 2, Arm.ORDINARY)], DesignName.CROSS_OVER_BY_HALF),
        ([("g1", 1, Arm.TRIAL), ("g1", 2, Arm.ORDINARY), ("g2", 1, Arm.ORDINARY), ("g2", 2, Arm.TRIAL)], DesignName.CROSS_OVER),
        ([("g1", 1, Arm.TRIAL), ("g2", 1, Arm.ORDINARY), ("g1", 2, Arm.ORDINARY)], DesignName.CROSS_OVER),
    ],
)
def test_without_a_plan_the_tables_show_the_design(rows: list[tuple[str, int | None, Arm]], name: DesignName) -> None:
    day = TrialDay(day="d1", dated=date(2026, 4, 4), pair="", arm=None, course="Moor")
    values = tuple(Observation(day="d1", outcome="strokes", value=80, group=group, round=number, arm=arm) for group, number, arm in rows)
    assert design_of(None, TrialRecords(days=(day,), observations=values)).name is name


@pytest.mark.parametrize(
    ("design", "arm"), [(Design.PAIRED_DAYS, None), (Design.CROSS_OVER, Arm.TRIAL), (Design.GROUPS_IN_A_DAY, Arm.TRIAL)]
)
def test_days_that_are_not_those_of_the_plan_are_refused(design: Design, arm: Arm | None) -> None:
    day = TrialDay(day="d1", dated=date(2026, 4, 4), pair="p1", arm=arm, course="Moor")
    with pytest.raises(StudyError, match="of day d1 the table of days says"):
        design_of(ReadPlan(stamp="", trial_stamp="", pairs=(), design=design), TrialRecords(days=(day,), observations=()))
