"""Everything that tells what a book says, gathered as sentences: rulings, acts, things, drops, searches, forms of play, stops, guides."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from shapely.geometry import Point

from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.course import Course
from marram.course.frame import Position
from marram.rulebook import Book, open_book, packaged_catalogue
from marram.rulebook.wording.explain import interval_words, strokes_words
from marram.rulings import Choice, Incident, Player, PreviousStroke, Ruling, rule_on
from marram.rulings.acts.acts import ActAnswer, rule_on_act
from marram.rulings.acts.form_of_play import describe_form
from marram.rulings.acts.objects import BALL_ELSEWHERE, facts_of_object, rule_on_object
from marram.rulings.acts.search_clock import SearchEvent, Timed, follow_search
from marram.rulings.acts.suspension import Signal, rule_on_suspension
from marram.rulings.case.case import Case
from marram.rulings.drop.dropping import guide_drop
from marram.rulings.drop.law import drop_law
from marram.rulings.drop.states import Drop, DropEvent, DropLaw
from marram.rulings.drop.steps import events_after, next_step
from marram.sheets.guide.frames import Shot, only_option
from marram.sheets.guide.procedure_page import frame_words, lengths_of, rows_of
from marram.showing.drop_examples import drop_examples
from marram.showing.forbidden import Carried, forbidden_by
from tests.support.edition_ground import edition_ground
from tests.support.ground import feature

Teller = Callable[[Book], tuple[str, ...]]
"""Tells some of what a book says, sentence by sentence."""

_EDITIONS = Path(__file__).parents[1] / "editions"
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON)
_AREAS = (Area.GENERAL_AREA, Area.BUNKER, Area.PENALTY_AREA, Area.PUTTING_GREEN, Area.TEEING_AREA)
_DEPTH = 6
"""How many events of a drop are followed."""
_BALLS = {"general area": [40, -150], "bunker": [60, -60], "penalty area": [0, -55], "green": [0, -6], "not found": None}
_MORE = (
    "animal-hole bunker",
    "dangerous-animal green",
    "dangerous-animal penalty area",
    "deliberately-deflected general area",
    "deliberately-deflected penalty area",
    "embedded green",
    "ground-under-repair bunker",
    "immovable-obstruction bunker",
    "immovable-obstruction green",
    "immovable-obstruction not found",
    "loose-impediment general area",
    "loose-impediment green",
    "movable-obstruction general area",
    "movable-obstruction not found",
    "moved-by-outside-influence general area",
    "no-play-zone general area",
    "out-of-bounds not found",
    "placed-ball-will-not-stay general area",
    "temporary-water green",
    "unplayable general area",
    "young-tree penalty area",
)
"""Situations, each with where the ball lies, that bring up a relief of which no case of the editions speaks."""
_FROM_INSIDE: Mapping[str, object] = {
    "situation": "out-of-bounds",
    "previous": [0, -55],
    "crossed_at": [0, -70],
    "facts": {"previous_stroke_from_penalty_area": True},
}
"""A stroke from a penalty area that goes out of bounds."""
_RED = "ruling red penalty area"
_INTO = {"immovable-obstruction": [80, -150], "ground-under-repair": [-65, -150], "animal-hole": [-100.5, -150]}
"""Where a ball that is lost in a condition went in."""
_FACTS = {
    "embedded": True,
    "ball_in_or_on_object": True,
    "known_in_penalty_area": True,
    "known_in_condition": True,
    "known_in_object": True,
}
_SEARCHES = (
    "",
    "start@0",
    "start@0,suspended@60,resumed@90",
    "start@0,suspended@60",
    "start@0,wrong-ball-played@60",
    "start@0,found@100",
    "start@0,found@100,identified@130",
    "start@0,now@900",
    "start@0,found@900",
    "start@0,provisional@10",
    "start@0,provisional@10,now@900",
    "start@0,provisional@10,found@50,identified@70",
    "gone-forward@0,provisional@10",
    "start@0,provisional@10,provisional-from-nearer@50",
)


@lru_cache
def ground() -> Course:
    """The ground of the rulings; one course for all."""
    return edition_ground()


@lru_cache
def tellers() -> Mapping[str, Teller]:
    """Everything that tells, by name."""
    found: dict[str, Teller] = {}
    rows = packaged_catalogue().rows
    found |= {row: _act(row.removeprefix("act.")) for row in rows if row.startswith("act.")}
    found |= {row: _object(row.removeprefix("thing.")) for row in rows if row.startswith("thing.")}
    found |= {f"drop {procedure}".strip(): _drop(procedure) for procedure in _dropped()}
    found |= {f"search {events}".strip(): _search(events) for events in _SEARCHES}
    found |= {f"form {form.value}": _form(form) for form in Form}
    found |= {f"suspension {signal.value} {begun}": _suspension(signal, is_begun=begun) for signal in Signal for begun in (True, False)}
    return found | {name: _ruling(incident) for name, incident in incidents().items()}


# Rulings and the guide ------------------------------------------------------------------------------------------------


@lru_cache
def incidents() -> Mapping[str, Incident]:
    """Every incident of the editions' cases, each once."""
    found: dict[str, Incident] = {}
    for path in sorted(_EDITIONS.glob("*/rulings.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]:
            incident = _incident(case)
            found |= {} if incident in found.values() else {f"ruling {case['situation']} {len(found)}": incident}
    found[_RED] = _incident({"situation": "penalty-area", "ball": [0, -55], "crossed_at": [0, -70]})
    found["ruling played from a penalty area"] = _incident(_FROM_INSIDE)
    for name in _MORE:
        situation, _, where = name.partition(" ")
        found[f"ruling {name}"] = _of_situation(situation, where)
    return found


def _of_situation(name: str, where: str) -> Incident:
    """A ball in an area of the course, or one not found, with what the situation is about under it and nothing against the relief."""
    ball = _BALLS[where]
    kinds = base_words(f"situation.{name}.conditions") if ball else ()
    about = Point(ball or (0, 0)).buffer(0.6)
    conditions = tuple(feature(kind, FeatureKind(kind), about) for kind in kinds if kind != "wrong-green")
    crossed = _INTO.get(name, [0, -70])
    incident = _incident({"situation": name, "ball": ball, "crossed_at": crossed, "estimated_at": [40, -150], "facts": _FACTS})
    return replace(incident, conditions=conditions)


def base_words(key: str) -> tuple[str, ...]:
    """The words that the last edition holds under a key."""
    catalogue = packaged_catalogue()
    book = open_book(list(catalogue.editions)[-1], [], catalogue)
    return book.words(key).value if book.has(key) else ()


def _incident(case: Mapping[str, object]) -> Incident:
    facts = case.get("facts", {})
    assert isinstance(facts, dict)
    before = PreviousStroke(at=_at(case.get("previous", [30, -250])), area=None)
    return Incident(
        hole=1,
        situation=str(case["situation"]),
        form=Form.STROKE_PLAY,
        ball=_at(case.get("ball")),
        player=_PLAYER,
        facts={name: value is True for name, value in facts.items()},
        crossed_at=_at(case.get("crossed_at")),
        previous_stroke=before,
        last_stroke_outside=before,
        estimated_at=_at(case.get("estimated_at")),
        choice=Choice(back_m=5),
    )


def _at(value: object) -> Position | None:
    if not isinstance(value, list):
        return None
    x_m, y_m = value
    return Position(x_m=float(x_m), y_m=float(y_m))


def _ruling(incident: Incident) -> Teller:
    def tell(book: Book) -> tuple[str, ...]:
        ruling = rule_on(incident, ground().with_conditions(incident.conditions), book)
        return (*_ruling_said(ruling), *_guide_said(incident, book, ruling))

    return tell


def _ruling_said(ruling: Ruling) -> Iterator[str]:
    yield from (caution.text for caution in ruling.cautions)
    for option in ruling.options:
        yield f"{option.title}. {strokes_words(option.penalty_strokes)}."
        yield from option.steps
        if option.line is not None:
            yield f"Usable on the line: {interval_words(option.line.intervals_m)}."
    for entry in ruling.not_available:
        yield f"Not available: {entry.title}. {entry.because}"
    yield from (question.question for question in ruling.facts_needed)
    yield from (line.text for line in ruling.lines)


def _guide_said(incident: Incident, book: Book, ruling: Ruling) -> Iterator[str]:
    """What a page of the guide says of each option, without its drawings."""
    for option in ruling.options:
        carried = Carried(case=Case(incident=incident, course=ground().with_conditions(incident.conditions), book=book), option=option)
        yield from (line.text for line in forbidden_by(carried, ruling))
        # Examples take longest to find; one kind of relief shows how they are told.
        drops = drop_examples(carried) if incident == incidents()[_RED] else ()
        shot = Shot(carried=carried, ruling=only_option(ruling, option), drops=drops)
        yield from (f"{label}: {words}" for label, words in rows_of(shot))
        for title, words in frame_words(shot):
            yield " ".join((f"{title}.", *words))
        yield from (f"{club}: {words}" for club, words in lengths_of(shot))


# Drops and searches ---------------------------------------------------------------------------------------------------


def _dropped() -> list[str]:
    """Reliefs that are dropped for: one of each way of dropping, and none named."""
    return ["", "penalty-area-back-on-line"]


def _drop(procedure: str) -> Teller:
    def tell(book: Book) -> tuple[str, ...]:
        paths = _paths(drop_law(book, procedure))
        return tuple(dict.fromkeys(guide_drop(book, procedure, events).instruction for events in paths))

    return tell


def _paths(law: DropLaw) -> Iterator[tuple[DropEvent, ...]]:
    """A shortest way to each place in which a drop can be; what it has cost so far makes no other place of it."""
    seen: set[Drop] = set()
    reached: list[tuple[Drop, tuple[DropEvent, ...]]] = [(Drop(), ())]
    while reached:
        drop, events = reached.pop(0)
        place = replace(drop, penalty_strokes=0, match_strokes=0, loses_hole=False)
        if place in seen:
            continue
        seen.add(place)
        yield events
        if len(events) < _DEPTH:
            reached += [(next_step(drop, event, law), (*events, event)) for event in events_after(drop, law)]


def _search(events: str) -> Teller:
    timed: tuple[Timed, ...] = tuple(
        (SearchEvent(name), int(second)) for name, _, second in (part.partition("@") for part in events.split(",") if part)
    )

    def tell(book: Book) -> tuple[str, ...]:
        answer = follow_search(book, timed)
        return (answer.says, *answer.not_stated)

    return tell


# Acts, things, forms and stops ----------------------------------------------------------------------------------------


def _act(act: str) -> Teller:
    return lambda book: tuple(_act_said(rule_on_act(book, act, {})))


def _act_said(answer: ActAnswer | None) -> Iterator[str]:
    if answer is not None:
        yield f"{answer.means} ({answer.area})"
        yield from (case.in_words(is_stroke_in_question=True) for case in answer.cases)
        yield from (answer.last_hole_words, answer.advice, answer.why_none)


def _object(thing: str) -> Teller:
    def tell(book: Book) -> tuple[str, ...]:
        said: dict[str, None] = {}
        facts = facts_of_object(book, thing)
        asked: list[tuple[Area, dict[str, bool]]] = [(area, {}) for area in _AREAS] + [
            (Area.GENERAL_AREA, {fact: True}) for fact in facts if fact != BALL_ELSEWHERE
        ]
        for area, stated in asked:
            found = rule_on_object(book, thing, area, stated)
            acts = (found.moved, found.ball_moves, found.put_back, found.before_replacing, found.ball_in_motion)
            told = [f"{found.term}: {found.may_be_moved.value}", found.advice, *(words for act in acts for words in _act_said(act))]
            said |= dict.fromkeys((*told, f"relief: {', '.join(found.relief)}", *(caution.text for caution in found.cautions)))
        return tuple(said)

    return tell


def _form(form: Form) -> Teller:
    def tell(book: Book) -> tuple[str, ...]:
        answer = describe_form(book, form)
        return (answer.why_none, *(line.says for line in answer.lines))

    return tell


def _suspension(signal: Signal, *, is_begun: bool) -> Teller:
    def tell(book: Book) -> tuple[str, ...]:
        answer = rule_on_suspension(book, signal, is_hole_begun=is_begun)
        acts = [words for act in answer.acts for words in _act_said(act)]
        return (*answer.now, *answer.then, *acts, *(caution.text for caution in answer.cautions))

    return tell
