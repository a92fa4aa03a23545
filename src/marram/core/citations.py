"""Where a rule stands and where its value was seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")

MEMORY = "memory"
INFERRED = "inferred"
COMMON_PRACTICE = "common practice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """A rule with the place where its value was seen.

    Attributes:
        document: Title of the published document, or of the overlay.
        edition: Edition of the rules that the document belongs to.
        rule: Number of the rule in that edition.
        overlay: Title of the overlay that set the value, if one did.
        seen: Title of the source where the value was seen, ``memory`` or ``inferred``.
        is_unsure: The value rests on memory and may be wrong.
        is_number_inferred: The rule's number was inferred from another edition.
    """

    document: str
    edition: str
    rule: str
    overlay: str | None = None
    seen: str
    is_unsure: bool = False
    is_number_inferred: bool = False

    @property
    def provenance(self) -> str:
        """How far to trust the value, in words: *seen in…*, *from memory* or *inferred*."""
        if self.overlay is not None:
            return f"set by {self.overlay}"
        if self.seen == MEMORY:
            return "from memory, unsure" if self.is_unsure else "from memory"
        if self.seen == INFERRED:
            return "inferred"
        if self.seen.startswith(COMMON_PRACTICE):
            return self.seen
        return f"seen in {self.seen}"

    @property
    def reference(self) -> str:
        """The rule as an official would say it, such as ``Rule 17.1d(3)``."""
        number = f"Rule {self.rule}" if self.rule[:1].isdigit() else self.rule
        return f"{number} (number inferred)" if self.is_number_inferred else number


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited(Generic[T]):
    """A value of a rule book with the rules that it rests on."""

    value: T
    citations: tuple[Citation, ...]


def merged(*groups: tuple[Citation, ...]) -> tuple[Citation, ...]:
    """All citations of the groups, each once, in order."""
    return tuple(dict.fromkeys(citation for group in groups for citation in group))
