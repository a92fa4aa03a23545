"""An overlay written and read back is the same, with whatever it adds; and its stamp sees every value of what it adds."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.interchange.books.overlay_writing import write_overlay
from marram.office.trials.planned_trial import trial_stamp
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay

EXAMPLES = sorted((Path(__file__).resolve().parents[3] / "examples" / "trials").glob("*.toml"))


def read(text: str) -> Overlay:
    return read_overlay(text, name="again", catalogue=packaged_catalogue())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_is_written_is_read_back_the_same(path: Path) -> None:
    trial = read(path.read_text(encoding="utf-8"))
    again = read(write_overlay(trial))
    assert write_overlay(again) == write_overlay(trial)
    assert [change.expects for change in again.changes] == [change.expects for change in trial.changes]
    assert [[(row.id, row.added) for row in change.adds.rows] for change in again.changes] == [
        [(row.id, row.added) for row in change.adds.rows] for change in trial.changes
    ]
    assert [change.adds.conditions for change in again.changes] == [change.adds.conditions for change in trial.changes]


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("size = { inches = 6 }", "size = { inches = 12 }"),
        ("radius_m = 0.08", "radius_m = 0.09"),
        ('put = "place"', 'put = "drop"'),
        ('conditions = ["divot-hole"]', 'conditions = ["divot-hole", "ground-under-repair"]'),
    ],
)
def test_the_stamp_of_a_trial_sees_what_it_adds(was: str, now: str) -> None:
    text = next(path for path in EXAMPLES if path.stem == "divot-holes").read_text(encoding="utf-8")
    assert text.count(was) == 1
    assert trial_stamp(read(text)) != trial_stamp(read(text.replace(was, now)))


def test_a_guard_says_which_way_is_worse_only_where_the_trial_does() -> None:
    text = next(path for path in EXAMPLES if path.stem == "four-changes").read_text(encoding="utf-8")
    assert "worse" not in write_overlay(read(text))
    turned = text.replace('{ outcome = "strokes", margin = 1.5 }', '{ outcome = "strokes", margin = 1.5, worse = "down" }')
    assert 'worse = "down"' in write_overlay(read(turned))
    assert trial_stamp(read(turned)) != trial_stamp(read(text))
