"""Where a rule stands and where its value was seen."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Generic, TypeVar

T = TypeVar("T")

MEMORY = "memory"
INFERRED = "inferred"
COMMON_PRACTICE = "common practice"
ELSEWHERE = "another edition"
SEEN = "seen"
_WEAKEST_FIRST = {
    MEMORY: re.compile(rf"(^|\s){MEMORY}\b"),
    INFERRED: re.compile(rf"(^|\s){INFERRED}\b"),
    COMMON_PRACTICE: re.compile(rf"^{COMMON_PRACTICE}\b"),
}
MARKS = {
    MEMORY: "from memory",
    INFERRED: "inferred",
    COMMON_PRACTICE: COMMON_PRACTICE,
    ELSEWHERE: "seen in a source of another edition",
    SEEN: "",
}
"""What is said beside a rule of how its value is known."""


@lru_cache(maxsize=4096)
def split_seen(seen: str) -> tuple[str, ...]:
    """The places named in a `seen`, which stand between semicolons; one in brackets belongs to its place."""
    places, depth, start = [], 0, 0
    for at, letter in enumerate(seen):
        depth += {"(": 1, ")": -1}.get(letter, 0)
        if letter == ";" and depth == 0:
            places.append(seen[start:at].strip())
            start = at + 1
    return (*places, seen[start:].strip())


@lru_cache(maxsize=4096)
def provenance_class(seen: str) -> str:
    """How a value is known: by the weakest of the places named, from memory before inferred before common practice before seen."""
    places = split_seen(seen)
    return next((name for name, words in _WEAKEST_FIRST.items() if any(words.search(place) for place in places)), SEEN)


@lru_cache(maxsize=4096)
def is_a_source(place: str) -> bool:
    """Whether a place named in a `seen` is a published source, and not memory, inference or common practice."""
    return not any(words.search(place) for words in _WEAKEST_FIRST.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """A rule with the place where its value was seen.

    Attributes:
        document: Title of the published document, or of the overlay.
        edition: Edition of the rules that the document belongs to.
        rule: Number of the rule in that edition.
        overlay: Title of the overlay that set the value, if one did.
        seen: Title of the source where the value was seen, ``memory`` or ``inferred``; several between semicolons.
        is_unsure: The value rests on memory and may be wrong.
        is_number_inferred: The rule's number was inferred from another edition.
        is_elsewhere: Every source named speaks of another edition.
        is_draft: The edition is a draft.
    """

    document: str
    edition: str
    rule: str
    overlay: str | None = None
    seen: str
    is_unsure: bool = False
    is_number_inferred: bool = False
    is_elsewhere: bool = False
    is_draft: bool = False

    @property
    def known(self) -> str:
        """How the value is known: seen, another edition, common practice, inferred or memory."""
        if self.overlay is not None:
            return SEEN
        found = provenance_class(self.seen)
        return ELSEWHERE if found == SEEN and self.is_elsewhere else found

    @property
    def is_seen(self) -> bool:
        """Whether the value was seen in print for this edition, or is set by an overlay."""
        return self.known == SEEN

    @property
    def mark(self) -> str:
        """What must be said beside the rule where its value was not seen; empty where it was."""
        unsure = ", unsure" if self.is_unsure and self.known == MEMORY else ""
        is_bare = self.is_draft and not any(map(is_a_source, split_seen(self.seen)))
        draft = ", no published text seen" if is_bare else ""
        return "" if self.is_seen else f"{MARKS[self.known]}{unsure}{draft}"

    @property
    def provenance(self) -> str:
        """How far to trust the value, in words: *seen in…*, *from memory* or *inferred*."""
        if self.overlay is not None:
            return f"set by {self.overlay}"
        if self.seen in {MEMORY, INFERRED}:
            return self.mark
        if self.known == COMMON_PRACTICE:
            return self.seen
        elsewhere = ", of another edition" if self.known == ELSEWHERE else ""
        return f"seen in {self.seen}{elsewhere}"

    @property
    def reference(self) -> str:
        """The rule as an official would say it, such as ``Rule 17.1d(3)``."""
        number = f"Rule {self.rule}" if self.rule[:1].isdigit() else self.rule
        return f"{number} (number inferred)" if self.is_number_inferred else number

    @property
    def words(self) -> str:
        """The rule, and in brackets what must be said of a value that was not seen."""
        return f"{self.reference} ({self.mark})" if self.mark else self.reference


@dataclass(frozen=True, slots=True, kw_only=True)
class Cited(Generic[T]):
    """A value of a rule book with the rules that it rests on."""

    value: T
    citations: tuple[Citation, ...]


def merged(*groups: tuple[Citation, ...]) -> tuple[Citation, ...]:
    """All citations of the groups, each once, in order."""
    return tuple(dict.fromkeys(citation for group in groups for citation in group))


def rules_words(citations: Iterable[Citation]) -> str:
    """Rules behind a line, each once and with its number; only what was not seen is marked."""
    told = list({citation.words: citation for citation in citations}.values())
    return "; ".join(one.words for one in told if not any(_says_more(other, one) for other in told))


def _says_more(other: Citation, one: Citation) -> bool:
    """Whether all numbers of one reference stand in another that is marked alike."""
    return other.mark == one.mark and set(one.rule.split(", ")) < set(other.rule.split(", "))


def rules_once(citations: Iterable[Citation]) -> str:
    """Rules behind a line, every number once: those that are marked alike stand together, and the mark is said once.

    A number that several citations name, some from a text that was seen and some not, is marked *in part*. A number is left out where a
    longer one of the same Rule stands beside it: *6.1* beside *6.1a*.

    Args:
        citations: The rules.
    """
    marks: dict[str, list[str]] = {}
    for one in citations:
        number = "number inferred" if one.is_number_inferred else ""
        for part in _numbers(one.rule):
            marks.setdefault(part, []).append("; ".join(filter(None, (number, one.mark))))
    together: dict[str, list[str]] = {}
    for part, said in marks.items():
        longer = [mark for other, told in marks.items() if _is_longer(other, part) for mark in told]
        if not longer:
            shorter = [mark for other, told in marks.items() if _is_longer(part, other) for mark in told]
            together.setdefault(_one_mark([*said, *shorter]), []).append(part)
    return "; ".join(f"{_told_together(parts)} ({mark})" if mark else _told_together(parts) for mark, parts in together.items())


def _numbers(rule: str) -> list[str]:
    """The numbers of a reference apart; one that is no list of numbers stays whole."""
    parts = rule.split(", ")
    return parts if all(part[:1].isdigit() for part in parts) or all(part.startswith("Appendix ") for part in parts) else [rule]


def _is_longer(other: str, one: str) -> bool:
    """Whether a number is a part of another: of 6.1 are 6.1a and 6.1(2), but not 6.12."""
    return one[:1].isdigit() and other.startswith(one) and len(other) > len(one) and not other[len(one)].isdigit()


def _one_mark(said: Iterable[str]) -> str:
    """What must be said of a number by all that was said of it."""
    kinds = set(said)
    weakest = min(kinds, key=_how_weak)
    return f"in part {weakest}" if weakest and "" in kinds else weakest


def _how_weak(mark: str) -> tuple[int, str]:
    """The place of a mark among all marks, the weakest first; nothing to say comes last."""
    places = [place for place, told in enumerate(MARKS.values()) if told and told in mark]
    return (places[0] if places else len(MARKS) - (mark != "")), mark


def _told_together(parts: Iterable[str]) -> str:
    numbers = sorted((part for part in parts if part[:1].isdigit()), key=_in_order)
    others = [part for part in parts if not part[:1].isdigit()]
    return "; ".join([f"Rule {', '.join(numbers)}"] * bool(numbers) + others)


def _in_order(number: str) -> list[tuple[int, str]]:
    """Where a number stands in a book: 3.2 before 11.2a, 6.2a/1 before 6.2b."""
    return [(int(found), "") if found.isdigit() else (0, found) for found in re.findall(r"[0-9]+|[A-Za-z]+", number)]
