"""How an act reads in a form of play, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import UNSET, Shape, UnsetType

if TYPE_CHECKING:
    from marram.rulings.acts.act_in_form import FormReading


class ReadingShape(Shape, frozen=True, kw_only=True):
    """How what an act leads to reads in a form of play.

    Attributes:
        act: Name of the act; left out where it is the act asked about.
        form: The form.
        happens: Whether the act can happen in it at all.
        see_instead: The act to look at in this form, where this one happens in the other only; empty where there is none.
        strokes: Penalty strokes.
        hole: What becomes of the hole: empty, or a word such as `lost`, `no-points`, `maximum`.
        disqualified: Whether it disqualifies.
        bears: Who bears it.
        partner: What the partner bears of it; empty where there is no partner or nothing to bear.
        says: The same in words.
        citations: The rules on the form.
    """

    act: str | UnsetType = UNSET
    form: str
    happens: bool
    see_instead: str
    strokes: int
    hole: str
    disqualified: bool
    bears: str
    partner: str
    says: str
    citations: tuple[CitationShape, ...]


def reading_shape(reading: FormReading, act: str | UnsetType = UNSET) -> ReadingShape:
    """How what an act leads to reads in a form of play."""
    return ReadingShape(
        act=act,
        form=reading.form.value,
        happens=reading.happens,
        see_instead=reading.see_instead,
        strokes=reading.strokes,
        hole=reading.hole,
        disqualified=reading.is_out,
        bears=reading.bears,
        partner=reading.partner,
        says=reading.says,
        citations=citation_shapes(reading.citations),
    )
