"""Finding what an official asks for: the entries that fit best, or that none does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from marram.asking.coverage import Coverage
from marram.asking.entries import Entry, Kind, list_entries, texts_of
from marram.asking.heard_words import Lexicon, Said, data_tables, read_lexicon
from marram.asking.index import Index, Match
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.reading.files import packaged_catalogue

COVERED = (
    "Covered are: what an act costs, things met on the course, relief and where to drop, the drop, the search, forms of play, "
    "play that is stopped, and the local rules that come with Marram."
)
NEAREST = 3
_RELIEF_WEIGHT = 0.92
"""A relief is found mostly through its situation, which asks what is missing; so it comes a little behind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """An entry that was found.

    Attributes:
        entry: The entry.
        score: How well it fits, from 0 to about 1.
        situations: For a ruling on the course, the situations that come to it, the one that fits best first; else empty.
    """

    entry: Entry
    score: float
    situations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was found for a question.

    Attributes:
        words: The question.
        is_covered: Whether something fits.
        found: What fits, the best first; empty where nothing does.
        nearest: Where nothing fits, the nearest three, if one of these was meant.
        subject: The subject that is not covered, where it is a known one; else empty.
        cautions: Rows of the cautions that the words bring up, in the order of the data.
    """

    words: str
    is_covered: bool
    found: tuple[Found, ...]
    nearest: tuple[Found, ...]
    subject: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Register:
    """Everything that can be asked, with its index."""

    entries: Mapping[str, Entry]
    lexicon: Lexicon
    index: Index

    @cached_property
    def _warned_of(self) -> Mapping[str, tuple[frozenset[str], ...]]:
        heard = self.lexicon.hear
        return {
            caution: tuple(frozenset(heard(str(words)).sequence) for words in phrases)
            for _, table in data_tables("cautions")
            for caution, phrases in table.items()
            if isinstance(phrases, list)
        }

    def cautions_for(self, said: Said) -> tuple[str, ...]:
        """The cautions that words bring up: all that one of their phrases speaks of was said, or is the kind of what was said."""
        return tuple(
            caution for caution, phrases in self._warned_of.items() if any(words and words <= said.weights.keys() for words in phrases)
        )

    def find(self, said: Said) -> list[tuple[Entry, Match]]:
        """Every entry that shares a word with a question, the best first."""
        return [(self.entries[match.id], match) for match in self.index.find(said)]

    @cached_property
    def coverage(self) -> Coverage:
        """How words lean towards what is covered, or towards what is not."""
        sides: tuple[list[tuple[str, ...]], list[tuple[str, ...]]] = ([], [])
        for name, entry in self.entries.items():
            sides[entry.kind is Kind.NOT_COVERED].extend(self.index.phrases_of(name))
        return Coverage(*sides)


def open_register(catalogue: Catalogue, local_rules: Sequence[Overlay] = ()) -> Register:
    """Gather everything that can be asked.

    Args:
        catalogue: The rule data.
        local_rules: The local rules that come with Marram.
    """
    entries = {entry.id: entry for entry in list_entries(catalogue, local_rules)}
    weights = {name: _RELIEF_WEIGHT for name, entry in entries.items() if entry.kind is Kind.RELIEF}
    lexicon = read_lexicon()
    return Register(entries=entries, lexicon=lexicon, index=Index(lexicon, texts_of(catalogue, entries), weights))


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
    said = register.lexicon.hear(words)
    matches = register.find(said)
    answers = [(entry, match) for entry, match in matches if entry.kind is not Kind.NOT_COVERED]
    other = next(((entry, match) for entry, match in matches if entry.kind is Kind.NOT_COVERED), None)
    best = answers[0][1] if answers else None
    is_covered = register.coverage.is_covered(
        said.sequence,
        max((match for _, match in answers), key=_fit, default=None),
        max((match for entry, match in matches if entry.kind is Kind.NOT_COVERED), key=_fit, default=None),
    )
    ranks = {entry.id: rank for rank, (entry, _) in enumerate(answers)}
    told = tuple(
        Found(entry=entry, score=match.score, situations=_ranked(entry.situations, ranks))
        for entry, match in answers[: most if is_covered else NEAREST]
    )
    return Answer(
        words=words,
        is_covered=is_covered,
        found=told if is_covered else (),
        nearest=() if is_covered else told,
        subject=other[0].title if other and not is_covered and (best is None or other[1].score > best.score) else "",
        cautions=register.cautions_for(said),
    )


def _ranked(situations: Sequence[str], ranks: Mapping[str, int]) -> tuple[str, ...]:
    """Situations by how well each fits the question itself, equals in the order of the data."""
    return tuple(sorted(situations, key=lambda situation: ranks.get(f"situation.{situation}", len(ranks))))


def _fit(match: Match) -> float:
    return match.fit


def find_of_kind(catalogue: Catalogue, kind: Kind, words: str) -> list[tuple[str, str]]:
    """Entries of one kind that share a word with a question, without their family, the best first, with what they mean."""
    register = packaged_register() if catalogue is packaged_catalogue() else open_register(catalogue)
    return [(entry.id.partition(".")[2], entry.title) for entry, _ in register.find(register.lexicon.hear(words)) if entry.kind is kind]
