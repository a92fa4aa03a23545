"""Which tests a fault is shown to: those that reach its line, the fastest first."""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass
from pathlib import Path

from builders.mutants.faults import Fault, find_around
from builders.mutants.reached import IMPORTED


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """What a run of the tests told: which of them reach each line of a file, and the CPU seconds that each took."""

    reached: dict[str, dict[str, list[str]]]
    took_s: dict[str, float]


def choose_tests(tree: Path, fault: Fault, recorded: Record) -> list[str]:
    """The tests that can see a fault, by the CPU seconds they take; none when no test reaches its line."""
    source = (tree / "src" / "marram" / fault.file).read_text(encoding="utf-8")
    reached, took_s = recorded.reached, recorded.took_s
    first, last = find_statement(source, fault.line)
    found = {test for line in range(first, last + 1) for test in reached.get(fault.file, {}).get(str(line), [])}
    if IMPORTED in found or not is_in_function(source, fault.line):
        found |= find_users_of(tree, find_names(source, fault.line), reached) or set(took_s)
    return sorted(found & took_s.keys(), key=lambda test: (took_s[test], test))


def find_statement(source: str, line: int) -> tuple[int, int]:
    """First and last line of the smallest statement around a line; of one with a body, its head alone."""
    spans = [(node.lineno, find_end(node)) for node in ast.walk(ast.parse(source)) if isinstance(node, ast.stmt)]
    around = [(last - first, first, last) for first, last in spans if first <= line <= last]
    return min(around)[1:] if around else (line, line)


def find_end(node: ast.stmt) -> int:
    """The last line of a statement, or of its head."""
    body = getattr(node, "body", None)
    return max(node.lineno, body[0].lineno - 1) if body else (node.end_lineno or node.lineno)


def is_in_function(source: str, line: int) -> bool:
    """Whether a line is run when something is called, and not when the module is imported."""
    around = [node for node in find_around(source, line) if not isinstance(node, ast.ClassDef)]
    return bool(around) and line >= around[0].body[0].lineno


def find_names(source: str, line: int) -> list[str]:
    """The names that an imported line gives something to: constants, fields, a function with a default."""
    names = [node.name for node in find_around(source, line)]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.lineno <= line <= (node.end_lineno or line):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            names += [part.id for target in targets for part in ast.walk(target) if isinstance(part, ast.Name)]
    return names


def find_users_of(tree: Path, names: list[str], reached: dict[str, dict[str, list[str]]]) -> set[str]:
    """The tests that reach a line on which one of the names stands."""
    if not names:
        return set()
    named = re.compile(r"\b(?:" + "|".join(map(re.escape, names)) + r")\b")
    users: set[str] = set()
    for file, lines in reached.items():
        texts = (tree / "src" / "marram" / file).read_text(encoding="utf-8").splitlines()
        users.update(test for number, by in lines.items() if named.search(texts[int(number) - 1]) for test in by)
    return users - {IMPORTED}
