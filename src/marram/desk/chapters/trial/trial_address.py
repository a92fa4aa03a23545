"""What an address of this chapter, or a form of it, states: the trial, the change that is open, and what is filled in so far."""

from __future__ import annotations

from urllib.parse import parse_qsl

from marram.core.errors import DataError
from marram.desk.pages.case_address import Address
from marram.desk.pages.posted import Posted

_LONGEST = 24_000
FILLED = "filled"
"""Stands in an address whose fields were filled in: what it lacks is empty, and not as the file has it."""
ASIDE = ("cases", "pick", "more", "amount", "unit", "same", "case_out", "case_for")
"""Fields from which the new value is put together."""


def fields_of(query: str) -> Posted:
    """The fields that an address states.

    Args:
        query: What stands behind the question mark.

    Raises:
        DataError: It is too long.
    """
    if len(query) > _LONGEST:
        raise DataError("The address is too long.", where="address", hint="Keep the change first: what is kept stands in the file.")
    return Posted(fields=tuple(parse_qsl(query, keep_blank_values=True)))


def address_from(asked: Posted) -> Address:
    """The same as an address, for the links of a page."""
    values: dict[str, tuple[str, ...]] = {}
    for name, value in asked.fields:
        if value.strip() and value not in values.get(name, ()):
            values[name] = (*values.get(name, ()), value)
    return Address(values=values)


def link_to(asked: Posted, path: str = "/trial", **stated: str) -> str:
    """The address of a page of this chapter: the case and the trial go along, nothing that was filled in.

    Args:
        asked: What this page states.
        path: Path of the page.
        stated: What the other states besides.
    """
    kept = {name: (asked.first(name),) for name in ("course", "day", "light", "trial") if asked.first(name)}
    told = {name: (value,) for name, value in stated.items()}
    return Address(values={name: values for name, values in {**kept, **told}.items() if any(values)}).link(path)


def number_in(asked: Posted, name: str) -> int:
    """The number of a change that a field states; 0 where it states none.

    Raises:
        DataError: It is no number.
    """
    text = asked.first(name)
    if not text:
        return 0
    if not text.isdecimal() or len(text) > 4:
        raise DataError(f"{text[:40]!r} is no number of a change.", where=name, hint="Open the change from its list.")
    return int(text)
