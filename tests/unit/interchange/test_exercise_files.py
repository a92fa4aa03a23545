"""Files of clarity exercises and stations: read strictly, and the table that is made is the table that is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RecordError
from marram.evidence.clarity.assignment import assign_incidents, assign_tasks
from marram.interchange.field.exercise_files import blank_table, read_incidents, read_rulings, read_tasks, read_tries
from tests.support.seasons import expecting, trial_of

TRIAL = trial_of(expecting("relief_s", 8), {})
INCIDENTS = """
[[incident]]
name = "reeds"
text = "The ball lies against a reed in the pond; the player breaks it off."
answers = ["no penalty", "one stroke", "two strokes"]
meant = { draft = "no penalty" }

[[incident]]
name = "rake"
text = "The ball rests against a rake and moves when the rake is lifted."
answers = ["no penalty", "one stroke"]
"""
TASKS = '[[task]]\nname = "wall"\ntext = "Drop away from the wall."\nchange = 1\n'


def file(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_the_table_that_is_made_is_read_when_it_is_filled_in(tmp_path: Path) -> None:
    incidents = read_incidents(file(tmp_path, "i.toml", INCIDENTS))
    table = blank_table(assign_incidents([one.name for one in incidents], 6, "moor"), is_station=False)
    lines = table.splitlines()
    assert lines[0] == "official,place,incident,text,answer,seconds"
    filled = [lines[0], *(f"{line[:-1]}No Penalty,31" for line in lines[1:-1]), lines[-1]]
    back = read_rulings(file(tmp_path, "t.csv", "\n".join(filled)), incidents)
    assert (len(back.rulings), back.blank) == (11, 1)
    assert {(entry.answer, entry.seconds) for entry in back.rulings} == {("no penalty", 31.0)}


def test_the_table_of_stations_is_read_when_it_is_filled_in(tmp_path: Path) -> None:
    tasks = read_tasks(file(tmp_path, "t.toml", TASKS), TRIAL)
    lines = blank_table(assign_tasks(["wall"], 6, "moor"), is_station=True).splitlines()
    back = read_tries(file(tmp_path, "t.csv", "\n".join([lines[0], *(f"{line}45" for line in lines[1:])])), tasks, TRIAL)
    assert len(back.tries) == 12
    assert {(entry.change, entry.value) for entry in back.tries} == {(1, 45.0)}


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        ('answers = ["no penalty", "one stroke"]', 'answers = ["no penalty"]', "fewer than two answers"),
        ('name = "rake"', 'name = "reeds"', "named twice"),
        ('meant = { draft = "no penalty" }', 'meant = { draft = "three strokes" }', "expected one of its answers"),
        ('meant = { draft = "no penalty" }', 'meant = { later = "no penalty" }', "expected one of its answers"),
        ('name = "rake"', 'title = "rake"', "member"),
    ],
)
def test_a_faulty_incident_is_told(tmp_path: Path, was: str, now: str, told: str) -> None:
    with pytest.raises(RecordError) as refused:
        read_incidents(file(tmp_path, "i.toml", INCIDENTS.replace(was, now)))
    assert told in str(refused.value)
    assert "i.toml" in str(refused.value)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("o01,reeds,draft,four strokes", "expected one of no penalty"),
        ("o01,pond,draft,no penalty", "none of the incidents"),
        ("o01,reeds,new,no penalty", "expected one of present, draft"),
    ],
)
def test_a_faulty_row_is_told(tmp_path: Path, row: str, told: str) -> None:
    incidents = read_incidents(file(tmp_path, "i.toml", INCIDENTS))
    with pytest.raises(RecordError) as refused:
        read_rulings(file(tmp_path, "t.csv", f"official,incident,text,answer\n{row}\n"), incidents)
    assert told in str(refused.value)
    assert "row 2" in str(refused.value)


@pytest.mark.parametrize(("change", "told"), [("2", "expects nothing"), ("3", "changes 1 to 2")])
def test_a_task_about_no_such_change_is_told(tmp_path: Path, change: str, told: str) -> None:
    with pytest.raises(RecordError) as refused:
        read_tasks(file(tmp_path, "t.toml", TASKS.replace("change = 1", f"change = {change}")), TRIAL)
    assert told in str(refused.value)


def test_a_value_that_cannot_be_is_told(tmp_path: Path) -> None:
    tasks = read_tasks(file(tmp_path, "t.toml", TASKS), TRIAL)
    with pytest.raises(RecordError, match="expected 5 to 900"):
        read_tries(file(tmp_path, "t.csv", "player,task,text,value\na,wall,draft,2000\n"), tasks, TRIAL)
