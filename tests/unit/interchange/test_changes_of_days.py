"""Which changes were on on each day, read from the table of days."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RecordError
from marram.interchange.field.trial_records import read_records
from marram.records.rows import Arm, TrialRecords
from tests.support.seasons import expecting, trial_of

TRIAL = trial_of(*[expecting("relief_s", 6)] * 3)


def read(folder: Path, *rows: str, head: str = "day,date,changes") -> TrialRecords:
    (folder / "days.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    (folder / "values.csv").write_text("day,outcome,value,group\n" + "d1,relief_s,60,g1\n", encoding="utf-8")
    return read_records(folder / "days.csv", folder / "values.csv", TRIAL)


@pytest.mark.parametrize(
    ("written", "on"), [("1 3", (1, 3)), ("3, 1", (1, 3)), ('"1;2;3"', (1, 2, 3)), ("none", ()), ("0", ()), ("-", ()), ("2", (2,))]
)
def test_changes_as_people_write_them(tmp_path: Path, written: str, on: tuple[int, ...]) -> None:
    (day,) = read(tmp_path, f'd1,2026-04-04,"{written}"' if "," in written else f"d1,2026-04-04,{written}").days
    assert day.changes == on
    assert day.arm is (Arm.TRIAL if on else Arm.ORDINARY)
    assert (day.pair, day.event) == ("", "d1")


@pytest.mark.parametrize(
    ("rows", "why"),
    [
        (["d1,2026-04-04,4"], "'4'; expected numbers of changes from 1 to 3"),
        (["d1,2026-04-04,1 0"], "'0'; expected numbers"),
        (["d1,2026-04-04,1 x"], "'x'; expected numbers"),
        (["d1,2026-04-04,1 1"], "names a change twice"),
        (["d1,2026-04-04,1", "d2,2026-04-05,"], "is empty"),
    ],
)
def test_what_names_no_change_is_a_fault(tmp_path: Path, rows: list[str], why: str) -> None:
    with pytest.raises(RecordError, match=why):
        read(tmp_path, *rows)


def test_rules_may_be_told_too_and_must_agree(tmp_path: Path) -> None:
    head = "day,date,changes,rules"
    kept = read(tmp_path, "d1,2026-04-04,1,trial", "d2,2026-04-05,none,ordinary", head=head)
    assert [day.arm for day in kept.days] == [Arm.TRIAL, Arm.ORDINARY]
    with pytest.raises(RecordError, match="'ordinary' and changes 1; expected trial, or nothing"):
        read(tmp_path, "d1,2026-04-04,1,ordinary", head=head)
    with pytest.raises(RecordError, match="some days say which changes were on and others do not"):
        read(tmp_path, "d1,2026-04-04,1,trial,", "d2,2026-04-05,,ordinary,4", head=f"{head},period")
