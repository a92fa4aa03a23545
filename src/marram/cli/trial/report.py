"""`marram trial report`: one verdict for each change, from the records of the days."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.writing import file_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.evidence.weighing.told_findings import ChangeFinding
    from marram.office.trials.report_trial import TrialReported

_WIDTH = 100
_MOST_TOLD = 20


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@click.option("--days", required=True, type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The table of days.")
@click.option("--values", required=True, type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The table of values.")
@click.option("--asked", type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The table of who was asked for answers.")
@click.option("--plan", "plan_file", type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The frozen plan.")
@click.option("--adjust", multiple=True, metavar="COLUMN", help="Adjust for it; refused unless the plan fixed it, and then done anyway.")
@file_option("-o", "--out", help="Write the report as .html or .pdf.")
@click.option("--sensitivity", "asks_sensitivity", is_flag=True, help="Say besides what other ways of reckoning give; it takes longer.")
@json_option
def report(
    trial: Path,
    *,
    days: Path,
    values: Path,
    asked: Path | None,
    plan_file: Path | None,
    adjust: tuple[str, ...],
    out: Path | None,
    asks_sensitivity: bool,
    as_json: bool,
) -> None:
    """Weigh the records of a TRIAL and say of each change whether it did what it was meant to, and what it must not make worse."""
    from marram.answers.shape import json_text
    from marram.answers.trials.report_answer import trial_report_answer
    from marram.office.trials.plan_trial import refuse_changed_trial
    from marram.office.trials.report_trial import beside_findings, report_file, report_trial
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay, frozen = room.trial(trial), None if plan_file is None else room.plan(plan_file)
    if frozen is not None:
        refuse_changed_trial(frozen, overlay)  # before the records are read: their faults would be of another trial
    reported = report_trial(overlay, room.records(days, values, overlay, asked), frozen, room.book(overlay.on[-1]), adjust=adjust)
    tables = {"days": days, "values": values, "asked": asked, "plan": plan_file}
    command = " ".join([f"marram trial report {trial.name}", *(f"--{name} {file.name}" for name, file in tables.items() if file)])
    if asks_sensitivity:
        reported, command = beside_findings(reported), f"{command} --sensitivity"
    if out is not None:
        write_whole(out, report_file(reported, command, out.suffix.lower()))
        click.echo(f"Written: {out}", err=True)
    click.echo(json_text(trial_report_answer(reported, command)) if as_json else _text(reported))


def _text(reported: TrialReported) -> str:
    from marram.office.trials.report_trial import rated_told, rows_told

    weighed, plan_stamp = reported.weighed, reported.plan_stamp or "no plan given"
    lines = [
        f"{weighed.trial.title}  [plan {plan_stamp}, trial {reported.trial_stamp}]",
        f"{counted(weighed.pairs, weighed.words.rests_on)}.",
        *([] if weighed.words.is_of_days and not weighed.words.is_simulated else [_wrapped(f"Design: {weighed.words.how}")]),
    ]
    for finding in weighed.findings:
        lines += ["", *_finding_lines(reported, finding)]
    lines += [line for sentence in rated_told(reported) for line in ("", _wrapped(sentence))]
    lines += ["", "What became of every row", *map(_wrapped, rows_told(reported))]
    queried = [row for row in weighed.records.left_out if row.is_query]
    if queried:
        lines += ["", f"Queried and not weighed, {len(queried)} rows; where one is right after all, write yes under checked:"]
        lines += [_wrapped(f"{row.where}: {row.reason}.") for row in queried[:_MOST_TOLD]]
    left_out = [f"{row.where}: {row.reason}." for row in weighed.records.left_out if not row.is_query]
    more = [*reported.departures, *weighed.records.remarks, *([f"{len(left_out)} left out:"] if left_out else []), *left_out[:_MOST_TOLD]]
    return "\n".join([*lines, *([""] if more else []), *map(_wrapped, more)])


def _finding_lines(reported: TrialReported, finding: ChangeFinding) -> list[str]:
    """What is said of one change, its line first."""
    from marram.office.trials.report_trial import finding_lines, headline_of

    line = finding.words.said(finding.overall)
    head = f"{finding.change.number}. {headline_of(reported, finding)} {line[:1].upper()}{line[1:]}."
    lines = finding_lines(reported, finding)
    return [_wrapped(head), *(fill(line, _WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines)]


def _wrapped(line: str) -> str:
    return fill(line, _WIDTH, subsequent_indent="   ")
