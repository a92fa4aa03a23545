"""Who marks a player's card, where the marker of the group is missing or another was named."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkerNamed:
    """A marker as the Committee named one.

    Attributes:
        player: Whose card it is.
        marker: Who marks it; empty while nobody does.
        round: Number of the round.
        from_hole: From which hole on.
        why: Why.
    """

    player: str
    marker: str
    round: int = 1
    from_hole: int = 1
    why: str = ""

    @property
    def says(self) -> str:
        """The same in words."""
        since = f"from hole {self.from_hole} on" if self.from_hole > 1 else "for the round"
        if not self.marker:
            return f"{self.player} has no marker {since} of round {self.round}: {self.why}. The Committee has still to name one."
        return f"{self.marker} marks the card of {self.player} {since} of round {self.round}: {self.why}."
