"""Values as text in a row, and back: sorted keys, fractions as they are, so that equal values give equal stamps."""

from __future__ import annotations

from fractions import Fraction
from typing import TypeVar

import msgspec

from marram.core.errors import StoreError

T = TypeVar("T")


def written(value: object) -> str:
    """A value as the text of a row.

    Args:
        value: A frozen value of events or scoring.
    """
    return msgspec.json.encode(value, enc_hook=_plain, order="sorted").decode()


def read_back(text: str, kind: type[T], where: str) -> T:
    """A value from the text of a row.

    Args:
        text: The text.
        kind: What it is.
        where: The row, for messages.

    Raises:
        StoreError: The text holds another thing.
    """
    try:
        return msgspec.json.decode(text, type=kind, dec_hook=_whole)
    except (msgspec.MsgspecError, ValueError, ArithmeticError) as problem:
        raise StoreError(f"The row cannot be read: {problem}.", where=where, hint="See what `verify_store()` finds.") from None


def _plain(value: object) -> object:
    if isinstance(value, Fraction):
        return str(value)
    raise NotImplementedError(f"{type(value).__name__} is not kept in a store")


def _whole(kind: type, value: object) -> object:
    if kind is Fraction and isinstance(value, str):
        return Fraction(value)
    raise NotImplementedError(f"{kind.__name__} is not kept in a store")
