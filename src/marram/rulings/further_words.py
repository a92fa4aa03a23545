"""How another condition in the way is told."""

from __future__ import annotations

from marram.rulebook.book import Book
from marram.rulebook.wording.explain import told_text
from marram.rulings.case.ruling import Further, Option
from marram.rulings.further import ROW


def further_words(book: Book, option: Option, further: Further) -> str:
    """That another condition interferes at a point of relief, and what follows.

    Args:
        book: The book in force.
        option: The option whose point it is.
        further: The other condition.
    """
    said = [f"{option.title}: {_where(further)}."]
    if further.points:
        to = further.points[0]
        away = "" if to.distance_m is None else f", {to.distance_m:.2f} m on"
        said.append(f"The next point, clear of the {further.noun}: x {to.position.x_m:.2f} m, y {to.position.y_m:.2f} m{away}.")
    said.append(told_text(book, f"{ROW}.{'back_again' if further.is_back else 'then'}"))
    return " ".join(said)


def _where(further: Further) -> str:
    """Where it interferes: at the point, under the area, or both."""
    parts = []
    if further.interference is not None:
        touched = ", ".join(sorted(further.interference.parts))
        parts.append(f"at point 1 the {further.noun} interferes with {touched} (by {further.interference.depth_m:.2f} m)")
    if further.on_area_m2:
        there = "it" if parts else f"the {further.noun}"
        parts.append(f"{further.on_area_m2:.2f} m² of the area lie on {there}")
    return " and ".join(parts)
