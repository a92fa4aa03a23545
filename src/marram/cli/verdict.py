"""The part of answers about acts that says how to settle what is asked, and what a book does not read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from marram.core.words import as_told
from marram.office.play.verdict_words import asked_lines, verdict_lines

__all__ = ["asked_lines", "not_read_line", "settling_line", "verdict_lines"]


def settling_line(facts: Iterable[str]) -> list[str]:
    """How to settle what was asked, for the end of an answer; nothing where nothing was."""
    names = [as_told(name) for name in dict.fromkeys(facts)]
    return [f"To settle what is asked, state it: --fact NAME=true or NAME=false, NAME being {', '.join(names)}."] if names else []


def not_read_line(book: str, facts: Sequence[str]) -> list[str]:
    """The facts stated that a book does not read; nothing where it reads all."""
    return [f"{book} does not read: {', '.join(map(as_told, facts))}."] if facts else []
