"""`marram trial report`: one verdict for each change, from the records of the days."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole

if TYPE_CHECKING:
    from marram.evidence.effects import Interval
    from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport

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
    from marram.core.json_text import dump
    from marram.evidence.findings import weigh_trial
    from marram.interchange.field.trial_records import read_records
    from marram.office.draft_trial import read_trial
    from marram.office.plan_trial import departures, read_plan, refuse_changed_trial, trial_stamp

    overlay = read_trial(trial)
    frozen = None if plan_file is None else read_plan(plan_file)
    if frozen is not None:
        refuse_changed_trial(frozen, overlay)
    records = read_records(days, values, overlay)
    weighed = weigh_trial(overlay, records)
    told = [] if frozen is None else list(departures(frozen, records))
    command = f"marram trial report {trial.name} --days {days.name} --values {values.name}" + (
        f" --plan {plan_file.name}" if plan_file is not None else ""
    )
    stamps = {"plan_stamp": None if frozen is None else frozen.stamp, "trial_stamp": trial_stamp(overlay)}
    content = report_object(weighed, stamps, told, command)
    if out is not None:
        from marram.sheets.pages.trial_report_sheet import report_page

        write_whole(out, report_page(weighed, stamps, told, command, form=out.suffix.lower()))
        click.echo(f"Written: {out}", err=True)
    click.echo(dump(content) if as_json else _text(weighed, stamps, told))


def report_object(weighed: TrialReport, stamps: dict[str, str | None], departures: list[str], command: str) -> dict[str, object]:
    """The report as outsiders read it."""
    return {
        "trial": weighed.trial.title,
        **stamps,
        "pairs": weighed.pairs,
        "findings": [_finding_object(finding, command) for finding in weighed.findings],
        "departures": departures,
        "left_out": [{"where": row.where, "reason": row.reason} for row in weighed.records.left_out],
        "remarks": list(weighed.records.remarks),
    }


def _finding_object(finding: ChangeFinding, command: str) -> dict[str, object]:
    expects, effect = finding.change.expects, finding.effect
    return {
        "change": finding.change.number,
        "key": finding.change.key,
        "outcome": None if finding.outcome is None else finding.outcome.key,
        "unit": None if finding.outcome is None else finding.outcome.effect_unit,
        "direction": None if expects is None else expects.direction.value,
        "estimate": None if effect is None else round(effect.estimate, 4),
        "trial_mean": None if effect is None else round(effect.trial_mean, 4),
        "ordinary_mean": None if effect is None else round(effect.ordinary_mean, 4),
        "interval95": None if effect is None else _ends(effect.interval95),
        "interval90": None if effect is None else _ends(effect.interval90),
        "rate_ratio": None if finding.ratio is None else round(finding.ratio.ratio.estimate, 4),
        "rate_ratio_interval95": None if finding.ratio is None else _ends(finding.ratio.ratio.interval95),
        "matters": None if expects is None else expects.matters,
        "randomised_units": 0 if effect is None else effect.pairs,
        "rows": finding.rows,
        "p_t": None if effect is None else round(effect.p_t, 4),
        "p_sign_flip": None if effect is None else round(effect.p_sign_flip, 4),
        "p_holm": None if finding.p_holm is None else round(finding.p_holm, 4),
        "verdict": finding.verdict.value,
        "reason": finding.reason,
        "pairs_to_settle": finding.pairs_to_settle,
        "guards": [_guard_object(guard) for guard in finding.guards],
        "overall": finding.overall.value,
        "met": finding.met,
        "fair": None if finding.fair is None else _fair_object(finding),
        "command": command,
    }


def _ends(interval: Interval) -> list[float] | None:
    return [round(interval.low, 4), round(interval.high, 4)] if interval.is_bounded else None


def _guard_object(guard: GuardFinding) -> dict[str, object]:
    return {
        "outcome": guard.outcome.key,
        "unit": guard.outcome.effect_unit,
        "margin": guard.margin,
        "estimate": None if guard.estimate is None else round(guard.estimate, 4),
        "interval90": None if guard.interval90 is None else _ends(guard.interval90),
        "word": guard.word.value,
    }


def _fair_object(finding: ChangeFinding) -> dict[str, object]:
    fair = finding.fair
    assert fair is not None
    share = fair.top_two
    return {"counts": list(fair.counts), "top_two": round(share.estimate, 4), "top_two_interval95": _ends(share.interval95)}


def _text(weighed: TrialReport, stamps: dict[str, str | None], departures: list[str]) -> str:
    plan_stamp = stamps["plan_stamp"] or "no plan given"
    lines = [f"{weighed.trial.title}  [plan {plan_stamp}, trial {stamps['trial_stamp']}]", f"{weighed.pairs} pairs of days."]
    for finding in weighed.findings:
        lines += ["", *(fill(line, _WIDTH, subsequent_indent="   ") for line in finding_lines(finding))]
    left_out = [f"{row.where}: {row.reason}." for row in weighed.records.left_out]
    more = [*departures, *weighed.records.remarks, *([f"{len(left_out)} left out:"] if left_out else []), *left_out[:20]]
    return "\n".join([*lines, *([""] if more else []), *(fill(line, _WIDTH, subsequent_indent="   ") for line in more)])


def finding_lines(finding: ChangeFinding) -> list[str]:
    """What is said of one change, line by line."""
    from marram.rulebook.values import value_words

    change, effect, outcome = finding.change, finding.effect, finding.outcome
    reason = f" ({finding.reason})" if finding.reason else ""
    values = f"{value_words(change.was)} becomes {value_words(change.now)}"
    lines = [f"{change.number}. {change.key}: {finding.overall.value}", f"   {values}. Verdict: {finding.verdict.value}{reason}."]
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
