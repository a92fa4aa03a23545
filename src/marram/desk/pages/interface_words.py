"""Every word of the pages that no rule book says, in one table."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from marram.desk.pages.chapter_list import chapter_names


@dataclass(frozen=True, slots=True, kw_only=True)
class InterfaceWords:
    """The words of the pages.

    Attributes:
        table: Each text under its name.
    """

    table: Mapping[str, str]

    def __call__(self, name: str, /, **filled: object) -> str:
        """A text of the table.

        Args:
            name: Its name.
            filled: What is filled into it.
        """
        return self.table[name].format(**filled)


@cache
def interface_words() -> InterfaceWords:
    """The words as they come: those of all pages, and of each chapter its own.

    Raises:
        RuntimeError: Two tables name the same part.
    """
    texts = [resources.files("marram.desk.pages").joinpath("interface_words.toml")]
    texts += [resources.files(f"marram.desk.chapters.{name}").joinpath("words.toml") for name in chapter_names()]
    table: dict[str, str] = {}
    for text in texts:
        told = {
            f"{part}.{name}": words
            for part, inner in tomllib.loads(text.read_text(encoding="utf-8")).items()
            for name, words in inner.items()
        }
        if twice := table.keys() & told.keys():
            raise RuntimeError(f"Words told twice: {', '.join(sorted(twice))}")
        table |= told
    return InterfaceWords(table=table)
