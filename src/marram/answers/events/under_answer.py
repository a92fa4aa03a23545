"""What an event is played under, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.shape import Shape

if TYPE_CHECKING:
    from marram.events.trial_standing import TrialStanding


class StandingChangeShape(Shape, frozen=True, kw_only=True):
    """A change that the event is played under.

    Attributes:
        title: Title of the trial or local rule.
        number: Its number there.
        says: What it is from and to.
        local_rule: Whether a Committee may adopt it as a local rule.
        keeps_rounds_out: Whether it makes rounds not acceptable for handicap.
    """

    title: str
    number: int
    says: str
    local_rule: bool
    keeps_rounds_out: bool


class UnderShape(Shape, frozen=True, kw_only=True):
    """What an event is played under.

    Attributes:
        book: The book.
        stamp: Its stamp.
        trial: Whether it is played under changed rules that no Committee may adopt as local rules.
        acceptable_for_handicap: Whether rounds may count for handicap as far as these rules go.
        says: What every page says; empty under a published edition without changes.
        changes: What is changed.
    """

    book: str
    stamp: str
    trial: bool
    acceptable_for_handicap: bool
    says: str
    changes: tuple[StandingChangeShape, ...]


def under_shape(under: TrialStanding) -> UnderShape:
    """What an event is played under."""
    changes = tuple(
        StandingChangeShape(
            title=change.overlay,
            number=change.number,
            says=change.sentence,
            local_rule=change.is_local_rule,
            keeps_rounds_out=not change.is_local_rule,
        )
        for change in under.changes
    )
    return UnderShape(
        book=under.book,
        stamp=under.stamp,
        trial=not under.is_acceptable,
        acceptable_for_handicap=under.is_acceptable,
        says=under.line,
        changes=changes,
    )
