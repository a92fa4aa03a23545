"""Runs a file of published examples: `python -m tests.published.run FILE`.

The file is YAML with a list `checks` (id, topic, data, expected, tolerance_abs) or `examples` (id, topic, inputs, expected), and may hold
tables of rows under `own_planning_examples`, a list `phrasings` of questions as people put them (phrasings.py), or a list `questions` of an
examination (examination.py). Adapters are found by topic and by the names of the inputs, in the modules adapters_*.py beside this one. An
example that no adapter knows is printed by name and counts as failed. The last line is "N passed, N failed".
"""

import importlib
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import yaml

from marram.core.errors import MarramError
from tests.published.adapter import Adapter, Unfit
from tests.published.comparing import compare
from tests.published.examination import LIST as QUESTIONS
from tests.published.examination import Question, faults_of, read_questions
from tests.published.examination import told as told_of_questions
from tests.published.phrasings import LIST as PHRASINGS
from tests.published.phrasings import Phrasing, read_phrasings, told, try_out
from tests.published.referring import as_another, referred
from tests.support.yaml_text import read_yaml

HERE = Path(__file__).parent
LISTS = {"checks": "data", "examples": "inputs"}
TABLES = "own_planning_examples"


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """One example: what goes in, what is to come out, and how near."""

    name: str
    topic: str
    inputs: Mapping[str, object]
    expected: Mapping[str, object]
    tolerances: Mapping[str, object] = field(default_factory=dict)
    referred: Mapping[str, object] = field(default_factory=dict)
    """The inputs with what they refer to in its place."""


def read_content(path: Path) -> Mapping[str, object]:
    """What a file holds.

    Raises:
        Unfit: The file is not there, is no YAML, or holds no examples.
    """
    try:
        content = read_yaml(path.read_text(encoding="utf-8"))
    except OSError as problem:
        raise Unfit(f"{path} cannot be read: {problem.strerror}") from None
    except (UnicodeDecodeError, yaml.YAMLError) as problem:
        raise Unfit(f"{path} is no YAML in UTF-8: {' '.join(str(problem).split())}") from None
    if not isinstance(content, dict) or not any(content.get(place) for place in (*LISTS, TABLES, PHRASINGS, QUESTIONS)):
        raise Unfit(f"{path} holds no examples; expected a list checks, examples, phrasings or questions")
    return content


def read_examples(content: Mapping[str, object]) -> list[list[Example]]:
    """Every example of a file; the rows of a table belong together.

    Raises:
        Unfit: One of them cannot be read.
    """
    found = [[_example(entry, place, inputs, content)] for place, inputs in LISTS.items() for entry in _entries(content, place)]
    return found + [_table(entry) for entry in _entries(content, TABLES)]


def _entries(content: Mapping[str, object], place: str) -> list[Mapping[str, object]]:
    entries = content.get(place) or []
    if not isinstance(entries, list) or not all(isinstance(entry, dict) and "id" in entry for entry in entries):
        raise Unfit(f"{place}: expected a list of examples, each with an id")
    return entries


def _mapping(value: object) -> Mapping[str, object]:
    return value if isinstance(value, dict) else {}


def _example(entry: Mapping[str, object], place: str, inputs: str, content: Mapping[str, object]) -> Example:
    if not isinstance(entry.get("expected"), dict) or not entry["expected"]:
        raise Unfit(f"{place}, {entry['id']}: expected holds no values by name")
    stated = {"title": str(entry.get("title", "")), **as_another(_mapping(entry.get(inputs)), content)}
    return Example(
        name=str(entry["id"]),
        topic=str(entry.get("topic", "")),
        inputs=stated,
        expected=_mapping(entry["expected"]),
        tolerances=_mapping(entry.get("tolerance_abs")),
        referred=referred(stated, content),
    )


def _table(entry: Mapping[str, object]) -> list[Example]:
    """Each row of a table as an example; which columns are to come out is known by the adapter alone."""
    lines, columns = entry.get("rows"), entry.get("columns")
    rows = [_row(line, columns) for line in lines] if isinstance(lines, list) else []
    name = str(entry["id"])
    if not rows or not all(rows):
        return [Example(name=name, topic="table", inputs={}, expected={})]
    return [Example(name=name, topic="table", inputs=row, expected={}) for row in rows]


