"""What the pages of the ruling and the programs ask: each job takes the desk and a text, and gives a page.

Only what the first page needs is loaded with this module, so that the desk opens soon; each other job loads its own when it is first asked.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from marram.answers.error_answer import usage_answer
from marram.core.errors import MarramError
from marram.desk.pages.case_address import Address, read_address
from marram.desk.pages.home_page import home_page
from marram.desk.pages.page import TOML, Desk, Page, error_as_json, error_as_page, json_page
from marram.desk.pages.shared_parts import WIDE_PX, map_rendering
from marram.office.at_desk.stated_case import StatedCase, open_books, rule_on_case

_NOTHING = Address(values={})


class CaseBody(msgspec.Struct, forbid_unknown_fields=True, kw_only=True):
    """A case as a program sends it.

    Attributes:
        course: Name of the course.
        day: Name of the day; empty for the course as it was surveyed.
        books: Names of the books; none for the edition in force.
        incident: Members of the incident, as its file has them.
    """

    course: str
    day: str = ""
    books: tuple[str, ...] = ()
    incident: dict[str, Any]


class MovingBody(msgspec.Struct, forbid_unknown_fields=True, kw_only=True):
    """A ball that is moved.

    Attributes:
        seq: Number of the message; the answer bears it.
        query: The address of the case, with the ball where it is now.
        bounds: Least x, least y, greatest x, greatest y of the map, metres.
        width: Width of the map, drawing units.
    """

    seq: int
    query: str
    bounds: tuple[float, float, float, float]
    width: float = WIDE_PX


def show_home(desk: Desk, query: str) -> Page:
    """The first page."""
    return _page(home_page, desk, query)


def show_ask(desk: Desk, query: str) -> Page:
    """What is asked in words."""
    from marram.desk.pages.ask_page import ask_page

    return _page(ask_page, desk, query)


def show_ruling(desk: Desk, query: str) -> Page:
    """A ruling."""
    from marram.desk.pages.ruling_page import ruling_page

    return _page(ruling_page, desk, query)


def show_incident(desk: Desk, query: str) -> Page:
    """The case of an address as an incident file."""
    from marram.office.at_desk.incident_text import incident_text

    def written(desk: Desk, address: Address) -> Page:
        return Page(media=TOML, text=incident_text(address.case))

    return _page(written, desk, query)


def show_told(name: str) -> Callable[[Desk, str], Page]:
    """What is told and not drawn.

    Args:
        name: What is told, as ``TOLD`` has it.
    """

    def shown(desk: Desk, query: str) -> Page:
        from marram.desk.pages.told_pages import TOLD

        return _page(TOLD[name], desk, query)

    return shown


def _page(make: Callable[[Desk, Address], Page], desk: Desk, query: str) -> Page:
    address = _NOTHING
    try:
        address = read_address(query)
        return make(desk, address)
    except MarramError as problem:
        return error_as_page(problem, address)


def answer_rule(desk: Desk, body: str) -> Page:
    """A ruling as JSON."""
    from marram.answers.rules.ruling_answer import ruling_answers

    def answer() -> Page:
        case = msgspec.json.decode(body, type=CaseBody)
        stated = StatedCase(course=case.course, day=case.day, books=case.books, incident=case.incident)
        return json_page(ruling_answers(rule_on_case(desk.room, desk.folder, stated)))

    return _json(answer)


def answer_situations(desk: Desk, body: str) -> Page:
    """The situations as JSON."""
    from marram.answers.rules.ruling_answer import situation_list
    from marram.office.play.give_ruling import list_situations

    return _json(lambda: json_page(situation_list(list_situations(open_books(desk.room, desk.folder, desk.books)[0]))))


def answer_moving(desk: Desk, body: str) -> Page:
    """What a ruling puts on the ground while its ball is moved, as JSON without words."""
    from marram.office.play.give_ruling import draw_moving_ruling

    def answer() -> Page:
        moved = msgspec.json.decode(body, type=MovingBody)
        address = read_address(moved.query)
        asked = address.put(book=address.all("book") or desk.books)
        under, over = draw_moving_ruling(
            rule_on_case(desk.room, desk.folder, asked.case), map_rendering(moved.width, moved.bounds), asked.first("option")
        )
        return Page(media="application/json", text=msgspec.json.encode({"seq": moved.seq, "under": under, "over": over}).decode())

    return _json(answer)


def _json(answer: Callable[[], Page]) -> Page:
    try:
        return answer()
    except MarramError as problem:
        return error_as_json(problem)
    except (msgspec.ValidationError, msgspec.DecodeError) as problem:
        told = usage_answer(f"The request cannot be read: {problem}.", where="request", hint="See the description of this address.")
        return json_page(told, 400)


PAGE_JOBS: dict[str, Callable[[Desk, str], Page]] = {
    "home": show_home,
    "ask": show_ask,
    "ruling": show_ruling,
    "act": show_told("act"),
    "thing": show_told("thing"),
    "drop": show_told("drop"),
    "search": show_told("search"),
    "form": show_told("form"),
    "stopped": show_told("stopped"),
    "incident": show_incident,
    "api-rule": answer_rule,
    "api-situations": answer_situations,
    "moving": answer_moving,
}
