"""What a hole is to the pace of play: its par, so its stages, and where a following group may go on."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.errors import StudyError

STAGES = {3: 3, 4: 3, 5: 5}
"""Stages of a hole by its par: tee shots with the walk, further strokes, the walk to the green with what is played there."""
PARS = tuple(STAGES)


@dataclass(frozen=True, slots=True, kw_only=True)
class PacedHole:
    """A hole as the pace of play knows it.

    Attributes:
        number: Its number.
        par: Its par: 3, 4 or 5.
        walk_on_min: The walk from its green to the next tee, minutes.
        waves_up: Whether a par 3 calls the following group up: it plays its tee shots while the group ahead stands at the green.
    """

    number: int
    par: int
    walk_on_min: float
    waves_up: bool = False

    def __post_init__(self) -> None:
        """See that it can be played.

        Raises:
            StudyError: The par is another, or the walk is no time.
        """
        if self.par not in STAGES:
            raise StudyError(f"A par of {self.par} cannot be played.", where=f"hole {self.number}", hint="Pars 3, 4 and 5 are known.")
        if not 0 <= self.walk_on_min < 60:
            message = f"A walk of {self.walk_on_min} minutes to the next tee cannot be meant."
            raise StudyError(message, where=f"hole {self.number}", hint="Give 0 to 59 minutes.")

    @property
    def stages(self) -> int:
        """How many stages it has."""
        return STAGES[self.par]
