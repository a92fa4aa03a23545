"""The drop under a book: where it stands after its events and what to do next, with the rule behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from marram.core.citations import Citation, merged
from marram.core.errors import DataError, RulingError
from marram.core.field_names import Field
from marram.rulebook.book import Book
from marram.rulebook.consequences import Consequence
from marram.rulebook.vocabulary import Put
from marram.rulebook.wording.explain import cost_words, fill, strokes_words, word_said
from marram.rulings.case.closed import why_not_given
from marram.rulings.drop.law import drop_law
from marram.rulings.drop.states import Drop, DropEvent, DropLaw, LastDrop, Stage
from marram.rulings.drop.steps import cost_of_stroke, events_after, next_step

_WRONG_PLACE = "act.wrong-place-minor"
_ROWS = {
    Stage.TO_DROP: ("drop-height", "drop-way"),
    Stage.FALLING: ("drop-first-touch",),
    Stage.ROLLING: ("redrop-cases",),
    Stage.WRONG_WAY: ("drop-wrong-way", "correct-before-playing"),
    Stage.WRONG_WAY_INSIDE: ("drop-wrong-way", "correct-before-playing"),
    Stage.WRONG_WAY_OUTSIDE: ("drop-wrong-way", "correct-before-playing", "change-option-on-redrop"),
    Stage.WRONG_PLACE: ("drop-first-touch", _WRONG_PLACE, "correct-before-playing", "change-option-on-redrop"),
    Stage.BESIDE_LINE: ("drop-beside-line", "back-on-line-drop", "correct-before-playing", "change-option-on-redrop"),
    Stage.PLACED_INSTEAD: ("act.placed-when-drop-required", "correct-before-playing"),
    Stage.TO_PLACE: ("drops-before-placing", "after-second-drop", _WRONG_PLACE),
    Stage.TO_PLACE_AGAIN: ("place-after-drops-not-staying", _WRONG_PLACE),
    Stage.TO_PLACE_ELSEWHERE: ("place-after-drops-not-staying", _WRONG_PLACE),
    Stage.DROPPED_INSTEAD: ("third-drop-played", "correct-before-playing"),
    Stage.DROPPED_ON_SPOT: ("third-drop-played", "correct-before-playing"),
    Stage.IN_PLAY: ("redrop-cases",),
    Stage.MOVED_IN_PLAY: ("ball-moves-after-rest",),
    Stage.MOVED_AWAY: ("ball-moves-after-rest",),
    Stage.TO_REPLACE: ("ball-moves-after-rest", _WRONG_PLACE),
}
_ROWS_OF_LAST = {
    LastDrop.NONE: (),
    LastDrop.COUNTED: ("change-option-on-redrop", _WRONG_PLACE),
    LastDrop.NOT_COUNTED: ("change-option-on-redrop", _WRONG_PLACE),
    LastDrop.WRONG_WAY: ("drop-wrong-way",),
}
"""What stands behind dropping again, by what the last drop was."""
_ROW_OF_EVENT = {
    DropEvent.DROPPED_BY_PARTNER: "drop-by-whom",
    DropEvent.DROPPED_BY_AUTHORISED: "drop-by-other-person-disability",
    DropEvent.DROPPED_BY_ANOTHER: "drop-by-whom",
    DropEvent.OTHER_BALL: "substitute-on-drop",
    DropEvent.OTHER_BALL_OUT_OF_REACH: "substitute-on-drop",
    DropEvent.OTHER_OPTION: "change-option-on-redrop",
    DropEvent.OTHER_SPOT_ON_LINE: "back-on-line-drop",
    DropEvent.FIRST_TOUCH_BESIDE_LINE: "drop-beside-line",
    DropEvent.TOUCHED_PERSON_BEFORE_GROUND: "drop-hits-person-before-ground",
    DropEvent.TOUCHED_PERSON_AFTER_GROUND: "drop-hits-person-after-ground",
    DropEvent.STOPPED_ON_PURPOSE: "drop-stopped-on-purpose",
    DropEvent.STOPPED_BY_ANOTHER: "drop-stopped-on-purpose",
    DropEvent.STOPPED_WITHOUT_CHANCE: "drop-stopped-on-purpose",
    DropEvent.FIRST_TOUCH_OUTSIDE: "drop-first-touch",
    DropEvent.RESTS_OUTSIDE: "redrop-cases",
    DropEvent.CORRECTED: "correct-before-playing",
    DropEvent.THIRD_DROP: "third-drop-played",
    DropEvent.REPLACED_WITH_EQUIPMENT: "replace-with-equipment-disability",
}
_RESTS_ON = {
    DropEvent.DROPPED_BY_PARTNER: "drop-by-whom.partner_may",
    DropEvent.OTHER_OPTION: "change-option-on-redrop.wrong_place",
    DropEvent.OTHER_SPOT_ON_LINE: "back-on-line-drop.second_spot_may_change",
    DropEvent.STOPPED_WITHOUT_CHANCE: "drop-stopped-on-purpose.without_chance",
    DropEvent.THIRD_DROP: "third-drop-played.played_elsewhere",
    DropEvent.REPLACED_WITH_EQUIPMENT: "replace-with-equipment-disability.allowed",
}
"""What an event rests on that not every book states."""
_TO_PLACE = frozenset({Stage.TO_PLACE, Stage.TO_PLACE_AGAIN, Stage.TO_PLACE_ELSEWHERE})


@dataclass(frozen=True, slots=True, kw_only=True)
class DropAnswer:
    """Where a drop stands under one book.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        procedure: The relief that is dropped for; empty where none was named.
        drop: The drop.
        instruction: What to do next.
        if_played: What a stroke at the ball as it lies now costs; None where there is nothing to be played, or no source says.
        can_follow: The events that can follow.
        citations: The rules.
    """

    book: str
    stamp: str
    procedure: str
    drop: Drop
    instruction: str
    if_played: Consequence | None
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
            raise DataError(f"There is no event {word!r} in a drop.", field=Field.EVENTS, hint=f"Nearest: {near}.")
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
    law, drop = drop_law(book, procedure), Drop()
    rows = _start_rows(law)
    for number, event in enumerate(events, start=1):
        before, drop = drop, _step(book, drop, event, law, number)
        rows = _rows(before, event, drop, law)
    return DropAnswer(
        book=book.name,
        stamp=book.stamp,
        procedure=procedure,
        drop=drop,
        instruction=" ".join(_instruction(book, drop, law, events)),
        if_played=cost_of_stroke(drop, law),
        can_follow=events_after(drop, law),
        citations=merged(*(book.citations(row) for row in rows), book.citations(f"relief.{procedure}") if procedure else ()),
    )


def _step(book: Book, drop: Drop, event: DropEvent, law: DropLaw, number: int) -> Drop:
    try:
        return next_step(drop, event, law)
    except RulingError as problem:
        message = " ".join([problem.message, *_why_unknown(book, drop, event)])
        unnamed = " Name the relief in `procedure`." if event in {DropEvent.OTHER_BALL, DropEvent.OTHER_BALL_OUT_OF_REACH} else ""
        raise RulingError(message, where=f"{book.name}, event {number}", hint=problem.hint + unnamed) from None


def _why_unknown(book: Book, drop: Drop, event: DropEvent) -> Iterator[str]:
    """Where an event is refused because the sources are silent, and not because it cannot happen."""
    if event in _RESTS_ON and not book.has(_RESTS_ON[event]):
        yield f"No source seen says what {book.name} makes of it."
    elif event is DropEvent.STROKE and drop.stage is Stage.WRONG_WAY_OUTSIDE:
        yield "No source seen says what that costs."
    elif event is DropEvent.OTHER_OPTION and drop.counted > 0:
        yield "No source seen says what becomes of drops already counted."


def _start_rows(law: DropLaw) -> tuple[str, ...]:
    authorised = ("drop-by-other-person-disability",) if law.authorised_may_drop else ()
    return (*_ROWS[Stage.TO_DROP], "drop-by-whom", *authorised, "mark-spot-before-relief")


def _rows(before: Drop, event: DropEvent, after: Drop, law: DropLaw) -> tuple[str, ...]:
    """The rows behind an event and what follows it; behind a stroke, those that say what it costs."""
    drop = before if event is DropEvent.STROKE else after
    own = (_ROW_OF_EVENT[event],) if event in _ROW_OF_EVENT else ()
    last = _ROWS_OF_LAST[drop.last] if drop.stage is Stage.TO_DROP else ()
    ball = ("substitute-on-drop", "act.incorrect-substitution") if drop.has_wrong_ball else ()
    is_on_line = law.is_on_line and (drop.stage is Stage.ROLLING or DropEvent.OTHER_SPOT_ON_LINE in events_after(drop, law))
    line = ("back-on-line-drop",) if is_on_line else ()
    return tuple(dict.fromkeys((*own, *_ROWS[drop.stage], *last, *line, *ball)))


def _refuse_undropped(book: Book, procedure: str) -> None:
    key = f"relief.{procedure}"
    if not book.has_row(key):
        raise RulingError(f"{book.name} has no such relief: {book.why_absent(key)}.", field=Field.PROCEDURE)
    if not book.yes(f"{key}.allowed").value:
        raise RulingError(why_not_given(book, key), field=Field.PROCEDURE, citations=book.citations(key))
    if book.has(f"{key}.put") and book.word(f"{key}.put").value != Put.DROP:
        put = book.word(f"{key}.put").value
        said = f"Nothing is dropped for this relief: the ball is {word_said(book, f'{key}.put', put)}."
        raise RulingError(said, field=Field.PROCEDURE, citations=book.citations(key))


def _instruction(book: Book, drop: Drop, law: DropLaw, events: Sequence[DropEvent]) -> Iterator[str]:
    """What to do next, in the book's words, sentence by sentence."""
    fills = {
        "counted": str(drop.counted),
        "drops": "" if law.drops is None else str(law.drops),
        "cost": cost_words(cost_of_stroke(drop, law)),
        "players": ", ".join(_players(book)).replace("-", " "),
        "perhaps": cost_words(book.cases("drop-beside-line.perhaps").value[-1]) if book.has("drop-beside-line.perhaps") else "",
    }
    more = _more_sentences(book, drop, law, events[-1]) if events else _first_sentences(book, law)
    for part in (_main_sentence(drop), *more):
        yield fill(book, book.word(f"drop-says.{part}").value, fills)
    if drop.penalty_strokes or drop.loses_hole:
        hole = " In match play the hole is lost." if drop.loses_hole else ""
        yield f"{strokes_words(drop.penalty_strokes)} so far.{hole}"


