"""How a charge is said: for what it is, as the act's own words name the breach, and what it costs."""

from __future__ import annotations

import re

from marram.core.words import counted
from marram.rulebook.book import Book
from marram.rulings.acts.acts import FAMILY

_BESIDE = re.compile(r"\s*\([^()]*\)$|, (?:but|not) .*$")
"""What the words of an act say to tell it from others, and a result need not repeat."""
_NTH = {1: "first", 2: "second", 3: "third"}


def breach_words(book: Book, act: str) -> str:
    """The breach in words, to stand before what it costs: ``carries more clubs than the most allowed``.

    Args:
        book: The book.
        act: The act; one of its rule data.
    """
    means = _BESIDE.sub("", book.catalogue.rows[f"{FAMILY}{act}"].means.rstrip("."))
    return means[:1].lower() + means[1:]


def cost_words(breach: str, cost: str) -> str:
    """A breach with its cost, such as ``delays play: two penalty strokes``.

    Args:
        breach: The breach in words.
        cost: What it costs, as a sentence of its own or the end of one.
    """
    told = cost.rstrip(".")
    return f"{breach}: {told[:1].lower()}{told[1:]}"


def nth_breach(breach: str, number: int) -> str:
    """A breach that is counted in the round: ``delays play (second breach)``."""
    return f"{breach} ({_NTH.get(number, f'breach {number}')}{' breach' * (number in _NTH)})"


def strokes_said(strokes: int) -> str:
    """Penalty strokes in words: ``one penalty stroke``, ``2 penalty strokes``."""
    return "one penalty stroke" if strokes == 1 else f"{strokes} penalty strokes"


def cap_said(most: int, unit: str) -> str:
    """That a round costs no more than it has cost already.

    Args:
        most: The most in a round.
        unit: What is charged, in the plural: ``strokes``, ``points`` or ``holes``.
    """
    amount = strokes_said(most) if unit == "strokes" else counted(most, unit.removesuffix("s"))
    return f"nothing more: the most in a round, {amount}, is charged already"
