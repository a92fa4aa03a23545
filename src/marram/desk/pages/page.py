"""A page: what is sent back, how a template is filled, and how an error is told."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import jinja2
from markupsafe import Markup

from marram.answers.error_answer import error_answer
from marram.answers.shape import Answer, json_text
from marram.core.citations import Citation
from marram.core.errors import MarramError
from marram.core.lengths import IN_METRES, Lengths
from marram.core.terms import ADVICE
from marram.core.words import as_told, visible
from marram.desk.pages.case_address import Address
from marram.desk.pages.chapter_list import chapter_names, in_head
from marram.desk.pages.interface_words import InterfaceWords, interface_words

if TYPE_CHECKING:
    from pathlib import Path

    from marram.office.at_desk.desk_folder import DeskFolder
    from marram.office.workroom import Workroom

HTML, JSON, TOML, PDF = "text/html; charset=utf-8", "application/json", "application/toml", "application/pdf"
WELL, NOT_AS_STATED = 200, 422
_NO_WORDS = re.compile(r"(<svg\b.*?</svg>|<textarea\b.*?</textarea>|<[^>]*>)", re.DOTALL)
LETTERS = "ABCDEFGHIJKLMNOP"
_SIGNS = {"seen": "seen", "memory": "memory", "inferred": "inferred", "common practice": "practice", "another edition": "elsewhere"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """What is sent back.

    Attributes:
        status: The status of the answer.
        media: What kind of text it is.
        text: The text.
        data: Bytes, where it is no text.
        saved_as: The name under which a browser saves it; empty for what is shown.
        goes_to: The address that is looked at next, after something was done; empty for a page that is shown itself.
    """

    status: int = WELL
    media: str = HTML
    text: str = ""
    data: bytes = b""
    saved_as: str = ""
    goes_to: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What pages are made with.

    Attributes:
        room: The workroom.
        folder: The folder of the desk.
        books: The books that are asked where an address names none.
        scratch: A folder of the desk's own, where what took long is kept while it runs; None where it was given none.
    """

    room: Workroom
    folder: DeskFolder
    books: tuple[str, ...] = ()
    scratch: Path | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule in the margin, with the sign of where it was seen."""

    reference: str
    sign: str
    known: str
    provenance: str
    is_laid_over: bool


def json_page(answer: Answer, status: int = WELL) -> Page:
    """An answer as the command line prints it, to the byte."""
    return Page(status=status, media=JSON, text=json_text(answer) + "\n")


def error_as_json(error: MarramError) -> Page:
    """An error in its usual shape."""
    return json_page(error_answer(_seen_whole(error)), NOT_AS_STATED)


def error_as_page(error: MarramError, address: Address) -> Page:
    """An error on a page that keeps what was stated."""
    return fill("error.html", address, NOT_AS_STATED, error=_seen_whole(error))


def fill(template: str, address: Address, status: int = WELL, /, **shown: object) -> Page:
    """Fill a template.

    Args:
        template: Its name.
        address: What the address states.
        status: The status of the answer.
        shown: What it shows.
    """
    return Page(status=status, text=told_in(address.lengths, _pages().get_template(template).render(address=address, **shown)))


def told_in(lengths: Lengths, page: str) -> str:
    """A page with the lengths of its words told as somebody reads them; what is typed, and drawings, which tell their own, stay.

    Args:
        lengths: How lengths are told.
        page: The page.
    """
    if lengths == IN_METRES:
        return page
    return "".join(part if number % 2 else lengths.told(part) for number, part in enumerate(_NO_WORDS.split(page)))


@cache
def _environment() -> jinja2.Environment:
    made = jinja2.Environment(
        loader=jinja2.ChoiceLoader(
            [
                jinja2.PackageLoader("marram.desk.pages", "templates"),
                *(jinja2.PackageLoader(f"marram.desk.chapters.{name}", "templates") for name in chapter_names()),
            ]
        ),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    filters: dict[str, Callable[..., object]] = {"rules": rules, "drawn": Markup, "told": as_told, "seen": visible, "m": _metres}
    made.filters.update(filters)
    made.globals.update(advice=ADVICE, letters=LETTERS, chapters=in_head())
    return made


@cache
def _pages() -> jinja2.Environment:
    return pages_of(interface_words())


def pages_of(words: InterfaceWords) -> jinja2.Environment:
    """The templates with the words of the pages."""
    made = _environment().overlay()
    made.globals = {**made.globals, "t": words}
    return made


def rules(citations: Sequence[Citation]) -> tuple[Rule, ...]:
    """The rules behind a line, each once, as they stand in the margin."""
    told = {
        citation.reference: Rule(
            reference=citation.reference.removeprefix("Rule "),
            sign=_SIGNS[citation.known],
            known=citation.mark or citation.provenance.partition(" ")[0],
            provenance=f"{citation.document}: {citation.provenance}",
            is_laid_over=citation.overlay is not None or citation.is_draft,
        )
        for citation in reversed(citations)
    }
    return tuple(reversed(told.values()))


def _metres(length_m: float) -> str:
    return f"{length_m:.2f}"


def _seen_whole(error: MarramError) -> MarramError:
    """The error with signs that cannot be seen told as such: names in files are foreign text."""
    error.message, error.where, error.hint = visible(error.message), visible(error.where), visible(error.hint)
    return error
