"""Reading a PDF back: what a page measures, the paths drawn on it in millimetres, its words, and its structure."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator

import pypdfium2
from pypdfium2 import raw

POINT_MM = 25.4 / 72
Path = tuple[tuple[float, float], ...]


def page_mm(pdf: bytes, page: int = 0) -> tuple[float, float]:
    width, height = pypdfium2.PdfDocument(pdf)[page].get_size()
    return width * POINT_MM, height * POINT_MM


def words_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    text = " ".join(document[number].get_textpage().get_text_range() for number in range(len(document)))
    return re.sub(r"\s+", " ", text)


def words_of_page(pdf: bytes, page: int) -> str:
    text = pypdfium2.PdfDocument(pdf)[page].get_textpage().get_text_range()
    return re.sub(r"\s+", " ", text)


def words_outside(pdf: bytes) -> list[str]:
    """Words of which a part stands outside their page."""
    document, found = pypdfium2.PdfDocument(pdf), []
    for number in range(len(document)):
        width, height = document[number].get_size()
        text = document[number].get_textpage()
        boxes = [text.get_rect(each) for each in range(text.count_rects())]
        outside = [box for box in boxes if box[0] < 0 or box[1] < 0 or box[2] > width or box[3] > height]
        found += [f"page {number + 1}: {text.get_text_bounded(*box)[:60]}" for box in outside]
    return found


def paths_mm(pdf: bytes, page: int = 0) -> list[Path]:
    """Every path of a page, corner by corner, in millimetres from its lower left corner."""
    document = pypdfium2.PdfDocument(pdf)
    return [path for each in document[page].get_objects(max_depth=1) for path in _paths(each.raw, _UNMOVED)]


def straight_mm(paths: list[Path], length_mm: float, within_mm: float) -> list[float]:
    """Lengths of the straight strokes that are about as long as a length."""
    found = [abs(complex(*path[0]) - complex(*path[1])) for path in paths if len(path) == 2]
    return [length for length in found if abs(length - length_mm) <= within_mm]


_UNMOVED = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
Matrix = tuple[float, float, float, float, float, float]


def _then(inner: Matrix, outer: Matrix) -> Matrix:
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _paths(thing: raw.FPDF_PAGEOBJECT, outer: Matrix) -> Iterator[Path]:
    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(thing, matrix)
    whole = _then((matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f), outer)
    kind = raw.FPDFPageObj_GetType(thing)
    if kind == raw.FPDF_PAGEOBJ_FORM:
        for number in range(raw.FPDFFormObj_CountObjects(thing)):
            yield from _paths(raw.FPDFFormObj_GetObject(thing, number), whole)
    elif kind == raw.FPDF_PAGEOBJ_PATH:
        yield from _pieces(thing, whole)


def _pieces(thing: raw.FPDF_PAGEOBJECT, matrix: Matrix) -> Iterator[Path]:
    """The pieces of a path, each begun by lifting the pen."""
    a, b, c, d, e, f = matrix
    piece: list[tuple[float, float]] = []
    x, y = ctypes.c_float(), ctypes.c_float()
    for number in range(raw.FPDFPath_CountSegments(thing)):
        segment = raw.FPDFPath_GetPathSegment(thing, number)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        if raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_MOVETO and piece:
            yield tuple(piece)
            piece = []
        at = (a * x.value + c * y.value + e, b * x.value + d * y.value + f)
        piece.append((at[0] * POINT_MM, at[1] * POINT_MM))
    if piece:
        yield tuple(piece)
