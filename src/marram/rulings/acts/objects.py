"""Things met on a course: what each of them is, whether it may be moved here and now, and what follows if it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

from marram.asking.entries import Kind
from marram.asking.finding import find_of_kind
from marram.core.citations import Citation, merged
from marram.core.errors import DataError
from marram.core.terms import Area
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.facts import is_settled_by
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.vocabulary import IF, THE_SAME, MayBeMoved, OnTeeingArea
from marram.rulebook.wording.explain import ask, told_text
from marram.rulings.acts.acts import ActAnswer, facts_read, rule_on_act, told_advice
from marram.rulings.case.ruling import Caution

FAMILY, _MOVING = "thing.", "moving."
_REPAIRING = "repairing-on-green"
_IN_AREA = {Area.BUNKER: "_in_bunker", Area.PENALTY_AREA: "_in_penalty_area", Area.PUTTING_GREEN: "_on_green"}
_CAUTION = "caution."
_THING_ANSWERS, _KIND_ANSWERS = "thing-answers-no", "kind-answers-no"
_PUT_BACK, _PUT_BACK_ANSWERS = "put_back", "put-back-answers-yes.facts"
_BOUNDARY, _PENALTY = "boundary-object", "penalty-area"
_CATCH_ALL = {"dropping-zone", "back-on-line-local-rule", "played-from-penalty-area-lost-outside"}
"""Procedures that a situation names besides its own, wherever the ball lies."""
_HAZARDS = {Area.BUNKER, Area.PENALTY_AREA}
BALL_ELSEWHERE = NamedFact.BALL_ELSEWHERE
"""The thing lies in the bunker or penalty area, and the ball does not."""


class MayMove(StrEnum):
    """Whether a thing may be moved."""

    YES = "yes"
    NO = "no"
    NOT_IN_QUESTION = "not-in-question"


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherKind:
    """What a thing is instead, if the answer to a question is yes.

    Attributes:
        fact: The fact that is not settled yet.
        question: The question that settles it.
        kind: What the thing then is in the terms of the rule data.
        term: What the edition calls that.
        may_be_moved: Whether it may then be moved.
    """

    fact: str
    question: str
    kind: str
    term: str
    may_be_moved: MayMove


@dataclass(frozen=True, slots=True, kw_only=True)
class ObjectAnswer:
    """What a book says of a thing.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        thing: Name of the thing, without its family.
        means: What the thing is.
        kind: What it is in the terms of the rule data.
        term: What the edition calls that.
        may_be_moved: Whether it may be moved with the ball in that area.
        moved: What moving it leads to; none where that costs nothing and no act speaks of it.
        ball_moves: What follows where the ball moves with it.
        put_back: What follows where it is put back before the stroke.
        before_replacing: What follows from moving it before a ball is put back.
        ball_in_motion: What follows from moving it to affect a ball in motion.
        relief: Situations to rule on where it stays in the way.
        advice: What the official tells besides.
        holds_unless: Facts not stated that would make it something else.
        others: What each of these would make of it.
        cautions: What comes before any ruling.
        citations: The rules on what it is and on moving it.
    """

    book: str
    stamp: str
    thing: str
    means: str
    kind: str
    term: str
    may_be_moved: MayMove
    moved: ActAnswer | None
    ball_moves: ActAnswer | None
    put_back: ActAnswer | None
    before_replacing: ActAnswer | None
    ball_in_motion: ActAnswer | None
    relief: tuple[str, ...]
    advice: str
    holds_unless: tuple[str, ...]
    others: tuple[OtherKind, ...]
    cautions: tuple[Caution, ...]
    citations: tuple[Citation, ...]


def known_thing(catalogue: Catalogue, asked: str) -> str:
    """The name of a thing, without its family.

    Raises:
        DataError: There is no such thing; the error names the nearest three.
    """
    things = {row.id.removeprefix(FAMILY): row.means for row in catalogue.rows.values() if row.id.startswith(FAMILY)}
    name = asked.strip().lower().replace(" ", "-")
    if name in things:
        return name
    near = dict.fromkeys([*get_close_matches(name, things, n=3, cutoff=0.5), *(thing for thing, _ in find_things(catalogue, asked))])
    hint = f"Nearest: {', '.join([*near, *things][:3])}. `find_thing()` looks for others."
    raise DataError(f"There is no thing {asked!r} in the rule data.", where="object", hint=hint)


def find_things(catalogue: Catalogue, words: str) -> list[tuple[str, str]]:
    """Things that speak of some words, those that fit best first."""
    return find_of_kind(catalogue, Kind.OBJECT, words)


def rule_on_object(book: Book, thing: str, area: Area, facts: Mapping[str, bool]) -> ObjectAnswer:
    """Say what a thing is and whether it may be moved.

    Args:
        book: The book.
        thing: Name of the thing, without its family.
        area: Where the thing lies together with the ball.
        facts: Named facts that are known, true or false.
    """
    row = f"{FAMILY}{thing}"
    # Where the ball lies is said by the area, and so not asked.
    facts = {NamedFact.BALL_LIES_IN_HAZARD.value: area in _HAZARDS} | answered_with_no(book, thing, _THING_ANSWERS) | dict(facts)
    kind, open_facts = _kind(book, row, facts)
    facts = answered_with_no(book, kind, _KIND_ANSWERS) | facts
    moving = f"{_MOVING}{kind}"
    allowed, moved = _allowed(book, moving, area), _moved(book, thing, kind, area, facts)
    found = {name: _act(book, moving, name, area, facts) for name in ("ball_moves", "put_back", "before_replacing", "ball_in_motion")}
    cautions = [f"{_CAUTION}{name}" for name in book.words(f"{row}.caution").value]
    return ObjectAnswer(
        book=book.name,
        stamp=book.stamp,
        thing=thing,
        means=book.catalogue.rows[row].means,
        kind=kind,
        term=told_text(book, f"{moving}.term"),
        may_be_moved=_may(allowed, moved),
        moved=moved,
        ball_moves=found["ball_moves"],
        put_back=found["put_back"],
        before_replacing=found["before_replacing"],
        ball_in_motion=found["ball_in_motion"],
        relief=_open_situations(book, book.words(f"{moving}.relief").value, area, must_stay=allowed == MayBeMoved.NOWHERE),
        advice=told_advice(book, moving),
        holds_unless=open_facts,
        others=tuple(_other(book, thing, fact, area, facts) for fact in open_facts if not is_settled_by(fact, facts, book.catalogue.facts)),
        cautions=tuple(Caution(text=book.word(f"{name}.text").value, citations=book.citations(name)) for name in cautions),
        citations=merged(book.citations(row), book.citations(moving)),
    )


def answered_with_no(book: Book, name: str, row: str) -> dict[str, bool]:
    """The facts that the name of a thing, or its kind, already answers with no.

    Args:
        book: The book.
        name: Name of the thing or kind, without its family.
        row: The row that says of what the facts are answered: of things, or of kinds.
    """
    return {fact: False for fact in book.catalogue.rows[row].parts if name in book.words(f"{row}.{fact}").value}


def _kind(book: Book, row: str, facts: Mapping[str, bool]) -> tuple[str, tuple[str, ...]]:
    """What a thing is, and the facts not stated that would make it something else."""
    others = {part.removeprefix(IF): book.word(f"{row}.{part}").value for part in _parts_if(book, row)}
    changing = {fact: other for fact, other in others.items() if other != THE_SAME}
    usual = book.word(f"{row}.kind").value
    # A stated fact that leaves the thing what it usually is does not keep another stated fact from changing it.
    stated = next((other for fact, other in changing.items() if facts.get(fact) and other != usual), None)
    kind = stated or usual
    return kind, tuple(fact for fact, other in changing.items() if fact not in facts and other != kind) if stated is None else ()


def _other(book: Book, thing: str, fact: str, area: Area, facts: Mapping[str, bool]) -> OtherKind:
    """What a thing is if a fact is true."""
    kind, _ = _kind(book, f"{FAMILY}{thing}", dict(facts) | {fact: True})
    moving = f"{_MOVING}{kind}"
    return OtherKind(
        fact=fact,
        question=ask(book, fact, {}),
        kind=kind,
        term=told_text(book, f"{moving}.term"),
        may_be_moved=_may(_allowed(book, moving, area), _moved(book, thing, kind, area, facts)),
    )


def _moved(book: Book, thing: str, kind: str, area: Area, facts: Mapping[str, bool]) -> ActAnswer | None:
    """What moving the thing leads to; None where it may be moved anywhere, or no act speaks of it."""
    moving = f"{_MOVING}{kind}"
    if _allowed(book, moving, area) == MayBeMoved.ANYWHERE:
        return None
    if area is Area.PUTTING_GREEN and thing in book.catalogue.rows[_REPAIRING].parts:
        repairs = book.words(f"{_REPAIRING}.{thing}").value
        return rule_on_act(book, repairs[0], facts) if repairs else None
    return _act(book, moving, "act", area, facts)


def _parts_if(book: Book, row: str) -> list[str]:
    return [part for part in book.catalogue.rows[row].parts if part.startswith(IF)]


def _act(book: Book, moving: str, name: str, area: Area, facts: Mapping[str, bool]) -> ActAnswer | None:
    """What an act says, by the row for the area where there is one."""
    is_apart = area in _HAZARDS and facts.get(BALL_ELSEWHERE, False)
    own = name if is_apart else f"{name}{_IN_AREA.get(area, '')}"
    parts = book.catalogue.rows[moving].parts
    acts = book.words(f"{moving}.{own}").value if own in parts else ()
    acts = acts or book.words(f"{moving}.{name}").value
    known = dict.fromkeys(book.words(_PUT_BACK_ANSWERS).value, True) | dict(facts) if name == _PUT_BACK else facts
    answers = [rule_on_act(book, act, known) for act in acts]
    return next((answer for answer in answers if answer.case is not None), None)


def _allowed(book: Book, moving: str, area: Area) -> str:
    """Whether a kind of thing may be moved, with the teeing area's own word where it has one."""
    on_tee = book.word(f"{moving}.allowed_on_teeing_area").value
    return on_tee if area is Area.TEEING_AREA and on_tee != OnTeeingArea.AS_ELSEWHERE else book.word(f"{moving}.allowed").value


