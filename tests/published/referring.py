"""What an example refers to: the courses of its file, a part of one, and the cards and inputs of other examples."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from tests.published.adapter import Unfit
from tests.support.yaml_text import read_yaml

COURSES, EXAMPLES, CHECKS = "courses", "examples", "checks"
DATA = {CHECKS: "data", EXAMPLES: "inputs"}
_PARTS = {"front nine": (1, 9), "first nine": (1, 9), "back nine": (10, 18), "second nine": (10, 18), "": (1, 18)}
_HOLES = re.compile(r"holes? (\d+)(?:\s*(?:-|–|to)\s*(\d+))?")


def referred(inputs: Mapping[str, object], content: Mapping[str, object]) -> Mapping[str, object]:
    """The inputs with what they refer to in its place; under `examples` every example of the file by id,
    and under `courses` its courses.

    Args:
        inputs: The inputs of an example.
        content: Its file.
    """
    found = dict(inputs) | {EXAMPLES: _by_id(content), COURSES: content.get(COURSES) or {}}
    if isinstance(inputs.get("course"), str) and content.get(COURSES):
        found["course"] = course_of(str(inputs["course"]), content)
    return found


def as_another(inputs: Mapping[str, object], content: Mapping[str, object]) -> Mapping[str, object]:
    """The inputs with those of another example in place of a `data` that names it, such as ``as crossover_of_24``.

    The other is looked for in the same file, then among those that are stored beside this module.

    Args:
        inputs: The inputs of an example.
        content: Its file.
    """
    told = re.fullmatch(r"as ([\w-]+)", str(inputs.get("data", "")).strip())
    if told is None:
        return inputs
    found = next((data for file in (content, *_stored()) if (data := _data_of(told[1], file))), None)
    return inputs if found is None else {**found, **{name: value for name, value in inputs.items() if name != "data"}}


def _data_of(name: str, content: Mapping[str, object]) -> Mapping[str, object] | None:
    for place, inputs in DATA.items():
        for entry in _entries(content, place):
            data = entry.get(inputs)
            if entry.get("id") == name and isinstance(data, dict):
                return data
    return None


@lru_cache(maxsize=1)
def _stored() -> tuple[Mapping[str, object], ...]:
    files = sorted((Path(__file__).parent / "statistics").glob("*.yaml"))
    return tuple(content for path in files if isinstance(content := read_yaml(path.read_text(encoding="utf-8")), dict))


def _entries(content: Mapping[str, object], place: str) -> list[Mapping[str, object]]:
    listed = content.get(place)
    return [entry for entry in listed if isinstance(entry, dict)] if isinstance(listed, list) else []


def _by_id(content: Mapping[str, object]) -> Mapping[str, Mapping[str, object]]:
    listed = content.get(EXAMPLES)
    entries = listed if isinstance(listed, list) else []
    return {str(entry["id"]): entry for entry in entries if isinstance(entry, dict) and "id" in entry}


def course_of(text: str, content: Mapping[str, object]) -> Mapping[str, object]:
    """A course of the file, or some holes of one, such as ``course_A front nine`` or ``course_A holes 1-9``.

    Raises:
        Unfit: The file has no such course, or the part is not known.
    """
    courses = content.get(COURSES)
    names = list(courses) if isinstance(courses, Mapping) else []
    name = next((name for name in sorted(names, key=len, reverse=True) if text == name or text.startswith(f"{name} ")), None)
    if name is None or not isinstance(courses, Mapping):
        raise Unfit(f"the input course is {text!r}; the file has {', '.join(map(str, names)) or 'no courses'}")
    first, last = _part(text.removeprefix(name).strip(" ,"), text)
    cut = {key: _cut(value, first, last) for key, value in courses[name].items()}
    return {**cut, "name": name, "holes": list(range(first, min(last, first + _length(cut) - 1) + 1))}


def _part(words: str, text: str) -> tuple[int, int]:
    if words in _PARTS:
        return _PARTS[words]
    found = _HOLES.fullmatch(words)
    if found is None:
        raise Unfit(f"the input course is {text!r}; the part {words!r} is not known")
    return int(found[1]), int(found[2] or found[1])


def _cut(value: object, first: int, last: int) -> object:
    return list(value[first - 1 : last]) if isinstance(value, Sequence) and not isinstance(value, str) else value


def _length(cut: Mapping[str, object]) -> int:
    par = cut.get("par")
    return len(par) if isinstance(par, list) else 18
