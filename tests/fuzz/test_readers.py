"""No damaged file ends in a traceback, is read for more than 10 s or fills the memory; every refusal says what, where and what to do."""

from __future__ import annotations

import json
import subprocess
import sys
from random import Random

import pytest

from tests.fuzz.mutations import JSON, TEXT, struck
from tests.fuzz.readers import READERS
from tests.fuzz.run import damaged
from tests.fuzz.seeds import ROOT

QUICKLY, AT_LENGTH, AT_ONCE = 300, 10_000, 1_000
_PARTS = [",".join(list(READERS)[first::3]) for first in range(3)]


def run(names: str, first: int, count: int, longest_s: float) -> list[dict[str, object]]:
    """What went wrong in a process of its own, which is ended where a library never comes back."""
    command = [sys.executable, "-m", "tests.fuzz.run", names, str(first), str(count)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=longest_s, cwd=ROOT)
    assert done.returncode == 0, done.stderr[-3_000:]
    assert done.stderr.count(f": {count} files") == len(names.split(",")), done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


@pytest.mark.parametrize("names", _PARTS)
def test_every_reader_takes_300_damaged_files(names: str) -> None:
    assert run(names, 0, QUICKLY, longest_s=240) == []


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, AT_LENGTH, AT_ONCE))
@pytest.mark.parametrize("name", list(READERS))
def test_every_reader_takes_10_000_damaged_files(name: str, first: int) -> None:
    assert run(name, first, AT_ONCE, longest_s=1_200) == []


@pytest.mark.parametrize("name", list(READERS))
def test_a_file_under_a_number_is_always_the_same(name: str) -> None:
    assert [damaged(name, number) for number in range(1, 6)] == [damaged(name, number) for number in range(1, 6)]
    assert len({damaged(name, number) for number in range(40)}) > 30


def test_blows_change_a_seed() -> None:
    seed = b'{"a": [1, 2, {"b": "words"}]}'
    for blows in (TEXT, JSON):
        changed = {struck(Random(str(number)), seed, blows) for number in range(200)}
        assert len(changed) > 150
