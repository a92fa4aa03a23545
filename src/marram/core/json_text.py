"""JSON files read so that nothing in one can end in a traceback."""

from __future__ import annotations

import json
import re

from marram.core.errors import DataError

_HALF_LETTER = re.compile(r"\\u[dD][89a-fA-F]")


def read_json(text: str, *, where: str, hint: str, error: type[DataError]) -> object:
    """What a JSON text holds.

    Args:
        text: The text.
        where: Name of the file, for the message.
        hint: What to do.
        error: Error to raise.

    Raises:
        DataError: It is not JSON, is nested too deeply, holds a number of absurd length, or half a letter that nobody can write.
    """
    try:
        raw = json.loads(text)
        if _HALF_LETTER.search(text):
            json.dumps(raw, ensure_ascii=False).encode()
    except RecursionError:
        raise error("This is nested too deeply to be read.", where=where, hint=hint) from None
    except UnicodeEncodeError:
        message = r"A text holds half a letter (\ud800 to \udfff without its other half)."
        raise error(message, where=where, hint=f"Save the file anew as UTF-8. {hint}") from None
    except ValueError as problem:
        raise error(f"This is not JSON: {problem}.", where=where, hint=hint) from None
    return raw
