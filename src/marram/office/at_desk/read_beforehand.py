"""What a first page will need, read before anybody asks: the rule data, and what draws a course."""

from __future__ import annotations

from marram.rulebook.reading.files import packaged_catalogue
from marram.sheets.drawn import course_drawing

__all__ = ["course_drawing", "packaged_catalogue"]


def read_beforehand() -> None:
    """Read the rule data that comes with Marram, once for this process and all that are split off from it."""
    packaged_catalogue()
