"""Whether a question is about anything that is covered: three signs weighed together."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from math import log

from marram.asking.index import Match

_SAID, _AHEAD, _LEANING, _NEEDED = 0.45, 3.4, 0.73, 1.9
"""Weights of the three signs, and what they must come to. Fitted once as a logistic regression on the phrases of the asking data, each left
out in turn, and on the questions of tests/published/asking; `docs/design/asking.md` tells what it gives away."""


class Coverage:
    """How words lean: towards what is covered, or towards subjects that are not."""

    def __init__(self, covered: Iterable[Sequence[str]], others: Iterable[Sequence[str]]) -> None:
        """Count in how many phrases of each side a word stands.

        Args:
            covered: What phrases of covered entries speak of.
            others: What phrases of subjects that are not covered speak of.
        """
        covered, others = list(covered), list(others)
        self._covered = Counter(word for phrase in covered for word in set(phrase))
        self._others = Counter(word for phrase in others for word in set(phrase))
        self._of_all = log(max(len(others), 1) / max(len(covered), 1))

    def _leaning(self, words: Sequence[str]) -> float:
        """The sum of the log odds of the words; a word that stands nowhere says nothing."""
        known = sorted(word for word in set(words) if word in self._covered or word in self._others)
        return sum(log((self._covered[word] + 0.5) / (self._others[word] + 0.5)) + self._of_all for word in known)

    def is_covered(self, words: Sequence[str], best: Match | None, other: Match | None) -> bool:
        """Whether the best entry is an answer.

        Args:
            words: What the question speaks of.
            best: The best entry by what is spoken of; None where nothing is found.
            other: The best subject that is not covered, likewise; None where nothing is found.
        """
        if best is None:
            return False
        ahead = best.fit - (other.fit if other else 0.0)
        return _SAID * best.told + _AHEAD * ahead + _LEANING * self._leaning(words) >= _NEEDED
