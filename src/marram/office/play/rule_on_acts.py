"""Rule on acts: what each leads to by itself, how it reads in a form of play, and what they cost together, under each book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.terms import Form
from marram.office.play.add_acts import SumTold, add_acts, counted_up
from marram.office.play.read_acts import ActReading, read_acts
from marram.office.play.stated_facts import Stated, know_facts
from marram.rulebook.book import Book
from marram.rulebook.catalogue import Catalogue
from marram.rulings.acts import acts as acts_of_books
from marram.rulings.acts.acts import ActAnswer, facts_not_read, facts_read, known_act, refuse_unread, rule_on_act
from marram.rulings.acts.breaches import NamedAct
from marram.rulings.acts.form_of_play import known_form
from marram.rulings.acts.sum_of_breaches import Between
from marram.rulings.acts.turns import Turn

_AFTER_EVENT, _UNCOUNTED = "after_a_stroke_or_being_told", "with_a_ball_that_does_not_count"
"""Facts that say how an act stands to the others; every act may carry them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedAct:
    """An act as an official states it.

    Attributes:
        act: What it is called.
        facts: What is stated of it.
    """

    act: str
    facts: Stated = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ActRuled:
    """One act under one book, by itself.

    Attributes:
        answer: What it leads to.
        facts_not_read: Facts stated of it that the book does not read.
    """

    answer: ActAnswer
    facts_not_read: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ActsRuled:
    """All that is told of some acts under one book.

    Attributes:
        first: The act asked about.
        further: The further acts.
        total: All acts together; None where there is nothing to add up.
        readings: How the acts read in the form of play asked about; none where none is.
    """

    first: ActRuled
    further: tuple[ActRuled, ...]
    total: SumTold | None
    readings: tuple[ActReading, ...]

    @property
    def answers(self) -> tuple[ActAnswer, ...]:
        """What each act leads to by itself, the act asked about first."""
        return tuple(ruled.answer for ruled in (self.first, *self.further))

    @property
    def turns(self) -> tuple[Turn, ...]:
        """What the first act turns on: in the form of play asked about, else in either."""
        return tuple(turn for turn, _ in self.readings[0].turns) if self.readings else self.first.answer.turns

    @property
    def further_turns(self) -> tuple[tuple[str, Turn], ...]:
        """The same of the further acts, with their names."""
        if self.readings:
            return tuple((entry.act, turn) for entry in self.readings[1:] for turn, _ in entry.turns)
        return tuple((entry.answer.act, turn) for entry in self.further for turn in entry.answer.turns)


def find_acts(catalogue: Catalogue, words: str) -> tuple[tuple[str, str], ...]:
    """Acts that speak of some words, those that fit best first, each with what it means."""
    return tuple(acts_of_books.find_acts(catalogue, words))


def rule_on_acts(
    books: Sequence[Book],
    stated: Sequence[StatedAct],
    *,
    between: str = "",
    holes: int | None = None,
    form: str = "",
    is_match: bool = False,
) -> tuple[ActsRuled, ...]:
    """Say what some acts lead to, under each book.

    Args:
        books: The books.
        stated: The act asked about, and those that are added up with it.
        between: What lies between them, a word of `Between`; empty where nobody has said.
        holes: Over how many holes a breach counted by the hole went on; None where nobody has said.
        form: A form of play in which they are read; empty for none.
        is_match: For partners, whether the sides play a match.

    Raises:
        DataError: There is no such act, fact, form or word, or no book reads a fact of the act of which it is stated.
    """
    first, *others = stated
    acts = [_named(books, first, is_first=True), *(_named(books, other, is_first=False) for other in others)]
    lies_between = _known_between(between) if between else None
    named_form, played = known_form(form) if form else None, Form.MATCH_PLAY if is_match else Form.STROKE_PLAY
    return tuple(_under(book, acts, lies_between, holes, named_form, played) for book in books)


def _under(book: Book, acts: Sequence[NamedAct], between: Between | None, holes: int | None, form: Form | None, played: Form) -> ActsRuled:
    each = [acts[0], *counted_up(book, acts, between)[1:]]
    ruled = [_ruled(book, counted, named) for counted, named in zip(each, acts, strict=True)]
    return ActsRuled(
        first=ruled[0],
        further=tuple(ruled[1:]),
        total=add_acts(book, acts, between, holes),
        readings=() if form is None else read_acts(book, each, form, played),
    )


def _ruled(book: Book, counted: NamedAct, named: NamedAct) -> ActRuled:
    return ActRuled(
        answer=rule_on_act(book, counted.act, counted.facts),
        facts_not_read=facts_not_read(named.facts, facts_read([book], named.act)),
    )


def _named(books: Sequence[Book], stated: StatedAct, *, is_first: bool) -> NamedAct:
    """An act with what is known of it; a fact of its own that no book reads is refused."""
    catalogue = books[0].catalogue
    name = known_act(catalogue, stated.act.strip())
    field = Field.FACT if is_first else Field.ALSO.of(name)
    read_by = [facts_read([book], name) for book in books]
    facts = know_facts(stated.facts, catalogue.facts, read_by, field=field)
    own = {fact: value for fact, value in facts.items() if fact not in {_AFTER_EVENT, _UNCOUNTED}}
    refuse_unread(own, read_by, name, field=field)
    return NamedAct(act=name, facts=own, is_after_event=facts.get(_AFTER_EVENT, False), is_with_uncounted=facts.get(_UNCOUNTED))


def _known_between(word: str) -> Between:
    if word in list(Between):
        return Between(word)
    raise DataError(f"{word!r} does not say what lies between acts.", field=Field.BETWEEN, hint=f"Give one of {', '.join(Between)}.")
