"""The search clock: from what happened and when to whether a ball was found in time, under a book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.core.errors import DataError, RulingError
from marram.core.field_names import Field
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import fill

MINUTE_S = 60
_SUSPENDED, _BROKEN_OFF = "search.stops_while_suspended", "search.stops_for_good_reason"
_WRONG_BALL, _IDENTIFYING = "search.wrong_ball_time_counts", "search.identifying_counts"
_AFTER_GOING_FORWARD, _FROM_NEARER = "act.provisional-after-going-forward", "act.provisional-played-past"
_STAYS_PROVISIONAL = "provisional"
_STROKE_AND_DISTANCE = "relief.lost-or-out-of-bounds"


class SearchEvent(StrEnum):
    """What may happen while a ball is looked for."""

    START = "start"
    SUSPENDED = "suspended"
    INTERRUPTED = "interrupted"
    RESUMED = "resumed"
    WRONG_BALL_PLAYED = "wrong-ball-played"
    WRONG_BALL_DONE = "wrong-ball-done"
    FOUND = "found"
    IDENTIFIED = "identified"
    ANOTHER_BALL = "another-ball"
    GONE_FORWARD = "gone-forward"
    PROVISIONAL = "provisional"
    PROVISIONAL_FROM_NEARER = "provisional-from-nearer"
    STROKE_AND_DISTANCE = "stroke-and-distance"
    NOW = "now"


class SearchState(StrEnum):
    """Where a search stands."""

    NOT_BEGUN = "not-begun"
    SEARCHING = "searching"
    STANDING_STILL = "standing-still"
    FOUND = "found"
    IDENTIFIED = "identified"
    LOST = "lost"
    FOUND_TOO_LATE = "found-too-late"
    ANOTHER_IN_PLAY = "another-in-play"


class OtherBall(StrEnum):
    """What a second ball played from where the first was played is, once the search stands where it does."""

    NONE = "none"
    PROVISIONAL = "provisional"
    IN_PLAY = "in-play"
    ABANDONED = "abandoned"


_RESTS_ON = {
    SearchEvent.SUSPENDED: _SUSPENDED,
    SearchEvent.INTERRUPTED: _BROKEN_OFF,
    SearchEvent.WRONG_BALL_PLAYED: _WRONG_BALL,
    SearchEvent.ANOTHER_BALL: _IDENTIFYING,
}
"""What an event rests on that not every book states."""
_NOT_STATED = {
    _SUSPENDED: "whether the clock stands still after suspended",
    _BROKEN_OFF: "whether the clock stands still while the search is broken off for a good reason",
    _WRONG_BALL: "whether the clock stands still after wrong ball played",
    _IDENTIFYING: "whether the time counts that it took to see that the ball is another one",
}

Timed = tuple[SearchEvent, int]
"""An event with the second at which it happened."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchAnswer:
    """Where a search stands under one book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        state: Where it stands.
        limit_s: Time allowed, seconds.
        searched_s: Time that has counted.
        left_s: Time left; zero when it is over.
        other_ball: What the second ball is, where one was played.
        penalty_strokes: Penalty strokes that come with the ball that is in play.
        says: The same in words.
        not_stated: What the book does not state and was counted as search.
        citations: The rules.
    """

    book: str
    stamp: str
    state: SearchState
    limit_s: int
    searched_s: int
    left_s: int
    other_ball: OtherBall
    penalty_strokes: int
    says: str
    not_stated: tuple[str, ...]
    citations: tuple[Citation, ...]


def read_timed(text: str) -> tuple[Timed, ...]:
    """Events such as ``start@0:00,found@2:40``, in minutes and seconds or in seconds.

    Raises:
        DataError: An event is not known, has no time, or comes before the one that it follows.
    """
    found: list[Timed] = []
    for word in (part.strip() for part in text.split(",") if part.strip()):
        name, _, clock = word.partition("@")
        if name not in list(SearchEvent):
            near = ", ".join(get_close_matches(name, list(SearchEvent), n=3, cutoff=0.0))
            raise DataError(f"There is no event {name!r} in a search.", field=Field.EVENTS, hint=f"Nearest: {near}.")
        second = _second(clock)
        if second is None:
            raise DataError(f"{word!r} has no time.", field=Field.EVENTS, hint="Give minutes and seconds, such as found@2:40, or seconds.")
        if found and second < found[-1][1]:
            raise DataError(
                f"{word} comes before {found[-1][0].value}: times run backwards.", field=Field.EVENTS, hint="Give them in order."
            )
        found.append((SearchEvent(name), second))
    return tuple(found)


