"""Numbers and names in a sentence."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

_UNSEEN = r"\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff"
"""Signs that are not seen and act on what stands beside them: controls, those that turn the direction of writing, halves of letters."""
_NOT_IN_PROSE = re.compile(f"[{_UNSEEN}]")
_NOT_IN_A_NAME = re.compile(f"[{_UNSEEN}\\t\\n\\r\\u2028\\u2029]")
_LONGEST = 100
_MOST_FAULTS, _LONGEST_FAULT = 40, 600


def counted(number: int, noun: str) -> str:
    """So many of a thing: ``1 gap``, ``2 gaps``, ``0 lines of play``.

    Args:
        number: How many.
        noun: The thing, in the singular; one that takes an s in the plural, before any *of*.
    """
    thing, of, whole = noun.partition(" of ")
    return f"{number} {thing}{'s' * (number != 1)}{of}{whole}"


def as_told(name: str) -> str:
    """A fact's name as it is written for readers, who may state it so."""
    return name.replace("_", "-")


def spaced(name: str) -> str:
    """A short name as words: spaces stand where a file's name has dashes."""
    return name.replace("-", " ").replace("_", " ")


def shortly(value: object) -> str:
    """What stands in a file, in quotes and on one line, as a message shows it: what is long is cut in its middle.

    Args:
        value: Anything that was read.
    """
    try:
        told = repr(value)
    except (ValueError, RecursionError):  # a number of thousands of digits, or lists within lists
        return f"({type(value).__name__})"
    return shortened(told)


def shortened(text: str, longest: int = _LONGEST) -> str:
    """A text that is cut in its middle where it is longer than so many letters."""
    half = longest // 2
    return text if len(text) <= longest else f"{text[:half]}…{text[-half:]}"


def fault_list(faults: Sequence[str]) -> str:
    """How many faults there are, and each on a line of its own: forty at most, each cut where it is very long.

    Args:
        faults: The faults, each with its place.
    """
    lines = "".join(f"\n  {shortened(fault, _LONGEST_FAULT)}" for fault in faults[:_MOST_FAULTS])
    more = f"\n  … and {len(faults) - _MOST_FAULTS} more" if len(faults) > _MOST_FAULTS else ""
    return f"{counted(len(faults), 'fault')}:{lines}{more}\n"


def odd_sign(text: str, *, is_name: bool = True) -> str:
    """The first sign that may not stand in a name, or in prose, as a message shows it; empty where there is none.

    Right-to-left writing has its letters and needs none of these signs; with them a name could pass for another one, or for several lines.

    Args:
        text: The text.
        is_name: Whether it is a name, which stands on one line.
    """
    found = (_NOT_IN_A_NAME if is_name else _NOT_IN_PROSE).search(text)
    return "" if found is None else ascii(found[0])[1:-1]


def plain_name(name: str) -> str:
    """What tells players apart: a name, however it is written in capitals and spaces.

    Args:
        name: The name.
    """
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def on_one_line(text: str) -> str:
    """A text from elsewhere on one line, without signs that are not seen."""
    if text.isascii() and text.isprintable() and "  " not in text:  # as nearly all are, and that is quickly seen
        return text.strip()
    return " ".join(_NOT_IN_PROSE.sub("", text).split())


def visible(text: str) -> str:
    """A text with the signs that are not seen written out as numbers; line breaks stay."""
    return _NOT_IN_PROSE.sub(lambda found: ascii(found[0])[1:-1], text)
