"""A drawing as what its file holds: SVG for the screen, PDF and PNG for paper."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.errors import DataError

PIXELS_PER_INCH = 200.0


def drawing_file(svg: str, form: str, *, where: str) -> str | bytes:
    """What a drawing's file holds.

    Args:
        svg: The drawing.
        form: ``svg``, ``pdf`` or ``png``.
        where: Name of the file, for errors.

    Raises:
        DataError: The form is another.
    """
    from marram.sheets.scene.pdf import drawing_pdf, drawing_png, title_and_words

    if form == "svg":
        return svg
    if form == "pdf":
        title, words = title_and_words(svg)
        return drawing_pdf(svg, title=title, alt=words)
    if form == "png":
        return drawing_png(svg, pixels_per_inch=PIXELS_PER_INCH)
    named = f".{form}" if form else "a file without an ending"
    raise DataError(f"A drawing cannot be written as {named}.", where=where, hint="End it in .svg, .pdf or .png.")


def drawing_files(sheets: Sequence[str], form: str, *, where: str) -> list[str | bytes]:
    """What the files of a drawing on several sheets hold: one PDF of all, else a file for each sheet.

    Args:
        sheets: The sheets.
        form: ``svg``, ``pdf`` or ``png``.
        where: Name of the file, for errors.

    Raises:
        DataError: The form is another.
    """
    from marram.sheets.scene.pdf import pages_pdf, title_and_words

    if form != "pdf":
        return [drawing_file(sheet, form, where=where) for sheet in sheets]
    told = [title_and_words(sheet) for sheet in sheets]
    return [pages_pdf([(sheet, words) for sheet, (_, words) in zip(sheets, told, strict=True)], title=told[0][0])]
