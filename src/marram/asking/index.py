"""The index: how well each entry fits the words of a question, by its words together and by its nearest phrase."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import log, sqrt

from marram.asking.heard_words import Lexicon, Said
from marram.asking.likelihood import Likelihood

_BY_PHRASE, _BY_WORDS, _PAIRS = 0.45, 0.55, 0.12
"""Weights of the nearest phrase, of all words together, and of pairs of words that follow each other."""
_BY_FIT, _BY_LIKELIHOOD = 0.5, 0.1
"""Weights of these three together, and of the likelihood of the words. Chosen by asking the phrases of each voice of an index of the others
(`docs/design/asking.md`)."""
_SATURATION, _LENGTH = 1.2, 0.3
"""The two constants of BM25: how soon a word said often counts no more, and how much a long entry is marked down.
Source: Robertson and Zaragoza 2009, The Probabilistic Relevance Framework: BM25 and Beyond, equation 3.15 (b smaller, since our entries are
long only where they know more ways to say it)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A text of an entry.

    Attributes:
        words: The text.
        weight: How much its words count.
        is_phrase: Whether it is a way of saying the whole entry.
    """

    words: str
    weight: float = 1.0
    is_phrase: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """How well an entry fits.

    Attributes:
        id: The entry.
        score: From 0 to about 1, by which entries are ranked.
        fit: The part of the score that asks what is spoken of and not in which words, from 0 to about 1.
        told: How much of what the question tells the entry speaks of, rare words weighing more.
    """

    id: str
    score: float
    fit: float
    told: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weighed:
    """A text with what is compared of it.

    Attributes:
        weights: Its words by weight.
        length: Their length together, rare words weighing more; the cosine is told by it.
        pairs: The words of it that follow each other.
    """

    weights: Mapping[str, float]
    length: float
    pairs: frozenset[frozenset[str]]


class Index:
    """Entries by their words."""

    def __init__(self, lexicon: Lexicon, entries: Mapping[str, Sequence[Text]], weights: Mapping[str, float]) -> None:
        """Read every text once.

        Args:
            lexicon: The words of the trade.
            entries: The texts of each entry.
            weights: How much an entry counts beside others, where not 1.
        """
        self._lexicon, self._weights = lexicon, weights
        self._bags: dict[str, dict[str, float]] = {}
        self._phrases: dict[str, list[Said]] = {}
        spoken: dict[str, list[tuple[Mapping[str, float], float]]] = {}
        for name, texts in entries.items():
            bag, phrases, spoken[name] = defaultdict[str, float](float), list[Said](), []
            for text in texts:
                said = lexicon.learn(text.words)
                spoken[name].append((said.spoken, text.weight))
                for word, weight in said.weights.items():
                    bag[word] += weight * text.weight
                if text.is_phrase:
                    phrases.append(said)
            self._bags[name], self._phrases[name] = dict(bag), phrases
        self._likelihood = Likelihood(spoken)
        self._holders = Counter(word for bag in self._bags.values() for word in bag)
        self._rarest = self._rarity_of(1)
        self._rarities = {word: self._rarity_of(holders) for word, holders in self._holders.items()}
        self._sums = {name: sum(bag.values()) for name, bag in self._bags.items()}
        self._mean_length = sum(self._sums.values()) / max(len(self._bags), 1)
        self._weighed = {name: [self._weigh(said) for said in phrases] for name, phrases in self._phrases.items()}

    def _rarity_of(self, holders: int) -> float:
        return log(1 + (len(self._bags) - holders + 0.5) / (holders + 0.5))

    def _rarity(self, word: str) -> float:
        """How much a word tells; one that no entry has tells most."""
        return self._rarities.get(word, self._rarest)

    def _length(self, weights: Mapping[str, float]) -> float:
        return sqrt(sum(weight**2 * self._rarity(word) for word, weight in weights.items())) or 1.0

    def _weigh(self, said: Said) -> _Weighed:
        """Work out once what every comparison with a text asks for."""
        return _Weighed(weights=said.weights, length=self._length(said.weights), pairs=_pairs(said.sequence))

    def phrases_of(self, name: str) -> list[tuple[str, ...]]:
        """What each phrase of an entry speaks of."""
        return [said.sequence for said in self._phrases[name]]

    def find(self, said: Said) -> list[Match]:
        """Entries that share a word with a question, the best first; equals stay in the order of the data."""
        told = {word: self._rarity(word) for word in said.weights}
        asked = self._weigh(said)
        found = [self._match(name, said, asked, told) for name, bag in self._bags.items() if not said.weights.keys().isdisjoint(bag)]
        return sorted(found, key=lambda match: -match.score)

    def _match(self, name: str, said: Said, asked: _Weighed, told: Mapping[str, float]) -> Match:
        bag = self._bags[name]
        most = sum(told[word] for word in said.sequence) or 1.0
        spread = 1 - _LENGTH + _LENGTH * self._sums[name] / self._mean_length
        by_words = sum(
            weight * told[word] * bag[word] * (_SATURATION + 1) / (bag[word] + _SATURATION * spread)
            for word, weight in said.weights.items()
            if word in bag
        ) / (most * (_SATURATION + 1))
        by_phrase = max((_likeness(asked, told, phrase) for phrase in self._weighed[name]), default=0.0)
        weight = self._weights.get(name, 1.0)
        fit = _BY_WORDS * by_words + _BY_PHRASE * by_phrase
        score = weight * max(_BY_FIT * fit + _BY_LIKELIHOOD * self._likelihood.of(name, said.spoken), 0.0)
        return Match(id=name, score=score, fit=weight * fit, told=sum(told[word] * self._held(word, bag) for word in said.sequence))

    def _held(self, word: str, bag: Mapping[str, float]) -> float:
        """1 where the entry has the word, a part where it has only the kind of it."""
        if word in bag:
            return 1.0
        return 0.5 if any(kind in bag for kind in self._lexicon.kinds.get(word, ())) else 0.0


def _likeness(asked: _Weighed, told: Mapping[str, float], phrase: _Weighed) -> float:
    """Cosine of two texts by rarity, with a little more for pairs of words in common."""
    if asked.weights.keys().isdisjoint(phrase.weights):
        return 0.0
    shared = sorted(asked.weights.keys() & phrase.weights.keys())
    dot = sum(asked.weights[word] * phrase.weights[word] * told[word] for word in shared)
    cosine = dot / (asked.length * phrase.length)
    pairs, others = asked.pairs, phrase.pairs
    return cosine + (_PAIRS * len(pairs & others) / sqrt(len(pairs) * len(others)) if pairs and others else 0.0)


def _pairs(sequence: Iterable[str]) -> frozenset[frozenset[str]]:
    words = list(sequence)
    return frozenset(frozenset(pair) for pair in zip(words, words[1:], strict=False))
