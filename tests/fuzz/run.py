"""Strike seeds and read them: `python -m tests.fuzz.run READER FIRST COUNT` prints what went wrong, one JSON line each.

What comes from one reader and number is the same on every run. A file that is read for more than 10 s is given up; one that never comes
back from a library is seen by whoever started the run.
"""

from __future__ import annotations

import json
import resource
import signal
import sys
import tempfile
import time
import traceback
import warnings
from collections.abc import Iterator
from pathlib import Path
from random import Random

from marram.core.errors import MarramError
from tests.fuzz.readers import READERS

LONGEST_S = 10.0
MOST_MB = 500.0
_GUARD_BYTES = 6 * 1024**3
_LONGEST_TELLING = 30_000
_CLEAR, _STATUS = Path("/proc/self/clear_refs"), Path("/proc/self/status")


class TooLongError(BaseException):
    """Reading took too long; no reader can catch it by catching every error of a library."""


def _too_long(number: int, frame: object) -> None:
    raise TooLongError(f"read for more than {LONGEST_S:g} s")


def damaged(name: str, number: int) -> bytes:
    """The file that a reader is given under a number; under 0 its first seed, whole."""
    reader, random = READERS[name], Random(f"{name} {number}")
    seeds = reader.seeds()
    return seeds[0] if number == 0 else reader.strike(random, random.choice(seeds))


def peak_mb() -> float:
    """The most memory that this process has held, whole; counted anew once it was too much, so that each file answers for itself."""
    held = next(line for line in _STATUS.read_text(encoding="utf-8").splitlines() if line.startswith("VmHWM"))
    held_mb = int(held.split()[1]) / 1024
    if held_mb > MOST_MB:
        _CLEAR.write_text("5", encoding="utf-8")
    return held_mb


def faults(name: str, first: int, count: int, folder: Path) -> Iterator[str]:
    """What is wrong with how a reader took each of its files."""
    path = folder / f"struck{READERS[name].ending}"
    peak_mb()
    for number in range(first, first + count):
        path.write_bytes(damaged(name, number))
        began_s = time.monotonic()
        told = _told(name, path, number)
        took_s, held_mb = time.monotonic() - began_s, peak_mb()
        if took_s > LONGEST_S:
            told = f"it took {took_s:.1f} s. {told}"
        if held_mb > MOST_MB:
            told = f"it held {held_mb:.0f} MB. {told}"
        if told:
            yield json.dumps({"reader": name, "number": number, "told": told})


def _told(name: str, path: Path, number: int) -> str:
    """What is wrong with how one file was taken; empty where it was read, or refused as it should be."""
    signal.setitimer(signal.ITIMER_REAL, LONGEST_S)
    try:
        READERS[name].read(path)
    except MarramError as problem:
        return "the seed itself is refused: " + str(problem) if number == 0 else _lacking(problem, path)
    except (Exception, TooLongError) as problem:
        place = traceback.extract_tb(problem.__traceback__)[-4:]
        return f"{type(problem).__name__}: {str(problem)[:300]}\n" + "".join(traceback.format_list(place))
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
    return ""


def _lacking(problem: MarramError, path: Path) -> str:
    """What an error does not say, or says and should not."""
    parts = {"what": problem.message, "where": problem.where or problem.field, "what to do": problem.hint}
    missing = [part for part, text in parts.items() if not text.strip()]
    if missing:
        return f"the error does not say {' and '.join(missing)}: {problem}"
    if str(path.parent) in str(problem):
        return f"the error tells where the file lies on this machine: {problem}"
    if len(str(problem)) > _LONGEST_TELLING:
        return f"the error is {len(str(problem))} characters long: {str(problem)[:300]}"
    return ""


def main(names: str, first: str, count: str) -> None:
    """Print every fault; several readers are joined by commas."""
    resource.setrlimit(resource.RLIMIT_AS, (_GUARD_BYTES, _GUARD_BYTES))
    signal.signal(signal.SIGALRM, _too_long)
    warnings.simplefilter("error")
    with tempfile.TemporaryDirectory() as folder:
        for name in names.split(","):
            began_s = time.process_time()
            for line in faults(name, int(first), int(count), Path(folder)):
                print(line, flush=True)
            print(f"{name}: {count} files, {time.process_time() - began_s:.1f} s of CPU", file=sys.stderr, flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
