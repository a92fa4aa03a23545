"""Files written whole: the new one stands there from its first letter to its last, or the old one is as it was."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

from marram.core.errors import DataError

_USUAL_MODE = 0o666
_LEFT_BY_A_STOPPED_RUN = ".part"


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file so that it is there whole or not at all.

    The content goes to a file of its own beside, is brought to the disk, and takes the old one's place in one step. A run that is stopped
    on the way leaves the old file as it was; what it leaves beside is in nobody's way, since each run names its own.

    Args:
        path: Where to; what is no ordinary file, such as a device, is written to as it stands.
        content: Text, or bytes.

    Raises:
        DataError: The file cannot be written.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        target = path.resolve()  # a link stays a link
        if target.exists() and not target.is_file():
            _write_through(target, data)
        else:
            _replace(target, data)
    except (OSError, ValueError, RuntimeError) as problem:  # a name with a null byte, or links that go round, are no OSError
        said = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
        hint = f"What stood there before is as it was. Give a place that can be written to, with room for {_size(len(data))}."
        raise DataError(f"The file cannot be written: {said}.", where=path.name or str(path), hint=hint) from None


def _write_through(target: Path, data: bytes) -> None:
    with target.open("wb", buffering=0) as device:
        left = memoryview(data)
        while left:
            left = left[device.write(left) or 0 :]


def _replace(target: Path, data: bytes) -> None:
    """Write beside, then put in the place of the old file."""
    import tempfile

    mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else _USUAL_MODE & ~_umask()
    handle, name = tempfile.mkstemp(prefix=".marram-", suffix=_LEFT_BY_A_STOPPED_RUN, dir=target.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(mode)
        beside.replace(target)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise
    _bring_to_disk(target.parent)


def _umask() -> int:
    """The permissions that new files do not get; it can only be read by setting it."""
    kept = os.umask(0)
    os.umask(kept)
    return kept


def _bring_to_disk(folder: Path) -> None:
    """See that the folder remembers the new file after a power cut; where that cannot be done, nothing is lost but this."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _size(count: int) -> str:
    return f"{count / 1024 / 1024:.1f} MB" if count >= 1024 * 1024 else f"{max(1, count // 1024)} kB"


def folder_at(path: Path) -> Path:
    """A folder to write to, made if it is not there.

    Raises:
        DataError: It cannot be made.
    """
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as problem:
        said = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
        hint = "Give a folder, or a place where one can be made."
        raise DataError(f"The folder cannot be made: {said}.", where=path.name or str(path), hint=hint) from None
    return path