def _main_sentence(drop: Drop) -> str:
    if drop.stage is Stage.WRONG_WAY or (drop.stage is Stage.TO_DROP and drop.last in {LastDrop.NOT_COUNTED, LastDrop.WRONG_WAY}):
        return "not-counted"
    if drop.stage is Stage.IN_PLAY and drop.has_wrong_ball:
        return "wrong-ball"
    return "counted" if drop.stage is Stage.TO_DROP and drop.counted > 0 else drop.stage.value


def _players(book: Book) -> tuple[str, ...]:
    key = "drop-by-other-person-disability.players"
    return book.words(key).value if book.has(key) else ()


def _first_sentences(book: Book, law: DropLaw) -> Iterator[str]:
    """What is said before the first drop: who drops, and whether the spot is marked."""
    yield "who-drops"
    if law.authorised_may_drop and _players(book):
        yield "authorised"
        key = "drop-by-other-person-disability.general_authorisation"
        if book.has(key) and book.yes(key).value:
            yield "authorised-once"
    yield "marked" if book.yes("mark-spot-before-relief.required").value else "unmarked"


def _more_sentences(book: Book, drop: Drop, law: DropLaw, event: DropEvent) -> Iterator[str]:
    """What is said besides: what may change in the next drop, and what playing the ball anyway costs."""
    open_events = events_after(drop, law)
    if event is DropEvent.STOPPED_ON_PURPOSE and law.stopping is None:
        yield "stopping-unknown"
    if drop.stage is Stage.ROLLING and law.is_on_line:
        yield from _on_line_sentences(book)
    if drop.stage is Stage.TO_DROP and drop.last in {LastDrop.COUNTED, LastDrop.NOT_COUNTED}:
        if book.has("change-option-on-redrop.right_place"):
            yield "same-option"
        if DropEvent.OTHER_SPOT_ON_LINE in open_events:
            yield "another-spot"
        yield "played-anyway"
    if drop.stage in _TO_PLACE:
        yield "played-anyway"
    if DropEvent.OTHER_OPTION in open_events:
        yield "another-option"
    if drop.stage is Stage.BESIDE_LINE and book.has("drop-beside-line.perhaps"):
        yield "perhaps"
    if drop.has_wrong_ball and drop.stage not in {Stage.IN_PLAY, Stage.PLAYED}:
        yield "wrong-ball"


def _on_line_sentences(book: Book) -> Iterator[str]:
    row = "back-on-line-drop"
    if book.has(f"{row}.forward_of_first_touch") and book.yes(f"{row}.forward_of_first_touch").value:
        yield "forward-allowed"
    if book.has(f"{row}.forward_of_reference") and not book.yes(f"{row}.forward_of_reference").value:
        yield "forward-barred"
