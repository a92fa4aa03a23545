"""Whether an event is played under changed rules: which of them a Committee may adopt, and which keep rounds out of handicaps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingChange:
    """A change that the event is played under.

    Attributes:
        overlay: Title of the trial or local rule.
        number: Its number there.
        sentence: What it is from and to.
        is_local_rule: Whether a Committee may adopt it as a local rule; where not, rounds are not acceptable for handicap.
    """

    overlay: str
    number: int
    sentence: str
    is_local_rule: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialStanding:
    """What an event is played under.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        title: The book in words.
        changes: What is changed.
        is_draft: Whether the edition itself is a draft.
    """

    book: str
    stamp: str
    title: str
    changes: tuple[StandingChange, ...]
    is_draft: bool

    @property
    def is_acceptable(self) -> bool:
        """Whether rounds may count for handicap as far as the rules go that were played by."""
        return not self.is_draft and all(change.is_local_rule for change in self.changes)

    @property
    def line(self) -> str:
        """What every page says; empty under a published edition without changes."""
        if self.is_draft and not self.changes:
            return f"Played under {self.title}, a draft. Rounds are not acceptable for handicap."
        if not self.changes:
            return ""
        titles = " and ".join(dict.fromkeys(change.overlay for change in self.changes))
        if self.is_acceptable:
            return f"Played under local rules: {titles}. Rounds are acceptable for handicap."
        named = " and ".join(_keeping_out(self.changes)) or "its draft"
        return f"Played under trial rules: {titles}. Rounds are not acceptable for handicap, because of {named}."


def _keeping_out(changes: Sequence[StandingChange]) -> Iterator[str]:
    """The changes that keep rounds out of handicaps, by number; with their titles where several trials and local rules are laid on."""
    titles = list(dict.fromkeys(change.overlay for change in changes))
    for title in titles:
        numbers = [change.number for change in changes if change.overlay == title and not change.is_local_rule]
        if numbers:
            named = f"change{'s' * (len(numbers) > 1)} {_numbers(numbers)}"
            yield f"{named} of {title}" if len(titles) > 1 else named


def _numbers(numbers: Sequence[int]) -> str:
    """Numbers in a sentence: ``1 to 4``, or ``1, 3``."""
    is_run = len(numbers) > 2 and list(numbers) == list(range(numbers[0], numbers[0] + len(numbers)))
    return f"{numbers[0]} to {numbers[-1]}" if is_run else ", ".join(map(str, numbers))


def standing_of(book: Book, base: Book) -> TrialStanding:
    """What an event is played under.

    Args:
        book: The book of the event.
        base: Its edition with nothing laid over it.
    """
    found: dict[tuple[str, int], StandingChange] = {}
    for overlay in book.overlays:
        for change in overlay.changes:
            found[overlay.title, change.number] = StandingChange(
                overlay=overlay.title,
                number=change.number,
                sentence=tell_change(base, change).sentence,
                is_local_rule=change.standing is Standing.LOCAL_RULE,
            )
    return TrialStanding(
        book=book.name,
        stamp=book.stamp,
        title=book.title,
        changes=tuple(found.values()),
        is_draft=book.catalogue.editions[book.edition].is_draft,
    )
