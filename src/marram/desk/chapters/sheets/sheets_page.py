"""The pages of the sheets: the list of every print, and one print looked at before it is saved."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass

from marram.core.errors import DataError, MarramError
from marram.desk.chapters.sheets.print_asked import BALL, KNOWN, NAMED, SheetsAsked, print_named, sheets_asked
from marram.desk.pages.case_address import Address, read_address
from marram.desk.pages.page import HTML, JSON, NOT_AS_STATED, PDF, WELL, Desk, Page, error_as_page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_books
from marram.office.sheets.every_print import Print, every_print
from marram.office.sheets.print_makers import PDF as ON_PAPER
from marram.office.sheets.printed_from import Field, Need

GROUPS = ("rules", "course", "trial", "event")


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintListed:
    """A print in the list.

    Attributes:
        one: The print.
        missing: What the folder still lacks for it.
        is_kept: Whether it was made already.
    """

    one: Print
    missing: tuple[Need, ...]
    is_kept: bool


def looking(make: Callable[[SheetsAsked], Page]) -> Callable[[Desk, str], Page]:
    """A job that looks at the sheets: what is wrong with its address is told on a page.

    Args:
        make: Makes the page.
    """

    def job(desk: Desk, query: str) -> Page:
        address = Address(values={})
        try:
            address = read_address(query, KNOWN)
            return make(sheets_asked(desk, address))
        except MarramError as problem:
            return error_as_page(problem, address)

    return job


def list_page(asked: SheetsAsked) -> Page:
    """Every print, with what the folder still lacks for it."""
    listed = {group: tuple(_listed(asked, one) for one in every_print() if one.group == group) for group in GROUPS}
    ready = sum(not entry.missing for entries in listed.values() for entry in entries)
    return _filled("list.html", asked, listed=listed, ready=ready, count=len(every_print()))


def _listed(asked: SheetsAsked, one: Print) -> PrintListed:
    made_from = asked.of(one)
    missing = one.missing(made_from)
    return PrintListed(one=one, missing=missing, is_kept=not missing and asked.kept.find(one, made_from) is not None)


def show_page(asked: SheetsAsked, problem: MarramError | None = None) -> Page:
    """One print: its pages where it was made, else what it is made from and the button that makes it.

    Args:
        asked: What is looked at.
        problem: Why it could not be made; None where nobody tried.
    """
    one = print_named(asked.address.first("print"))
    made_from = asked.of(one)
    missing = one.missing(made_from)
    return _filled(
        "show.html",
        asked,
        NOT_AS_STATED if problem else WELL,
        one=one,
        missing=missing,
        kept=None if missing else asked.kept.find(one, made_from),
        far=asked.kept.how_far(one, made_from),
        fields=made_from.fields,
        problem=problem,
    )


def make_print(desk: Desk, posted: Posted) -> Page:
    """Make a print, and go to where it is shown; what is wrong is told on the page that still holds what was stated."""
    asked = sheets_asked(desk, posted.address(known=KNOWN))
    one = print_named(asked.address.first("print"))
    made_from = asked.of(one)
    try:
        if missing := one.missing(made_from):
            raise DataError("The folder does not hold what it is made from.", where=", ".join(missing), hint="See what is missing.")
        if not made_from.fields.get(Field.SEED, "-"):
            raise DataError("No seed is stated.", where=Field.SEED.value, hint="Type any words; the draw follows from them.")
        if asked.kept.find(one, made_from) is None:
            asked.kept.make(one, made_from)
    except MarramError as problem:
        return show_page(asked, problem)
    return Page(goes_to=asked.address.link("/sheets/show"))


def how_far(asked: SheetsAsked) -> Page:
    """How far a print is being made, for the script of its page."""
    one = print_named(asked.address.first("print"))
    made_from = asked.of(one)
    far = asked.kept.how_far(one, made_from)
    told = {"doing": far.doing, "done": far.done, "whole": far.whole, "is_made": asked.kept.find(one, made_from) is not None}
    return Page(media=JSON, text=json.dumps(told, sort_keys=True))


def picture(asked: SheetsAsked) -> Page:
    """The picture of one page of a print that was made."""
    one = print_named(asked.address.first("print"))
    kept = asked.kept.find(one, asked.of(one))
    number = asked.address.first("number")
    data = kept.picture(int(number)) if kept is not None and number.isdecimal() and len(number) < 4 else b""
    if not data:
        raise DataError("There is no such page of it.", where="number", hint="Open the print, and make it anew.")
    return Page(media="image/png", data=data)


def file(asked: SheetsAsked) -> Page:
    """The file of a print that was made, to be saved."""
    one = print_named(asked.address.first("print"))
    kept = asked.kept.find(one, asked.of(one))
    if kept is None:
        raise DataError("It was not made yet, or something of it has changed since.", where="print", hint="Open it, and make it anew.")
    return Page(media=PDF if one.form == ON_PAPER else HTML, data=kept.data, saved_as=f"{one.name}.{one.form}")


def _filled(template: str, asked: SheetsAsked, status: int = WELL, /, **shown: object) -> Page:
    room, folder = asked.desk.room, asked.desk.folder
    books = open_books(room, folder, asked.address.all("book"))
    chosen = {
        Need.PLAN: asked.papers.plans,
        Need.RECORDS: asked.papers.seasons,
        Need.INCIDENTS: asked.papers.incidents,
        Need.TASKS: asked.papers.tasks,
        Need.EVENT: _events(asked),
    }
    return fill(
        f"sheets/{template}",
        asked.address,
        status,
        head=head(asked.desk, asked.address, books),
        editions=room.editions(),
        shorts={name: edition.short for name, edition in room.catalogue.editions.items()},
        courses=folder.names(Holding.COURSE),
        days=folder.names(Holding.DAY),
        trials=folder.names(Holding.TRIAL),
        balls=folder.names(Holding.INCIDENT),
        ball=BALL,
        named={need: tuple(chosen[need]) for need in NAMED},
        procedures=_procedures(asked),
        **shown,
    )


def _events(asked: SheetsAsked) -> tuple[str, ...]:
    """Names of the events of the store beside the desk; none where it cannot be read, which its prints tell."""
    if asked.papers.store is None:
        return ()
    try:
        return tuple(asked.desk.room.store(str(asked.papers.store)).events())
    except MarramError:
        return ()


def _procedures(asked: SheetsAsked) -> tuple[tuple[str, str], ...]:
    """The relief that the book in hand measures: name and title."""
    from marram.office.books.tell_row import row_title

    (book,) = open_books(asked.desk.room, asked.desk.folder, asked.address.all("book")[:1])
    rows = [row for row in book.catalogue.rows_of("relief") if "shape" in book.catalogue.rows[row].parts and book.has_row(row)]
    titled = [(row.removeprefix("relief."), f"{row_title(book, row)}: {row.removeprefix('relief.').replace('-', ' ')}") for row in rows]
    return tuple(sorted(titled, key=lambda entry: entry[1]))
