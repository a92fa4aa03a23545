"""What days cannot tell apart: changes that were in force on the same days and are to be seen in the same values.

All changes of a trial are played on the same days, so a difference of those days is that of the whole trial. Where more than one of its
changes was to move an outcome, no day says which of them did; the finding is theirs together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from marram.rulebook.overlays.overlay import Change, Overlay


def confounded(trial: Overlay) -> dict[str, tuple[int, ...]]:
    """By outcome, the changes of a trial that are expected to move it, where there is more than one."""
    expecting: dict[str, list[int]] = defaultdict(list)
    for change in trial.changes:
        if change.expects is not None:
            expecting[change.expects.outcome].append(change.number)
    return {outcome: tuple(numbers) for outcome, numbers in expecting.items() if len(numbers) > 1}


def together_with(change: Change, weighed: Mapping[int, frozenset[int]]) -> tuple[int, ...]:
    """The other changes whose findings rest on rows that the finding of this one rests on.

    Args:
        change: The change.
        weighed: By number of the change, the rows that its finding rests on.
    """
    own = weighed[change.number]
    return tuple(number for number, rows in weighed.items() if number != change.number and own & rows)


def also_touched_by(change: Change, trial: Overlay, together: Sequence[int]) -> tuple[int, ...]:
    """Other changes of the trial that observe or guard what this one is to move: they may have moved it too, though nobody expected it."""
    if change.expects is None:
        return ()
    key = change.expects.outcome
    return tuple(
        other.number
        for other in trial.changes
        if other.number not in {change.number, *together} and key in {*other.observes, *(guard.outcome for guard in other.guards)}
    )
