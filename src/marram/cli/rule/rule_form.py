"""How a ruling reads in the form of play that the incident states, in lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line

if TYPE_CHECKING:
    from marram.rulings.acts.form_of_play import FormAnswer


def form_lines(answer: FormAnswer | None) -> list[str]:
    """What the form makes of the penalty, and of giving the ball up; nothing in plain stroke play."""
    if answer is None:
        return []
    named = answer.form.words
    if answer.why_none:
        return ["", f"In {named}: there is no such form in this edition: {answer.why_none}."]
    return ["", f"In {named}", *(f"{line.says} {rules_line(line.citations)}" for line in answer.lines)]
