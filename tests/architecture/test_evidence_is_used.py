"""Nothing in the evidence is there for tests alone: every public function of it is used by the program itself."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "marram"


def public_functions(tree: ast.Module) -> Iterator[ast.FunctionDef]:
    """Functions of a module that others may call."""
    yield from (node for node in tree.body if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"))


def names_in(tree: ast.AST, *, without: str = "") -> set[str]:
    """Every name that code reads, but inside a function of its own name."""
    found: set[str] = set()
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef) and node.name == without:
            continue
        if isinstance(node, ast.Name):
            found.add(node.id)
        elif isinstance(node, ast.Attribute):
            found.add(node.attr)
        found |= names_in(node, without=without)
    return found


def unused(folder: Path) -> list[str]:
    """Public functions of the evidence that nothing in the program names."""
    trees = {path: ast.parse(path.read_text(encoding="utf-8")) for path in folder.rglob("*.py")}
    named = {path: names_in(tree) for path, tree in trees.items()}
    found = []
    for path, tree in trees.items():
        if "evidence" not in path.relative_to(folder).parts:
            continue
        others = set().union(*(names for other, names in named.items() if other != path))
        found += [
            f"{path.relative_to(folder).as_posix()}: {function.name}"
            for function in public_functions(tree)
            if function.name not in others and function.name not in names_in(tree, without=function.name)
        ]
    return sorted(found)


def test_no_function_of_the_evidence_is_called_by_tests_alone() -> None:
    assert unused(SOURCE) == []


def test_a_function_that_nothing_calls_is_seen_and_one_that_calls_itself_alone_too(tmp_path: Path) -> None:
    (tmp_path / "evidence").mkdir()
    functions = ("used(): ...", "alone(): ...", "again(): again()", "_own(): ...", "near(): _own()")
    (tmp_path / "evidence" / "one.py").write_text("".join(f"def {function}\n" for function in functions))
    (tmp_path / "evidence" / "__init__.py").write_text("from one import alone\n__all__ = ['alone']\n")
    (tmp_path / "caller.py").write_text("from one import used\nused()\nrun = one.near\n")
    assert unused(tmp_path) == ["evidence/one.py: again", "evidence/one.py: alone"]
