"""`marram trial plan`: how many pairs of days, the coin thrown and frozen, or why the plan cannot answer its question."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.core.field_names import Field

if TYPE_CHECKING:
    from marram.office.plan_trial import Spread

_WIDTH = 100


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@click.option("--pairs", default=10, show_default=True, type=click.IntRange(1, 500), help="Pairs of days.")
@click.option("--seed", required=True, help="Text from which the coin is thrown; keep it closed until the last day.")
@click.option("--sd", "spreads", multiple=True, metavar="OUTCOME=NUMBER", help="From a pilot: sd of the difference of two days of a pair.")
@click.option("--met", "meetings", multiple=True, metavar="CHANGE=NUMBER", help="How often a player meets a change in a round.")
@click.option("--players", default=75, show_default=True, type=click.IntRange(1, 500), help="Players in the field of a day.")
@click.option(
    "--leave-out", "left_out", multiple=True, type=int, metavar="CHANGE", help="A change that days on the course are not to judge."
)
@click.option("--within-a-day", is_flag=True, help="Draw groups inside one day instead of days.")
@click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), help="Write the plan to a file.")
@json_option
def plan(
    trial: Path,
    *,
    pairs: int,
    seed: str,
    spreads: tuple[str, ...],
    meetings: tuple[str, ...],
    players: int,
    left_out: tuple[int, ...],
    within_a_day: bool,
    out: Path | None,
    as_json: bool,
) -> None:
    """Plan a TRIAL in pairs of days: what each change can show, which day of each pair comes under the trial rules; frozen and stamped."""
    from marram.core.json_text import dump
    from marram.evidence.plan import Design
    from marram.office.draft_trial import read_trial
    from marram.office.plan_trial import plan_trial

    design = Design.GROUPS_IN_A_DAY if within_a_day else Design.PAIRED_DAYS
    spread = _spread(spreads, meetings, players)
    content = plan_trial(read_trial(trial), spread, pairs=pairs, seed=seed, design=design, left_out=frozenset(left_out))
    if out is not None:
        write_whole(out, dump(content) + "\n")
        click.echo(f"Written: {out}", err=True)
    click.echo(dump(content) if as_json else _text(content))


def _spread(spreads: tuple[str, ...], meetings: tuple[str, ...], players: int) -> Spread:
    from marram.office.plan_trial import Spread
    from marram.records.outcomes import find_outcome

    sd = {find_outcome(name, field=Field.SD).key: amount for name, amount in _pairs(spreads, "--sd")}
    met = {_change(name): amount for name, amount in _pairs(meetings, "--met")}
    return Spread(sd=sd, met=met, players=players)


def _pairs(texts: tuple[str, ...], option: str) -> list[tuple[str, float]]:
    from marram.core.errors import DataError

    found = []
    for text in texts:
        name, _, amount = text.partition("=")
        try:
            value = float(amount)
        except ValueError:
            value = -1.0
        if not name or value < 0:
            raise DataError(f"{text!r} cannot be read.", where=option, hint="Give NAME=NUMBER, the number zero or more.")
        found.append((name, value))
    return found


def _change(name: str) -> int:
    from marram.core.errors import DataError

    if not name.isdigit():
        raise DataError(f"{name!r} is no number of a change.", where="--met", hint="Give such as 1=0.8.")
    return int(name)


def _text(content: dict[str, object]) -> str:
    changes, pairs = content["changes"], content["pairs"]
    assert isinstance(changes, list)
    assert isinstance(pairs, list)
    lines = [f"{content['trial']}  [plan {content['plan_stamp']}, trial {content['trial_stamp']}]", f"Drawn: {content['design']}."]
    for change in changes:
        lines.append(f"{change['change']}. {change['key']}: judged by {change['judged_by']}.")
        if "outcome" in change:
            wanted = f"{change['outcome']} {change['direction']} by {change['matters']:g} {change['unit']}"
            found = f"{change['least_effect']:g} {change['unit']} is found with a chance of {content['power']:.0%}"
            lines.append(f"   Wanted: {wanted}; {found}; {change['pairs_needed']} pairs would do.")
        if change.get("expected_meetings") is not None:
            lines.append(f"   Players are expected to meet it {change['expected_meetings']:.0f} times on the trial days.")
        lines += [f"   Must not change by more than {guard['margin']:g}: {guard['outcome']}." for guard in change["guards"]]
    lines.append("The coin: " + ", ".join(f"{pair['pair']} first day {pair['first_day']}" for pair in pairs) + ".")
    lines.append(f"Make public before the first day: {content['seed_commitment']}")
    return "\n".join(lines)
