"""The part of `marram act` that tells what each further act leads to by itself, and how to settle what it still turns on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.verdict import not_read_line, verdict_lines
from marram.core.words import as_told

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from marram.office.play.rule_on_acts import ActRuled
    from marram.rulings.acts.turns import Turn


def further_lines(book: str, further: Sequence[ActRuled]) -> list[str]:
    """What each further act leads to, with its name, and the facts stated of it that the book does not read."""
    lines: list[str] = []
    for entry in further:
        headline, *asked = verdict_lines(entry.answer)
        lines += [f"Also {entry.answer.act}: {headline}", *asked]
        lines += [f"Of {entry.answer.act}, {line}" for line in not_read_line(book, entry.facts_not_read)]
    return lines


def settling_lines(turns: Iterable[tuple[str, Turn]]) -> list[str]:
    """How to state of each further act what it turns on: its facts stand behind its name."""
    names: dict[str, dict[str, None]] = {}
    for act, turn in turns:
        names.setdefault(act, {}).update(dict.fromkeys(map(as_told, turn.facts)))
    return [
        f"What is asked of {act} is stated behind its name: --also {act}:NAME=true or NAME=false, NAME being {', '.join(facts)}."
        for act, facts in names.items()
    ]
