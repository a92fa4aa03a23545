"""The exercises of the demo: what days cannot judge, ruled at a table and tried at stations."""

from __future__ import annotations

import json
from html import escape

from demo.running import marram
from demo.trial_part import TRIAL

INCIDENTS, TASKS = "examples/exercises/incidents.toml", "examples/exercises/tasks.toml"
RULED, TRIED = "examples/exercises/rulings.csv", "examples/exercises/stations.csv"


def exercises() -> tuple[str, str]:
    """A line and a section on the clarity exercise and the stations, from the draw to the word."""
    drawn = [
        ["trial", "clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "12", "--seed", "three-firths-2026"],
        ["trial", "stations", "plan", TRIAL, "--tasks", TASKS, "--players", "16", "--seed", "three-firths-2026"],
    ]
    for command, folder in zip(drawn, ("clarity", "stations"), strict=True):
        marram([*command, "-o", f"demo/out/{folder}"])
    weighed = [
        ["trial", "clarity", "report", TRIAL, "--incidents", INCIDENTS, "--table", RULED],
        ["trial", "stations", "report", TRIAL, "--tasks", TASKS, "--table", TRIED],
    ]
    clarity, stations = (json.loads(marram([*command, "--json"])) for command in weighed)
    finding = stations["findings"][0]
    told = "".join(f"<pre>{escape(marram(command))}</pre>" for command in weighed)
    shown = escape("\n".join(f"marram {' '.join(command)}" for command in (*drawn, *weighed)))
    section = (
        "<h2>What days cannot judge</h2><p>Twelve invented officials rule ten written incidents, each under the text in force or under the "
        "draft, as it was drawn; sixteen invented players do two tasks under both. <a href='clarity/sheets.pdf'>The officials' sheets</a>, "
        f"<a href='stations/sheets.pdf'>the players' sheets</a>.</p>{told}<pre>{shown}</pre>"
    )
    line = f"officials agree more under the draft: {clarity['verdict']}; stations, change {finding['change']}: {finding['verdict']}"
    return line, section
