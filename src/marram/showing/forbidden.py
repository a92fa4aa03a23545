"""What a procedure forbids: lines that a guide shows to players, each with the rule behind it.

Which line is said follows from the rows of the procedure and of dropping; the sentences come from the row ``forbids``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from marram.core.citations import Citation, merged
from marram.course.locate import locate
from marram.rulebook.vocabulary import ClearOf, KeepsTo, Leaves, NoNearerThan, Put, ReliefShape, WhichBall
from marram.rulebook.wording.explain import ROLL_LIMIT, area_words, fill, noting_told, size_with_metres, term
from marram.rulings.case.case import Case
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import Option, Ruling
from marram.rulings.drop.law import drop_law

_DISCS = frozenset({ReliefShape.DISC, ReliefShape.DISC_AT_CHOSEN_POINT, ReliefShape.BAND_TO_FAIRWAY})
_OF_THE_SIZE = frozenset({"beyond"})
"""Lines that rest on the size, which a trial may have set; the others rest on the procedure alone."""
_RESTS_ON: Mapping[str, tuple[str, ...]] = {
    "as_it_lies": ("mandatory",),
    "nearer": ("no_nearer_than", "shape", "clear_of", "leaves"),
    "beside_line": ("shape",),
    "another_spot": ("shape", "put"),
    "back_in": ("leaves",),
    "area_first_touched": ("rests_in_area_first_touched",),
    "other_area": ("keeps_to",),
    "on_green": ("off_greens",),
    "interferes": ("clear_of",),
    "another_ball": ("which",),
}
"""Parts of the procedure's row that a line rests on: a change of one of them is cited there."""
_BY_REST = "judged-by-rest"
_POINTS: Mapping[str, str] = {
    NoNearerThan.REFERENCE_POINT: "the point measured from",
    NoNearerThan.CROSSING_POINT: "the point of crossing",
    NoNearerThan.BALL_SPOT: "the spot of the ball",
}
_PARTS: Mapping[str, str] = {
    ClearOf.LIE: "the lie of the ball",
    ClearOf.STANCE: "the stance",
    ClearOf.SWING: "the swing",
    ClearOf.LINE_OF_PLAY: "the line of play",
    ClearOf.LINE_OF_PLAY_ON_GREEN: "the line of play",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Forbidden:
    """One thing that is forbidden, or that makes a drop count for nothing.

    Attributes:
        about: What it is about; lines of two books about one thing are compared by it.
        text: The sentence.
        citations: The rules behind it.
    """

    about: str
    text: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """An option with the row that tells it and the row that measures it.

    Attributes:
        case: The incident on its course under the book.
        option: The option.
    """

    case: Case
    option: Option

    @property
    def procedure(self) -> Procedure:
        """The row that measures, led by the row that tells."""
        told = Procedure(case=self.case, id=self.option.procedure)
        measured = self.option.carried_out_as
        return told.follows(self.case, measured) if measured and measured != told.id else told


def forbidden_by(carried: Carried, ruling: Ruling) -> tuple[Forbidden, ...]:
    """Everything that is forbidden when an option is taken.

    Args:
        carried: The option.
        ruling: The ruling that it belongs to; what the ruling says is not available is told as well.
    """
    lines = [*_mandatory(carried), *_ground(carried), *_way(carried), *_ball(carried)]
    closed = [
        Forbidden(about=entry.procedure, text=f"{entry.title}: not available. {entry.because}", citations=entry.citations)
        for entry in ruling.not_available
    ]
    return tuple(lines + closed)


def _line(carried: Carried, about: str, fills: dict[str, str], *rows: str) -> Forbidden:
    """A sentence, with the rules of the rows that it rests on; the procedure's own where none is named."""
    book = carried.case.book
    with noting_told() as told:
        text = fill(book, book.word(f"forbids.{about}").value, fills)
    own = tuple(citation for citation in carried.option.citations if citation.overlay is None or about in _OF_THE_SIZE)
    cited = merged(*(book.citations(row) for row in rows)) or own or carried.option.citations
    parts = (f"{row}.{part}" for row in carried.option.rows for part in _RESTS_ON.get(about, ()))
    return Forbidden(about=about, text=text, citations=merged(cited, book.changes_of({*told, *parts})))


def _mandatory(carried: Carried) -> Iterator[Forbidden]:
    if carried.option.is_mandatory:
        yield _line(carried, "as_it_lies", {})


def _ground(carried: Carried) -> Iterator[Forbidden]:
    """Where the ball may not be."""
    option, procedure = carried.option, carried.procedure
    if option.no_nearer_m is not None and option.no_nearer_m > 0:
        limit = _POINTS.get(procedure.word("no_nearer_than"), _POINTS[NoNearerThan.REFERENCE_POINT])
        yield _line(carried, "nearer", {"limit": limit, "least_m": f"{option.no_nearer_m:.2f}"})
    yield from _size(carried)
    if option.relief_area is None and option.line is None and option.references and option.put in {Put.PLACE, Put.REPLACE}:
        yield _line(carried, "another_spot", {})
    yield from _left(carried)
    yield from _kept(carried)
    if procedure.says("off_greens"):
        yield _line(carried, "on_green", {})
    if option.met is not None:
        asked = (_PARTS[part] for part in procedure.words("clear_of"))
        parts = ", ".join(dict.fromkeys(asked))
        yield _line(carried, "interferes", {"condition": option.met.condition.noun, "parts": parts})


def _size(carried: Carried) -> Iterator[Forbidden]:
    option, procedure = carried.option, carried.procedure
    if procedure.word("shape") in _DISCS and option.size_m is not None:
        stated, size_m = procedure.size()
        fills = {"sized": size_with_metres(stated.value, size_m), "measured_from": _POINTS[NoNearerThan.REFERENCE_POINT]}
        yield _line(carried, "beyond", fills)
    if procedure.word("shape") in {ReliefShape.LINE, ReliefShape.DISC_AT_FIRST_TOUCH} and option.line is not None:
        yield _line(carried, "beside_line", {})


def _left(carried: Carried) -> Iterator[Forbidden]:
    case, leaves = carried.case, carried.procedure.limit("leaves", none=Leaves.NOTHING)
    if leaves == Leaves.SAME_PENALTY_AREA and case.penalty_area is not None:
        yield _line(carried, "back_in", {"left_ground": term(case.book, f"penalty_area_{case.penalty_area.mark.value}")})
    if leaves == Leaves.SAME_BUNKER:
        yield _line(carried, "back_in", {"left_ground": term(case.book, "bunker")})


def _kept(carried: Carried) -> Iterator[Forbidden]:
    """Areas of the course that the ball may not change."""
    case, option, procedure = carried.case, carried.option, carried.procedure
    if procedure.says("rests_in_area_first_touched"):
        yield _line(carried, "area_first_touched", {})
    keeps_to = procedure.limit("keeps_to", none=KeepsTo.ANYWHERE)
    if keeps_to == KeepsTo.ANYWHERE or option.relief_area is None or not option.references:
        return
    at = option.references[0].position if keeps_to == KeepsTo.AREA_OF_REFERENCE else (case.incident.ball or option.references[0].position)
    place = locate(case.course, case.incident.hole, at)
    yield _line(
        carried, "other_area", {"kept_area": f"the {area_words(case.book, place.area, place.mark)}".replace("the through", "through")}
    )


def _way(carried: Carried) -> Iterator[Forbidden]:
    """How the ball may not be put down, and which drops count for nothing."""
    if carried.option.put != Put.DROP:
        return
    book, case = carried.case.book, carried.case
    yield _line(carried, "not_by_hand", {}, "drop-way", "drop-height")
    if drop_law(book).authorised_may_drop:
        yield _line(carried, "by_another_but_authorised", {}, "drop-by-whom", "drop-by-other-person-disability")
    else:
        yield _line(carried, "by_another", {}, "drop-by-whom")
    if book.word("drop-hits-person-before-ground.outcome").value != _BY_REST:
        yield _line(carried, "touched_first", {}, "drop-hits-person-before-ground", "drop-hits-person-after-ground")
    if carried.option.relief_area is not None:
        yield _line(carried, "first_touch_out", {}, "drop-first-touch")
    fills = {}
    if book.has(ROLL_LIMIT):
        limit = book.size(ROLL_LIMIT).value
        fills[ROLL_LIMIT] = size_with_metres(limit, case.metres(limit))
    rows = ("redrop-cases", "drops-before-placing", "after-second-drop")
    yield _line(carried, "rest_out", fills, *rows)


def _ball(carried: Carried) -> Iterator[Forbidden]:
    if carried.option.which == WhichBall.ORIGINAL:
        yield _line(carried, "another_ball", {})
