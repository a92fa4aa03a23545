"""Every command is told somewhere for whoever reads, and every term in the glossary."""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path

import click

from marram.cli.main import marram
from marram.core import terms

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
GLOSSARY = ROOT / "docs" / "glossary.md"


def commands(group: click.Group, before: str = "") -> Iterator[str]:
    """Every command with the groups that it stands in."""
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        if isinstance(command, click.Group):
            yield from commands(command, f"{before}{name} ")
        else:
            yield f"{before}{name}"


def _is_told(command: str, text: str) -> bool:
    """Whether a command is written with its group, or after its group in a list such as ``marram book list, show, compare``."""
    if f"marram {command}" in text or f"`{command}`" in text:
        return True
    group, _, name = command.rpartition(" ")
    lists = re.findall(rf"`marram {group} [\w-]+`((?:(?:,| and) `[\w-]+`)+)", text) if group else []
    return any(f"`{name}`" in listed for listed in lists)


def test_every_command_is_told_in_the_readme_or_on_a_page() -> None:
    found = list(commands(marram))
    assert len(found) > 30
    text = " ".join(" ".join(page.read_text(encoding="utf-8").split()) for page in PAGES)
    assert [command for command in found if not _is_told(command, text)] == []


def closed_lists() -> list[type[StrEnum]]:
    """The closed lists of the trade's words."""
    return [entry for entry in vars(terms).values() if isinstance(entry, type) and issubclass(entry, StrEnum) and entry is not StrEnum]


def test_every_word_of_the_closed_lists_stands_in_the_glossary() -> None:
    lists = closed_lists()
    assert {entry.__name__ for entry in lists} >= {"Area", "FeatureKind", "Form"}
    defined = set(re.findall(r"^\| `([\w-]+)` \| \S", GLOSSARY.read_text(encoding="utf-8"), re.MULTILINE))
    assert {str(word) for entry in lists for word in entry} - defined == set()
