"""Rooms with names: every folder says what it is for, no name of a file means two things, and no room is overfull."""

from collections import Counter
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "src" / "marram"
SAME_IN_EVERY_ROOM = {"__init__.py", "command.py"}
MOST_FILES = 15


def list_modules() -> list[Path]:
    modules = sorted(PACKAGE.rglob("*.py"))
    assert len(modules) > 200, "hardly any modules found: the check would pass without looking at anything"
    return modules


def test_no_two_files_have_one_name() -> None:
    names = Counter(path.name for path in list_modules())
    assert {name for name, count in names.items() if count > 1} <= SAME_IN_EVERY_ROOM


def test_no_room_is_overfull() -> None:
    rooms = Counter(path.parent for path in list_modules() if path.name != "__init__.py")
    assert {str(room.relative_to(PACKAGE)): count for room, count in rooms.items() if count > MOST_FILES} == {}


def test_every_room_says_what_it_is_for() -> None:
    rooms = {path.parent for path in list_modules()}
    assert [str(room) for room in rooms if not (room / "__init__.py").read_text(encoding="utf-8").startswith('"""')] == []
