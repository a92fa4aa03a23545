"""The ways in which the days of a forecast are played: the present rules, each change alone, and all together."""

from __future__ import annotations

from dataclasses import dataclass, replace

from marram.core.errors import MarramError
from marram.office.forecasts.forecast_asked import ForecastAsked
from marram.office.trials.some_changes import with_changes
from marram.rulebook.book import Book, open_book
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.simulation.assumed.assumptions import Assumptions
from marram.simulation.campaign.days_at_work import ArmAsked
from marram.simulation.campaign.field_of_day import FieldOfDay
from marram.simulation.campaign.what_happens import rules_played
from marram.simulation.settings.played_keys import COMMON, HowPlayed, PlayedKey, played_key
from marram.simulation.settings.played_settings import MAXIMUM_SET_AS, STOPS_AT_MAXIMUM, PlayedSettings, settings_of

PRESENT, TOGETHER, TERMS = "present", "together", "terms"
_OTHER_SEED = 1_000_003
_STOPPED = {STOPS_AT_MAXIMUM, MAXIMUM_SET_AS}
_HEIGHTS = {"knee_m", "shoulder_m", "any_height_m"}


@dataclass(frozen=True, slots=True, kw_only=True)
class WayPlayed:
    """One way of playing the days.

    Attributes:
        name: Its name.
        settings: What its book lets happen.
        stopped_share: Share of holes that players stop at the maximum.
        interval_min: Start interval.
        rests_on: Names of the assumed values that the difference from the present rests on.
    """

    name: str
    settings: PlayedSettings
    stopped_share: float
    interval_min: float
    rests_on: tuple[str, ...]

    def arm(self, field: FieldOfDay, assumed: Assumptions, asked: ForecastAsked, days: int) -> ArmAsked:
        """The days of this way, as they are asked for.

        Args:
            field: Holes and groups at its start interval.
            assumed: What is assumed.
            asked: What the forecast is asked with.
            days: How many days.
        """
        rules = rules_played(self.settings, assumed, stopped_share=self.stopped_share, seed=asked.seed)
        is_other = asked.is_independent and self.name != PRESENT
        return ArmAsked(rules=rules, field=field, seed=asked.seed + _OTHER_SEED * is_other, days=days)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePlayed:
    """A change, how it is played, and under which name its days go.

    Attributes:
        number: Its number; None for the terms of the day.
        change: The change; None as above.
        told: The change in words.
        how: How it is played; None where nothing plays it.
        by: Keys or terms by which it is played.
        why_not: Why it is not played; empty where it is.
        way: Its way of playing the days; None where it is not played.
    """

    number: int | None
    change: Change | None
    told: str
    how: PlayedKey | None
    by: tuple[str, ...]
    why_not: str
    way: WayPlayed | None

    @property
    def played(self) -> HowPlayed:
        """How it is played."""
        return HowPlayed.NOT_PLAYED if self.how is None or self.way is None else self.how.how


def present_way(book: Book, asked: ForecastAsked) -> WayPlayed:
    """The present rules and terms."""
    return WayPlayed(name=PRESENT, settings=settings_of(book), stopped_share=0.0, interval_min=asked.interval_min, rests_on=COMMON)


def changes_played(trial: Overlay, base: Book, asked: ForecastAsked) -> tuple[ChangePlayed, ...]:
    """Every change of a trial and of the terms of the day, with how it is played.

    Args:
        trial: The trial.
        base: The present book.
        asked: What the forecast is asked with.
    """
    of_trial = tuple(_change_played(trial, change, base, asked) for change in trial.changes)
    is_stopping = any(one.change and one.change.key in _STOPPED and one.way for one in of_trial)
    return (*of_trial, *_terms_played(base, asked, is_stopping=is_stopping))


def together_way(trial: Overlay, base: Book, asked: ForecastAsked, played: tuple[ChangePlayed, ...]) -> tuple[WayPlayed, Book]:
    """All changes at once, and the book of them.

    Args:
        trial: The trial.
        base: The present book.
        asked: What the forecast is asked with.
        played: How each change is played.

    Raises:
        RuleDataError: The changes make no book on the present one.
    """
    book = open_book(base.edition, [trial], base.catalogue)
    ways = [one.way for one in played if one.way is not None]
    return (
        WayPlayed(
            name=TOGETHER,
            settings=settings_of(book),
            stopped_share=max((way.stopped_share for way in ways), default=0.0),
            interval_min=asked.proposed_interval_min or asked.interval_min,
            rests_on=tuple(dict.fromkeys([*COMMON, *(name for way in ways for name in way.rests_on)])),
        ),
        book,
    )


def _change_played(trial: Overlay, change: Change, base: Book, asked: ForecastAsked) -> ChangePlayed:
    how = None if change.adds.rows else played_key(change.key)
    told = tell_change(base, change).sentence
    why_not, way = "no part of the game that is played here reads it", None
    if how is not None and change.key in _STOPPED and asked.stopped_share is None:
        why_not = "nobody stated on what share of holes players would stop"
    elif how is not None:
        try:
            book = open_book(base.edition, [with_changes(trial, {change.number})], base.catalogue)
            way, why_not = _way_of(change, book, how, asked), ""
        except MarramError as problem:
            why_not = f"it makes no book alone: {problem.message}"
    by = (change.key,) if way is not None else ()
    return ChangePlayed(number=change.number, change=change, told=told, how=how, by=by, why_not=why_not, way=way)


def _way_of(change: Change, book: Book, how: PlayedKey, asked: ForecastAsked) -> WayPlayed:
    stopped = asked.stopped_share if change.key in _STOPPED and asked.stopped_share is not None else 0.0
    settings = settings_of(book)
    rests_on = tuple(name for name in how.rests_on if name not in _HEIGHTS or name == settings.drop_height)
    name = f"change {change.number}"
    return WayPlayed(name=name, settings=settings, stopped_share=stopped, interval_min=asked.interval_min, rests_on=(*COMMON, *rests_on))


def _terms_played(base: Book, asked: ForecastAsked, *, is_stopping: bool) -> tuple[ChangePlayed, ...]:
    """What is proposed of the terms of the day: another start interval, and a maximum score that no change of the trial speaks of."""
    present, found = present_way(base, asked), []
    if asked.proposed_interval_min is not None:
        what = "when groups follow each other from the first tee"
        told = f"Start interval: {asked.proposed_interval_min:g} instead of {asked.interval_min:g} minutes."
        way = replace(present, name=f"{TERMS} interval", interval_min=asked.proposed_interval_min)
        found.append(_of_terms(told, PlayedKey(key="", what=what, shows=(), rests_on=()), "start interval", way))
    if asked.stopped_share is not None and not is_stopping:
        told = f"Maximum score: players stop on {asked.stopped_share:.0%} of their holes."
        known = played_key(STOPS_AT_MAXIMUM)
        assert known is not None
        way = replace(present, name=f"{TERMS} maximum", stopped_share=asked.stopped_share, rests_on=(*COMMON, *known.rests_on))
        found.append(_of_terms(told, known, "maximum score", way))
    return tuple(found)


def _of_terms(told: str, how: PlayedKey, by: str, way: WayPlayed) -> ChangePlayed:
    return ChangePlayed(number=None, change=None, told=told, how=how, by=(by,), why_not="", way=way)
