"""The page of a ruling: the hole drawn to scale, options beside each other, what is asked, and the same ball under other books."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import FactsNeeded, MarramError
from marram.core.lengths import Lengths
from marram.core.terms import Club, Form, Hand
from marram.desk.pages.case_address import FIELD_OF, Address
from marram.desk.pages.handles import handles_of
from marram.desk.pages.page import NOT_AS_STATED, WELL, Desk, Page, fill
from marram.desk.pages.shared_parts import NARROW_PX, WIDE_PX, chosen_course, head, map_rendering
from marram.office.at_desk.asked_facts import asked_facts, asked_first, questions_of
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.lies_here import lies_here, what_may_be
from marram.office.at_desk.stated_case import known_conditions, open_books, open_ground, place_of_ball, rule_on_case
from marram.office.courses.draw_ground import draw_ground
from marram.office.play.draw_beside import draw_beside
from marram.office.play.give_ruling import Rulings, book_in_force, draw_ruling, drawn_option

if TYPE_CHECKING:
    from marram.office.at_desk.asked_facts import AskedFact
    from marram.office.at_desk.lies_here import Here
    from marram.office.open_course import OpenCourse
    from marram.rulebook.book import Book
    from marram.rulings.case.ruling import Ruling, RulingLine
    from marram.sheets.scene.rendering import Bounds, Rendering

_AROUND_M, _BELOW_M = 30.0, 19.5
"""So far about a ball the ground is shown before anything is ruled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stated:
    """What an address states, opened."""

    desk: Desk
    address: Address
    books: tuple[Book, ...]
    ground: OpenCourse
    here: Here | None

    @property
    def hole(self) -> int | None:
        """The hole, where it is stated and the course has it."""
        hole = self.address.case.incident.get("hole")
        return hole if isinstance(hole, int) and hole in self.ground.course.holes else None


def ruling_page(desk: Desk, address: Address) -> Page:
    """The ruling that an address states; where it states too little, what is to be stated next."""
    stated = _opened(desk, address)
    asked = stated.address
    if not (asked.has_ball and asked.first("situation") and asked.first("hole")):
        return _filled("happened.html", stated, _ground_drawings(stated))
    try:
        rulings = rule_on_case(desk.room, desk.folder, asked.case)
        drawings = tuple(draw_ruling(rulings, rendering=rendering, about=asked.first("option")) for rendering in _renderings(asked.lengths))
    except FactsNeeded as needed:
        return _ruled(stated, asked=asked_first(needed))
    except MarramError as problem:
        return _ruled(stated, error=problem, status=NOT_AS_STATED)
    return _ruled(stated, asked=asked_facts(rulings), rulings=rulings, drawings=drawings)


def _opened(desk: Desk, address: Address) -> _Stated:
    """What an address states, opened; the hole is that which passes the ball nearest, where none is stated."""
    asked = address.put(course=chosen_course(desk, address), book=address.all("book") or desk.books or (desk.room.catalogue.latest,))
    books = open_books(desk.room, desk.folder, asked.all("book"))
    ground = open_ground(desk.room, desk.folder, asked.first("course"), asked.first("day"))
    place, number = place_of_ball(asked.case, ground, books), asked.case.incident.get("hole")
    here = None if place is None else lies_here(ground.course, books[0], place, number if isinstance(number, int) else None)
    return _Stated(desk=desk, address=asked if here is None else asked.put(hole=str(here.hole)), books=books, ground=ground, here=here)


def _ruled(
    stated: _Stated,
    *,
    asked: tuple[AskedFact, ...] = (),
    rulings: Rulings | None = None,
    drawings: tuple[str, ...] = (),
    error: MarramError | None = None,
    status: int = WELL,
) -> Page:
    situation = stated.address.first("situation")
    means = next((entry.means for entry in what_may_be(stated.books[0]) if entry.situation == situation), situation)
    shown: dict[str, object] = {"asked": asked, "field_of": FIELD_OF, "rulings": rulings, "error": error, "means": means}
    shown["handles"] = handles_of(stated.address, asked, None if rulings is None else book_in_force(rulings).ruling)
    shown["beside"] = (
        {} if rulings is None or len(rulings.given) == 1 else draw_beside(rulings, stated.address.first("option"), stated.address.lengths)
    )
    led = None if rulings is None else book_in_force(rulings)
    shown["led"], shown["lines"] = led, () if led is None else _told_once(led.ruling)
    shown["main"] = None if rulings is None else drawn_option(rulings, stated.address.first("option"))
    shown["questions"] = questions_of(stated.books[0], (*stated.address.all("yes"), *stated.address.all("no")))
    return _filled("ruling.html", stated, drawings or _ground_drawings(stated), status=status, **shown)


def _told_once(ruling: Ruling) -> tuple[RulingLine, ...]:
    """What else a ruling says, each sentence once and none that a closed option says already."""
    said = {entry.because for entry in ruling.not_available}
    first = {line.text: line for line in reversed(ruling.lines) if not line.sums_up and line.text not in said}
    order = {status: number for number, status in enumerate(dict.fromkeys(line.status for line in ruling.lines))}
    lines = [line for line in ruling.lines if first.get(line.text) is line]
    return tuple(sorted(lines, key=lambda line: order[line.status]))


def _filled(template: str, stated: _Stated, drawings: tuple[str, ...], *, status: int = WELL, **shown: object) -> Page:
    """A page with its head, its drawing, and what can be chosen in the fields of a case."""
    room, folder = stated.desk.room, stated.desk.folder
    return fill(
        template,
        stated.address,
        status,
        head=head(stated.desk, stated.address, stated.books),
        course=stated.ground.course,
        here=stated.here,
        may_be=what_may_be(stated.books[0]),
        drawings=drawings,
        editions=room.editions(),
        local_rules=room.local_rules,
        trials=folder.names(Holding.TRIAL),
        hands=tuple(Hand),
        clubs=tuple(Club),
        forms=tuple(Form),
        conditions=known_conditions(stated.books),
        **shown,
    )


def _ground_drawings(stated: _Stated) -> tuple[str, ...]:
    """The ground about the ball where nothing is ruled yet; else the hole, and where none is stated the whole course."""
    ball = None if stated.here is None else stated.here.position
    window = None if ball is None else (ball.x_m - _AROUND_M, ball.y_m - _BELOW_M, ball.x_m + _AROUND_M, ball.y_m + _BELOW_M)
    return tuple(
        draw_ground(stated.ground.course, hole=stated.hole, ball=ball, rendering=rendering)
        for rendering in _renderings(stated.address.lengths, window)
    )


def _renderings(lengths: Lengths, window: Bounds | None = None) -> Iterator[Rendering]:
    """The map for a wide page, and for a phone."""
    return (map_rendering(width_px, window, lengths) for width_px in (WIDE_PX, NARROW_PX))
