"""What a plan says of a change, in the words of the trade: no key of the rule data, no name of an outcome."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET

from marram.evidence.verdicts import FEWEST_PAIRS
from marram.evidence.weighing.finding_words import amount_words, turned_words
from marram.office.trials.planned_trial import PlannedChange, PlannedGuard
from marram.records.outcomes import Outcome, outcomes
from marram.rulebook.book import Book
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.overlays.trial_terms import Direction


def changes_told(trial: Overlay, base: Book) -> Mapping[int, str]:
    """Each change of a trial in a sentence, by its number."""
    return {change.number: tell_change(base, change).sentence for change in trial.changes}


def wanted_words(change: PlannedChange) -> str:
    """What is to show a change, and how much of it would matter."""
    assert isinstance(change.matters, float | int)
    return f"{_outcome(change).means} At least {effect_words(change, change.matters)}"


def effect_words(change: PlannedChange, amount: float) -> str:
    """An effect of a change the way that is wanted, as so much more or less."""
    is_down = change.direction == Direction.DOWN.value
    return turned_words(-amount if is_down else amount, _outcome(change), is_stated=True)


def needed_words(change: PlannedChange) -> str:
    """How many of what is drawn would find what matters; of pairs never fewer than can show anything."""
    if change.units_needed is not UNSET:
        return f"{change.units_needed} in all"
    needed = change.pairs_needed
    return f"{max(needed, FEWEST_PAIRS)} pairs" if isinstance(needed, int) else "more pairs than a plan may have"


def guard_words(guard: PlannedGuard) -> str:
    """What must not get worse, and by how much it may."""
    outcome = outcomes()[guard.outcome]
    return f"{outcome.means} Up to {amount_words(guard.margin, outcome, is_stated=True)} may pass"


def called(outcome: str) -> str:
    """What the rows of an outcome are called."""
    return outcomes()[outcome].called


def _outcome(change: PlannedChange) -> Outcome:
    assert isinstance(change.outcome, str)
    return outcomes()[change.outcome]
