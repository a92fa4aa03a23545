"""What a file holds that something is about to be written onto, so that nothing is replaced that was not meant."""

from __future__ import annotations

import csv
import json
import tomllib
from contextlib import suppress
from pathlib import Path

from marram.core.errors import DataError

_MOST_LOOKED_AT = 64 * 1024 * 1024
_FROZEN = "marram.trial-plan"
_BEGINNINGS = ((b"%PDF", "a PDF"), (b"\x89PNG", "a picture (PNG)"), (b"PK", "a workbook"), (b"SQLite format 3", "a store"))
_MARKUP = (
    ("<!doctype html", "a page (HTML)"),
    ("<html", "a page (HTML)"),
    ("<svg", "a drawing (SVG)"),
    ("<osm", "map data"),
    ("<gpx", "a walk"),
)
_TEXT = "text"


def refuse_replacing(path: Path, content: str | bytes) -> None:
    """See that what stands at a path is of the kind that is about to be written there, and no frozen plan.

    Args:
        path: Where something is about to be written; what is not there, is empty or no ordinary file can be written to.
        content: What is to be written.

    Raises:
        DataError: Something else stands there, or a plan that was frozen with another coin or other sizes.
    """
    new = content.encode() if isinstance(content, str) else content
    old = _held(path)
    if not old or old == new:
        return
    stands, comes = kind_of(old), kind_of(new)
    if stands == comes == _FROZEN:
        hint = "Give another name; `replace` throws the frozen plan away, and with it what was promised before the first day."
        raise DataError("A frozen plan stands there already, and this is another.", where=path.name, hint=hint)
    if stands != comes:
        told = f"What stands there is {_told(stands)}, and what would take its place is {_told(comes)}."
        raise DataError(told, where=path.name, hint="Nothing was written. Give another name, or add `replace`.")


def kind_of(data: bytes) -> str:
    """What kind of file holds such content, in words, or for a JSON answer of Marram's own the name of its schema."""
    for beginning, kind in _BEGINNINGS:
        if data.startswith(beginning):
            return kind
    try:
        text = data.decode("utf-8-sig").strip()
    except UnicodeDecodeError:
        return "a file that is no text"
    return _kind_of_text(text)


def _kind_of_text(text: str) -> str:
    start = text[:2000].lower()
    for sign, kind in _MARKUP:
        if sign in start and text.startswith("<"):
            return kind
    if text.startswith("{"):
        return _kind_of_json(text)
    with suppress(tomllib.TOMLDecodeError, RecursionError, ValueError):
        if tomllib.loads(text):
            return "a TOML file"
    return "a table" if _is_table(text) else _TEXT


def _kind_of_json(text: str) -> str:
    with suppress(ValueError, RecursionError):
        held = json.loads(text)
        if held.get("type") == "FeatureCollection":
            return "a course or a map (GeoJSON)"
        schema = held.get("schema")
        return schema.partition("/")[0] if isinstance(schema, str) else "JSON"
    return _TEXT


def _is_table(text: str) -> bool:
    """Whether the first lines have the same number of cells, and more than one."""
    lines = [line for line in text.splitlines()[:5] if line.strip()]
    for sign in ",;\t":
        with suppress(csv.Error):
            widths = {len(row) for row in csv.reader(lines, delimiter=sign)}
            if len(lines) > 1 and len(widths) == 1 and widths.pop() > 1:
                return True
    return False


def _told(kind: str) -> str:
    return "a frozen plan" if kind == _FROZEN else f"an answer in JSON ({kind})" if kind.startswith("marram.") else kind


def _held(path: Path) -> bytes:
    """What stands at a path, or nothing."""
    with suppress(OSError, ValueError):
        if path.is_file():
            with path.open("rb") as file:
                return file.read(_MOST_LOOKED_AT)
    return b""
