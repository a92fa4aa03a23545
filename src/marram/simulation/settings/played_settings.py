"""What the simulation takes from a rule book, as plain values: a kernel never sees a book."""

from __future__ import annotations

from dataclasses import dataclass

from marram.rulebook.book import Book
from marram.simulation.assumed.assumptions import Assumptions
from marram.simulation.dropped_ball.drop_chances import MOST_DROPS, DropRules

SEARCH_LIMIT = "search.limit_min"
DROP_HEIGHT = "drop-height.height"
DROPS = "drops-before-placing.drops"
ROLL_LIMIT, RESTS_INSIDE = "dropped-ball-roll-limit.roll_limit", "dropped-ball-roll-limit.must_rest_in_area"
LATERAL_SIZE, SMALL_SIZE = "relief.lateral.size", "relief.small.size"
OVERHANGING_WAIT = "overhanging-ball-wait.wait_s"
FLAGSTICK = "act.flagstick-unattended-hit-from-green.cases"
REPAIR = "act.repair-spike-mark.cases"
OUT_OF_TURN = "form.stroke-play.out_of_turn"
STOPS_AT_MAXIMUM, MAXIMUM_SET_AS = "maximum-score.stops", "maximum-score.set_as"
_ENCOURAGED = "encouraged-when-safe"
_PLAIN_AFTER_DROPS = 1
_HEIGHTS = {"shoulder": "shoulder_m", "knee-as-when-standing": "knee_m", "any-above-ground-and-growth": "any_height_m"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedSettings:
    """What a book lets happen, as far as it is played.

    Attributes:
        search_limit_min: Longest search.
        drop_height: The assumption that tells from which height a ball falls.
        drops: Drops before the ball is placed.
        must_rest_in_area: Whether a dropped ball has to rest in the relief area.
        roll_limit: Farthest rest from its first touch as metres and clubs; None where the book sets none.
        lateral_size: Size of the large relief area, as metres and clubs.
        small_size: Size of the small one.
        overhanging_wait_s: Longest wait for a ball that overhangs the hole.
        flagstick_may_stay: Whether a ball played on the green may hit the flagstick in the hole without penalty.
        repairs_allowed: Whether spike marks on the line of putt may be repaired.
        is_out_of_turn_encouraged: Whether players are encouraged to play out of turn to save time.
        is_stopping_encouraged: Whether players are encouraged to pick up at a maximum score.
    """

    search_limit_min: float
    drop_height: str
    drops: int
    must_rest_in_area: bool
    roll_limit: tuple[float, float] | None
    lateral_size: tuple[float, float]
    small_size: tuple[float, float]
    overhanging_wait_s: float
    flagstick_may_stay: bool
    repairs_allowed: bool
    is_out_of_turn_encouraged: bool
    is_stopping_encouraged: bool

    def drop_rules(self, assumed: Assumptions, *, is_large: bool) -> DropRules:
        """What is said of a drop, on the ground.

        Args:
            assumed: What is assumed of heights and clubs.
            is_large: Whether the relief area is the large one.
        """
        club_m = assumed.value("longest_club_m")
        metres, clubs = self.lateral_size if is_large else self.small_size
        roll = None if self.roll_limit is None else self.roll_limit[0] + self.roll_limit[1] * club_m
        return DropRules(
            height_m=assumed.value(self.drop_height),
            radius_m=metres + clubs * club_m,
            drops=self.drops,
            must_rest_in_area=self.must_rest_in_area,
            roll_limit_m=roll,
        )


def settings_of(book: Book) -> PlayedSettings:
    """What the simulation takes from a book.

    Args:
        book: The book.

    Raises:
        RuleDataError: The book lacks a value without which no day can be played.
    """
    return PlayedSettings(
        search_limit_min=book.number(SEARCH_LIMIT).value,
        drop_height=_HEIGHTS[book.word(DROP_HEIGHT).value],
        drops=min(int(book.number(DROPS).value), MOST_DROPS) if book.has(DROPS) else _PLAIN_AFTER_DROPS,
        must_rest_in_area=book.yes(RESTS_INSIDE).value,
        roll_limit=size_parts(book, ROLL_LIMIT) if book.has(ROLL_LIMIT) else None,
        lateral_size=size_parts(book, LATERAL_SIZE),
        small_size=size_parts(book, SMALL_SIZE),
        overhanging_wait_s=book.number(OVERHANGING_WAIT).value,
        flagstick_may_stay=_is_free(book, FLAGSTICK),
        repairs_allowed=_is_free(book, REPAIR),
        is_out_of_turn_encouraged=book.word(OUT_OF_TURN).value == _ENCOURAGED,
        is_stopping_encouraged=book.has(STOPS_AT_MAXIMUM),
    )


def size_parts(book: Book, key: str) -> tuple[float, float]:
    """A size as metres, and as clubs of a length that is not settled yet.

    Args:
        book: The book.
        key: Key of the size.

    Raises:
        RuleDataError: The book has no such size.
    """
    size = book.size(key).value
    return (0.0, size.amount) if size.needs_club else (size.in_metres(1.0), 0.0)


def _is_free(book: Book, key: str) -> bool:
    """Whether an act costs nothing in stroke play, whatever else is true."""
    cases = [case.in_stroke_play for case in book.cases(key).value]
    return all(case is None or (case.strokes == 0 and case.is_allowed and not case.is_out) for case in cases)