def _row(line: object, columns: object) -> Mapping[str, object]:
    """A row by the names of its columns, whether they stand in it or over the table; nothing where they do not go together."""
    if isinstance(line, list) and isinstance(columns, list) and len(line) == len(columns):
        return dict(zip(map(str, columns), line, strict=True))
    return _mapping(line)


def list_adapters() -> list[Adapter]:
    """Every adapter of the modules beside this one."""
    modules = [importlib.import_module(f"tests.published.{path.stem}") for path in sorted(HERE.glob("adapters_*.py"))]
    return [adapter for module in modules for adapter in module.ADAPTERS]


def find_adapter(example: Example, adapters: Sequence[Adapter]) -> Adapter | None:
    """The adapter of the topic that takes every input; text may be left over, since it only describes the example.

    An adapter without a topic takes what no adapter of the topic takes.
    """
    names = set(example.inputs)
    needed = {name for name, value in example.inputs.items() if not isinstance(value, str)}
    if example.topic == "table":
        fitting = [adapter for adapter in adapters if adapter.gives and adapter.inputs | adapter.gives == names]
    else:
        taking = [adapter for adapter in adapters if not adapter.gives and adapter.takes(names, needed)]
        of_topic = [adapter for adapter in taking if adapter.topic == example.topic]
        fitting = of_topic or [adapter for adapter in taking if not adapter.topic]
    return max(fitting, key=lambda adapter: len(adapter.inputs), default=None)


def find_faults(example: Example, adapters: Sequence[Adapter]) -> Iterator[str]:
    """What is wrong with an example; nothing where it passes."""
    adapter = find_adapter(example, adapters)
    if adapter is None:
        names = ", ".join(sorted(set(example.inputs) - {"title"})) or "no inputs"
        yield f"not known: topic {example.topic!r} with {names}"
        return
    expected = example.expected or {name: example.inputs[name] for name in adapter.gives}
    try:
        found = adapter.work_out({**(example.referred or example.inputs), "asked": tuple(expected)})
    except (MarramError, Unfit, ArithmeticError, LookupError, ValueError, TypeError) as problem:
        yield f"cannot be worked out: {type(problem).__name__}: {problem}"
        return
    for name, value in expected.items():
        yield from compare(name, value, found.get(name), example.tolerances.get(name), to_decimals_shown=adapter.to_decimals_shown)


def run(path: Path) -> int:
    """Run a file and print what passed and failed; 0 where all passed, 1 where some failed, 2 where the file cannot be read."""
    try:
        content = read_content(path)
        examples, phrasings, questions = read_examples(content), read_phrasings(content), read_questions(content)
    except Unfit as problem:
        print(f"published: {problem}", file=sys.stderr)
        return 2
    adapters, failed = list_adapters(), 0
    for table in examples:
        faults = [fault for example in table for fault in find_faults(example, adapters)]
        failed += bool(faults)
        print(f"{'FAILED' if faults else 'passed'}  {table[0].name}" + "".join(f"\n        {fault}" for fault in dict.fromkeys(faults)))
    failed += _run_phrasings(phrasings) if phrasings else 0
    failed += _run_questions(questions) if questions else 0
    print(f"{len(examples) + len(phrasings) + len(questions) - failed} passed, {failed} failed")
    return 1 if failed else 0


def _run_phrasings(phrasings: Sequence[Phrasing]) -> int:
    """Ask each of them and print what was found; the number that failed."""
    tried = [try_out(phrasing) for phrasing in phrasings]
    print("\n".join(told(tried)))
    return sum(not one.is_right for one in tried)


def _run_questions(questions: Sequence[Question]) -> int:
    """Put each of them and print what was answered wrong; the number that failed."""
    results = [(question, faults_of(question)) for question in questions]
    print("\n".join(told_of_questions(results)))
    return sum(bool(faults) for _, faults in results)


def main(arguments: Sequence[str]) -> int:
    """The command: one argument, the file."""
    if len(arguments) != 1:
        print("published: name one file: python -m tests.published.run examples.yaml", file=sys.stderr)
        return 2
    return run(Path(arguments[0]))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
