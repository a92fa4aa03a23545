"""How wide words are before they are drawn, so that lines break and boxes stand where the type of any reader still fits."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from importlib import resources

_WIDE_MILLE, _OTHER_MILLE = 1400, 750
"""What is reckoned for a letter that the table lacks, in thousandths of the type size: an ideograph or a picture, and any other script."""
_HELD_TOGETHER = re.compile(r"(?<=\d) (?=(?:m²|m|cm|mm|inch|inches|metres?|yd|ft|%)(?!\w))|(?<=\bRule) (?=\d)|(?<=\bpage) (?=\d)")
"""Spaces at which no line is broken: before a unit, and before the number of a rule or a page."""
ELLIPSIS = "…"


class Face(StrEnum):
    """The faces of drawings: board for labels, book for what is read, paper for all that is printed."""

    BOARD = "board"
    BOARD_BOLD = "board-bold"
    BOOK = "book"
    BOOK_ITALIC = "book-italic"
    BOOK_BOLD = "book-bold"
    PAPER = "paper"
    PAPER_ITALIC = "paper-italic"
    PAPER_BOLD = "paper-bold"


@cache
def _table(face: Face) -> Mapping[str, int]:
    text = resources.files("marram.sheets").joinpath("scene", "letter_widths.toml").read_text(encoding="utf-8")
    read = tomllib.loads(text)
    return {letter: mille for letter, mille in zip(read["letters"], read[face.value], strict=True) if mille}


@cache
def _letter_mille(letter: str) -> int:
    """Width of a letter outside the table."""
    if unicodedata.category(letter) in {"Mn", "Me", "Cf"}:
        return 0
    is_wide = unicodedata.east_asian_width(letter) in "WF" or unicodedata.category(letter) == "So"
    return _WIDE_MILLE if is_wide else _OTHER_MILLE


def words_width(words: str, face: Face, size: float) -> float:
    """The width to keep free for words on one line.

    Args:
        words: The words.
        face: Their face.
        size: Size of the type, in the unit of the result.
    """
    table = _table(face)
    mille = sum(_letter_mille(letter) if (known := table.get(letter)) is None else known for letter in words)
    return mille * size / 1000


def fit_words(words: str, width: float, face: Face, size: float) -> str:
    """Words that fit a width: whole, or cut at a letter with an ellipsis that says so."""
    if words_width(words, face, size) <= width:
        return words
    low, high = 0, len(words)
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if words_width(_cut(words, middle), face, size) <= width else (low, middle - 1)
    return _cut(words, low)


def _cut(words: str, letters: int) -> str:
    """So many letters and an ellipsis, with no mark left without the letter that carries it."""
    while 0 < letters < len(words) and unicodedata.category(words[letters]) in {"Mn", "Me", "Cf"}:
        letters -= 1
    return words[:letters].rstrip(" ,·+-") + ELLIPSIS


def wrap_words(words: str, width: float, face: Face, size: float) -> list[str]:
    """Break words into lines of a width; a number keeps its unit, and a rule its number, on one line.

    A word that is wider than the line is broken within itself, so that nothing is lost.
    """
    lines: list[str] = []
    line = ""
    for word in _HELD_TOGETHER.sub("\u00a0", words).split(" "):
        together = f"{line} {word}" if line else word
        if words_width(together, face, size) <= width:
            line = together
            continue
        lines += [line] if line else []
        *whole, line = _pieces(word, width, face, size)
        lines += whole
    return [*lines, line] if line else lines


def _pieces(word: str, width: float, face: Face, size: float) -> list[str]:
    """A word in parts that each fit a line."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and words_width(pieces[-1] + letter, face, size) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
