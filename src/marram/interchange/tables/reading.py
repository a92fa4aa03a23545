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
        largest_bytes: Of larger files no more than this is read, and they are refused.
        error: Error to raise.

    Raises:
        DataError: There is no such file, it is a folder, too large, empty or not UTF-8.
    """
    where = path.name
    try:
        if path.is_dir():
            raise error(f"This is a folder, not {what}.", where=where, hint=f"Give the path of {what}.")
        with path.open("rb") as file:
            held = file.read(largest_bytes + 1)  # what is no ordinary file, such as a device, may have no size and no end
        if len(held) > largest_bytes:
            limit, size = f"{largest_bytes / 1024 / 1024:g} MB", path.stat().st_size
            told = f"holds {size / 1024 / 1024:.0f} MB" if size else "has no end"
            raise error(f"The file {told}; {what} may hold {limit} at most.", where=where, hint=f"Expected {what}.")
        text = held.decode("utf-8-sig")
    except FileNotFoundError:
        raise error("There is no such file.", where=str(path.name), hint=f"Give the path of {what}.") from None
    except UnicodeDecodeError as problem:
        raise error(f"The file is not UTF-8 text (byte {problem.start}).", where=where, hint=f"Expected {what}, saved as UTF-8.") from None
    except OSError as problem:
        raise error(f"The file cannot be read: {problem.strerror}.", where=where, hint=f"Expected {what}.") from None
    if not text.strip():
        raise error("The file is empty.", where=where, hint=f"Expected {what}.")
    return text
