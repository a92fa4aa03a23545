"""Acts that an official names together, each with the case that holds; repeated breaches of a round are counted up."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from marram.rulebook.book import Book
from marram.rulebook.consequence_words import OF_THE_BREACHES, StrokeIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.named_facts import NamedFact
from marram.rulings.acts.acts import facts_read, rule_on_act
from marram.rulings.acts.breach_relations import Counted, Relations

_COUNTED_UP = (NamedFact.SECOND_BREACH, NamedFact.THIRD_BREACH)
"""Facts that are so of the second and the third breach of a kind of which the breaches of a round are counted."""
_NO_COUNT = frozenset({StrokeIs.CANCELLED, StrokeIs.REPLAY})


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedAct:
    """An act that an official names.

    Attributes:
        act: Its name, without the family.
        facts: Facts that are known of it, true or false.
        is_after_event: Whether a stroke was completed, or the player knew of a breach, between the acts before it and this one.
        is_with_uncounted: Whether it was done in playing a ball whose strokes do not count; None where nobody has said.
    """

    act: str
    facts: Mapping[str, bool]
    is_after_event: bool = False
    is_with_uncounted: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Breach:
    """An act with what it leads to under a book.

    Attributes:
        act: Name of the act.
        case: The case that holds.
        group: How many events were named before it.
        is_with_uncounted: As in the act that is named.
    """

    act: str
    case: Consequence
    group: int
    is_with_uncounted: bool | None

    @property
    def is_cancelling(self) -> bool:
        """Whether the stroke does not count, so that what is done with its ball may not count either."""
        return self.case.stroke in _NO_COUNT


def breaches_of(
    book: Book, relations: Relations, acts: Sequence[NamedAct], counted_up: Collection[Counted]
) -> tuple[tuple[Breach, ...], str]:
    """The breaches, in the order in which the acts are named, and why they cannot be added up.

    Args:
        book: The book.
        relations: How its breaches stand to each other.
        acts: The acts.
        counted_up: Of which kinds, by how they are counted, the breaches after the first are stated to be the second and the third.

    Returns:
        The breaches, and a reason, of which one is empty.
    """
    found: list[Breach] = []
    group = 0
    for named in _counted_up(book, relations, acts, counted_up):
        group += named.is_after_event
        answer = rule_on_act(book, named.act, named.facts)
        if answer.case is None:
            return (), f"{named.act} stands not in {book.name}: {answer.why_none}"
        if answer.case.added in OF_THE_BREACHES:
            return (), f"{named.act} is itself a sum: name the acts instead"
        if answer.case.added and len(acts) == 1:
            return (), "name in `also` the act whose penalty was left out"
        found.append(Breach(act=named.act, case=answer.case, group=group, is_with_uncounted=named.is_with_uncounted))
    return tuple(found), ""


def as_counted(book: Book, acts: Sequence[NamedAct], counted: Collection[Counted]) -> list[NamedAct]:
    """The same acts, the later breaches of a kind stated to be the second and the third where the breaches of a round are counted up.

    Args:
        book: The book.
        acts: The acts.
        counted: Of which kinds, by how they are counted.
    """
    return _counted_up(book, Relations(book), acts, counted)


def _counted_up(book: Book, relations: Relations, acts: Sequence[NamedAct], counted: Collection[Counted]) -> list[NamedAct]:
    """The same acts; where breaches of one kind are counted over a round, the later ones are stated to be so.

    Where a fact says which breach it is, or only some acts of the kind read such a fact, these stand for the later ones.
    """
    out = list(acts)
    for kind in dict.fromkeys(relations.kind_of(named.act) for named in acts):
        if kind is None or kind.counted not in counted:
            continue
        places = [place for place, named in enumerate(acts) if named.act in kind.acts]
        if any(fact in acts[place].facts for place in places for fact in _COUNTED_UP):
            continue
        places.sort(key=lambda place: len(_reads(book, acts[place].act)))
        for number, place in enumerate(places):
            later: dict[str, bool] = {fact: True for fact in _COUNTED_UP[:number] if fact in _reads(book, acts[place].act)}
            out[place] = replace(acts[place], facts={**acts[place].facts, **later})
    return out


def _reads(book: Book, act: str) -> tuple[str, ...]:
    return tuple(fact for fact in facts_read([book], act) if fact in _COUNTED_UP)
