"""Reading TOML so that nothing in a file can end in a traceback."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from marram.core.errors import DataError


def read_toml(text: str, *, where: str, hint: str, error: type[DataError]) -> Mapping[str, object]:
    """The tables of a TOML text.

    Args:
        text: The text.
        where: Name of the file, for the message.
        hint: What to do.
        error: Error to raise.

    Raises:
        DataError: It is not TOML, is nested too deeply, or holds a number of absurd length.
    """
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise error("This is nested too deeply to be read.", where=where, hint=hint) from None
    except ValueError as problem:  # a fault of TOML itself, or a number with thousands of digits
        raise error(f"This is not TOML: {problem}.", where=where, hint=hint) from None
