"""The part of `marram act` that adds several acts up: what an official states with `--also`, and how the totals are told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.common import rules_line, stated_facts
from marram.cli.fields import in_options
from marram.core.field_names import Field

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.rulebook.book import Book
    from marram.rulebook.catalogue import Catalogue
    from marram.rulings.acts.breaches import NamedAct
    from marram.rulings.acts.several import SumOfActs, Supposal
    from marram.rulings.acts.sum_of_breaches import Together

_AFTER_EVENT, _UNCOUNTED = "after_a_stroke_or_being_told", "with_a_ball_that_does_not_count"
"""Facts that say how an act stands to the others; every act may carry them."""
_WORDS = {
    "nothing": "no stroke and no awareness of a breach lay between",
    "event": "a stroke, or being aware of the first breach, lay between",
    "related": "the acts are related",
    "apart": "the acts are unrelated",
    "with_that_ball": "the further act was done in playing the ball whose strokes do not count",
    "otherwise": "it was not done with that ball",
    "one_hole": "on one hole only",
    "more_holes": "on two holes or more",
    "two_holes": "on two holes, and so on for each hole",
}
_QUESTIONS = {
    "event": "Was a stroke completed, or did the player know or learn of a breach, before the further act?",
    "related": "Are the acts related: of one type, and part of one process?",
    "with_that_ball": "Was the further act done in playing the ball whose strokes do not count?",
    "one_hole": "Over how many holes did it go on?",
}


def named_acts(catalogue: Catalogue, opened: Sequence[Book], first: tuple[str, dict[str, bool]], others: Sequence[str]) -> list[NamedAct]:
    """The acts that are to be added up, each with its own facts.

    Args:
        catalogue: The rule data.
        opened: The books.
        first: The first act with its facts.
        others: The further acts as they are given: an act, and facts after a colon.

    Raises:
        DataError: There is no such act, or no case of it reads a fact that is given.
    """
    from marram.rulings.acts.acts import facts_read, known_act, refuse_unread

    found = [_named(*first)]
    for other in others:
        act, _, facts = other.partition(":")
        name = known_act(catalogue, act.strip())
        read_by = [facts_read([book], name) for book in opened]
        texts, field = tuple(fact.strip() for fact in facts.split(",") if fact.strip()), Field.ALSO.of(name)
        named = _named(name, stated_facts(texts, catalogue.facts, read_by, field=field))
        refuse_unread(named.facts, read_by, name, field=field)
        found.append(named)
    return found


def own_facts(facts: dict[str, bool]) -> dict[str, bool]:
    """Facts without those that say how an act stands to the others."""
    return {name: value for name, value in facts.items() if name not in {_AFTER_EVENT, _UNCOUNTED}}


def _named(act: str, facts: dict[str, bool]) -> NamedAct:
    from marram.rulings.acts.breaches import NamedAct

    return NamedAct(
        act=act,
        facts=own_facts(facts),
        is_after_event=facts.get(_AFTER_EVENT, False),
        is_with_uncounted=facts.get(_UNCOUNTED),
    )


def counted(book: Book, acts: Sequence[NamedAct], between: str) -> list[NamedAct]:
    """The acts as the sum counts them, whatever nobody has said taken not to be so."""
    from marram.rulings.acts.breaches import as_counted
    from marram.rulings.acts.sum_of_breaches import Between, Supposed

    way = Between(between) if between else Between.NO_EVENT
    return as_counted(book, acts, Supposed(between=way, are_related=False, is_with_uncounted=False, holes=1).counted_up)


def added_up(book: Book, acts: Sequence[NamedAct], between: str, holes: int | None) -> SumOfActs | None:
    """All acts together; None for one alone that is not counted by the hole."""
    from marram.rulings.acts.acts import rule_on_act
    from marram.rulings.acts.several import sum_of_acts
    from marram.rulings.acts.sum_of_breaches import Between

    alone = rule_on_act(book, acts[0].act, acts[0].facts).case
    if len(acts) == 1 and (alone is None or not alone.per_hole or alone.added):
        return None
    return sum_of_acts(book, acts, Between(between) if between else None, holes)


def together_object(found: SumOfActs | None) -> dict[str, object]:
    """Several acts together, as outsiders read it; nothing for one act alone, null where one of several cannot be added.

    A member whose value hangs on what nobody has said is null; `readings` then holds every total with what it supposes.
    """
    from marram.answers.rules.ruling_answer import citation_object

    if found is None:
        return {}
    if found.why_not:
        return {"together": None, "together_why_not": in_options(found.why_not)}
    totals = [_total_object(reading.total) for reading in found.readings]
    settled = {side: _settled([total[side] for total in totals]) for side in ("stroke_play", "match_play")}
    counts = {reading.total.counts for reading in found.readings}
    return {
        "together": settled
        | {
            "counts": counts.pop() if len(counts) == 1 else None,
            "readings": [{"supposes": list(reading.supposes), **total} for reading, total in zip(found.readings, totals, strict=True)],
            "asks": _asks(found),
            "says": _says(found),
            "citations": [citation_object(citation) for citation in found.citations],
        }
    }


def _total_object(total: Together) -> dict[str, dict[str, object]]:
    match = total.match
    return {
        "stroke_play": {
            "strokes": total.strokes,
            "hole": "",
            "disqualified": total.is_out,
            "other_player_strokes": total.other_strokes,
            "words": total.stroke_play_words,
        },
        "match_play": {
            "strokes": match.strokes,
            "holes_lost": list(match.holes_lost),
            "holes_deducted": match.holes_deducted,
            "over_holes": match.over_holes,
            "disqualified": match.is_out,
            "opponent": total.opponent.words,
            "words": total.match_play_words,
        },
    }


def _settled(sides: list[dict[str, object]]) -> dict[str, object]:
    """What every total says alike; null where they differ."""
    return {name: value if all(side[name] == value for side in sides) else None for name, value in sides[0].items()}


def _asks(found: SumOfActs) -> list[str]:
    supposed = {supposal for reading in found.readings for supposal in reading.supposes}
    return [question for supposal, question in _QUESTIONS.items() if supposal in supposed]


def sum_lines(found: SumOfActs, *, is_open: bool) -> list[str]:
    """All acts together in lines: the totals, and what to ask where they hang on it.

    Args:
        found: The totals.
        is_open: Whether an act by itself still turns on something; the totals then suppose that none of it is so.
    """
    if found.why_not:
        return [f"Not added up: {in_options(found.why_not)}."]
    asks = _asks(found)
    rules = f" {rules_line(found.citations)}" if found.citations else ""
    says = _says(found)
    told = f"If nothing of what is asked of the acts is so, together{says.removeprefix('Together')}" if is_open else says
    return [f"{told}{rules}", *([f"Ask: {' '.join(asks)}"] if asks else [])]


def _says(found: SumOfActs) -> str:
    stroke = _side([(reading.supposes, reading.total.stroke_play_words) for reading in found.readings])
    match = _side([(reading.supposes, reading.total.match_play_words) for reading in found.readings])
    return f"Together: stroke play {stroke}; match play {match}."


def _side(told: list[tuple[tuple[Supposal, ...], str]]) -> str:
    """The totals of a form of play, those that are equal told once with all that leads to them."""
    by_words: dict[str, list[str]] = {}
    for supposes, words in told:
        by_words.setdefault(words, []).append(" and ".join(_WORDS[supposal] for supposal in supposes))
    if len(by_words) == 1:
        return next(iter(by_words))
    return ", but ".join(f"{words} if {' or '.join(ifs)}" for words, ifs in by_words.items())
