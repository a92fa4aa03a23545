"""The steps of the leaflet, which has room for four frames: the drops that count and those that do not stand in one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marram.sheets.guide.content import GuidePage, Step
from marram.sheets.guide.frames import together

MOST_FRAMES = 4


def leaflet_steps(page: GuidePage) -> Sequence[Step]:
    """The steps of a page in at most four frames."""
    steps = page.steps
    if len(steps) <= MOST_FRAMES:
        return steps
    good, bad = steps[-2:]
    both = replace(
        good,
        title="What becomes of the drop",
        words=(*good.words, *bad.words),
        drawing=together(good.drawing, bad.drawing),
    )
    return (*steps[:-2], both)
