"""What a verdict turns on: the questions, not answered yet, of which an answer can still change it in the form of play asked about."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from marram.rulebook.book import Book
from marram.rulebook.consequence_words import OnlyIn
from marram.rulebook.consequences import After, Cases, Consequence
from marram.rulebook.facts import Facts, is_settled_by
from marram.rulebook.wording.explain import ask

Reading = Callable[[Consequence], object]
"""How a case reads in a form of play: two cases that read alike are one answer there; None where the case cannot happen in the form."""
_Tried = tuple[Consequence, frozenset[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """Questions of which a yes, to all of them, changes what an act leads to.

    Attributes:
        facts: The facts that are not settled yet.
        questions: The question for each, in the edition's words.
        then: What the act leads to if all of them are so.
    """

    facts: tuple[str, ...]
    questions: tuple[str, ...]
    then: Consequence


def reads_in_stroke_play(case: Consequence) -> object:
    """What a case leads to in stroke play; None where it cannot happen there. Of a player who is out nothing else is asked."""
    return None if case.only_in is OnlyIn.MATCH_PLAY else (case.stroke_play_words, case.capped, what_is_left(case, is_match=False))


def reads_in_match_play(case: Consequence) -> object:
    """The same in match play, where with the hole that is lost or won the stroke and the ball are settled too."""
    return None if case.only_in is OnlyIn.STROKE_PLAY else (case.match_play_words, case.capped, what_is_left(case, is_match=True))


def what_is_left(case: Consequence, *, is_match: bool) -> After | None:
    """What becomes of stroke and ball; None where the player is out, or the hole is over, and nobody asks any more."""
    return None if case.is_over_in(is_match=is_match) else case.after_in(is_match=is_match)


BOTH_FORMS: tuple[Reading, ...] = (reads_in_stroke_play, reads_in_match_play)


def open_facts(case: Consequence, stated: Mapping[str, bool]) -> tuple[str, ...]:
    """Facts of a case that nobody has stated; none where another of its facts is false."""
    if any(stated.get(name) is False for name in case.when):
        return ()
    return tuple(name for name in case.when if name not in stated)


def turns_of(
    book: Book, cases: Cases, held: Consequence, stated: Mapping[str, bool], readings: Sequence[Reading] = BOTH_FORMS
) -> tuple[Turn, ...]:
    """What a verdict turns on, in the order in which the book tries its cases; the first that is so decides.

    Only what can still change the answer is asked. A case of the same verdict is among them where it keeps a later one from deciding.

    Args:
        book: The book.
        cases: All cases of the act.
        held: The case that holds by what is stated.
        stated: Named facts that are known, true or false.
        readings: How a case reads in each form of play that is asked about.
    """
    facts = book.catalogue.facts
    open_cases = [(case, open_facts(case, stated)) for case in cases[: cases.index(held)]]
    tried = [
        (case, frozenset(names)) for case, names in open_cases if names and not any(is_settled_by(name, stated, facts) for name in names)
    ]
    return tuple(
        Turn(facts=names, questions=tuple(ask(book, name, {}) for name in names), then=case)
        for case, _ in _deciding(tried, held, facts, readings)
        for names in [open_facts(case, stated)]
    )


def _deciding(tried: Sequence[_Tried], held: Consequence, facts: Facts, readings: Sequence[Reading]) -> list[_Tried]:
    """The cases without those that change no answer, whatever the open facts are; later ones are left out first."""
    ways = _ways(tuple(dict.fromkeys(name for case, names in tried for name in case.when if name in names)), facts)
    kept = list(tried)
    told = _told(kept, held, ways, readings)
    for place in reversed(range(len(kept))):
        fewer = [*kept[:place], *kept[place + 1 :]]
        if _told(fewer, held, ways, readings) == told:
            kept = fewer
    return kept


def _told(tried: Sequence[_Tried], held: Consequence, ways: Sequence[frozenset[str]], readings: Sequence[Reading]) -> list[object]:
    """What is answered in each form of play, for each way in which the open facts may be."""
    told: list[object] = []
    for reading in readings:
        otherwise = reading(held)
        if otherwise is not None:
            read = [(names, said) for case, names in tried if (said := reading(case)) is not None]
            told += [next((said for names, said in read if names <= way), otherwise) for way in ways]
    return told


def _ways(names: Sequence[str], facts: Facts) -> list[frozenset[str]]:
    """Every way in which facts may be true together, each as those that are true."""
    apart = [{one, other} for one, other in combinations(names, 2) if other in facts[one].excludes]
    chosen = (
        frozenset(name for name, is_true in zip(names, way, strict=True) if is_true) for way in product((False, True), repeat=len(names))
    )
    return [way for way in chosen if not any(pair <= way for pair in apart)]
