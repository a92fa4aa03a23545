"""The pages of an event: starting times and entries, results, and what was written down."""

from __future__ import annotations

from collections.abc import Callable

from marram.core.errors import MarramError
from marram.desk.pages.case_address import ORDER, Address, read_address
from marram.desk.pages.page import Desk, Page, error_as_page, fill
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.event_seen import see_event, store_of
from marram.office.at_desk.stated_case import open_books

EVENT = "competition"
KNOWN = (*ORDER, EVENT)
"""Names that an address of an event may hold."""


def looking_at_event(template: str) -> Callable[[Desk, str], Page]:
    """A job that shows a page of the event; where the folder has no store, what to do.

    Args:
        template: The template of the page.
    """

    def job(desk: Desk, query: str) -> Page:
        address = Address(values={})
        try:
            address = read_address(query, KNOWN)
            books = open_books(desk.room, desk.folder, address.all("book") or desk.books)
            store = store_of(desk.folder)
            if store is None:
                return fill("event/no_store.html", address, head=head(desk, address, books))
            seen = see_event(desk.room, store, address.first(EVENT))
            return fill(f"event/{template}", address, head=head(desk, address, books), seen=seen, event=EVENT)
        except MarramError as problem:
            return error_as_page(problem, address)

    return job
