"""How a value of a book is read out beside that of another book: sizes with metres, words of closed lists, cases of an act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.citations import MARKS
from marram.core.units import Size
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import BALL_WORDS, BallIs, StrokeIs
from marram.rulebook.consequences import Cases, Consequence
from marram.rulebook.differences.compare import Side
from marram.rulebook.differences.compare_cases import cases_that_differ
from marram.rulebook.placeholders import OWN
from marram.rulebook.values import PartSpec, PartType, Value, cases_of, value_words
from marram.rulebook.wording.explain import fill
from marram.rulebook.wording.value_words import listed, number_words, said_as, size_words

NO_SUCH_CASE = "no such case"
"""What is told of cases that one list has and the other has not."""
_STROKE = {
    StrokeIs.COUNTS: "the stroke counts",
    StrokeIs.CANCELLED: "the stroke does not count",
    StrokeIs.REPLAY: "the stroke is played again",
    StrokeIs.NOT_MADE: "no stroke was made",
}


def says(book: Book, family: str, spec: PartSpec, value: Value) -> str:
    """A value as an official reads it out.

    Args:
        book: The book whose words are used where it has words for the answer.
        family: First part of the name of the row.
        spec: The part.
        value: The value.

    Units: inches are followed by metres.
    """
    if isinstance(value, Size):
        return size_words(value)
    cases = cases_of(value)
    if cases:
        *exceptions, rest = map(case_words, cases)
        return "; ".join([*exceptions, f"otherwise {rest}" if exceptions else rest])
    if isinstance(value, tuple):
        words = [word for word in value if isinstance(word, str)]
        return listed([_word(book, family, spec, word) for word in words])
    if isinstance(value, str):
        return _word(book, family, spec, value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return number_words(value, spec.unit, in_figures=True) if isinstance(value, int | float) else value_words(value, spec.unit)


def _word(book: Book, family: str, spec: PartSpec, word: str) -> str:
    key = f"form-says.{spec.name}-{word}"
    said = book.word(key).value.rstrip(".") if family == "form" and key in book.catalogue.keys and book.has(key) else ""
    if said and f"{{{OWN}." not in said:
        said = fill(book, said)
        return said[:1].lower() + said[1:]
    return " ".join(fill(book, words) for words in said_as(spec, word))


@dataclass(frozen=True, slots=True, kw_only=True)
class CasesApart:
    """What two lists of cases say differently, and nothing on which they agree.

    Attributes:
        first: What the first says.
        second: What the second says, of the same cases in the same order.
        told: Both in one clause.
    """

    first: str
    second: str
    told: str


def cases_apart(first: Cases, second: Cases, names: tuple[str, str], apart: Sequence[tuple[int, int]] | None = None) -> CasesApart:
    """Tell what two lists of cases lead to differently.

    Args:
        first: Cases of the first book.
        second: Cases of the second.
        names: Names of the books.
        apart: Places of the cases that hold of the same facts and lead to different things; worked out where it is not given.
    """
    places = cases_that_differ(first, second) if apart is None else apart
    told_of = (
        [first[here] for here in dict.fromkeys(here for here, _ in places)],
        [second[there] for there in dict.fromkeys(there for _, there in places)],
    )
    # The case without any fact comes first: it is what the act leads to, and the others are its exceptions.
    both = sorted(((first[here], second[there]) for here, there in places if first[here].when == second[there].when), key=_has_facts)
    is_split = len(first) > 1 or len(second) > 1
    pairs = [_pair(before, after, is_split=is_split) for before, after in both]
    whens = [{case.when for case in cases} for cases in (first, second)]
    alone = [_only([case for case in told_of[side] if case.when not in whens[1 - side]], names[side]) for side in (0, 1)]
    if not pairs and not any(alone):
        return CasesApart(first="its cases in one order", second="the same in another order", told="its cases are asked in another order")
    columns = [[pair[side] for pair in pairs] + ([alone[side]] if alone[side] else []) for side in (0, 1)]
    told = [pair[2] for pair in pairs] + [clause for clause in alone if clause]
    return CasesApart(first="; ".join(columns[0]) or NO_SUCH_CASE, second="; ".join(columns[1]) or NO_SUCH_CASE, told="; ".join(told))


def _has_facts(pair: tuple[Consequence, Consequence]) -> bool:
    return bool(pair[0].when)


def _pair(before: Consequence, after: Consequence, *, is_split: bool) -> tuple[str, str, str]:
    lead = f"where {fact_words(before.when)}, " if before.when else "otherwise " if is_split else ""
    told = [list(_aspects(case)) for case in (before, after)]
    if BallIs.NONE in {before.ball, after.ball}:  # what one book leaves unsaid of the ball is no difference
        told = [[*aspects[:2], "", *aspects[3:]] for aspects in told]
    apart = [(one, two) for one, two in zip(*told, strict=True) if one != two]
    one, two = (", ".join(pair[side] for pair in apart) for side in (0, 1))
    return lead + one, lead + two, f"{lead}{one} becomes {two}"


def _only(cases: list[Consequence], name: str) -> str:
    """Cases that one book alone has, those that lead to the same told together."""
    by_outcome: dict[str, list[str]] = {}
    for case in cases:
        by_outcome.setdefault(case_said(case), []).append(f"where {fact_words(case.when)}")
    return "; ".join(f"only in {name}, {said} {' or '.join(wheres)}" for said, wheres in by_outcome.items())


def fact_words(when: tuple[str, ...]) -> str:
    """The facts of a case, as they are read after *where*."""
    return " and ".join(name.replace("_", " ") for name in when)


def case_said(case: Consequence) -> str:
    """What a case leads to, without what is as usual: that the stroke counts, and nothing that is said of the ball."""
    usual = _aspects(Consequence())
    costs, *others = _aspects(case)
    return ", ".join([costs, *(said for said, plain in zip(others, usual[1:], strict=True) if said != plain)])


def case_words(case: Consequence) -> str:
    """A whole case in words, with its facts."""
    lead = f"where {fact_words(case.when)}, " if case.when else ""
    return lead + case_said(case)


def _aspects(case: Consequence) -> tuple[str, ...]:
    """Everything that a case says, one thing at a time, the penalty first."""
    costs = (case.stroke_play_words, case.match_play_words)
    apart = " and ".join(
        f"{words} in {form}" for words, form in zip(costs, ("stroke play", "match play"), strict=True) if words != "not in question"
    )
    return (
        costs[0] if costs[0] == costs[1] else apart,
        _STROKE.get(case.stroke, "no stroke is in question"),
        BALL_WORDS[case.ball] or "nothing is said of the ball",
        f"to be put right {case.put_right.replace('-', ' ')}" if case.put_right else "nothing to be put right",
        "up to the cap for a round" if case.capped else "without a cap",
        _apart_in_a_match(case) if case.match_stroke or case.match_ball else "the same of stroke and ball in match play",
    )


def _apart_in_a_match(case: Consequence) -> str:
    after = case.after_in(is_match=True)
    told = (_STROKE.get(after.stroke, "no stroke is in question"), BALL_WORDS[after.ball])
    return f"in match play {' and '.join(words for words in told if words)}"


def not_seen(side: Side) -> str:
    """What a side rests on where it was not seen in print: *from memory*, *inferred* or *common practice*; else empty."""
    return next((MARKS[citation.known] for citation in side.citations if not citation.is_seen), "")


def is_yes_no(spec: PartSpec) -> bool:
    """Whether the part answers yes or no."""
    return spec.type is PartType.YES_NO
