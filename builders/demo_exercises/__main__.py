"""Write the tables that come back from the demo's clarity exercise and stations, with invented people and what is built in.

Run as ``python -m builders.demo_exercises``; the same seed gives the same bytes. Nobody was asked and nothing was timed.
"""

from __future__ import annotations

import csv
import random
from io import StringIO
from pathlib import Path

from marram.evidence.clarity.assignment import assign_incidents, assign_tasks
from marram.evidence.clarity.exercise import Wording
from marram.interchange.field.exercise_files import read_incidents

SEED = "three-firths-2026"
OFFICIALS, PLAYERS = 12, 16
RULED_RIGHT = {Wording.PRESENT: 0.72, Wording.DRAFT: 0.93}
"""Chance that an official rules as the text means it."""
QUICKER_S, USUAL_S = 9.0, 62.0
"""By how much the draft shortens a relief at a station, and how long one takes by the text in force."""
FOLDER = Path(__file__).resolve().parents[2] / "examples" / "exercises"


def rulings() -> str:
    """The table of the clarity exercise."""
    chance = random.Random(SEED)
    incidents = {one.name: one for one in read_incidents(FOLDER / "incidents.toml")}
    text = StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(["official", "place", "incident", "text", "answer", "seconds"])
    for entry in assign_incidents(list(incidents), OFFICIALS, SEED):
        incident = incidents[entry.item]
        meant = incident.meant.get(entry.wording.value, incident.answers[-1])
        others = [answer for answer in incident.answers if answer != meant]
        answer = meant if chance.random() < RULED_RIGHT[entry.wording] else chance.choice(others)
        out.writerow([entry.person, entry.place, entry.item, entry.wording.value, answer, round(chance.uniform(15, 70))])
    return text.getvalue()


def tries() -> str:
    """The table of the stations."""
    chance = random.Random(SEED)
    own: dict[str, float] = {}
    text = StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(["player", "place", "task", "text", "value"])
    for entry in assign_tasks(["beside-the-wall", "off-the-path"], PLAYERS, SEED):
        usual = own.setdefault(entry.person, chance.gauss(USUAL_S, 9))
        value = usual - (QUICKER_S if entry.wording is Wording.DRAFT else 0) + chance.gauss(0, 5)
        out.writerow([entry.person, entry.place, entry.item, entry.wording.value, round(value)])
    return text.getvalue()


def exercise_files() -> dict[str, str]:
    """The two tables."""
    return {"rulings.csv": rulings(), "stations.csv": tries()}


if __name__ == "__main__":
    for name, text in exercise_files().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
        print(f"Written: {FOLDER / name}")
