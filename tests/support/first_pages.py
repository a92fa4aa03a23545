"""Parts of a first page made up for tests, and what a drawing of one says when its coordinates are read back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from marram.evidence.telling.answer_bars import AnswerBar
from marram.evidence.telling.scaled_rows import EffectRow, Ends, ScaledEffect, Sign
from marram.evidence.telling.season import Season, SeasonColumn
from marram.records.rows import Arm
from marram.sheets.drawn.effect_plot import PlotAxis

Box = tuple[float, float, float, float]


def effect_row(
    estimate: float | None,
    interval: Ends | None = None,
    *,
    is_guard: bool = False,
    is_either_way: bool = False,
    by_definition: float | None = None,
    changes: tuple[int, ...] = (1,),
) -> EffectRow:
    """A row of the plot; its 90 % interval is a little narrower."""
    narrower = None if interval is None else (interval[0] * 0.95 + interval[1] * 0.05, interval[0] * 0.05 + interval[1] * 0.95)
    effect = (
        None if estimate is None else ScaledEffect(estimate=estimate, interval95=interval, interval90=narrower, by_definition=by_definition)
    )
    return EffectRow(
        changes=changes,
        is_guard=is_guard,
        outcome="strokes",
        sentence=("A round takes ", "1 stroke fewer", "."),
        limits="",
        word="Open",
        reason="",
        sign=Sign.HALF,
        unit_of_scale=1.0,
        effect=effect,
        is_either_way=is_either_way,
    )


def season_of(arms: Sequence[Arm | None], reason: str = "") -> Season:
    """A season of pairs of days a week apart; None is a day that was not held."""
    columns = [
        SeasonColumn(
            name=f"d{number:02d}",
            dated=None if arm is None else date(2026, 4, 4) + timedelta(weeks=number),
            joined=f"p{number // 2:02d}",
            is_held=arm is not None,
            is_weighed=arm is not None,
            reason=reason if arm is None else "",
            cells=((arm,),),
        )
        for number, arm in enumerate(arms)
    ]
    return Season(each="day", unit="day", rows=("",), joins="one pair", columns=tuple(columns), is_planned=True)


def answer_bar(counts: tuple[int, ...]) -> AnswerBar:
    """The answers about a change."""
    return AnswerBar(change=1, counts=counts, share=0.5, interval95=(0.4, 0.6), worst_cases=(0.3, 0.7), asked=100, answered=sum(counts))


def value_at(axis: PlotAxis, x: float) -> float:
    """The multiple that stands at a place of the axis, by its two lines alone."""
    nought, enough = axis.x(0), axis.x(1)
    return (x - nought) / (enough - nought)


def line_ends(svg: str, kind: str) -> tuple[float, float] | None:
    """From where to where a line of the plot goes; None where there is none."""
    found = re.search(rf'd="M([-\d.]+) [-\d.]+H([-\d.]+)[^"]*" class="{kind}"', svg)
    return None if found is None else (float(found[1]), float(found[2]))


def point_at(svg: str) -> float | None:
    """Where the diamond stands; None where there is none."""
    found = re.search(r'd="M([-\d.]+) [^"]*" class="point"', svg)
    return None if found is None else float(found[1])


def text_boxes(svg: str, letter: float = 6.6) -> list[tuple[str, Box]]:
    """Each text with the box that it takes: left, top, right, bottom."""
    found = []
    for x, y, anchor, text in re.findall(r'<text x="([-\d.]+)" y="([-\d.]+)" class="figure" text-anchor="(\w+)">([^<]*)</text>', svg):
        wide = len(re.sub(r"&[#\w]+;", "x", text)) * letter
        left = float(x) - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        found.append((text, (left, float(y) - 11, left + wide, float(y) + 2)))
    return found


def overlaps(boxes: Sequence[tuple[str, Box]]) -> list[tuple[str, str]]:
    """Pairs of texts of which one stands over the other."""
    return [
        (one, other)
        for number, (one, (left, top, right, bottom)) in enumerate(boxes)
        for other, box in boxes[number + 1 :]
        if left < box[2] and box[0] < right and top < box[3] and box[1] < bottom
    ]
