"""The draw of a later round by the scores so far: the leaders start last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marram.core.errors import EventError
from marram.events.group_draw import DrawnBy, GroupDraw, group_sizes
from marram.scoring.ranked import Ranked


def draw_by_score(ranked: Sequence[Ranked], returned: Sequence[str], members: Mapping[str, tuple[str, ...]], *, size: int) -> GroupDraw:
    """Draw those who play on, the highest place last; of equal results the one who returned first starts later.

    Args:
        ranked: The places so far, the first first; those without a place are not drawn.
        returned: Names in the order in which their cards of the last round came in.
        members: The players of each side; a player alone is one.
        size: How many play together.

    Raises:
        EventError: Nobody has a place, or a group is not of one to four.

    Source: common practice; the Rules leave the draw of a later round to the Committee.
    """
    order = {name: place for place, name in enumerate(returned)}
    placed = [one for one in ranked if one.placed is not None]
    if not placed:
        raise EventError("Nobody has a result, so nobody can be drawn by score.", where="draw", hint="Take the cards in first.")
    level = _levels(placed)
    names = sorted((one.name for one in placed), key=lambda name: (level[name], order.get(name, len(order)), name), reverse=True)
    groups: list[tuple[str, ...]] = []
    largest = max(len(members.get(name, (name,))) for name in names)
    for count in group_sizes(len(names), max(1, size // largest), least=2 if largest == 1 else 1):
        groups.append(tuple(player for name in names[:count] for player in members.get(name, (name,))))
        names = names[count:]
    return GroupDraw(by=DrawnBy.SCORE, seed="", groups=tuple(groups))


def _levels(placed: Sequence[Ranked]) -> dict[str, int]:
    """How far down each result is, equal results alike, whatever the steps for ties made of them."""
    totals = list(dict.fromkeys(one.total for one in placed))
    return {one.name: totals.index(one.total) for one in placed}
