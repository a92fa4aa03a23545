"""Files written whole: the new one stands there from its first letter to its last, or the old one is as it was."""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from marram.core.errors import DataError

_USUAL_MODE = 0o666
_OURS, _LEFT_BY_A_STOPPED_RUN = ".marram-", ".part"
_SURELY_LEFT_S = 60
"""On a folder that machines share, a process of another machine cannot be asked after: it has this long for one file."""


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
    with _told(path, len(data)):
        target = path.resolve()  # a link stays a link
        if target.exists() and not target.is_file():
            _write_through(target, data)
        else:
            _replace(target, data)


def write_set(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write files that belong together: all are on the disk before the first takes its old one's place.

    Args:
        folder: The folder that they stand in.
        files: Content by name.

    Raises:
        DataError: One cannot be written; the old ones are as they were.
    """
    ready: list[tuple[Path, Path]] = []
    try:
        for name, content in files.items():
            with _told(folder / name, len(content)):
                target = (folder / name).resolve()
                ready.append((_write_beside(target, content.encode() if isinstance(content, str) else content), target))
        for beside, target in ready:
            with _told(target, 0):
                beside.replace(target)
    finally:
        for beside, _ in ready:
            beside.unlink(missing_ok=True)
    _bring_to_disk(folder)


def _write_through(target: Path, data: bytes) -> None:
    with target.open("wb", buffering=0) as device:
        left = memoryview(data)
        while left:
            left = left[device.write(left) or 0 :]


@contextmanager
def _told(path: Path, size: int) -> Iterator[None]:
    """Tell in words what keeps a file from being written."""
    try:
        yield
    except (OSError, ValueError, RuntimeError) as problem:  # a name with a null byte, or links that go round, are no OSError
        said = problem.strerror if isinstance(problem, OSError) and problem.strerror else str(problem)
        hint = f"What stood there before is as it was. Give a place that can be written to, with room for {_size(size)}."
        raise DataError(f"The file cannot be written: {said}.", where=path.name or str(path), hint=hint) from None


def _replace(target: Path, data: bytes) -> None:
    """Write beside, then put in the place of the old file."""
    beside = _write_beside(target, data)
    try:
        beside.replace(target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    _bring_to_disk(target.parent)


def _write_beside(target: Path, data: bytes) -> Path:
    """Bring content to the disk in a file beside its place, with the permissions that it is to have there."""
    import tempfile

    _clear_what_was_left(target.parent)
    mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else _USUAL_MODE & ~_umask()
    handle, name = tempfile.mkstemp(prefix=f"{_OURS}{os.getpid()}-", suffix=_LEFT_BY_A_STOPPED_RUN, dir=target.parent)
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.chmod(mode)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _clear_what_was_left(folder: Path) -> None:
    """Take away what runs that were killed have left beside; that of a run which may still go on stays."""
    for left in folder.glob(f"{_OURS}*{_LEFT_BY_A_STOPPED_RUN}"):
        number = left.name.removeprefix(_OURS).partition("-")[0]
        with suppress(OSError):
            if number.isdigit() and time.time() - left.stat().st_mtime > _SURELY_LEFT_S and not _runs(int(number)):
                left.unlink()


def _runs(process: int) -> bool:
    """Whether a process runs on this machine, as far as can be told."""
    if os.name != "posix":
        return True  # asking would end it there
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


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
