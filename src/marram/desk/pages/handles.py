"""What can be moved on the drawing of a ruling: the places that its situation turns on, and the ball where its lie decides."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.desk.pages.case_address import PLACES, Address

if TYPE_CHECKING:
    from marram.office.at_desk.asked_facts import AskedFact
    from marram.rulings.case.ruling import Ruling

_ON_EDGE = ("crossed_at", "other_crossed_at")
"""Places that lie on an edge by what they are."""
_OF_STROKES = ("previous_stroke", "last_stroke_outside")
"""Places that mostly lie far off; they are put last, unless nothing else can be."""
_BALL, _BACK = "ball", "back"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """Something that a touch on the drawing puts.

    Attributes:
        name: What it is, in the words of the interface.
        names: Names of its numbers in an address.
        is_on_edge: Whether it keeps to the nearest edge.
        line: Where the line that it keeps to starts, and the place a metre on, as ``x y x y``; empty where it keeps to none.
    """

    name: str
    names: tuple[str, ...]
    is_on_edge: bool = False
    line: str = ""


def handles_of(address: Address, asked: tuple[AskedFact, ...], ruling: Ruling | None) -> tuple[Handle, ...]:
    """What can be moved, what decides first.

    Args:
        address: What is stated.
        asked: What is still asked.
        ruling: The ruling that the drawing is about; None where nothing is ruled yet.
    """
    asks = {fact.member.removeprefix("facts.") for fact in asked if fact.settled == "place"}
    meant = [name for name in PLACES if name in asks or address.first(f"{name}.x")]
    near = [_place(name) for name in meant if name not in _OF_STROKES]
    far = [_place(name) for name in meant if name in _OF_STROKES]
    ball = [] if address.first("lost") else [Handle(name=_BALL, names=("x", "y"))]
    return (*near, *ball, *_on_line(ruling), *far)


def _place(name: str) -> Handle:
    return Handle(name=name, names=(f"{name}.x", f"{name}.y"), is_on_edge=name in _ON_EDGE)


def _on_line(ruling: Ruling | None) -> Iterator[Handle]:
    """The spot on the line back, where an option has a line."""
    line = next((option.line for option in ruling.options if option.line is not None), None) if ruling is not None else None
    if line is not None:
        start, on = line.place_at(0.0), line.place_at(1.0)
        yield Handle(name=_BACK, names=("back",), line=f"{start.x_m:.4f} {start.y_m:.4f} {on.x_m:.6f} {on.y_m:.6f}")
