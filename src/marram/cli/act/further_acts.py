"""The part of `marram act` that says what each further act leads to by itself, and asks what it still turns on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.cli.verdict import not_read_line, turn_objects, verdict_lines

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from marram.rulebook.book import Book
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.breaches import NamedAct
    from marram.rulings.acts.turns import Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class FurtherAct:
    """A further act under one book.

    Attributes:
        answer: What it leads to by itself.
        not_read: Facts stated of it that the book does not read.
    """

    answer: ActAnswer
    not_read: tuple[str, ...]


def further_acts(book: Book, acts: Sequence[NamedAct], stated: Sequence[NamedAct]) -> list[FurtherAct]:
    """The acts after the first, each by itself.

    Args:
        book: The book.
        acts: All acts, the later breaches of a kind stated to be so where the book counts them up.
        stated: The same acts with what was stated of them.
    """
    from marram.rulings.acts.acts import facts_not_read, facts_read, rule_on_act

    return [
        FurtherAct(
            answer=rule_on_act(book, act.act, act.facts),
            not_read=facts_not_read(named.facts, facts_read([book], act.act)),
        )
        for act, named in zip(acts[1:], stated[1:], strict=True)
    ]


def turns_of_act(answer: ActAnswer, turns: Iterable[Turn]) -> list[dict[str, object]]:
    """What an act turns on, as outsiders read it, each entry with the name of the act."""
    return [{"act": answer.act} | entry for entry in turn_objects(answer, turns)]


def further_lines(book: str, further: Sequence[FurtherAct]) -> list[str]:
    """What each further act leads to, with its name, and the facts stated of it that the book does not read."""
    lines: list[str] = []
    for entry in further:
        headline, *asked = verdict_lines(entry.answer)
        lines += [f"Also {entry.answer.act}: {headline}", *asked]
        lines += [f"Of {entry.answer.act}, {line}" for line in not_read_line(book, entry.not_read)]
    return lines


def settling_lines(turns: Iterable[tuple[str, Turn]]) -> list[str]:
    """How to state of each further act what it turns on: its facts stand behind its name."""
    from marram.rulebook.facts import as_told

    names: dict[str, dict[str, None]] = {}
    for act, turn in turns:
        names.setdefault(act, {}).update(dict.fromkeys(map(as_told, turn.facts)))
    return [
        f"What is asked of {act} is stated behind its name: --also {act}:NAME=true or NAME=false, NAME being {', '.join(facts)}."
        for act, facts in names.items()
    ]
