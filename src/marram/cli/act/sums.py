"""The part of `marram act` that adds several acts up: what an official types after `--also`, and how the totals are told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line, stated_facts
from marram.cli.fields import in_options
from marram.core.field_names import Field

if TYPE_CHECKING:
    from marram.office.play.add_acts import SumTold


def act_and_facts(typed: str) -> tuple[str, list[tuple[str, bool]]]:
    """A further act as it is typed: its name, and facts after a colon.

    Raises:
        DataError: What stands after the colon states no facts.
    """
    act, _, facts = typed.partition(":")
    texts = tuple(fact.strip() for fact in facts.split(",") if fact.strip())
    return act.strip(), stated_facts(texts, field=Field.ALSO.of(act.strip()))


def sum_lines(told: SumTold, *, is_open: bool) -> list[str]:
    """All acts together in lines: the totals, and what to ask where they hang on it.

    Args:
        told: The totals.
        is_open: Whether an act by itself still turns on something; the totals then suppose that none of it is so.
    """
    if told.found.why_not:
        return [f"Not added up: {in_options(told.found.why_not)}."]
    rules = f" {rules_line(told.found.citations)}" if told.found.citations else ""
    supposing = "If nothing of what is asked of the acts is so, together"
    says = f"{supposing}{told.says.removeprefix('Together')}" if is_open else told.says
    return [f"{says}{rules}", *([f"Ask: {' '.join(told.asks)}"] if told.asks else [])]
