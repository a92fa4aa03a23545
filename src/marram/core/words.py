"""Numbers and names in a sentence."""

from __future__ import annotations


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