def _second(clock: str) -> int | None:
    minutes, colon, seconds = clock.partition(":")
    if colon:
        is_sound = minutes.isdigit() and seconds.isdigit() and int(seconds) < MINUTE_S
        return int(minutes) * MINUTE_S + int(seconds) if is_sound else None
    return int(clock) if clock.isdigit() else None


def follow_search(book: Book, events: Sequence[Timed]) -> SearchAnswer:
    """Follow a search through its events.

    Args:
        book: The book.
        events: What happened and when, in order; ``now`` asks where it stands at a time.

    Raises:
        RulingError: An event cannot follow what came before.
    """
    limit_s = int(book.number("search.limit_min").value * MINUTE_S)
    clock = _Clock(book, limit_s)
    for event, second in events:
        clock.take(event, second)
    left_s = max(0, limit_s - clock.searched_s)
    fills = {"left": _told(left_s), "limit": _told(limit_s), "late": _told(max(0, clock.searched_s - limit_s))}
    words = [f"search-says.{clock.state.value}", *([f"search-says.other-{clock.other.value}"] if clock.other is not OtherBall.NONE else [])]
    is_second_in_play = clock.other is OtherBall.IN_PLAY
    return SearchAnswer(
        book=book.name,
        stamp=book.stamp,
        state=clock.state,
        limit_s=limit_s,
        searched_s=clock.searched_s,
        left_s=left_s,
        other_ball=clock.other,
        penalty_strokes=int(book.number(f"{_STROKE_AND_DISTANCE}.penalty_strokes").value) if is_second_in_play else 0,
        says=" ".join(fill(book, book.word(key).value, fills) for key in words),
        not_stated=tuple(dict.fromkeys(clock.not_stated)),
        citations=merged(book.citations("search"), *(book.citations(row) for row in clock.rows_read)),
    )


def _told(seconds: int) -> str:
    minutes, rest = divmod(seconds, MINUTE_S)
    return f"{minutes} min {rest:02d} s" if minutes else f"{rest} s"


