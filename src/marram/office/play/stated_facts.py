"""Facts as an official states them: each known to the rule data, stated one way, and read by some book that is asked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.rulebook.facts import Facts, known_fact, refuse_contradiction

Stated = Sequence[tuple[str, bool]]
"""Names of facts as they are typed, each true or false, in the order stated."""


def know_facts(stated: Stated, facts: Facts, read_by: Iterable[Sequence[str]], *, field: str = Field.FACT) -> dict[str, bool]:
    """Facts as they are stated, under their names.

    Args:
        stated: What is stated.
        facts: The catalogue of facts.
        read_by: The facts that each book asked reads of what is asked about, to be named in an error.
        field: The field that they stand in.

    Raises:
        DataError: One is no fact, is stated both ways, or cannot be true together with another.
    """
    known: dict[str, bool] = {}
    read = tuple(dict.fromkeys(name for names in read_by for name in names))
    for asked, is_true in stated:
        name = known_fact(asked, facts, field=field, read=read)
        if known.setdefault(name, is_true) is not is_true:
            raise DataError(f"{name} is stated true and false.", field=field, hint=f"State it once. {facts[name].question}")
    refuse_contradiction(known, facts, field=field)
    return known
