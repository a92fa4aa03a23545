"""Which cautions an incident brings up."""

from __future__ import annotations

import shapely
from shapely.geometry import Point

from marram.course.frame import Position
from marram.rulings.case.case import Case
from marram.rulings.case.ruling import Caution

_NEAR_M = 10.0


def cautions_for(case: Case) -> tuple[Caution, ...]:
    """All cautions that touch the incident; danger from lightning comes first."""
    book = case.book
    found = []
    for row_id in book.catalogue.rows_of("caution"):
        if book.has_row(row_id) and _touches(case, row_id):
            found.append(Caution(text=book.word(f"{row_id}.text").value, citations=book.citations(row_id)))
    return tuple(found)


def _touches(case: Case, row_id: str) -> bool:
    book = case.book
    if case.incident.situation in book.words(f"{row_id}.situations").value:
        return True
    if any(case.incident.facts.get(fact) for fact in book.words(f"{row_id}.facts").value):
        return True
    kinds = book.words(f"{row_id}.kinds").value
    spots = tuple(spot for spot in (case.incident.ball, case.incident.crossed_at) if spot is not None)
    return bool(kinds) and case.once("near things", (kinds, spots), lambda: any(_is_near(case, kinds, spot) for spot in spots))


def _is_near(case: Case, kinds: tuple[str, ...], spot: Position) -> bool:
    things = case.once("things", kinds, lambda: [thing.geometry for thing in case.course.features if thing.kind.value in kinds])
    return bool(things) and bool((shapely.distance(things, Point(spot.xy)) <= _NEAR_M).any())
