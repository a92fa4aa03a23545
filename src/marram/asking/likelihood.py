"""How likely an entry is to be spoken of in such words: small words and their order count too, by which *who did what to whom* is told."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from math import log, sqrt

_PRIOR = 4.0
"""How many texts of the common stock each entry is lent (Dirichlet smoothing). Source: Zhai and Lafferty 2004, A Study of Smoothing Methods
for Language Models Applied to Information Retrieval, equation 6. Between 2 and 8 nothing moves by more than a hundredth."""
_UNSEEN = 0.01
"""What the common stock is lent of a word that stands nowhere."""


class Likelihood:
    """A model of the words of each entry."""

    def __init__(self, entries: Mapping[str, Iterable[tuple[Mapping[str, float], float]]]) -> None:
        """Count the words of every entry, each text of it to length one.

        Args:
            entries: For each entry the words of its texts by weight, and the weight of the text.
        """
        self._bags: dict[str, Mapping[str, float]] = {}
        stock = defaultdict[str, float](float)
        for name, texts in entries.items():
            bag = defaultdict[str, float](float)
            for words, weight in texts:
                length = sqrt(sum(value**2 for value in words.values())) or 1.0
                for word, value in words.items():
                    bag[word] += weight * value / length
            self._bags[name] = dict(bag)
            for word, value in bag.items():
                stock[word] += value
        self._all = sum(stock.values()) + _UNSEEN * len(stock)
        self._stock = dict(stock)
        self._held = {name: sum(bag.values()) for name, bag in self._bags.items()}

    def of(self, name: str, words: Mapping[str, float]) -> float:
        """The mean of the log ratios of the words: how much likelier in this entry than in all of them; 0 where nothing is known.

        Args:
            name: The entry.
            words: The words of a question by weight; those that stand nowhere say nothing.
        """
        bag, held = self._bags[name], self._held[name]
        total = 0.0
        for word, weight in words.items():
            if (in_all := self._stock.get(word)) is not None:
                common = (in_all + _UNSEEN) / self._all
                total += weight * log((bag.get(word, 0.0) + _PRIOR * common) / (held + _PRIOR) / common)
        return total / (sum(words.values()) or 1.0)
