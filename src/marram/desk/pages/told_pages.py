"""Pages of what is told and not drawn: acts, things, the drop, the search, forms of play and play that is stopped, under each book."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from marram.core.citations import Citation
from marram.core.terms import Area
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import Desk, Page, fill
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.stated_case import open_books
from marram.office.play.follow_drop import follow_drop
from marram.office.play.name_thing import rule_on_thing
from marram.office.play.rule_on_acts import StatedAct, rule_on_acts
from marram.office.play.stop_play import stop_play
from marram.office.play.tell_form import tell_form
from marram.office.play.time_search import last_second, list_search_events, time_search
from marram.office.play.verdict_words import verdict_lines

if TYPE_CHECKING:
    from marram.office.play.name_thing import ThingRuled
    from marram.rulebook.book import Book
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.objects import ObjectAnswer
    from marram.rulings.acts.turns import Turn


_PRESSED = ("found", "suspended", "resumed", "identified")
"""Events of a search that a running clock puts down with one press; every other one is chosen and timed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldLine:
    """A line with the rules behind it.

    Attributes:
        text: The line.
        citations: The rules.
        when: Name of what it speaks of, in the words of the interface; empty where it speaks of all.
    """

    text: str
    citations: tuple[Citation, ...] = ()
    when: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldBook:
    """What one book says."""

    name: str
    stamp: str
    lines: tuple[ToldLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A page of what is told.

    Attributes:
        title: What it is about.
        books: What each book says.
        cautions: What comes before any answer.
        asked: Facts that an answer still turns on, each with its question.
        besides: What the template of this page shows besides.
    """

    title: str
    books: tuple[ToldBook, ...]
    cautions: tuple[str, ...] = ()
    asked: tuple[tuple[str, str], ...] = ()
    besides: dict[str, object] = field(default_factory=dict)


Maker = Callable[[tuple["Book", ...], Address], Told]


def told_page(desk: Desk, address: Address, path: str, template: str, make: Maker) -> Page:
    """A page of what is told under the books of an address.

    Args:
        desk: What pages are made with.
        address: What the address states.
        path: Path of the page.
        template: Its template.
        make: Finds what is told.
    """
    asked = address.put(book=address.all("book") or desk.books or (desk.room.catalogue.latest,))
    books = open_books(desk.room, desk.folder, asked.all("book"))
    told = make(books, asked)
    return fill(template, asked, head=head(desk, asked, books), told=told, path=path, editions=desk.room.editions(), **told.besides)


def act_page(desk: Desk, address: Address) -> Page:
    """What an act leads to."""
    return told_page(desk, address, "/act", "told.html", _act)


def thing_page(desk: Desk, address: Address) -> Page:
    """What a thing is and whether it may be moved."""
    return told_page(desk, address, "/thing", "thing.html", _thing)


def drop_page(desk: Desk, address: Address) -> Page:
    """Where a drop stands and what to do next."""
    return told_page(desk, address, "/drop", "drop.html", _drop)


def search_page(desk: Desk, address: Address) -> Page:
    """Where a search stands."""
    return told_page(desk, address, "/search", "search.html", _search)


def form_page(desk: Desk, address: Address) -> Page:
    """What is so in a form of play."""
    return told_page(desk, address, "/form", "told.html", _form)


def stopped_page(desk: Desk, address: Address) -> Page:
    """What to do when play is stopped."""
    return told_page(desk, address, "/stopped", "told.html", _stopped)


def _stated(address: Address) -> list[tuple[str, bool]]:
    return [*((fact, True) for fact in address.all("yes")), *((fact, False) for fact in address.all("no"))]


def _act(books: tuple[Book, ...], address: Address) -> Told:
    ruled = rule_on_acts(books, (StatedAct(act=address.first("act"), facts=_stated(address)),))
    answers = [one.first.answer for one in ruled]
    return Told(
        title=answers[0].means,
        books=tuple(ToldBook(name=answer.book, stamp=answer.stamp, lines=tuple(_act_lines(answer))) for answer in answers),
        cautions=tuple(dict.fromkeys(caution.value for answer in answers for caution in answer.cautions)),
        asked=_turned_on(turn for answer in answers for turn in answer.turns),
    )


def _act_lines(answer: ActAnswer) -> Iterable[ToldLine]:
    lines = verdict_lines(answer)
    yield from (ToldLine(text=text) for text in lines[:-1])
    yield ToldLine(text=lines[-1], citations=answer.citations)
    if answer.advice:
        yield ToldLine(text=answer.advice, when="besides")


def _turned_on(turns: Iterable[Turn]) -> tuple[tuple[str, str], ...]:
    pairs = (pair for turn in turns for pair in zip(turn.facts, turn.questions, strict=True))
    return tuple(dict(pairs).items())


def _thing(books: tuple[Book, ...], address: Address) -> Told:
    area = Area(address.first("area")) if address.first("area") in list(Area) else Area.GENERAL_AREA
    ruled = rule_on_thing(books, address.first("thing"), area=area, stated=_stated(address))
    answers = [one.answer for one in ruled]
    asked = {other.fact: other.question for answer in answers for other in answer.others}
    turned = _turned_on(turn for answer in answers for act in _acts_of(answer).values() for turn in act.turns)
    return Told(
        title=answers[0].means,
        books=tuple(ToldBook(name=one.answer.book, stamp=one.answer.stamp, lines=tuple(_thing_lines(one))) for one in ruled),
        cautions=tuple(dict.fromkeys(caution.text for answer in answers for caution in answer.cautions)),
        asked=tuple({**asked, **dict(turned)}.items()),
        besides={"areas": tuple(Area)[:-1], "area": area, "relief": answers[0].relief},
    )


def _acts_of(answer: ObjectAnswer) -> dict[str, ActAnswer]:
    acts = {
        "moved": answer.moved,
        "ball-moves": answer.ball_moves,
        "put-back": answer.put_back,
        "before-replacing": answer.before_replacing,
        "in-motion": answer.ball_in_motion,
    }
    return {when: act for when, act in acts.items() if act is not None and act.case is not None}


def _thing_lines(ruled: ThingRuled) -> Iterable[ToldLine]:
    answer = ruled.answer
    yield ToldLine(text=answer.term, when=f"may-{answer.may_be_moved.value}", citations=answer.citations)
    for other in answer.others:
        yield ToldLine(text=f"{other.question} {other.term}", when=f"if-{other.may_be_moved.value}")
    for when, act in _acts_of(answer).items():
        yield ToldLine(text=" ".join(verdict_lines(act)), when=when, citations=act.citations)
    if answer.advice:
        yield ToldLine(text=answer.advice, when="besides")


def _drop(books: tuple[Book, ...], address: Address) -> Told:
    answers = follow_drop(books, address.first("procedure"), address.first("events"))
    events = [event for event in address.first("events").split(",") if event]
    told = tuple(
        ToldBook(name=answer.book, stamp=answer.stamp, lines=(ToldLine(text=answer.instruction, citations=answer.citations),))
        for answer in answers
    )
    return Told(title="", books=told, besides={"drop": answers[0], "events": events})


def _search(books: tuple[Book, ...], address: Address) -> Told:
    timed = time_search(books, address.first("events"))
    told = tuple(
        ToldBook(name=one.answer.book, stamp=one.answer.stamp, lines=(ToldLine(text=one.answer.says, citations=one.answer.citations),))
        for one in timed
    )
    events = [event for event in address.first("events").split(",") if event]
    return Told(
        title="",
        books=told,
        besides={
            "search": timed[0].answer,
            "events": events,
            "known": list_search_events(),
            "pressed": _PRESSED,
            "last_s": last_second(address.first("events")),
        },
    )


def _form(books: tuple[Book, ...], address: Address) -> Told:
    answers = tell_form(books, address.first("form"))
    told = tuple(
        ToldBook(
            name=answer.book,
            stamp=answer.stamp,
            lines=(
                *((ToldLine(text=answer.why_none),) if answer.why_none else ()),
                *(ToldLine(text=line.says, citations=line.citations) for line in answer.lines),
            ),
        )
        for answer in answers
    )
    return Told(title=address.first("form").replace("-", " ").capitalize(), books=told)


def _stopped(books: tuple[Book, ...], address: Address) -> Told:
    answers = stop_play(books)
    told = tuple(
        ToldBook(
            name=answer.book,
            stamp=answer.stamp,
            lines=(
                *(ToldLine(text=text) for text in (*answer.now, *answer.then)[:-1]),
                ToldLine(text=(*answer.now, *answer.then)[-1], citations=answer.citations),
                *(
                    ToldLine(text=f"{act.means.rstrip('.')}: {act.says(act.case)}", citations=act.citations)
                    for act in answer.acts
                    if act.case is not None
                ),
            ),
        )
        for answer in answers
    )
    return Told(title="", books=told, cautions=tuple(dict.fromkeys(caution.text for answer in answers for caution in answer.cautions)))


TOLD: dict[str, Callable[[Desk, Address], Page]] = {
    "act": act_page,
    "thing": thing_page,
    "drop": drop_page,
    "search": search_page,
    "form": form_page,
    "stopped": stopped_page,
}
"""The page of each job."""
