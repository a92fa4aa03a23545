"""`marram trial check`, `show` and `outcomes`: what a draft touches, what is wrong with it, and what a trial can observe."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.fields import in_options

if TYPE_CHECKING:
    from marram.office.trials.draft_trial import DraftFault, Touched
    from marram.rulebook.overlays.overlay import Overlay

_WIDTH = 100


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@json_option
@click.pass_context
def check(context: click.Context, trial: Path, *, as_json: bool) -> None:
    """Find every fault of a TRIAL file: what does not fit its edition, and what keeps it from being planned."""
    from marram.answers.shape import json_text
    from marram.answers.trials.draft_answer import trial_check_answer
    from marram.office.trials.draft_trial import check_trial
    from marram.office.workroom import Workroom

    faults = check_trial(Workroom().trial(trial))
    if as_json:
        click.echo(json_text(trial_check_answer(trial.stem, faults, in_options)))
    else:
        lines = [_fault_line(fault) for fault in faults]
        click.echo("\n".join(lines) if lines else "No faults.")
    context.exit(1 if faults else 0)


def _fault_line(fault: DraftFault) -> str:
    where = "trial" if fault.change is None else f"change {fault.change}"
    weight = "stops" if fault.stops else "asks"
    return fill(f"{weight}  {where}: {fault.message} {in_options(fault.remedy)}", _WIDTH, subsequent_indent="       ")


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@json_option
def show(trial: Path, *, as_json: bool) -> None:
    """Show each change of a TRIAL in words and numbers, what it touches, and which changes meet."""
    from marram.answers.shape import json_text
    from marram.answers.trials.draft_answer import trial_answer
    from marram.office.trials.draft_trial import may_count_for_handicap, touched_by
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.trial(trial)
    told = {edition: touched_by(overlay, room.book(edition)) for edition in overlay.on}
    may_count = may_count_for_handicap(overlay)
    if as_json:
        click.echo(json_text(trial_answer(overlay, told, may_count=may_count)))
    else:
        click.echo("\n".join(_show_lines(overlay, told, counts=may_count)))


def _show_lines(overlay: Overlay, told: dict[str, tuple[Touched, ...]], *, counts: bool) -> list[str]:
    from marram.office.trials.draft_trial import wishes

    lines = [f"{overlay.title}, text of {overlay.dated.isoformat()}, {overlay.life.status.value}"]
    lines.append(
        "Rounds may count for a handicap." if counts else "Rounds cannot count for a handicap: not every change is allowed as a local rule."
    )
    for edition, entries in told.items():
        lines += ["", f"On {edition}"]
        for entry in entries:
            change = entry.change
            lines.append(
                fill(f"{change.number}. {entry.told.sentence} ({change.key}; {change.standing.value})", _WIDTH, subsequent_indent="   ")
            )
            more = [f"Because: {change.because}", *wishes(change)]
            more += [f"Situations: {', '.join(entry.situations)}."] if entry.situations else []
            more += [f"Procedures: {', '.join(entry.procedures)}."] if entry.procedures else []
            more += [f"Acts: {', '.join(entry.acts)}."] if entry.acts else []
            meets = ", ".join(map(str, entry.with_changes))
            more += (
                [f"It meets change {meets}: what they do together cannot be told apart unless each has days of its own."] if meets else []
            )
            lines += [fill(text, _WIDTH, initial_indent="   ", subsequent_indent="   ") for text in more]
    return lines


@click.command()
@json_option
def outcomes(*, as_json: bool) -> None:
    """List what a trial can observe, in which unit, and who records it."""
    from marram.answers.shape import json_text
    from marram.answers.trials.draft_answer import trial_outcomes_answer
    from marram.office.trials.draft_change import list_outcomes

    listed = list_outcomes()
    if as_json:
        click.echo(json_text(trial_outcomes_answer(listed.values())))
        return
    width = max(map(len, listed))
    for entry in listed.values():
        told = f"{entry.key:<{width}}  {entry.means} In {entry.unit_words}; by {entry.by}."
        click.echo(fill(told, _WIDTH, subsequent_indent=" " * (width + 2)))
