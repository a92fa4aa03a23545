"""A play-off or a lot as it was held: the order that it gave, which decides among equal results."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import EventError
from marram.scoring.competition.terms_of_competition import Step, Ties
from marram.scoring.ranked import Ranked


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayOff:
    """A play-off or a lot.

    Attributes:
        step: Which of the two.
        order: Those who were equal, in the order that it gave.
        how: How it went, in words.
    """

    step: Step
    order: tuple[str, ...]
    how: str = ""

    @property
    def says(self) -> str:
        """The same in words."""
        how = f": {self.how.rstrip('.')}" if self.how else ""
        return f"{self.step.value.capitalize()} among {', '.join(self.order)}, in this order{how}."

    @property
    def key(self) -> str:
        """What tells it apart: whom it was held among."""
        return "|".join(sorted(self.order))


def refuse_unequal(held: PlayOff, ties: Ties, ranked: Sequence[Ranked], where: str) -> None:
    """Refuse a play-off that the terms do not know, or that was held among players who are not equal.

    Args:
        held: The play-off or lot.
        ties: How ties are decided.
        ranked: The results.
        where: The event, for messages.

    Raises:
        EventError: One of these is so.
    """
    if held.step not in ties.steps:
        told = f"The terms decide no tie by {held.step.value.replace('-', ' ')}."
        raise EventError(told, where=where, hint=f'Terms are set beforehand; "{held.step.value}" stands in ties.steps then.')
    totals = {one.name: one.total for one in ranked if one.placed is not None}
    strangers = [name for name in held.order if name not in totals]
    if strangers:
        raise EventError(f"{', '.join(strangers)}: no place in the results.", where=where, hint="Name those who are equal, best first.")
    if len(set(held.order)) != len(held.order) or len(held.order) < 2:
        raise EventError("Two players or sides at least are named, each once.", where=where, hint="Name those who are equal, best first.")
    if len({totals[name] for name in held.order}) > 1:
        told = ", ".join(f"{name} {totals[name]}" for name in held.order)
        raise EventError(f"They are not equal: {told}.", where=where, hint="Name those who are equal, best first.")
    left = [name for name, total in totals.items() if total == totals[held.order[0]] and name not in held.order]
    if left:
        told = f"{', '.join(left[:20])} {'is' if len(left) == 1 else 'are'} equal with them and not named."
        raise EventError(told, where=where, hint="Whoever is equal takes part, or is named where he was eliminated or withdrew.")
