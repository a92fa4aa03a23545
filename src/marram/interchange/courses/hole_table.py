"""The table of holes as a TOML file: which green, tees, line of play and hole location make up each, to be read, changed and put back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import msgspec
from msgspec import Meta, Struct

from marram.core.errors import SurveyError
from marram.core.toml_text import read_toml
from marram.course.numbering.proposals import HoleEntry, Proposals
from marram.interchange.tables.file_faults import structure_fault
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text

_HINT = "See docs/formats/holes.md."
_HEAD = """\
# Holes proposed for {name}: look at each on the drawing (`draw_course()`), change what is wrong, and put the table back with
# `number_holes(course=COURSE, table=THIS, out=COURSE)`. What is here serves these holes and no others; a hole taken out is left as it is.
# sure: stated (as the survey says), drawn (a line joins them), likely, or guess; sure and why are for the reader and decide nothing.
"""


class HoleTable(Struct, forbid_unknown_fields=True):
    """One hole."""

    number: Annotated[int, Meta(ge=1, le=99)]
    green: str = ""
    tees: list[str] = msgspec.field(default_factory=list)
    line: str = ""
    location: str = ""
    sure: str = ""
    number_sure: str = ""
    why: str = ""


class HolesTable(Struct, forbid_unknown_fields=True):
    """The holes of a course."""

    hole: list[HoleTable] = msgspec.field(default_factory=list)
    left: list[str] = msgspec.field(default_factory=list)


def write_holes(proposals: Proposals, *, name: str) -> str:
    """The table as the text of a file.

    Args:
        proposals: The holes.
        name: What the course is called.
    """
    return "\n".join(_lines(proposals, name)) + "\n"


def _lines(proposals: Proposals, name: str) -> Iterator[str]:
    yield _HEAD.format(name=" ".join(name.split())).rstrip()
    yield f"left = {_text(list(proposals.left))}  # what no hole is proposed for"
    for proposal in proposals.holes:
        hole = proposal.hole
        yield ""
        yield "[[hole]]"
        yield f"number = {hole.number}"
        yield f"green = {_text(hole.green)}"
        yield f"tees = {_text(list(hole.tees))}"
        yield f"line = {_text(hole.line)}"
        yield f"location = {_text(hole.location)}"
        yield f"sure = {_text(proposal.sure.value)}"
        yield f"number_sure = {_text(proposal.number_sure.value)}"
        yield f"why = {_text(proposal.why)}"


def _text(value: str | list[str]) -> str:
    """Text or a list as TOML writes it; what JSON escapes, TOML reads."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def read_holes(path: Path) -> tuple[HoleEntry, ...]:
    """Read a table of holes.

    Args:
        path: A TOML file as docs/formats/holes.md describes it.

    Raises:
        SurveyError: The file cannot be used.
    """
    text = read_text(path, what="a table of holes", largest_bytes=LARGEST_TEXT_BYTES, error=SurveyError)
    raw = read_toml(text, where=path.name, hint=_HINT, error=SurveyError)
    try:
        table = msgspec.convert(raw, HolesTable)
    except msgspec.ValidationError as problem:
        message, place = structure_fault(str(problem))
        raise SurveyError(message, where=f"{path.name}, {place}" if place else path.name, hint=_HINT) from None
    if not table.hole:
        raise SurveyError("The table holds no hole.", where=path.name, hint=_HINT)
    return tuple(
        HoleEntry(number=entry.number, green=entry.green, tees=tuple(entry.tees), line=entry.line, location=entry.location)
        for entry in table.hole
    )
