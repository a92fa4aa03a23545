"""The trial of the demo: drafted, planned, its records brought back, weighed."""

from __future__ import annotations

import csv
import json
from collections import Counter
from html import escape
from pathlib import Path

from demo.running import OUT, ROOT, marram

TRIAL = "examples/trials/four-changes.toml"
DAYS, VALUES, ASKED = (f"examples/season/{name}.csv" for name in ("days", "values", "asked"))
PLAN = "demo/out/plan.json"
_ANSWERS = ("fair", "change_met")
_SD = ("search_s=9", "relief_s=5", "rulings=0.2", "strokes=1.2", "penalty_strokes=0.2")
SPREAD = [*(word for amount in _SD for word in ("--sd", amount)), "--leave-out", "4"]


def draft() -> tuple[str, str]:
    """A line and a section on the draft."""
    shown = json.loads(marram(["trial", "show", TRIAL, "--json"]))
    marram(["trial", "check", TRIAL])
    changes = shown["books"][0]["changes"]
    marram(["book", "export", "-o", "demo/out/rules.xlsx"])
    rows = "".join(
        f"<li><b>{escape(change['key'])}</b>: {escape(change['because'])} "
        + (f"Touches {escape(', '.join(change['procedures']))}." if change["procedures"] else "")
        for change in changes
    )
    section = (
        f"<h2>The draft</h2><p>{escape(shown['title'])}: written by answering questions (<code>marram trial new</code>) or on "
        f"<a href='rules.xlsx'>a spreadsheet of all rules</a>, on top of the 2023 edition.</p><ol>{rows}</ol>"
        f"<pre>marram trial show {TRIAL}</pre>"
    )
    return f"{len(changes)} changes on the 2023 edition, no faults; every rule as a sheet: demo/out/rules.xlsx", section


def plan() -> tuple[str, str]:
    """A line and a section on the plan."""
    command = ["trial", "plan", TRIAL, "--seed", "three-firths-2026", "--pairs", "10", *SPREAD, "-o", PLAN]
    made = json.loads(marram([*command, "--json"]))
    marram(["trial", "papers", TRIAL, "--plan", PLAN, "-o", "demo/out/papers.pdf"])
    rows = "".join(
        f"<tr><td>{change['change']}<td>{escape(change['key'])}<td>{_wanted(change)}<td>{escape(change['judged_by'])}{_outlook(change)}</tr>"
        for change in made["changes"]
    )
    section = (
        f"<h2>The plan</h2><p>Drawn: {escape(made['design'])}, {len(made['pairs'])} pairs, from a seed that is committed beforehand; "
        f"frozen under the stamp {made['plan_stamp']}. <a href='papers.pdf'>Calendar, recording sheets and the form for players</a>.</p>"
        f"<div class='wide'><table><tr><th><th>key<th>what it has to do<th>judged by</tr>"
        f"{rows}</table></div><pre>marram {escape(' '.join(command))}</pre>"
    )
    return f"{len(made['pairs'])} pairs of days, stamp {made['plan_stamp']}: {PLAN}", section


def _outlook(change: dict[str, object]) -> str:
    """How the season may end if the effect were twice what matters."""
    outlooks = change.get("outlook")
    if not isinstance(outlooks, list):
        return ""
    twice = outlooks[-1]
    return f"; if it were {twice['supposed']:g} {escape(str(change['unit']))}, {twice['did']:.0%} of seasons end in the good word"


def _wanted(change: dict[str, object]) -> str:
    if "outcome" not in change:
        return "seldom met: no days can judge it"
    told = f"{change['outcome']} {change['direction']} by {change['matters']} {change['unit']}"
    return escape(f"{told}; the plan finds {change['least_effect']} {change['unit']}")


def records() -> tuple[str, str]:
    """What was brought back from the days."""
    values = {outcome: count for outcome, count in _counts().items() if outcome not in _ANSWERS}
    return f"{sum(values.values())} values of {len(values)} outcomes on 20 days: {VALUES}", ""


def answers() -> tuple[str, str]:
    """What players answered."""
    return f"{sum(_counts()[outcome] for outcome in _ANSWERS)} answers of players on the four changes", ""


def _counts() -> Counter[str]:
    with (ROOT / VALUES).open(encoding="utf-8", newline="") as file:
        return Counter(row["outcome"] for row in csv.DictReader(file))


def verdicts() -> tuple[str, str]:
    """A line and a section on the verdicts."""
    command = ["trial", "report", TRIAL, "--days", DAYS, "--values", VALUES, "--asked", ASKED, "--plan", PLAN]
    found = json.loads(marram([*command, "--json", "-o", "demo/out/report.html"]))["findings"]
    marram([*command, "-o", "demo/out/report.pdf"])
    rows = "".join(
        f"<tr><td>{finding['change']}<td>{escape(finding['key'])}<td><b>{escape(finding['overall'])}</b><br>{escape(finding['verdict'])}"
        f"{' (' + escape(finding['reason']) + ')' if finding['reason'] else ''}</tr>"
        for finding in found
    )
    picture = _first_picture(OUT / "report.html")
    section = (
        f"<h2>The verdicts</h2><p>The season is invented, with effects built in by a script. <a href='report.pdf'>The printed report</a>, "
        f"<a href='report.html'>the same as a page</a>.</p><div class='wide'><table><tr><th><th>change<th>what the days say</tr>{rows}"
        f"</table></div>{picture}<pre>marram {escape(' '.join(command))}</pre>"
    )
    words = "; ".join(f"{finding['change']} {finding['overall']}" for finding in found)
    return f"{words}: demo/out/report.pdf", section


def _first_picture(page: Path) -> str:
    text = page.read_text(encoding="utf-8")
    return text[text.index("<figure>") : text.index("</figure>")] + "</figure>"