def _open_situations(book: Book, named: tuple[str, ...], area: Area, *, must_stay: bool) -> tuple[str, ...]:
    """The situations of a list that a ball in an area can bring up; in a penalty area penalty relief, for what must stay."""
    found = [name for name in named if name == _BOUNDARY or _can_come_up(book, name, area)]
    is_penalty = area is Area.PENALTY_AREA and must_stay and _BOUNDARY not in found
    return (*found, *((_PENALTY,) if is_penalty else ()))


def _can_come_up(book: Book, situation: str, area: Area) -> bool:
    left = [f"relief.{name}" for name in book.words(f"situation.{situation}.procedures").value if name not in _CATCH_ALL]
    while left:
        row = left.pop()
        if not book.has_row(row) or (book.has(f"{row}.allowed") and not book.yes(f"{row}.allowed").value):
            continue
        follow = book.words(f"{row}.follow").value
        if not follow and area.value in book.words(f"{row}.ball_in").value:
            return True
        left += [f"relief.{name}" for name in follow]
    return False


def _may(allowed: str, moved: ActAnswer | None) -> MayMove:
    if allowed == MayBeMoved.NOT_IN_QUESTION:
        return MayMove.NOT_IN_QUESTION
    if allowed != MayBeMoved.AS_THE_ACT_SAYS:
        return MayMove.YES if allowed == MayBeMoved.ANYWHERE else MayMove.NO
    case = None if moved is None else moved.case
    is_free = case is None or not (case.strokes or case.match_strokes or case.hole or case.out)
    return MayMove.YES if is_free else MayMove.NO


def facts_of_object(book: Book, thing: str) -> tuple[str, ...]:
    """Every fact that something said of a thing reads."""
    row = f"{FAMILY}{thing}"
    kinds = {book.word(f"{row}.kind").value, *(book.word(f"{row}.{part}").value for part in _parts_if(book, row))} - {THE_SAME}
    changing = [part.removeprefix(IF) for part in _parts_if(book, row) if book.word(f"{row}.{part}").value != THE_SAME]
    rows = [f"{_MOVING}{kind}" for kind in sorted(kinds)]
    keys = [f"{moving}.{name}" for moving in rows for name, spec in book.catalogue.rows[moving].parts.items() if spec.of == "act"]
    acts = dict.fromkeys(act for key in keys for act in book.words(key).value)
    changing += [BALL_ELSEWHERE] if any(key.endswith(("_in_bunker", "_in_penalty_area")) and book.words(key).value for key in keys) else []
    return tuple(dict.fromkeys([*changing, *(fact for act in acts for fact in facts_read([book], act))]))
