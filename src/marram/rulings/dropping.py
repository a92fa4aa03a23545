"""The drop under a book: what the book makes of each event, and what to do next, with the rule behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from marram.core.citations import Citation, merged
from marram.core.errors import DataError, RulingError
from marram.relief.drop import Drop, DropEvent, DropLaw, Stage, events_after, next_step
from marram.rulebook.book import Book
from marram.rulings.explain import fill, strokes_words

_AGAIN = "drop-again-not-counted"
_ROWS = {
    Stage.TO_DROP: ("drop-height", "drop-way"),
    Stage.FALLING: ("drop-first-touch",),
    Stage.ROLLING: ("redrop-cases",),
    Stage.WRONG_WAY: ("drop-wrong-way",),
    Stage.WRONG_WAY_INSIDE: ("drop-wrong-way",),
    Stage.WRONG_WAY_OUTSIDE: ("drop-wrong-way",),
    Stage.TO_PLACE: ("drops-before-placing", "after-second-drop"),
    Stage.TO_PLACE_AGAIN: ("place-after-drops-not-staying",),
    Stage.TO_PLACE_ELSEWHERE: ("place-after-drops-not-staying",),
    Stage.IN_PLAY: ("redrop-cases",),
    Stage.PLAYED: ("drop-wrong-way",),
}
_ROW_OF_EVENT = {
    DropEvent.TOUCHED_PERSON_BEFORE_GROUND: "drop-hits-person-before-ground",
    DropEvent.TOUCHED_PERSON_AFTER_GROUND: "drop-hits-person-after-ground",
    DropEvent.STOPPED_ON_PURPOSE: "drop-stopped-on-purpose",
    DropEvent.STOPPED_BY_ANOTHER: "drop-stopped-on-purpose",
    DropEvent.STOPPED_WITHOUT_CHANCE: "drop-stopped-on-purpose",
    DropEvent.FIRST_TOUCH_OUTSIDE: "drop-first-touch",
    DropEvent.RESTS_OUTSIDE: "redrop-cases",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class DropAnswer:
    """Where a drop stands under one book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        procedure: The relief that is dropped for; empty where none was named.
        drop: The drop.
        instruction: What to do next.
        can_follow: The events that can follow.
        citations: The rules.
    """

    book: str
    stamp: str
    procedure: str
    drop: Drop
    instruction: str
    can_follow: tuple[DropEvent, ...]
    citations: tuple[Citation, ...]


def read_events(text: str) -> tuple[DropEvent, ...]:
    """Events written one after another with commas.

    Raises:
        DataError: There is no such event; the error names the nearest.
    """
    words = [word.strip() for word in text.split(",") if word.strip()]
    for word in words:
        if word not in list(DropEvent):
            near = ", ".join(get_close_matches(word, list(DropEvent), n=3, cutoff=0.0))
            raise DataError(f"There is no event {word!r} in a drop.", where="--events", hint=f"Nearest: {near}.")
    return tuple(DropEvent(word) for word in words)


def guide_drop(book: Book, procedure: str, events: Sequence[DropEvent]) -> DropAnswer:
    """Follow a drop through its events.

    Args:
        book: The book.
        procedure: The row of the relief that is dropped for, without its family; empty for any.
        events: What happened, in order.

    Raises:
        RulingError: The book does not give that relief or does not drop for it, or an event cannot follow.
    """
    if procedure:
        _refuse_undropped(book, procedure)
    law, drop = drop_law(book), Drop()
    rows: tuple[str, ...] = _ROWS[drop.stage]
    for number, event in enumerate(events, start=1):
        try:
            drop = next_step(drop, event, law)
        except RulingError as problem:
            raise RulingError(problem.message, where=f"{book.name}, event {number}", hint=problem.hint) from None
        own = (_ROW_OF_EVENT[event],) if event in _ROW_OF_EVENT else ()
        rows = tuple(dict.fromkeys((*own, *_ROWS[drop.stage])))
    return DropAnswer(
        book=book.name,
        stamp=book.stamp,
        procedure=procedure,
        drop=drop,
        instruction=_instruction(book, drop, law),
        can_follow=events_after(drop, law),
        citations=merged(*(book.citations(row) for row in rows), book.citations(f"relief.{procedure}") if procedure else ()),
    )


def _refuse_undropped(book: Book, procedure: str) -> None:
    key = f"relief.{procedure}"
    if not book.has_row(key):
        raise RulingError(f"{book.name} has no such relief: {book.why_absent(key)}.", where="--procedure")
    if not book.yes(f"{key}.allowed").value:
        raise RulingError(book.word(f"{key}.why_not").value, where="--procedure", citations=book.citations(key))
    if book.has(f"{key}.put") and book.word(f"{key}.put").value != "drop":
        put = book.word(f"{key}.put").value
        raise RulingError(f"Nothing is dropped for this relief: the way is {put!r}.", where="--procedure", citations=book.citations(key))


def drop_law(book: Book) -> DropLaw:
    """What a book makes of each event of a drop."""
    is_counted = book.word("drops-before-placing.ends_when").value == "drops-used-up"
    chance = "drop-stopped-on-purpose.without_chance"
    return DropLaw(
        drops=int(book.number("drops-before-placing.drops").value) if is_counted else None,
        person_before_ground_annuls=book.word("drop-hits-person-before-ground.outcome").value == _AGAIN,
        person_after_ground_annuls=book.word("drop-hits-person-after-ground.outcome").value == _AGAIN,
        stopped_is_dropped_again=book.word("drop-stopped-on-purpose.outcome").value == _AGAIN,
        strokes_for_stopping=_strokes(book, "drop-stopped-on-purpose.strokes_for_player"),
        without_chance_counts=book.word(chance).value == "as-if-it-rested-outside" if book.has(chance) else None,
        strokes_played_inside=int(book.number("drop-wrong-way.strokes_if_played_inside").value),
        strokes_played_outside=_strokes(book, "drop-wrong-way.strokes_if_played_outside"),
        tries_on_spot=int(book.number("place-after-drops-not-staying.tries_on_spot").value),
    )


def _strokes(book: Book, key: str) -> int | None:
    return int(book.number(key).value) if book.has(key) else None


def _instruction(book: Book, drop: Drop, law: DropLaw) -> str:
    """What to do next, in the book's words."""
    part = drop.stage.value
    if drop.stage is Stage.WRONG_WAY or (drop.stage is Stage.TO_DROP and drop.was_annulled):
        part = "not-counted"
    elif drop.stage is Stage.TO_DROP and drop.counted > 0:
        part = "counted"
    fills = {
        "counted": str(drop.counted),
        "drops": "" if law.drops is None else str(law.drops),
        "inside": strokes_words(law.strokes_played_inside).lower(),
        "outside": "no source seen says what that costs"
        if law.strokes_played_outside is None
        else strokes_words(law.strokes_played_outside).lower(),
    }
    said = fill(book, book.word(f"drop-says.{part}").value, fills)
    return said if drop.penalty_strokes == 0 else f"{said} {strokes_words(drop.penalty_strokes)} so far."
