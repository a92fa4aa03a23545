"""Setting pages and drawings for paper: the one place that knows the typesetter."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Literal

from marram.core.errors import MarramError

_MAIN = "main.typ"
_NO_DATE = 0
"""Seconds since 1970 that stand for no date: equal input gives equal bytes on any day."""


class TypesettingError(MarramError):
    """A sheet that could not be set: a fault of the program, told with what the typesetter says."""

    code = "typesetting"


def set_pdf(source: str, files: Mapping[str, bytes] | None = None) -> bytes:
    """Set pages as a PDF that screen readers can follow.

    Args:
        source: The document in the typesetter's language; every image in it carries a description (``alt``).
        files: Drawings and other files by the names that the source uses.

    Returns:
        The PDF (PDF/UA-1); equal input gives equal bytes.

    Source: ISO 14289-1:2014 for what PDF/UA-1 asks.
    """
    return _set(source, files or {}, form="pdf", pixels_per_inch=None)


def set_png(source: str, files: Mapping[str, bytes] | None = None, *, pixels_per_inch: float = 200.0) -> bytes:
    """Set a page as a picture of so many pixels to the inch of paper."""
    return _set(source, files or {}, form="png", pixels_per_inch=pixels_per_inch)


def _set(source: str, files: Mapping[str, bytes], *, form: Literal["pdf", "png"], pixels_per_inch: float | None) -> bytes:
    import typst

    given: dict[str, bytes] = {**files, _MAIN: source.encode()}
    # The typesetter takes a table of files, which its published types leave out.
    run: Callable[..., bytes | list[bytes]] = typst.compile
    try:
        if form == "pdf":
            made = run(given, format="pdf", ignore_system_fonts=True, pdf_standards=["ua-1"], timestamp=_NO_DATE)
        else:
            made = run(given, format="png", ignore_system_fonts=True, ppi=pixels_per_inch)
    except RuntimeError as problem:
        raise TypesettingError(f"The sheet cannot be set: {problem}") from None
    return made[0] if isinstance(made, list) else made
