"""Setting pages and drawings for paper: the one place that knows the typesetter."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from marram.core.errors import MarramError

_MAIN = "main.typ"
_NO_DATE = 0
"""Seconds since 1970 that stand for no date: equal input gives equal bytes on any day."""
_UNKNOWN = "\ufffd"
"""What stands for a letter that paper has no type for, such as an ideograph or a picture among letters.

Source: The Unicode Standard, version 15.0 (2022), chapter 23.8.
"""
_KEPT: ContextVar[_Kept | None] = ContextVar("kept", default=None)
_LACKING = re.compile(r'the text \W"(.+?)"\W could not be displayed', re.DOTALL)
_WRITTEN = re.compile(r"[^\x00-\x7f]")


@dataclass(slots=True, kw_only=True)
class _Kept:
    """Pictures that are kept of what is set."""

    pixels_per_inch: float
    pages: list[bytes] = field(default_factory=list)


class TypesettingError(MarramError):
    """A sheet that could not be set: a fault of the program, told with what the typesetter says."""

    code = "typesetting"


@contextmanager
def keeping_pictures(pixels_per_inch: float) -> Iterator[list[bytes]]:
    """Keep, while it lasts, each page of what is set as a PDF as a picture too, so that it can be looked at before it is printed.

    Args:
        pixels_per_inch: Pixels to the inch of paper.

    Returns:
        The pictures (PNG) of the PDF that was set last, page by page.
    """
    kept = _Kept(pixels_per_inch=pixels_per_inch)
    before = _KEPT.set(kept)
    try:
        yield kept.pages
    finally:
        _KEPT.reset(before)


def set_pdf(source: str, files: Mapping[str, bytes] | None = None) -> bytes:
    """Set pages as a PDF that screen readers can follow.

    Args:
        source: The document in the typesetter's language; every image in it carries a description (``alt``).
        files: Drawings and other files by the names that the source uses.

    Returns:
        The PDF (PDF/UA-1); equal input gives equal bytes. A letter that paper has no type for is shown by the sign for that.

    Source: ISO 14289-1:2014 for what PDF/UA-1 asks.
    """
    kept = _KEPT.get()
    if kept is not None:
        kept.pages[:] = _set_pages(source, files or {}, form="png", pixels_per_inch=kept.pixels_per_inch)
    return _set(source, files or {}, form="pdf", pixels_per_inch=None)


def measure_rooms(source: str, files: Mapping[str, bytes]) -> dict[str, float]:
    """How much room a document says is left, by the names that it gives: the values of its elements with the label ``room``.

    Args:
        source: The document in the typesetter's language; it labels elements whose value holds a ``name`` and the ``rest``.
        files: Drawings and other files by the names that the source uses.

    Returns:
        The least rest of each name, in the unit of the document.
    """
    import typst

    ask: Callable[..., str] = typst.query
    given = {name: _with_type(content) for name, content in {**files, _MAIN: source.encode()}.items()}
    try:
        found = json.loads(ask(given, "<room>", field="value", ignore_system_fonts=True))
    except RuntimeError as problem:
        raise TypesettingError(f"The sheet cannot be measured: {problem}") from None
    rooms: dict[str, float] = {}
    for entry in found:
        rooms[entry["name"]] = min(float(entry["rest"]), rooms.get(entry["name"], float("inf")))
    return rooms


def set_png(source: str, files: Mapping[str, bytes] | None = None, *, pixels_per_inch: float = 200.0) -> bytes:
    """Set a page as a picture of so many pixels to the inch of paper."""
    return _set(source, files or {}, form="png", pixels_per_inch=pixels_per_inch)


def _set(source: str, files: Mapping[str, bytes], *, form: Literal["pdf", "png"], pixels_per_inch: float | None) -> bytes:
    """The PDF, or the picture of the first page."""
    return _set_pages(source, files, form=form, pixels_per_inch=pixels_per_inch)[0]


def _set_pages(source: str, files: Mapping[str, bytes], *, form: Literal["pdf", "png"], pixels_per_inch: float | None) -> list[bytes]:
    """The PDF alone, or a picture of each page."""
    given: dict[str, bytes] = {**files, _MAIN: source.encode()}
    try:
        return _run({name: _with_type(content) for name, content in given.items()}, form, pixels_per_inch)
    except RuntimeError as problem:
        raise TypesettingError(f"The sheet cannot be set: {problem}") from None


def _run(given: Mapping[str, bytes], form: Literal["pdf", "png"], pixels_per_inch: float | None) -> list[bytes]:
    import typst

    # The typesetter takes a table of files, which its published types leave out.
    run: Callable[..., bytes | list[bytes]] = typst.compile
    if form == "pdf":
        made = run(given, format="pdf", ignore_system_fonts=True, pdf_standards=["ua-1"], timestamp=_NO_DATE)
    else:
        made = run(given, format="png", ignore_system_fonts=True, ppi=pixels_per_inch)
    return made if isinstance(made, list) else [made]


def _with_type(content: bytes) -> bytes:
    """A file with a sign in the place of each letter that paper has no type for; names may hold any."""
    text = content.decode()
    lacking = _without_type(frozenset(_WRITTEN.findall(text)))
    return "".join(_UNKNOWN if letter in lacking else letter for letter in text).encode() if lacking else content


@lru_cache(maxsize=64)
def _without_type(letters: frozenset[str]) -> frozenset[str]:
    """Those of some letters that paper has no type for: the typesetter is asked, and names one at a time."""
    left = set(letters)
    while left:
        words = " ".join(sorted(left))
        try:
            _run({_MAIN: f'#set document(title: "x")\n#"{words}"'.encode()}, "pdf", None)
            break
        except RuntimeError as problem:
            told = _LACKING.search(str(problem))
            named = left & set(told[1]) if told is not None else set()
            if not named:
                break
            left -= named
    return letters - left
