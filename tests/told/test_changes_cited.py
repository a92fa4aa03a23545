"""What tells a key that an overlay changed cites the overlay: options, what is not open, questions, and what a guide says is forbidden."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from marram.core.errors import MarramError
from marram.rulebook import Book
from marram.rulebook.wording.explain import tell
from marram.rulings import Ruling, rule_on
from marram.rulings.case.case import Case
from marram.rulings.case.ruling import NotAvailable, Option, Question, RulingLine
from marram.showing.forbidden import Carried, Forbidden, forbidden_by
from tests.support.tellings import ground, incidents
from tests.support.told_keys import EDITIONS, base, changed_book, held, keys_in_texts, other_values, told_by

Answer = Option | NotAvailable | Question | RulingLine | Forbidden
_IN_TEXTS, _ELSE = 2, 1
"""So many rulings that tell a key are read, where a text names the key and where it is only read."""


@cache
def _answers(name: str, edition: str) -> dict[tuple[str, str], Answer]:
    return _told(name, base(edition))


def _told(name: str, book: Book) -> dict[tuple[str, str], Answer]:
    """Each answer of a ruling by its kind and what it is about."""
    incident = incidents()[name]
    ruling = rule_on(incident, ground(), book)
    found: dict[tuple[str, str], Answer] = {("option", entry.procedure + entry.carried_out_as): entry for entry in ruling.options}
    found |= {("not available", entry.procedure): entry for entry in ruling.not_available}
    found |= {("question", entry.fact): entry for entry in ruling.facts_needed}
    found |= {("line", entry.text): entry for entry in ruling.lines if not _is_our_own(entry)}
    return found | dict(_forbidden(name, book, ruling))


def _is_our_own(line: RulingLine) -> bool:
    """Whether a line tells only numbers of our own, which no rule gives and no change of one sets."""
    return all(citation.rule == "no rule" for citation in line.citations)


def _forbidden(name: str, book: Book, ruling: Ruling) -> Iterator[tuple[tuple[str, str], Forbidden]]:
    case = Case(incident=incidents()[name], course=ground().with_conditions(incidents()[name].conditions), book=book)
    for option in ruling.options:
        for line in forbidden_by(Carried(case=case, option=option), ruling):
            yield (f"forbidden {option.procedure} {option.carried_out_as}", line.about), line


def _words(answer: Answer) -> tuple[str, ...]:
    match answer:
        case Option():
            return (answer.title, str(answer.penalty_strokes), answer.size_words, *answer.steps)
        case NotAvailable():
            return (answer.title, answer.because)
        case Question():
            return (answer.question,)
        case Forbidden() | RulingLine():
            return (answer.text,)


def uncited(edition: str, key: str, changed: Book) -> list[str]:
    """Answers whose words a change of a key changes, and that do not cite it."""
    names = [name for name in told_by(edition)[key] if name.startswith("ruling")][: _IN_TEXTS if key in keys_in_texts() else _ELSE]
    found = []
    for name in names:
        before = _answers(name, edition)
        for about, answer in _told(name, changed).items():
            is_told = about[0] == "line" if about not in before else _words(before[about]) != _words(answer)
            if is_told and not any(citation.overlay for citation in answer.citations):
                found.append(f"{edition} {key}: {name}, {about}: {_words(answer)}")
    return found


@pytest.mark.parametrize("edition", EDITIONS)
def test_whatever_tells_a_changed_key_cites_the_change(edition: str) -> None:
    asked, faults = 0, []
    for key in sorted(told_by(edition) if edition == EDITIONS[-1] else set(told_by(edition)) & keys_in_texts()):
        for now in other_values(base(edition).catalogue.find_key(key)[1], held(base(edition), key))[:1]:
            try:
                faults += uncited(edition, key, changed_book(edition, key, now))
                asked += 1
            except MarramError:
                continue  # the book itself says that it cannot be so
    assert asked
    assert not faults, "\n".join(faults)


def test_a_step_that_tells_the_drop_height_cites_the_trial_of_it() -> None:
    # Rules of Golf 2023, 14.3b(2): from knee height; the relief's own row says nothing of it.
    book = changed_book("2023", "drop-height.height", "shoulder")
    options = rule_on(incidents()["ruling red penalty area"], ground(), book).options
    dropped = [option for option in options if any(tell(book, "drop-height.height") in step for step in option.steps)]
    assert dropped
    assert all(any(citation.rule == "change 1 to 14.3b(2)" for citation in option.citations) for option in dropped)


def test_what_tells_nothing_of_the_change_does_not_cite_it() -> None:
    book = changed_book("2023", "search.limit_min", 5)
    ruling = rule_on(incidents()["ruling red penalty area"], ground(), book)
    assert not any(citation.overlay for option in ruling.options for citation in option.citations)
