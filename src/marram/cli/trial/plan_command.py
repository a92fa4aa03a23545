"""`marram trial plan`: how many pairs of days, the coin thrown and frozen, or why the plan cannot answer its question."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import folder_at, json_option, write_whole
from marram.cli.writing import file_option, folder_option
from marram.core.field_names import Field
from marram.office.trials.designs.design_names import DesignName

if TYPE_CHECKING:
    from marram.office.trials.planned_trial import PlannedChange, PlannedOutlook, PlannedTrial, Spread
    from marram.office.workroom import Workroom
    from marram.rulebook.overlays.overlay import Overlay

_WIDTH = 100
_FILE = click.Path(exists=True, path_type=Path, dir_okay=False)


@click.command()
@click.argument("trial", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@click.option("--design", type=click.Choice([name.value for name in DesignName]), help="What is drawn; paired-days if not given.")
@click.option("--pairs", type=click.IntRange(1, 500), help="Pairs of days; 10 if not given.")
@click.option("--days", type=click.IntRange(1, 500), help="Days, or events of two rounds; of a roll-out, days of a course in a period.")
@click.option("--groups", type=click.IntRange(1, 100), help="Groups that are drawn on each day.")
@click.option("--waves", type=click.IntRange(1, 2), help="Waves of a day in which groups are drawn: the first alone, or both.")
@click.option("--seed", required=True, help="Text from which the coin is thrown; keep it closed until the last day.")
@click.option("--sd", "spreads", multiple=True, metavar="OUTCOME=NUMBER", help="From a pilot: sd of the difference of two days of a pair.")
@click.option("--past-days", type=_FILE, help="The days of an earlier season, from which the spread is taken.")
@click.option("--past-values", type=_FILE, help="The values of that season.")
@click.option("--from-forecast", type=_FILE, help="A forecast as JSON, from which the spread is taken that nobody else tells.")
@click.option("--met", "meetings", multiple=True, metavar="CHANGE=NUMBER", help="How often a player meets a change in a round.")
@click.option("--players", default=75, show_default=True, type=click.IntRange(1, 500), help="Players in the field of a day.")
@click.option("--lost", default=0.0, show_default=True, type=click.FloatRange(0, 0.9), help="Part of the pairs expected to be lost.")
@click.option(
    "--leave-out", "left_out", multiple=True, type=int, metavar="CHANGE", help="A change that days on the course are not to judge."
)
@click.option("--course", "courses", multiple=True, metavar="NAME", help="A course of a stepped roll-out; name at least six.")
@click.option("--steps", type=click.IntRange(1, 100), help="Steps of a roll-out; 3 if not given.")
@click.option("--times", type=click.IntRange(1, 20), help="How often days with some of the changes are played; as often as a word needs.")
@click.option("--fold-over", is_flag=True, help="Play days with some of the changes again with every change turned round.")
@click.option("--adjust", multiple=True, metavar="COLUMN", help="Fix what differences of days are adjusted for: wind, rain, field, …")
@click.option("--looks", type=click.IntRange(1, 10), help="Looks at pairs of days, the last at the end; that one alone if not given.")
@click.option("--bounds", default="falling", show_default=True, type=click.Choice(["falling", "level"]), help="How their bounds lie.")
@click.option("--within-a-day", is_flag=True, help="Draw groups inside each day instead of days, as --design groups-within-a-day.")
@folder_option("--overlays", help="Write the overlay of each kind of day with some of the changes.")
@file_option("-o", "--out", help="Write the plan to a file.")
@json_option
def plan(
    trial: Path,
    *,
    design: str | None,
    pairs: int | None,
    days: int | None,
    groups: int | None,
    waves: int | None,
    seed: str,
    spreads: tuple[str, ...],
    past_days: Path | None,
    past_values: Path | None,
    from_forecast: Path | None,
    meetings: tuple[str, ...],
    players: int,
    lost: float,
    left_out: tuple[int, ...],
    courses: tuple[str, ...],
    steps: int | None,
    times: int | None,
    fold_over: bool,
    adjust: tuple[str, ...],
    looks: int | None,
    bounds: str,
    within_a_day: bool,
    overlays: Path | None,
    out: Path | None,
    as_json: bool,
) -> None:
    """Plan a TRIAL in pairs of days or by another design: what each change can show, what is drawn for which rules; frozen and stamped."""
    from marram.answers.shape import json_text
    from marram.answers.trials.plan_answer import trial_plan_answer
    from marram.office.trials.designs.known_designs import plan_by_design
    from marram.office.trials.designs.trial_design import AskedPlan, with_looks
    from marram.office.trials.plan_words import changes_told
    from marram.office.workroom import Workroom

    asked = AskedPlan(
        seed=seed,
        pairs=pairs,
        days=days,
        groups=groups,
        waves=waves,
        left_out=frozenset(left_out),
        courses=courses,
        steps=steps,
        times=times,
        fold_over=fold_over,
        adjust=adjust,
    )
    asked = with_looks(asked, looks, bounds)
    room, spread = Workroom(), _spread(spreads, meetings, players, lost)
    overlay = room.trial(trial)
    spread = _with_past(spread, overlay, room, past_days, past_values)
    if from_forecast is not None:
        spread = _with_forecast(spread, overlay, room.forecast(from_forecast), from_forecast.name)
    planned = plan_by_design(overlay, spread, asked, _design(design, is_within_a_day=within_a_day))
    if overlays is not None:
        _write_overlays(overlay, planned, overlays)
    content = json_text(trial_plan_answer(planned))
    if out is not None:
        write_whole(out, content + "\n")
        click.echo(f"Written: {out}", err=True)
    click.echo(content if as_json else _text(planned, changes_told(overlay, room.book(overlay.on[-1]))))


def _with_past(spread: Spread, overlay: Overlay, room: Workroom, days: Path | None, values: Path | None) -> Spread:
    """The spread with what an earlier season shows, where its two tables are given."""
    from marram.office.trials.past_season import with_past

    if (days is None) is not (values is None):
        raise click.UsageError("--past-days and --past-values go together.")
    return spread if days is None or values is None else with_past(spread, overlay, room.past_records(days, values, overlay))


def _with_forecast(spread: Spread, overlay: Overlay, text: str, where: str) -> Spread:
    """The spread with what a forecast says, told: it was simulated on top of what somebody stated."""
    from marram.office.forecasts.spread_of_forecast import with_forecast

    found = with_forecast(spread, overlay, text, where=where)
    taken = ", ".join(f"{name}={sd:.3g}" for name, sd in found.sd.items() if name not in spread.sd)
    if taken:
        click.echo(f"Spread from the forecast (chance in play was simulated, the rest was stated with it): {taken}", err=True)
    return found


def _write_overlays(trial: Overlay, planned: PlannedTrial, folder: Path) -> None:
    from marram.office.trials.designs.some_changes_a_day import overlays_of_days

    files = overlays_of_days(trial, planned)
    place = folder_at(folder)
    for name, text in files.items():
        write_whole(place / name, text)
    click.echo(f"Written: {', '.join(str(folder / name) for name in files)}", err=True)


def _design(name: str | None, *, is_within_a_day: bool) -> DesignName:
    from marram.core.errors import DataError

    if not is_within_a_day:
        return DesignName(name or DesignName.PAIRED_DAYS)
    if name not in {None, DesignName.GROUPS}:
        raise DataError(f"--within-a-day is another design than {name}.", where="--design", hint="Give one of the two.")
    return DesignName.GROUPS


def _spread(spreads: tuple[str, ...], meetings: tuple[str, ...], players: int, lost: float) -> Spread:
    from marram.office.trials.planned_trial import Spread

    met = {_change(name): amount for name, amount in _pairs(meetings, "--met")}
    return Spread(sd=spread_told(spreads), met=met, players=players, lost=lost)


def spread_told(spreads: tuple[str, ...]) -> dict[str, float]:
    """Standard deviations by outcome, as they were typed."""
    from marram.office.trials.draft_change import outcome_named

    return {outcome_named(name, field=Field.SD).key: amount for name, amount in _pairs(spreads, "--sd")}


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


def _text(planned: PlannedTrial, told: Mapping[int, str]) -> str:
    from marram.answers.shape import UNSET
    from marram.cli.trial.drawn_text import drawn_lines
    from marram.cli.trial.past_text import past_lines, rows_lines, upper_limit_lines
    from marram.office.trials.plan_words import effect_words, guard_words, needed_words, wanted_words

    lines = [f"{planned.trial}  [plan {planned.stamp}, trial {planned.trial_stamp}]", f"Drawn: {planned.design}."]
    for change in planned.changes:
        lines.append(fill(f"{change.change}. {told[change.change]} Judged by {change.judged_by}.", _WIDTH, subsequent_indent="   "))
        if change.outcome is not UNSET and change.least_effect is not UNSET:
            found = f"{effect_words(change, float(f'{change.least_effect:.3g}'))} is found with a chance of {planned.power:.0%}"
            wanted = f"Wanted: {wanted_words(change)}; {found}; {needed_words(change)} would do."
            lines.append(fill(wanted, _WIDTH, initial_indent="   ", subsequent_indent="   "))
        if isinstance(change.expected_meetings, float):
            lines.append(f"   Players are expected to meet it {change.expected_meetings:.0f} times on the trial days.")
        lines += _outlook_lines(change)
        lines += upper_limit_lines(change)
        lines += [f"   Must not get worse: {guard_words(guard)}." for guard in change.guards]
    lines += past_lines(planned)
    lines += rows_lines(planned)
    lines += _look_lines(planned)
    lines += drawn_lines(planned)
    if planned.adjust is not UNSET:
        lines.append(f"The report adjusts the differences of the days for {', '.join(planned.adjust)}, and for nothing else.")
    lines.append(f"Make public before the first day: {planned.seed_commitment}")
    return "\n".join(lines)


def _look_lines(planned: PlannedTrial) -> list[str]:
    """When the records are looked at, and how far an effect must then stand out."""
    from marram.answers.shape import UNSET

    if planned.looks is UNSET:
        return []
    told = ", ".join(f"after {look.pairs} pairs {look.bound:.2f}" for look in planned.looks)
    return [
        f"Looks: {len(planned.looks)}; an effect must lie so many standard errors from nothing: {told}.",
        "   Between looks there is no word; all looks together praise by chance in at most 5 of 100 trials.",
    ]


def _outlook_lines(change: PlannedChange) -> list[str]:
    """How the season may end, and what no day will tell."""
    from marram.answers.shape import UNSET
    from marram.office.trials.plan_words import called

    if change.outlook is UNSET or change.together is UNSET or change.outlook_lacks is UNSET:
        return []
    lines = [
        f"   {_supposed(change, entry)}: did what it was meant to in {entry.did:.0%} of seasons, "
        f"mixed {entry.mixed:.0%}, did not {entry.did_not:.0%}, open {entry.open:.0%}{_ended(entry)}."
        for entry in change.outlook
    ]
    if change.outlook_lacks:
        lacks = ", ".join(map(called, change.outlook_lacks))
        lines.append(f"   Drawn without {lacks}, whose spread nobody gave: the good word is less likely than that.")
    if change.together:
        others = ", ".join(map(str, change.together))
        lines.append(f"   No day will tell it from change {others}, which is to move the same: they are weighed together.")
    return lines


def _supposed(change: PlannedChange, entry: PlannedOutlook) -> str:
    from marram.office.trials.plan_words import effect_words

    return f"If it were {effect_words(change, entry.supposed)}" if entry.supposed else "If it did nothing"


def _ended(entry: PlannedOutlook) -> str:
    from marram.answers.shape import UNSET

    if entry.ended_at is UNSET:
        return ""
    return "; known at " + ", ".join(f"look {number} in {share:.0%}" for number, share in enumerate(entry.ended_at, start=1))
