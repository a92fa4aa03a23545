"""Finding what an official asks for: the entries that fit best, or that none does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from marram.rulebook.catalogue import Catalogue
from marram.rulebook.files import packaged_catalogue
from marram.rulebook.overlay import Overlay
from marram.rulings.asking.entries import Entry, Kind, list_entries, texts_of
from marram.rulings.asking.index import Index, Match
from marram.rulings.asking.words import read_lexicon

COVERED = (
    "Covered are: what an act costs, things met on the course, relief and where to drop, the drop, the search, forms of play, "
    "play that is stopped, and the local rules that come with Marram."
)
NEAREST = 3
_LEAST_SCORE, _LEAST_SHARE = 0.25, 0.45
"""Below these a best entry is no answer; set on the questions of tests/published/asking, of which none is an answer of our own output."""
_RELIEF_WEIGHT = 0.92
"""A relief is found mostly through its situation, which asks what is missing; so it comes a little behind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """An entry that was found.

    Attributes:
        entry: The entry.
        score: How well it fits, from 0 to about 1.
    """

    entry: Entry
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found for a question.

    Attributes:
        words: The question.
        is_covered: Whether something fits.
        found: What fits, the best first; empty where nothing does.
        nearest: Where nothing fits, the nearest three, if one of these was meant.
        subject: The subject that is not covered, where it is a known one; else empty.
    """

    words: str
    is_covered: bool
    found: tuple[Found, ...]
    nearest: tuple[Found, ...]
    subject: str


@dataclass(frozen=True, kw_only=True)
class Register:
    """Everything that can be asked, with its index."""

    entries: Mapping[str, Entry]
    index: Index

    def find(self, words: str) -> list[tuple[Entry, Match]]:
        """Every entry that shares a word with a question, the best first."""
        return [(self.entries[match.id], match) for match in self.index.find(words)]


def open_register(catalogue: Catalogue, local_rules: Sequence[Overlay] = ()) -> Register:
    """Gather everything that can be asked.

    Args:
        catalogue: The rule data.
        local_rules: The local rules that come with Marram.
    """
    entries = {entry.id: entry for entry in list_entries(catalogue, local_rules)}
    weights = {name: _RELIEF_WEIGHT for name, entry in entries.items() if entry.kind is Kind.RELIEF}
    return Register(entries=entries, index=Index(read_lexicon(), texts_of(catalogue, entries), weights))


@lru_cache(maxsize=1)
def packaged_register() -> Register:
    """What can be asked of the rule data that comes with Marram, without its local rules; gathered once a process."""
    return open_register(packaged_catalogue())


def ask(register: Register, words: str, *, most: int = 10) -> Answer:
    """Find what a question is about.

    Args:
        register: Everything that can be asked.
        words: The question, as somebody puts it.
        most: The most entries to tell.
    """
    matches = register.find(words)
    answers = [(entry, match) for entry, match in matches if entry.kind is not Kind.NOT_COVERED]
    other = next(((entry, match) for entry, match in matches if entry.kind is Kind.NOT_COVERED), None)
    best = answers[0][1] if answers else None
    is_other = other is not None and (best is None or other[1].score > best.score)
    is_covered = best is not None and not is_other and best.score >= _LEAST_SCORE and best.share >= _LEAST_SHARE
    told = tuple(Found(entry=entry, score=match.score) for entry, match in answers[: most if is_covered else NEAREST])
    subject = other[0].title if is_other and other is not None else ""
    return Answer(words=words, is_covered=is_covered, found=told if is_covered else (), nearest=() if is_covered else told, subject=subject)


def find_of_kind(catalogue: Catalogue, kind: Kind, words: str) -> list[tuple[str, str]]:
    """Entries of one kind that share a word with a question, without their family, the best first, with what they mean."""
    register = packaged_register() if catalogue is packaged_catalogue() else open_register(catalogue)
    return [(entry.id.partition(".")[2], entry.title) for entry, _ in register.find(words) if entry.kind is kind]
