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
_WRITE = re.compile(r"^ *In `([^`]+)`, at the end:\n\n( *```toml\n.*?```)", re.DOTALL | re.MULTILINE)
_SHOWN = re.compile(r"^( *)```\n( *\$ marram .*?)```", re.DOTALL | re.MULTILINE)


def writings(recipe: str) -> list[tuple[str, str]]:
    """The files that a recipe adds to, each with what is added."""
    text = (RECIPES / recipe).read_text(encoding="utf-8")
    return [(file, dedent(block).removeprefix("```toml\n").removesuffix("```")) for file, block in _WRITE.findall(text)]


def shown_runs(recipe: str) -> list[tuple[str, list[str]]]:
    """The commands that a recipe shows, each with the lines that it shows of the answer."""
    text = (RECIPES / recipe).read_text(encoding="utf-8")
    blocks = [block.strip().splitlines() for _, block in _SHOWN.findall(text)]
    return [(first.strip().removeprefix("$ marram "), [line.strip() for line in shown]) for first, *shown in blocks]


def follow(recipe: str, folder: Path) -> Path:
    """Copy the package and do what a recipe says.

    Returns:
        The folder that takes the place of the repository.
    """
    shutil.copytree(ROOT / "src", folder / "src", ignore=shutil.ignore_patterns("__pycache__"))
    for file, text in writings(recipe):
        path = folder / file
        path.write_text(f"{path.read_text(encoding='utf-8')}\n{text}" if path.exists() else text, encoding="utf-8")
    return folder


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
