"""What a command prints with `--json` is one object of a published shape, with nothing missing and nothing besides."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from marram.answers.published import ANSWERS
from marram.answers.shape import schema_name

_BY_NAME = {schema_name(kind): kind for kind in ANSWERS}
_NOT_YET = frozenset({"trial", "sheet"})
"""Groups of commands of which some still print objects that no shape describes."""


class _Named(msgspec.Struct):
    """The one member that tells which shape an object has."""

    schema: str = ""


def check_printed(words: Sequence[str], printed: str) -> None:
    """See that what a command has printed is of the shape that it names."""
    if "--json" not in words or "--schema" in words or not printed:
        return
    name = msgspec.json.decode(printed, type=_Named).schema
    if not name and words[0] in _NOT_YET:
        return
    assert name in _BY_NAME, f"{' '.join(words)} prints an object of no published shape: {name or 'it names none'}"
    msgspec.json.decode(printed, type=_BY_NAME[name])
