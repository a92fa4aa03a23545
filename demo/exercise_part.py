"""The exercises of the demo: what days cannot judge, ruled at a table and tried at stations."""

from __future__ import annotations

import json
import tomllib
from html import escape
from typing import Any

from demo.page import Section, bullets, link, typed
from demo.running import ROOT, marram
from demo.told import TRIAL, changes, wanted
from demo.trial_part import Step

INCIDENTS, TASKS = "examples/exercises/incidents.toml", "examples/exercises/tasks.toml"
RULED, TRIED = "examples/exercises/rulings.csv", "examples/exercises/stations.csv"


def exercises() -> Step:
    """A line and a section on the clarity exercise and the stations, from the draw to the word."""
    drawn = [
        ["trial", "clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "12", "--seed", "three-firths-2026"],
        ["trial", "stations", "plan", TRIAL, "--tasks", TASKS, "--players", "16", "--seed", "three-firths-2026"],
    ]
    for command, folder in zip(drawn, ("clarity", "stations"), strict=True):
        command.extend(["-o", f"demo/out/{folder}"])
        marram(command)
    weighed = [
        ["trial", "clarity", "report", TRIAL, "--incidents", INCIDENTS, "--table", RULED],
        ["trial", "stations", "report", TRIAL, "--tasks", TASKS, "--table", TRIED],
    ]
    clarity, stations = (json.loads(marram([*command, "--json"])) for command in weighed)
    finding = stations["findings"][0]
    section = Section(
        name="exercises",
        group="Trial",
        title="What days cannot judge",
        note="2 exercises",
        body="<p>Twelve invented officials rule ten written incidents, each under the text in force or under the draft, as it was drawn "
        f"({link('clarity/sheets.pdf', 'their sheets')}). Sixteen invented players do two tasks under both "
        f"({link('stations/sheets.pdf', 'their sheets')}).</p><div class='two'><div><h3>Do officials agree?</h3>{_clarity(clarity)}</div>"
        f"<div><h3>What stations say</h3>{_stations(finding)}</div></div>{typed(*drawn, *weighed)}",
    )
    line = f"officials agree more under the draft: {clarity['verdict']}; stations, change {finding['change']}: {finding['verdict']}"
    return line, section


def _clarity(found: dict[str, Any]) -> str:
    agreement = found["agreement"]
    present = next(text for text in found["texts"] if text["text"] == "present")
    told = {incident["name"]: incident["text"] for incident in tomllib.loads((ROOT / INCIDENTS).read_text(encoding="utf-8"))["incident"]}
    said = ("; ".join(f"{count} said {answer}" for answer, count in one["answers"]) for one in present["split"])
    split = (
        f"{escape(told[one['incident']])} <span class='over'>{escape(words)}.</span>"
        for one, words in zip(present["split"], said, strict=True)
    )
    return (
        f"<p><span class='word'>Under the draft they agree more: {escape(found['verdict'])}.</span> Of a hundred pairs of officials "
        f"{agreement['draft_mean'] * 100:.0f} give the same answer under the draft, {agreement['present_mean'] * 100:.0f} under the text "
        f"in force.</p><details><summary>Where they split under the text in force: {len(present['split'])} incidents</summary>"
        f"{bullets(split)}</details>"
    )


def _stations(finding: dict[str, Any]) -> str:
    effect = finding["effect"]
    low, high = effect["interval95"]
    return (
        f"<p><span class='word'>Change {finding['change']}: {escape(finding['verdict'])}.</span> "
        f"{escape(wanted(finding['outcome'], 'down', round(-effect['estimate'], 2)))} under the draft ({-high:.2f} s to {-low:.2f} s less, "
        f"95 %); at least {finding['matters']:g} s less was wanted.</p><p>{escape(changes()[finding['change']])}</p>"
    )
