"""The trial of the demo: drafted, planned, its records brought back, weighed."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from html import escape
from pathlib import Path
from typing import Any

from demo import running
from demo.page import Section, bullets, link, say, typed
from demo.running import ROOT, marram
from demo.told import TRIAL, changes, wanted
from marram.records.outcomes import outcomes

_SEASON = "examples/season"
ASKED = f"{_SEASON}/asked.csv"
DAYS, VALUES = "demo/out/days.csv", "demo/out/values.csv"
"""The season with the pair of club days, which the step of the records lays together."""
PLAN = "demo/out/plan.json"
_ANSWERS = ("fair", "change_met")
_SD = ("search_s=9", "relief_s=5", "rulings=0.2", "strokes=1.2", "penalty_strokes=0.2")
SPREAD = [*(word for amount in _SD for word in ("--sd", amount)), "--leave-out", "4"]
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven")
_UNITS = {"s": "s", "min": "min", "m": "m", "count": "", "strokes": "strokes", "step": "steps"}
Step = tuple[str, Section | None]


def draft() -> Step:
    """A line and a section on the draft."""
    shown = json.loads(marram(["trial", "show", TRIAL, "--json"]))
    marram(["trial", "check", TRIAL])
    drafted = shown["books"][0]["changes"]
    marram(["book", "export", "-o", "demo/out/rules.xlsx"])
    rows = (
        f"<b>{escape(changes()[change['change']])}</b><br>{escape(change['because'])} "
        f"<span class='over'>{_standing(change['standing'])}</span>"
        for change in drafted
    )
    section = Section(
        name="draft",
        group="Trial",
        title="The draft",
        note=f"{len(drafted)} changes",
        body=f"<p>{escape(shown['title'])}, on top of the edition of 2023. It was written by answering questions, "
        f"{say('`marram trial new`')}; it may also be written on {link('rules.xlsx', 'a spreadsheet of all rules')}.</p>"
        f"{bullets(rows, is_numbered=True)}{typed(['trial', 'show', TRIAL])}",
    )
    return f"{len(drafted)} changes on the 2023 edition, no faults; every rule as a sheet: demo/out/rules.xlsx", section


def _standing(word: str) -> str:
    return "Unofficial rounds only." if word == "unofficial only" else "May be brought in as a local rule."


def plan() -> Step:
    """A line and a section on the plan and its papers."""
    command = ["trial", "plan", TRIAL, "--seed", "three-firths-2026", "--pairs", "11", *SPREAD, "-o", PLAN]
    papers = ["trial", "papers", TRIAL, "--plan", PLAN, "-o", "demo/out/papers.pdf"]
    made = json.loads(marram([*command, "--json"]))
    marram(papers)
    rows = "".join(
        f"<tr><td class='n'>{change['change']}</td><td class='wide'>{escape(changes()[change['change']])}</td>"
        f"<td class='wide'>{_wanted(change)} Judged by {escape(change['judged_by'])}.</td></tr>"
        for change in made["changes"]
    )
    section = Section(
        name="plan",
        group="Trial",
        title="The plan, and its papers",
        note=f"{len(made['pairs'])} pairs of days",
        body=f"<p>{escape(made['design'][:1].upper() + made['design'][1:])}: {len(made['pairs'])} pairs, drawn from a seed that is "
        f"committed beforehand, and frozen under the stamp {made['plan_stamp']}. Print "
        f"{link('papers.pdf', 'the calendar, the sheets to record on and the form for players')}.</p><table><thead>"
        f"<tr><th class='n'><th>Change<th>What it has to do</tr></thead><tbody>{rows}</tbody></table>{typed(command, papers)}",
    )
    return f"{len(made['pairs'])} pairs of days, stamp {made['plan_stamp']}: {PLAN}", section


def _wanted(change: dict[str, Any]) -> str:
    """What a change has to do, what the plan can find, and how the season may end if the effect were twice what matters."""
    if "outcome" not in change:
        return "Seldom met: no number of days can judge it."
    found = _amount(change["outcome"], change["least_effect"])
    told = f"{wanted(change['outcome'], change['direction'], change['matters'])}, or more. The plan finds {found}."
    outlook = change.get("outlook") or []
    if outlook:
        twice = outlook[-1]
        told += f" If it were {_amount(change['outcome'], twice['supposed'])}, {twice['did']:.0%} of seasons end in the good word."
    return escape(told)


def _amount(outcome: str, amount: float) -> str:
    """An amount with its unit, no finer than what is measured."""
    unit = _UNITS[outcomes()[outcome].unit]
    return f"{amount:.{1 if unit in {'s', 'min'} else 2}f}".rstrip("0").rstrip(".") + f"\u00a0{unit}".rstrip()


def records() -> Step:
    """What was brought back from the days: the tables of the season, with what the store of the club days gave."""
    for name in ("days", "values"):
        _lay_together(name, ROOT / _SEASON / f"{name}.csv", running.out / "event" / "records" / f"{name}.csv")
    values = {outcome: count for outcome, count in _counts().items() if outcome not in _ANSWERS}
    return f"{sum(values.values())} values of {len(values)} outcomes on 22 days, two of them events: {VALUES}", None


def _lay_together(name: str, *tables: Path) -> None:
    """Write the rows of several tables as one."""
    rows: list[dict[str, str]] = []
    for table in tables:
        with table.open(encoding="utf-8", newline="") as file:
            rows += csv.DictReader(file)
    columns = dict.fromkeys(column for row in rows for column in row)
    with (running.out / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
        written = csv.DictWriter(file, columns, restval="", lineterminator="\n")
        written.writeheader()
        written.writerows(rows)


def answers() -> Step:
    """What players answered."""
    return f"{sum(_counts()[outcome] for outcome in _ANSWERS)} answers of players on the four changes", None


def _counts() -> Counter[str]:
    with (running.out / "values.csv").open(encoding="utf-8", newline="") as file:
        return Counter(row["outcome"] for row in csv.DictReader(file))


def verdicts() -> Step:
    """A line and a section on the verdicts."""
    command = ["trial", "report", TRIAL, "--days", DAYS, "--values", VALUES, "--asked", ASKED, "--plan", PLAN]
    reported = json.loads(marram([*command, "--json", "-o", "demo/out/report.html"]))
    found = reported["findings"]
    marram([*command, "-o", "demo/out/report.pdf"])
    section = Section(
        name="verdicts",
        group="Trial",
        title=f"{_NUMBERS[len(found)]} changes, tried on {_NUMBERS[reported['pairs']].lower()} pairs of days",
        short="The verdicts",
        note=f"{len(found)} changes",
        body=f"<p class='spoken'>{escape(' '.join(reported['first_page']['spoken']))}</p>{_plot(reported)}"
        f"<p>{link('report.html', 'The whole report')}, {link('report.pdf', 'the same to print')}; {link('days.csv', 'the days')} and "
        f"{link('values.csv', 'the values')} that it rests on, of which the last pair comes from the club days below. The season is "
        f"invented, with effects built in by a script.</p>{typed([*command, '-o', 'demo/out/report.pdf'])}",
    )
    words = "; ".join(f"{finding['change']} {finding['overall']}" for finding in found)
    return f"{words}: demo/out/report.pdf", section


def _plot(reported: dict[str, Any]) -> str:
    """Each change with its word, its sentence and its interval on the one scale of the report; then what must not get worse."""
    first = reported["first_page"]
    overall = {finding["change"]: finding["overall"] for finding in reported["findings"]}
    head, *strips = _strips(len(first["changes"]) + len(first["guards"]))
    rows = [_finding(row, strip, overall) for row, strip in zip(first["changes"], strips, strict=False)]
    guards = [_finding(row, strip, {}) for row, strip in zip(first["guards"], strips[len(rows) :], strict=False)]
    kept = f"<h2 class='guards'>What must not get worse</h2>{''.join(guards)}" if guards else ""
    lines = "Thin line 95 %, thick 90 %, diamond the effect, on one scale: multiples of the smallest effect that matters, or of the margin."
    return (
        f"<div class='over-strip'>{head}</div>{''.join(rows)}{kept}"
        f"<div class='under-strip'><p class='over'>{lines}</p><div>{strips[-1]}</div></div>"
    )


def _finding(row: dict[str, Any], strip: str, overall: dict[int, str]) -> str:
    """One row: the word of a change and its effect in a sentence, what it is from and to, and its interval."""
    numbers = row["changes"]
    words = [f"<em>{escape(_lead(overall[number]))}.</em>" for number in numbers if number in overall]
    said = f"<p class='said'>{' '.join([*words, escape(row['sentence'])])}</p>"
    told = "".join(f"<p>{escape(changes()[number])}</p>" for number in numbers if number in overall)
    reason = f": {escape(row['reason'])}" if row["reason"] else ""
    return (
        f"<article class='finding'><b>{', '.join(map(str, numbers))}</b><div>{said}{told}<p class='over'>{escape(row['limits'])}</p>"
        f"<p><span class='square {row['sign']}'></span>{escape(row['word'])}{reason}</p></div><div class='strip'>{strip}</div></article>"
    )


def _lead(words: str) -> str:
    return words[:1].upper() + words[1:]


def _strips(count: int) -> list[str]:
    """The drawings of the report for a narrow place: what stands over the rows, each row, what stands under them."""
    text = (running.out / "report.html").read_text(encoding="utf-8")
    found = re.findall(r'<span class="narrow">\s*(<svg\b.*?</svg>)', text, re.DOTALL)
    return found[: count + 2]
