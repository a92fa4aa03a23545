"""The words of a question: one word for what the trade calls by many names, stems, and spelling mistakes forgiven."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from itertools import pairwise

_DATA = "marram.asking"
_PART, _KIND = 0.35, 0.6
"""How much a word counts that is only a part of what was said, and one that is the kind of what was said."""
_SMALL, _ORDERED = 0.3, 0.4
"""How much a small word counts that tells nothing alone, and two words in the order in which they are said."""
_SHORTEST_SPLIT = 3
_SLIPS = ((4, 0), (8, 1), (13, 2))
"""Letters of a word below which so many slips are forgiven."""
_MOST_SLIPS = 3
_NEAR = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What a text says once its words are made one.

    Attributes:
        sequence: What it speaks of, in order.
        weights: What it speaks of, and with less weight the kinds and parts of it.
        spoken: The same, and with less weight the small words that tell nothing alone and each two words in the order they are said.
    """

    sequence: tuple[str, ...]
    weights: Mapping[str, float]
    spoken: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class Lexicon:
    """The words of the trade.

    Attributes:
        idle: Stems that tell nothing about what is asked.
        linking: Stems left out even inside a phrase, such as articles.
        phrases: By first stem, the phrases that stand for something, longest first, with what they stand for.
        kinds: What something is a kind of.
        words: Every word that stands in the data and how often, by which spelling is judged; it grows with what is indexed.
    """

    idle: frozenset[str]
    linking: frozenset[str]
    phrases: Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]
    kinds: Mapping[str, tuple[str, ...]]
    words: Counter[str] = field(default_factory=Counter)

    def learn(self, text: str) -> Said:
        """Read a text of the data: its words are spelled right."""
        words = split_words(text)
        self.words.update(words)
        return self._said(words)

    def hear(self, text: str) -> Said:
        """Read a question: a word that is not known stands for the nearest one that is."""
        return self._said([part for word in split_words(text) for part in self._spelled(word)])

    def _said(self, words: Iterable[str]) -> Said:
        stems = [stem for stem in map(stem_of(), words) if stem not in self.linking]
        sequence, weights, small = [], dict[str, float](), dict[str, float]()
        units = list(self._units(stems))
        for name, parts in units:
            if len(parts) == 1 and name in self.idle:
                small[name] = _SMALL
                continue
            sequence.append(name)
            weights[name] = 1.0
            for part in parts if len(parts) > 1 else ():
                if part not in self.idle:
                    weights[part] = max(weights.get(part, 0.0), _PART)
            for kind in self.kinds.get(name, ()):
                weights[kind] = max(weights.get(kind, 0.0), _KIND)
        ordered = {f"{first} {second}": _ORDERED for (first, _), (second, _) in pairwise(units)}
        return Said(sequence=tuple(sequence), weights=weights, spoken=small | ordered | weights)

    def _units(self, stems: list[str]) -> Iterator[tuple[str, tuple[str, ...]]]:
        """Phrases and single words from left to right, the longest phrase first."""
        at = 0
        while at < len(stems):
            for phrase, name in self.phrases.get(stems[at], ()):
                if tuple(stems[at : at + len(phrase)]) == phrase:
                    yield name, phrase
                    at += len(phrase)
                    break
            else:
                yield stems[at], (stems[at],)
                at += 1

    def _spelled(self, word: str) -> tuple[str, ...]:
        if word in self.words or not word.isalpha() or stem_of()(word) in self._stems:
            return (word,)
        slips = next((most for length, most in _SLIPS if len(word) < length), _MOST_SLIPS)
        near = self._nearest(word, min(slips, 1))
        return (near,) if near else self._parted(word) or (self._nearest(word, slips) or word,)

    def _parted(self, word: str) -> tuple[str, ...]:
        """Two known words that were written as one; none where it is not so."""
        cuts = range(_SHORTEST_SPLIT, len(word) - _SHORTEST_SPLIT + 1)
        return next(((word[:cut], word[cut:]) for cut in cuts if word[:cut] in self.words and word[cut:] in self.words), ())

    @property
    def _stems(self) -> frozenset[str]:
        return _stems_of(frozenset(self.words))

    def _nearest(self, word: str, slips: int) -> str:
        """The nearest known word within so many slips, of several the commonest; empty where there is none."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        found = process.extract(word, sorted(self.words), scorer=OSA.distance, score_cutoff=slips, limit=_NEAR) if slips else []
        ranked = sorted((distance, near[0] != word[0], -self.words[near], near) for near, distance, _ in found if len(near) > 2)
        return ranked[0][-1] if ranked else ""


@lru_cache(maxsize=4)
def _stems_of(words: frozenset[str]) -> frozenset[str]:
    return frozenset(map(stem_of(), words))


_INITIALS, _WORD = re.compile(r"\b(?:[a-z]\.){2,}"), re.compile(r"[^\W_]+")


def split_words(text: str) -> list[str]:
    """The words of a text in small letters; what is not a letter or a figure parts them, but for apostrophes and the points of initials."""
    plain = text.lower().replace("'", "").replace("\u2019", "")
    return _WORD.findall(_INITIALS.sub(lambda initials: initials[0].replace(".", "") + " ", plain) if "." in plain else plain)


@lru_cache(maxsize=1)
def stem_of() -> Callable[[str], str]:
    """The stemmer: irregular forms from the data, all others by the English rules; it remembers what it has stemmed."""
    from Stemmer import Stemmer

    stem_word = Stemmer("english").stemWord
    forms = {form: word for _, table in data_tables("forms") for word in table for form in _list(table, word)}
    return lru_cache(maxsize=None)(lambda word: str(stem_word(forms.get(word, word))))


def one_word(phrase: str) -> tuple[str, ...]:
    """The stems of a phrase."""
    return tuple(map(stem_of(), split_words(phrase)))


def data_tables(prefix: str) -> Iterator[tuple[str, Mapping[str, object]]]:
    """The files of the asking data whose names begin so, in order."""
    folder = resources.files(_DATA).joinpath("data")
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.startswith(prefix) and file.name.endswith(".toml"):
            yield file.name, tomllib.loads(file.read_text(encoding="utf-8"))


def read_lexicon() -> Lexicon:
    """The words of the trade, from the data that comes with Marram."""
    same, kinds, idle, linking, spelled = dict[tuple[str, ...], str](), dict[str, tuple[str, ...]](), set[str](), set[str](), set[str]()
    for _, table in data_tables("words"):
        idle |= {stem for word in _list(table, "idle") for stem in one_word(word)}
        linking |= {stem for word in _list(table, "linking") for stem in one_word(word)}
        spelled |= {word for phrase in [*_list(table, "idle"), *_list(table, "linking")] for word in split_words(phrase)}
    for _, table in data_tables("words"):
        for head, names in _lists(table, "same"):
            key = "_".join(stem for stem in one_word(head) if stem not in linking)
            for name in (head, *names):
                same.setdefault(tuple(stem for stem in one_word(name) if stem not in linking), key)
            spelled |= {word for name in (head, *names) for word in split_words(name)}
    for _, table in data_tables("words"):
        for head, names in _lists(table, "kinds"):
            kind = _unit(head, same, linking)
            for name in names:
                unit = _unit(name, same, linking)
                kinds[unit] = (*kinds.get(unit, ()), kind) if unit != kind else kinds.get(unit, ())
            spelled |= {word for name in (head, *names) for word in split_words(name)}
            same |= {tuple(unit.split("_")): unit for unit in (kind, *(_unit(name, same, linking) for name in names)) if "_" in unit}
    return Lexicon(idle=frozenset(idle), linking=frozenset(linking), phrases=_by_first(same), kinds=kinds, words=Counter(spelled))


def _unit(phrase: str, same: Mapping[tuple[str, ...], str], linking: set[str]) -> str:
    stems = tuple(stem for stem in one_word(phrase) if stem not in linking)
    return same.get(stems, "_".join(stems))


def _by_first(same: Mapping[tuple[str, ...], str]) -> dict[str, tuple[tuple[tuple[str, ...], str], ...]]:
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for phrase, name in same.items():
        found.setdefault(phrase[0], []).append((phrase, name))
    return {first: tuple(sorted(entries, key=lambda entry: (-len(entry[0]), entry))) for first, entries in found.items()}


def _list(table: Mapping[str, object], name: str) -> list[str]:
    words = table.get(name, [])
    return [str(word) for word in words] if isinstance(words, list) else []


def _lists(table: Mapping[str, object], name: str) -> list[tuple[str, list[str]]]:
    inner = table.get(name, {})
    return [(str(head), [str(word) for word in words]) for head, words in inner.items()] if isinstance(inner, dict) else []
