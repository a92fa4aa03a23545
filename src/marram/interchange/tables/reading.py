"""Reading text files safely: by size first, then by encoding, with errors that say what would be right."""

from __future__ import annotations

from pathlib import Path

from marram.core.errors import DataError

LARGEST_COURSE_BYTES = 64 * 1024 * 1024
LARGEST_TEXT_BYTES = 1024 * 1024


def read_text(path: Path, *, what: str, largest_bytes: int, error: type[DataError] = DataError) -> str:
    """The text of a file.

    Args:
        path: The file.
        what: What it should be, in words, such as ``an incident``.
        largest_bytes: Larger files are refused before they are read.
        error: Error to raise.

    Raises:
        DataError: There is no such file, it is a folder, too large, empty or not UTF-8.
    """
    where = path.name
    try:
        size = path.stat().st_size
        if path.is_dir():
            raise error(f"This is a folder, not {what}.", where=where, hint=f"Give the path of {what}.")
        if size > largest_bytes:
            limit = f"{largest_bytes / 1024 / 1024:g} MB"
            raise error(
                f"The file holds {size / 1024 / 1024:.0f} MB; {what} may hold {limit} at most.", where=where, hint=f"Expected {what}."
            )
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise error("There is no such file.", where=str(path.name), hint=f"Give the path of {what}.") from None
    except UnicodeDecodeError as problem:
        raise error(f"The file is not UTF-8 text (byte {problem.start}).", where=where, hint=f"Expected {what}, saved as UTF-8.") from None
    except OSError as problem:
        raise error(f"The file cannot be read: {problem.strerror}.", where=where, hint=f"Expected {what}.") from None
    if not text.strip():
        raise error("The file is empty.", where=where, hint=f"Expected {what}.")
    return text
