"""Days that would show an effect, from days as they differ by the chance of play and by all that nobody can simulate."""

from __future__ import annotations

from math import hypot, sqrt

from marram.evidence.sizes import pairs_needed
from marram.evidence.verdicts import FEWEST_PAIRS

_NOTHING = 1e-9


def sd_of_pair(between_days: float, by_chance: float) -> float:
    """Standard deviation of the difference of the two days of a pair.

    Days with shared draws differ far less than real ones; so what enters is how far *independent* days differ by chance, and how far
    real days differ besides: by weather, set-up and who comes.

    Args:
        between_days: Standard deviation between the days of a pair besides chance, stated or from a pilot.
        by_chance: Standard deviation between independent days of play on an equal course.

    Returns:
        sqrt(2 (between_days^2 + by_chance^2)).
    """
    return sqrt(2) * hypot(between_days, by_chance)


def days_to_find(effect: float, sd_of_difference: float) -> int | None:
    """Days, half of them under each set of rules, that find an effect with the usual chance; never fewer than can show anything.

    Args:
        effect: The effect.
        sd_of_difference: Standard deviation of the difference of the two days of a pair.

    Returns:
        None where no number of days would.
    """
    if abs(effect) < _NOTHING:
        return None
    pairs = pairs_needed(abs(effect), sd_of_difference)
    return None if pairs is None else 2 * max(pairs, FEWEST_PAIRS)
