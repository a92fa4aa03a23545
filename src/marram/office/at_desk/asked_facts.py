"""What a ruling still asks, and how the answer is stated in a case: yes or no, a place, a length, a side or a mark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from marram.core.citations import Citation
from marram.core.errors import FactsNeeded
from marram.core.terms import Mark
from marram.office.play.give_ruling import Rulings
from marram.rulebook.book import Book
from marram.rulebook.facts import Settled
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.wording.explain import ask

_STATED_AS = {
    NamedFact.STATED_CROSSING: "facts.crossed_at",
    NamedFact.BALL_AT: "ball",
    NamedFact.CHOSEN_POINT: "choice.back_m",
    NamedFact.CHOSEN_REFERENCE: "choice.reference",
    NamedFact.HAND: "player.hand",
    NamedFact.LONGEST_CLUB_IN: "player.longest_club_in",
}
"""Members of a case that state a fact otherwise than under its own name among the facts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedFact:
    """A fact that is asked.

    Attributes:
        fact: Its name.
        words: The question, after what its answer would open.
        settled: What settles it.
        member: The member of an incident that states it, such as ``facts.crossed_at``.
        answers: The words of which one is the answer; none where it is something else.
        books: The books that ask.
        citations: The rules.
    """

    fact: str
    words: str
    settled: Settled
    member: str
    answers: tuple[str, ...]
    books: tuple[str, ...]
    citations: tuple[Citation, ...]


def asked_facts(rulings: Rulings) -> tuple[AskedFact, ...]:
    """What is still asked under any of the books, each fact once."""
    asked = [(given.ruling.book, question) for given in rulings.given for question in given.ruling.facts_needed]
    first = {question.fact: question for _, question in reversed(asked)}
    return tuple(
        _asked(
            fact,
            first[fact].words,
            books=[book for book, question in asked if question.fact == fact],
            answers=first[fact].answers,
            citations=first[fact].citations,
        )
        for fact in dict.fromkeys(question.fact for _, question in asked)
    )


def questions_of(book: Book, facts: Iterable[str]) -> dict[str, str]:
    """The question of each fact that was answered, as a book asks it; what is no fact of the catalogue has none.

    Args:
        book: The book.
        facts: Names of facts, with dashes or underlines.
    """
    known = book.catalogue.facts
    named = {fact: next((name for name in (fact, fact.replace("-", "_")) if name in known), "") for fact in facts}
    return {fact: ask(book, name, {}) for fact, name in named.items() if name}


def asked_first(needed: FactsNeeded) -> tuple[AskedFact, ...]:
    """What must be known before anything can be ruled."""
    return tuple(_asked(fact, question, books=(), answers=(), citations=()) for fact, question in needed.questions)


def _asked(fact: str, words: str, *, books: Iterable[str], answers: tuple[str, ...], citations: tuple[Citation, ...]) -> AskedFact:
    known = packaged_catalogue().facts
    settled = known[fact].answer if fact in known else Settled.YES_NO
    return AskedFact(
        fact=fact,
        words=words,
        settled=settled,
        member=_STATED_AS.get(NamedFact(fact), f"facts.{fact}") if fact in set(NamedFact) else f"facts.{fact}",
        answers=answers or tuple(_usual_answers(settled)),
        books=tuple(dict.fromkeys(books)),
        citations=citations,
    )


def _usual_answers(settled: Settled) -> Iterator[str]:
    if settled is Settled.MARK:
        yield from Mark
