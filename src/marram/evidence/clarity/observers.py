"""Whether two observers who time or measure the same thing agree: parts of the spread that lie between the things themselves.

Source: Shrout and Fleiss, Intraclass correlations: uses in assessing rater reliability (1979).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from marram.core.errors import StudyError


@dataclass(frozen=True, slots=True, kw_only=True)
class ObserverAgreement:
    """How far observers agree, from 1 for fully downward; each for one observer and for the mean of as many as there are.

    Attributes:
        drawn_anew: Where each thing has observers of its own.
        drawn_anew_mean: The same, for their mean.
        any_observer: Where the same observers see all things and stand for others: one who always reads higher counts against it.
        any_observer_mean: The same, for their mean.
        these_observers: Where only these observers matter, and one who always reads higher does no harm.
        these_observers_mean: The same, for their mean.
        things: How many things were seen.
        observers: By how many observers each.
    """

    drawn_anew: float
    drawn_anew_mean: float
    any_observer: float
    any_observer_mean: float
    these_observers: float
    these_observers_mean: float
    things: int
    observers: int


def observers_agree(readings: Sequence[Sequence[float]]) -> ObserverAgreement:
    """How far observers agree who saw the same things.

    Args:
        readings: For each thing what each observer read, in the same order of observers.

    Raises:
        StudyError: There are fewer than two things or observers, a reading is missing, or nothing differs.
    """
    things, observers = len(readings), len(readings[0]) if readings else 0
    if min(things, observers) < 2 or any(len(row) != observers for row in readings):
        raise StudyError(
            "These observers cannot be compared.", hint="Give at least two things, each read by the same two or more observers."
        )
    everything = [value for row in readings for value in row]
    middle = fsum(everything) / len(everything)
    of_things = observers * fsum((fsum(row) / observers - middle) ** 2 for row in readings)
    of_observers = things * fsum((fsum(column) / things - middle) ** 2 for column in zip(*readings, strict=True))
    whole = fsum((value - middle) ** 2 for value in everything)
    if not whole:
        raise StudyError("All readings are alike, so that nothing can be said of how far observers agree.")
    between, by_observer = of_things / (things - 1), of_observers / (observers - 1)
    inside = (whole - of_things) / (things * (observers - 1))
    rest = max(0.0, whole - of_things - of_observers) / ((things - 1) * (observers - 1))
    by_chance = (by_observer - rest) / things
    return ObserverAgreement(
        drawn_anew=_share(between - inside, between + (observers - 1) * inside),
        drawn_anew_mean=_share(between - inside, between),
        any_observer=_share(between - rest, between + (observers - 1) * rest + observers * by_chance),
        any_observer_mean=_share(between - rest, between + by_chance),
        these_observers=_share(between - rest, between + (observers - 1) * rest),
        these_observers_mean=_share(between - rest, between),
        things=things,
        observers=observers,
    )


def _share(part: float, whole: float) -> float:
    """A part of a whole; nothing where there is no whole."""
    return part / whole if whole > 0 else 0.0
