"""`marram trial report`: one verdict for each change, from the records of the days."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole

if TYPE_CHECKING:
    from marram.evidence.weighing.told_findings import ChangeFinding
    from marram.office.trials.report_trial import TrialReported

_WIDTH = 100


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@click.option("--days", required=True, type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The table of days.")
@click.option("--values", required=True, type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The table of values.")
@click.option("--plan", "plan_file", type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The frozen plan.")
@click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), help="Write the report as .html or .pdf.")
@json_option
def report(trial: Path, *, days: Path, values: Path, plan_file: Path | None, out: Path | None, as_json: bool) -> None:
    """Weigh the records of a TRIAL and say of each change whether it did what it was meant to, and what it must not make worse."""
    from marram.answers.shape import json_text
    from marram.answers.trials.report_answer import trial_report_answer
    from marram.office.trials.plan_trial import refuse_changed_trial
    from marram.office.trials.report_trial import report_file, report_trial
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay, frozen = room.trial(trial), None if plan_file is None else room.plan(plan_file)
    if frozen is not None:
        refuse_changed_trial(frozen, overlay)  # before the records are read: their faults would be of another trial
    reported = report_trial(overlay, room.records(days, values, overlay), frozen)
    command = f"marram trial report {trial.name} --days {days.name} --values {values.name}" + (
        f" --plan {plan_file.name}" if plan_file is not None else ""
    )
    if out is not None:
        write_whole(out, report_file(reported, command, out.suffix.lower()))
        click.echo(f"Written: {out}", err=True)
    click.echo(json_text(trial_report_answer(reported, command)) if as_json else _text(reported))


def _text(reported: TrialReported) -> str:
    weighed, plan_stamp = reported.weighed, reported.plan_stamp or "no plan given"
    lines = [f"{weighed.trial.title}  [plan {plan_stamp}, trial {reported.trial_stamp}]", f"{weighed.pairs} pairs of days."]
    for finding in weighed.findings:
        lines += ["", *(fill(line, _WIDTH, subsequent_indent="   ") for line in finding_lines(finding))]
    left_out = [f"{row.where}: {row.reason}." for row in weighed.records.left_out]
    more = [*reported.departures, *weighed.records.remarks, *([f"{len(left_out)} left out:"] if left_out else []), *left_out[:20]]
    return "\n".join([*lines, *([""] if more else []), *(fill(line, _WIDTH, subsequent_indent="   ") for line in more)])


def finding_lines(finding: ChangeFinding) -> list[str]:
    """What is said of one change, line by line."""
    from marram.office.trials.report_trial import change_words

    change, effect, outcome = finding.change, finding.effect, finding.outcome
    reason = f" ({finding.reason})" if finding.reason else ""
    verdict = f"   {change_words(change)}. Verdict: {finding.verdict.value}{reason}."
    lines = [f"{change.number}. {change.key}: {finding.overall.value}", verdict]
    if effect is not None and outcome is not None and change.expects is not None:
        ends = f"{effect.interval95.low:.2f} to {effect.interval95.high:.2f}" if effect.interval95.is_bounded else "no interval"
        lines.append(
            f"   {outcome.key}: {effect.estimate:+.2f} {outcome.effect_unit} (95 % interval {ends}); "
            f"wanted {change.expects.direction.value} by {change.expects.matters:g}; {effect.pairs} pairs, {finding.rows} values."
        )
    if finding.ratio is not None and finding.ratio.ratio.interval95.is_bounded:
        ratio = finding.ratio.ratio
        lines.append(
            f"   As a ratio: {ratio.estimate:.2f} ({ratio.interval95.low:.2f} to {ratio.interval95.high:.2f}); "
            f"{finding.ratio.trial_count} on trial days, {finding.ratio.ordinary_count} on ordinary days."
        )
    for guard in finding.guards:
        ends = "" if guard.interval90 is None else f", 90 % interval {guard.interval90.low:.2f} to {guard.interval90.high:.2f}"
        lines.append(f"   Guard {guard.outcome.key}, margin {guard.margin:g} {guard.outcome.effect_unit}: {guard.word.value}{ends}.")
    if finding.pairs_to_settle is not None:
        lines.append(f"   About {finding.pairs_to_settle} pairs in all would settle it.")
    if finding.fair is not None:
        share = finding.fair.top_two
        lines.append(
            f"   Fairer or much fairer: {share.estimate:.0%} of {share.of} who met it "
            f"({share.interval95.low:.0%} to {share.interval95.high:.0%}); one to five: {', '.join(map(str, finding.fair.counts))}."
        )
    return lines
