"""Recipes of `docs/recipes`, followed word by word on a copy of the package."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from textwrap import dedent

ROOT = Path(__file__).resolve().parents[2]
RECIPES = ROOT / "docs" / "recipes"
_BLOCK = r"( *```(?:toml|python|text)\n.*?```)"
_WRITE = re.compile(rf"^ *In `([^`]+)`, at the end:\n\n{_BLOCK}", re.DOTALL | re.MULTILINE)
_EXCHANGE = re.compile(rf"^ *In `([^`]+)`, in place of:\n\n{_BLOCK}\n\n *this:\n\n{_BLOCK}", re.DOTALL | re.MULTILINE)
_SHOWN = re.compile(r"^( *)```\n( *\$ marram .*?)```", re.DOTALL | re.MULTILINE)


def _page(recipe: str) -> str:
    return (RECIPES / recipe).read_text(encoding="utf-8")


def _plain(block: str) -> str:
    """What stands in a block of code."""
    return dedent(block).partition("\n")[2].removesuffix("```")


def writings(recipe: str) -> list[tuple[str, str]]:
    """The files that a recipe adds to, each with what is added."""
    return [(file, _plain(block)) for file, block in _WRITE.findall(_page(recipe))]


def exchanges(recipe: str) -> list[tuple[str, str, str]]:
    """The files in which a recipe puts something in the place of something else, each with both."""
    return [(file, _plain(old), _plain(new)) for file, old, new in _EXCHANGE.findall(_page(recipe))]


def shown_runs(recipe: str) -> list[tuple[str, list[str]]]:
    """The commands that a recipe shows, each with the lines that it shows of the answer."""
    blocks = [block.strip().splitlines() for _, block in _SHOWN.findall(_page(recipe))]
    return [(first.strip().removeprefix("$ marram "), [line.strip() for line in shown]) for first, *shown in blocks]


def follow(recipe: str, folder: Path) -> Path:
    """Copy the package and do what a recipe says.

    Returns:
        The folder that takes the place of the repository.
    """
    shutil.copytree(ROOT / "src", folder / "src", ignore=shutil.ignore_patterns("__pycache__"))
    for file, text in writings(recipe):
        path = _copied(folder, file)
        path.write_text(f"{path.read_text(encoding='utf-8')}\n{text}" if path.exists() else text, encoding="utf-8")
    for file, old, new in exchanges(recipe):
        path = _copied(folder, file)
        before = path.read_text(encoding="utf-8")
        assert before.count(old) == 1, f"{file} holds {before.count(old)} times what the recipe puts something else in place of"
        path.write_text(before.replace(old, new), encoding="utf-8")
    return folder


def _copied(folder: Path, file: str) -> Path:
    """A file of the copy, with what the repository's holds where the package is not all of it."""
    path = folder / file
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        if (ROOT / file).exists():
            shutil.copy(ROOT / file, path)
    return path


def run_in(folder: Path, words: str) -> tuple[int, str, str]:
    """Run a command of the copy."""
    done = subprocess.run(
        [sys.executable, "-c", "from marram.cli.main import main; main()", *shlex.split(words)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(folder / "src")},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr
