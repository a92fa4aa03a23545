"""What a book makes of each event of a drop, read from its rows."""

from __future__ import annotations

from collections.abc import Iterator

from marram.rulebook.book import Book
from marram.rulebook.consequences import Consequence
from marram.rulebook.drop_words import DropsEnd, MovedAway, TouchedElsewhere, WithoutChance
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.drop.states import Ball, BesideLine, DropLaw, Touch


def drop_law(book: Book, procedure: str = "") -> DropLaw:
    """What a book makes of each event of a drop.

    Args:
        book: The book.
        procedure: The row of the relief that is dropped for, without its family; empty for any.
    """
    return DropLaw(
        drops=int(book.number("drops-before-placing.drops").value) if _are_counted(book) else None,
        partner_may_drop=book.yes("drop-by-whom.partner_may").value if book.has("drop-by-whom.partner_may") else None,
        authorised_may_drop=_authorised_may_drop(book),
        ball=_which_ball(book, procedure),
        other_ball_for_one_out_of_reach=_yes(book, "substitute-on-drop.another_if_out_of_reach"),
        wrong_ball=_needed(book, "act.incorrect-substitution.cases"),
        other_option_after_wrong_place=book.has("change-option-on-redrop.wrong_place"),
        other_spot_on_line=_yes(book, "back-on-line-drop.second_spot_may_change"),
        person_before_ground=Touch(book.word("drop-hits-person-before-ground.outcome").value),
        person_after_ground=Touch(book.word("drop-hits-person-after-ground.outcome").value),
        first_touch_outside_is_wrong_place=book.word("drop-first-touch.otherwise").value == TouchedElsewhere.WRONG_PLACE,
        is_on_line=_may_be_on_line(book, procedure),
        beside_line=BesideLine(book.word("drop-beside-line.outcome").value),
        beside_line_played=_penalty(book, "drop-beside-line.played"),
        stopped_is_dropped_again=book.word("drop-stopped-on-purpose.outcome").value == Touch.AGAIN,
        stopping=_penalty(book, "drop-stopped-on-purpose.for_player"),
        without_chance_counts=_without_chance(book),
        wrong_way_inside=_needed(book, "drop-wrong-way.played_inside"),
        wrong_way_outside=_penalty(book, "drop-wrong-way.played_outside"),
        wrong_place=_needed(book, "act.wrong-place-minor.cases"),
        placed_instead=_needed(book, "act.placed-when-drop-required.cases"),
        third_drop_on_spot=_penalty(book, "third-drop-played.played_on_spot"),
        third_drop_elsewhere=_penalty(book, "third-drop-played.played_elsewhere"),
        correcting_strokes=int(book.number("correct-before-playing.strokes").value),
        tries_on_spot=int(book.number("place-after-drops-not-staying.tries_on_spot").value),
        moved_away_is_replaced=book.word("ball-moves-after-rest.to_another_area").value == MovedAway.REPLACED,
        equipment_may_replace=_yes(book, "replace-with-equipment-disability.allowed"),
    )


def _needed(book: Book, key: str) -> Consequence:
    """The penalty of a key that every book has; the last case is the one that holds without any fact."""
    return book.cases(key).value[-1]


def _penalty(book: Book, key: str) -> Consequence | None:
    return _needed(book, key) if book.has(key) else None


def _yes(book: Book, key: str) -> bool:
    return book.has(key) and book.yes(key).value


def _are_counted(book: Book) -> bool:
    return book.word("drops-before-placing.ends_when").value == DropsEnd.DROPS_USED_UP


def _without_chance(book: Book) -> bool | None:
    key = "drop-stopped-on-purpose.without_chance"
    return book.word(key).value == WithoutChance.AS_IF_IT_RESTED_OUTSIDE if book.has(key) else None


def _authorised_may_drop(book: Book) -> bool:
    row = "drop-by-other-person-disability"
    return _yes(book, f"{row}.allowed") and (_yes(book, f"{row}.adopted") or not _yes(book, f"{row}.by_local_rule"))


def _measured_by(book: Book, procedure: str) -> Iterator[str]:
    """The rows by which a relief is carried out: its own, or those that it follows."""
    key = f"relief.{procedure}"
    followed = book.words(f"{key}.follow").value if book.has(f"{key}.follow") else ()
    if not followed:
        yield key
    for name in followed:
        yield from _measured_by(book, name)


def _may_be_on_line(book: Book, procedure: str) -> bool:
    """Whether the relief may be one on the line from the hole; of a relief that is not named it is not known, and may be."""
    keys = [f"{row}.reference" for row in _measured_by(book, procedure)] if procedure else []
    return not procedure or any(book.has(key) and book.word(key).value == MeasuredFrom.POINT_ON_LINE for key in keys)


def _which_ball(book: Book, procedure: str) -> Ball:
    if procedure:
        keys = [f"{row}.which" for row in _measured_by(book, procedure)]
        named = {Ball(book.word(key).value) for key in keys if book.has(key)}
    else:
        named = {Ball(book.word(f"substitute-on-drop.{part}").value) for part in ("free_relief", "penalty_relief")}
    return named.pop() if len(named) == 1 else Ball.DEPENDS_ON_RELIEF