class _Clock:
    """The clock while events are taken one after the other."""

    def __init__(self, book: Book, limit_s: int) -> None:
        self.book, self.limit_s = book, limit_s
        self.state, self.searched_s, self.since_s, self.found_s = SearchState.NOT_BEGUN, 0, 0, 0
        self.other, self.has_gone_forward = OtherBall.NONE, False
        self.not_stated: list[str] = []
        self.rows_read: list[str] = []

    def take(self, event: SearchEvent, second: int) -> None:
        """Take an event at a second."""
        self._run_to(second)
        if event not in self._possible():
            message = f"{event.value} cannot follow while the search is {self.state.value}."
            raise RulingError(message, where=self.book.name, hint=f"What can follow: {', '.join(self._possible())}.")
        key = _RESTS_ON.get(event)
        if key is not None and not self.book.has(key):
            self.not_stated.append(_NOT_STATED[key])
        self.has_gone_forward |= event is SearchEvent.GONE_FORWARD
        if event in {SearchEvent.PROVISIONAL, SearchEvent.PROVISIONAL_FROM_NEARER}:
            self._play_second(event)
            return
        if event is SearchEvent.STROKE_AND_DISTANCE:
            self._put_in_play()
            return
        if event is SearchEvent.ANOTHER_BALL:
            self._was_not_it(second)
            return
        self.state = self._moves().get(event, self.state)
        self.found_s = second if event is SearchEvent.FOUND else self.found_s
        if self.state is SearchState.IDENTIFIED:
            self.rows_read.append("identify-after-search-time")
            self.other = OtherBall.ABANDONED if self.other is OtherBall.PROVISIONAL else self.other

    def _was_not_it(self, second: int) -> None:
        """The ball was another one: looking goes on, and the time taken to see that counts unless the book says that it does not."""
        self.state = SearchState.SEARCHING
        if not self.book.has(_IDENTIFYING) or self.book.yes(_IDENTIFYING).value:
            self.since_s = self.found_s
            self._run_to(second)

    def _run_to(self, second: int) -> None:
        """Let the clock run; once the time is over the ball is lost, and a provisional ball is in play."""
        if self.state in {SearchState.SEARCHING, SearchState.LOST}:
            self.searched_s += second - self.since_s
        self.since_s = second
        if self.state is SearchState.SEARCHING and self.searched_s > self.limit_s:
            self.state = SearchState.LOST
            if self.other is OtherBall.PROVISIONAL:
                self.other = OtherBall.IN_PLAY
                self.rows_read.append(_STROKE_AND_DISTANCE)

    def _play_second(self, event: SearchEvent) -> None:
        """A second ball: provisional, or at once the ball in play, which ends the search for the first."""
        row = _FROM_NEARER if event is SearchEvent.PROVISIONAL_FROM_NEARER else _AFTER_GOING_FORWARD if self.has_gone_forward else ""
        is_provisional = not row or self.book.cases(f"{row}.cases").value[-1].ball == _STAYS_PROVISIONAL
        self.rows_read += [row] if row else ["provisional-going-forward"]
        if is_provisional and self.state is not SearchState.LOST:
            self.other = OtherBall.PROVISIONAL
            return
        self._put_in_play()

    def _put_in_play(self) -> None:
        """Another ball is in play under stroke and distance, and the first is lost, whatever is found afterwards."""
        self.other, self.state = OtherBall.IN_PLAY, SearchState.ANOTHER_IN_PLAY
        self.rows_read.append(_STROKE_AND_DISTANCE)

    def _possible(self) -> list[SearchEvent]:
        """What can follow, in the order in which events are listed."""
        return [event for event in SearchEvent if event in self._moves() or event is SearchEvent.NOW or self._may_play(event)]

    def _may_play(self, event: SearchEvent) -> bool:
        """Whether a player may go forward, play a second ball, or play the second from nearer the hole."""
        before_found = self.state in {SearchState.NOT_BEGUN, SearchState.SEARCHING, SearchState.STANDING_STILL}
        if event is SearchEvent.GONE_FORWARD:
            return before_found
        if event is SearchEvent.STROKE_AND_DISTANCE:
            return self.state is not SearchState.ANOTHER_IN_PLAY
        if event is SearchEvent.PROVISIONAL:
            return self.other is OtherBall.NONE and (before_found or self.state is SearchState.LOST)
        return event is SearchEvent.PROVISIONAL_FROM_NEARER and self.other is OtherBall.PROVISIONAL and before_found

    def _moves(self) -> dict[SearchEvent, SearchState]:
        return {
            SearchState.NOT_BEGUN: {SearchEvent.START: SearchState.SEARCHING},
            SearchState.SEARCHING: {
                SearchEvent.FOUND: SearchState.FOUND,
                SearchEvent.SUSPENDED: self._pause(_SUSPENDED, stops=True),
                SearchEvent.INTERRUPTED: self._pause(_BROKEN_OFF, stops=True),
                SearchEvent.WRONG_BALL_PLAYED: self._pause(_WRONG_BALL, stops=False),
                SearchEvent.RESUMED: SearchState.SEARCHING,
                SearchEvent.WRONG_BALL_DONE: SearchState.SEARCHING,
            },
            SearchState.STANDING_STILL: {
                SearchEvent.RESUMED: SearchState.SEARCHING,
                SearchEvent.WRONG_BALL_DONE: SearchState.SEARCHING,
            },
            SearchState.FOUND: {SearchEvent.IDENTIFIED: SearchState.IDENTIFIED, SearchEvent.ANOTHER_BALL: SearchState.SEARCHING},
            SearchState.ANOTHER_IN_PLAY: {SearchEvent.FOUND: SearchState.ANOTHER_IN_PLAY},
            SearchState.LOST: {
                SearchEvent.FOUND: SearchState.FOUND_TOO_LATE,
                **dict.fromkeys((SearchEvent.RESUMED, SearchEvent.WRONG_BALL_DONE), SearchState.LOST),  # they end what the time ran out in
            },
        }.get(self.state, {})

    def _pause(self, key: str, *, stops: bool) -> SearchState:
        """The clock stands still where the book says so; what it does not state counts as search, and that is told."""
        if not self.book.has(key):
            return SearchState.SEARCHING
        return SearchState.STANDING_STILL if self.book.yes(key).value is stops else SearchState.SEARCHING
