"""`marram forecast`: play the day under the present and the proposed rules, and say what is expected and what nobody knows."""

from __future__ import annotations

import sys
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import folder_at, json_option, write_set, write_whole
from marram.cli.fields import in_options
from marram.cli.writing import file_option, folder_option

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from marram.office.forecasts.forecast_found import Forecast, ForecastChange

_WIDTH = 100
_FILE = click.Path(exists=True, path_type=Path, dir_okay=False)
_ASK_SPREAD = "Days needed: give `spread`, how far days of a pair differ besides by chance (a pilot tells); nobody guesses it."


@click.command()
@click.argument("trial", type=_FILE)
@click.option("--course", required=True, type=_FILE, help="The surveyed course.")
@click.option("--book", metavar="BOOK", help="The present book; the latest that the trial is written for if not given.")
@click.option("--players", default=75, show_default=True, type=int, help="Players of the field.")
@click.option("--group-size", default=3, show_default=True, type=int, help="Players of a group.")
@click.option("--interval", default=10.0, show_default=True, type=float, help="Start interval, minutes.")
@click.option("--proposed-interval", type=float, help="Start interval that is proposed with the changes.")
@click.option("--start-from", default="one-tee", show_default=True, type=click.Choice(["one-tee", "two-tees", "every-hole"]))
@click.option("--call-up", is_flag=True, help="Groups are called up on par 3s.")
@click.option("--let-through", is_flag=True, help="A group that has lost a hole lets the next one through.")
@click.option("--stopped-share", type=float, help="Share of holes that players would stop at a maximum score.")
@click.option("--days", default=200, show_default=True, type=int, help="Days that are played under each set of rules.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="Seed of all chance.")
@click.option("--spread", "spreads", multiple=True, metavar="[OUTCOME=]NUMBER", help="How far days of a pair differ besides by chance.")
@click.option("--assume", "stated", multiple=True, metavar="NAME=NUMBER", help="A value in place of one that is assumed.")
@click.option("--independent-draws", is_flag=True, help="Play each set of rules on days of its own.")
@click.option("--workers", default=1, show_default=True, type=int, help="Processes that share the days; results are the same.")
@click.option("--from-records", type=_FILE, help="Local timings of groups on the holes, in place of the table of stage times.")
@folder_option("--records", help="Write a simulated season into a folder: days.csv and values.csv, marked as simulated.")
@click.option("--pairs", default=10, show_default=True, type=int, help="Pairs of days of the simulated season.")
@click.option("--form", type=click.Choice(["text", "json", "pdf"]), default="text", help="How it is told; a PDF needs --out.")
@file_option("-o", "--out", help="Write it to a file; .json and .pdf say their form.")
@json_option
def forecast(
    trial: Path,
    *,
    course: Path,
    book: str | None,
    players: int,
    group_size: int,
    interval: float,
    proposed_interval: float | None,
    start_from: str,
    call_up: bool,
    let_through: bool,
    stopped_share: float | None,
    days: int,
    seed: int,
    spreads: tuple[str, ...],
    stated: tuple[str, ...],
    independent_draws: bool,
    workers: int,
    from_records: Path | None,
    records: Path | None,
    pairs: int,
    form: str,
    out: Path | None,
    as_json: bool,
) -> None:
    """Play a TRIAL before anyone tees off: what each change is expected to do on a course, and what was not modelled."""
    from marram.core.work import Work
    from marram.office.forecasts.forecast_asked import ForecastAsked, start_named
    from marram.office.forecasts.forecast_trial import forecast_trial
    from marram.office.forecasts.simulated_records import simulated_season
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay, opened = room.trial(trial), room.course(course).course
    asked = ForecastAsked(
        players=players,
        group_size=group_size,
        interval_min=interval,
        start_from=start_named(start_from),
        waves_up=call_up,
        lets_through=let_through,
        days=days,
        seed=seed,
        spread=_numbers(spreads, "--spread", unnamed="round_min"),
        stated=_numbers(stated, "--assume"),
        stopped_share=stopped_share,
        proposed_interval_min=proposed_interval,
        workers=workers,
        is_independent=independent_draws,
        timings=() if from_records is None else room.timings(from_records, opened),
    )
    told_as = _form(form, out, as_json=as_json)
    base = room.book(book or overlay.on[-1])
    if records is not None:
        write_set(folder_at(records), simulated_season(overlay, base, opened, asked, pairs))
        click.echo(f"Written: {records / 'days.csv'}, {records / 'values.csv'}", err=True)
    _put_out(forecast_trial(overlay, base, opened, asked, Work(_tell)), told_as, out)


def _tell(doing: str, done: int, whole: int) -> None:
    """How far the days are, for whoever sits at a screen."""
    if sys.stderr.isatty():
        click.echo(f"{chr(13)}{doing}: {done} of {whole} parts", err=True, nl=done + 1 == whole)


def _form(form: str, out: Path | None, *, as_json: bool) -> str:
    """How a forecast is told: as asked, else as the file's name says."""
    ending = "" if out is None else out.suffix.lower().removeprefix(".")
    told_as = "json" if as_json else ending if form == "text" and ending in {"json", "pdf"} else form
    if told_as == "pdf" and out is None:
        raise click.UsageError("A PDF goes to a file: give --out FILE.pdf.")
    return told_as


def _put_out(found: Forecast, form: str, out: Path | None) -> None:
    """Print a forecast, or write it to a file."""
    from marram.answers.forecasts.forecast_answer import forecast_answer
    from marram.answers.shape import json_text
    from marram.office.forecasts.print_forecast import print_forecast

    if form == "pdf":
        content: str | bytes = print_forecast(found)
    else:
        content = (json_text(forecast_answer(found)) if form == "json" else forecast_text(found)) + "\n"
    if out is not None:
        write_whole(out, content)
        click.echo(f"Written: {out}", err=True)
    elif isinstance(content, str):
        click.echo(content, nl=False)


def _numbers(texts: tuple[str, ...], option: str, unnamed: str = "") -> dict[str, float]:
    """Numbers by name as they were typed; one without a name stands for `unnamed`."""
    from marram.core.errors import DataError

    found = {}
    for text in texts:
        name, equals, amount = text.rpartition("=")
        try:
            found[name or unnamed] = float(amount)
        except ValueError:
            name = ""
        if not name and (equals or not unnamed or unnamed not in found):
            expected = "NUMBER or OUTCOME=NUMBER" if unnamed else "NAME=NUMBER"
            raise DataError(f"{text!r} cannot be read.", where=option, hint=f"Give {expected}.")
    return found


def forecast_text(found: Forecast) -> str:
    """A forecast as it is printed: what was not modelled before any figure."""
    from marram.office.forecasts.forecast_words import assumed_line, change_title, effect_lines, head_lines, not_played_lines

    lines = [f"Forecast: {found.trial}  [trial {found.trial_stamp}]", *_filled(head_lines(found), ""), "", "Not modelled:"]
    lines += _filled(not_played_lines(found), "   - ", "     ")
    for one in found.changes:
        lines += ["", *_filled([change_title(one)], "", "   "), *_change_lines(one)]
    lines += ["", "All changes together", *_filled(effect_lines(found.together), "   ", "      "), ""]
    if found.lacks_spread:
        lines += [*_filled([in_options(_ASK_SPREAD)], ""), ""]
    lines += ["Assumed, with the range tried and where each comes from:", *_filled(map(assumed_line, found.assumed), "   - ", "     ")]
    lines += ["", "Assumed besides, and not tried at other values:", *_filled(found.fixed, "   - ", "     ")]
    return "\n".join(lines)


def _change_lines(one: ForecastChange) -> Iterator[str]:
    from marram.office.forecasts.forecast_words import driven_lines, effect_lines, played_line

    yield from _filled([played_line(one), *effect_lines(one.effects)], "   ", "      ")
    if driven := driven_lines(one.driven_by):
        yield "   What drives it over the day:"
        yield from _filled(driven, "      ", "         ")


def _filled(texts: Iterable[str], first: str, then: str | None = None) -> list[str]:
    return [fill(text, _WIDTH, initial_indent=first, subsequent_indent=first if then is None else then) for text in texts]
