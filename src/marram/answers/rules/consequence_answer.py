"""What a case leads to in one form of play, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.rulebook.consequences import InForm


def in_form_object(told: InForm | None) -> dict[str, int | str | bool | None] | None:
    """Strokes, hole and disqualification in a form of play, and what comes besides; null where the case cannot happen there."""
    if told is None:
        return None
    who: dict[str, int | str | bool | None] = {} if told.who is None else {"who": told.who.value}
    added = {"added": told.added.value} if told.added else {}
    barred = {} if told.is_allowed else {"allowed": False}
    committee = {"committee_may_disqualify": True} if told.committee_may else {}
    return {"strokes": told.strokes, "hole": told.hole.value, "disqualified": told.is_out} | who | added | barred | committee
