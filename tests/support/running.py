"""What a test that runs a command is given."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

Run: TypeAlias = "Callable[..., tuple[int, str, str]]"
"""Takes the words of a command; gives its exit code, what it printed and what it complained of."""
