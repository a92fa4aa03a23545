"""`marram trial rerule`: the logged balls of a season under another book."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.office.trials.rerule import Reruled, RuledAgain

_WIDTH = 100
_FILE = click.Path(exists=True, path_type=Path, dir_okay=False)


@click.command()
@click.argument("log", type=_FILE)
@click.option("--course", required=True, type=_FILE, help="The course file.")
@click.option("--book", required=True, metavar="BOOK", help="The other book: an edition, or an edition with overlays.")
@click.option("--rounds", default=None, type=click.IntRange(1, 1_000_000), help="In how many rounds they came up; else as the log says.")
@json_option
def rerule(log: Path, *, course: Path, book: str, rounds: int | None, as_json: bool) -> None:
    """Rule on the incidents of a LOG again, under another book: what changes, for how many, per 100 rounds."""
    from marram.answers.shape import json_text
    from marram.answers.trials.rerule_answer import reruling_answer
    from marram.office.trials.rerule import rerule as rule_again
    from marram.office.workroom import Workroom

    room = Workroom()
    before, after = room.books((room.log_book(log), book))
    opened = room.course(course)
    found = rule_again(room.incident_log(log, opened.course, (before, after)), opened.course, (before, after), rounds=rounds)
    click.echo(json_text(reruling_answer(found)) if as_json else _text(found))


def _text(found: Reruled) -> str:
    from marram.answers.trials.rerule_answer import reruling_answer

    before, after = found.books
    lines = [f"{counted(len(found.incidents), 'ball')} that came up under {before.name}, ruled again under {after.name}."]
    lines += [line for entry in found.incidents for line in _ball_lines(entry)]
    lines.append(f"Changed: {found.changed}. Cannot be told before a fact is known: {found.cannot_tell}.")
    if found.per_100 is not None and found.per_100_interval95 is not None:
        ends = found.per_100_interval95
        lines.append(f"Per 100 rounds: {found.per_100:.2f} ({ends.low:.2f} to {ends.high:.2f}), in {found.rounds} rounds.")
    else:
        lines.append("In how many rounds they came up is not known, so no rate can be told.")
    lines.append(reruling_answer(found).remark)
    return "\n".join(fill(line, _WIDTH, subsequent_indent="   ") for line in lines)


def _ball_lines(entry: RuledAgain) -> list[str]:
    if entry.changed is None:
        asked = dict.fromkeys(question.question for ruling in entry.rulings for question in ruling.facts_needed)
        return [f"{entry.id}: cannot tell. Ask: {' '.join(asked)}"]
    return [f"{entry.id}: {', '.join(word.value for word in entry.changed)}"] if entry.changed else []
