"""Every word of the pages that no rule book says, in one table."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources


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
    """The words as they come."""
    text = resources.files("marram.desk.pages").joinpath("interface_words.toml").read_text(encoding="utf-8")
    return InterfaceWords(table={f"{part}.{name}": words for part, table in tomllib.loads(text).items() for name, words in table.items()})
