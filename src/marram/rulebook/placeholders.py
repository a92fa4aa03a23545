"""What stands in braces in a sentence of the rule data: a term, a key whose value is told, or what is measured."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from enum import StrEnum

from marram.rulebook.values import nearest_names

PLACEHOLDER = re.compile(r"\{([^{}:]+)(?::([^{}]+))?\}")
"""A name or key, and after a colon the clause that its value chooses."""
OWN = "own"
"""Stands in a key for the row that a sentence is about."""


class FilledIn(StrEnum):
    """What logic fills into sentences besides terms and values of the book."""

    BACK_M = "back_m"
    CONDITION = "condition"
    COST = "cost"
    COUNTED = "counted"
    DROPS = "drops"
    KEPT_AREA = "kept_area"
    LATE = "late"
    LEAST_M = "least_m"
    LEFT = "left"
    LEFT_GROUND = "left_ground"
    LIMIT = "limit"
    MEASURED_FROM = "measured_from"
    MOVED = "moved"
    PARTS = "parts"
    PERHAPS = "perhaps"
    PLAYERS = "players"
    SAME_CLUB = "same_club"
    SIZED = "sized"


def unknown_placeholders(sentence: str, terms: Collection[str], keys: Collection[str], parts: Collection[str]) -> Iterator[str]:
    """What to say of placeholders that name nothing.

    Args:
        sentence: The sentence.
        terms: Names of the terms.
        keys: Every key, ``row.part``.
        parts: Names of the parts of all rows, for keys of the row that a sentence is about.
    """
    for name, _ in PLACEHOLDER.findall(sentence):
        row, _, part = name.partition(".")
        if not part and name not in terms and name not in list(FilledIn):
            yield f"{{{name}}} is no term and nothing that is filled in; nearest: {_near(name, [*terms, *FilledIn])}"
        elif part and row == OWN and part not in parts:
            yield f"{{{name}}} names no part of any row; nearest: {_near(part, list(parts))}"
        elif part and row != OWN and name not in keys:
            yield f"{{{name}}} is no key of the rule data; nearest: {_near(name, list(keys))}"


def _near(name: str, names: list[str]) -> str:
    return ", ".join(nearest_names(name, names)) or "none"
