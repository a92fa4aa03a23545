"""What is asked of an act, in every form of play: each question can still change the answer, and nothing that can change it goes unasked.

Held against all ways in which the facts may be, reading the cases as docs/formats/rule-data.md says: in order, the first of which all facts
are true. A case of the other form of play cannot happen in the form asked about, and facts that only such cases name are not asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulebook.consequences import Consequence
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.act_in_form import read_in_form, turns_in_form
from marram.rulings.acts.acts import acts_of, rule_on_act

CATALOGUE = packaged_catalogue()
BOOKS = {edition: read_book(edition) for edition in CATALOGUE.editions}
ACTS = sorted(acts_of(CATALOGUE))
FORMS_OF_BOOKS = [(edition, form) for edition, book in BOOKS.items() for form in Form if book.has_row(f"form.{form.value}")]
GOES_ON = {"", "first-lost", "next-lost"}
"""What becomes of a hole while the one that is played goes on."""
NOT_THERE = object()


def is_known(edition: str, act: str) -> bool:
    return rule_on_act(BOOKS[edition], act, {}).case is not None


@cache
def told(edition: str, act: str, form: Form, case: Consequence) -> object:
    """What an official is told of a case in a form of play."""
    read = read_in_form(BOOKS[edition], form, act, case)
    if read is None or not read.happens:
        return NOT_THERE
    after = case.after_in(is_match=read.is_match)
    is_over = read.is_out or read.hole not in GOES_ON or case.out in {"always", "match-play" if read.is_match else "stroke-play"}
    return read.says, read.strokes, read.hole, read.is_out, None if is_over else after


def held(edition: str, act: str, form: Form, true: frozenset[str]) -> object:
    """What is told where some facts are true and all others false."""
    cases = BOOKS[edition].cases(f"act.{act}.cases").value
    there = [case for case in cases if told(edition, act, form, case) is not NOT_THERE]
    return next((told(edition, act, form, case) for case in there if set(case.when) <= true), NOT_THERE)


def ways(names: Iterable[str], stated: Mapping[str, bool]) -> list[frozenset[str]]:
    """All ways in which facts may be true together with what is stated."""
    open_names = [name for name in names if name not in stated]
    base = {name for name, value in stated.items() if value}
    every = [
        frozenset(base | {name for name, value in zip(open_names, way, strict=True) if value})
        for way in product((0, 1), repeat=len(open_names))
    ]
    return [way for way in every if not any(other in way for name in way for other in CATALOGUE.facts[name].excludes)]


def that_matter(edition: str, act: str, form: Form, stated: Mapping[str, bool]) -> set[str]:
    """The facts, not stated yet, of which true and false lead to different answers, the others being equal."""
    cases = BOOKS[edition].cases(f"act.{act}.cases").value
    names = {name for case in cases if told(edition, act, form, case) is not NOT_THERE for name in case.when}
    every = ways(sorted(names), stated)
    answers = {way: held(edition, act, form, way) for way in every}
    return {
        name
        for name in names - set(stated)
        for way in every
        if name in way and way - {name} in answers and answers[way] != answers[way - {name}]
    }


def asked(edition: str, act: str, form: Form, stated: Mapping[str, bool]) -> set[str]:
    answer = rule_on_act(BOOKS[edition], act, stated)
    assert answer.case is not None
    turns = turns_in_form(BOOKS[edition], form, act, answer.cases, answer.case, stated)
    return {fact for turn in turns for fact in turn.facts}


@pytest.mark.parametrize(("edition", "form"), FORMS_OF_BOOKS)
def test_exactly_what_can_change_the_answer_is_asked(edition: str, form: Form) -> None:
    wrong = {act: (asked(edition, act, form, {}), that_matter(edition, act, form, {})) for act in ACTS if is_known(edition, act)}
    assert {act: both for act, both in wrong.items() if both[0] != both[1]} == {}
    assert sum(bool(both[0]) for both in wrong.values()) > 30


@given(data=st.data())
def test_the_same_holds_whatever_has_been_stated(data: st.DataObject) -> None:
    edition = data.draw(st.sampled_from(sorted(BOOKS)))
    form = data.draw(st.sampled_from([Form.STROKE_PLAY, Form.MATCH_PLAY, Form.STABLEFORD, Form.FOUR_BALL]))
    act = data.draw(st.sampled_from([act for act in ACTS if is_known(edition, act)]))
    cases = BOOKS[edition].cases(f"act.{act}.cases").value
    names = sorted({name for case in cases if told(edition, act, form, case) is not NOT_THERE for name in case.when})
    stated = data.draw(st.dictionaries(st.sampled_from(names), st.booleans())) if names else {}
    true = {name for name, value in stated.items() if value}
    if not any(other in true for name in true for other in CATALOGUE.facts[name].excludes) and BOOKS[edition].has_row(f"form.{form.value}"):
        assert asked(edition, act, form, stated) == that_matter(edition, act, form, stated)


@pytest.mark.parametrize("edition", BOOKS)
def test_without_a_form_everything_is_asked_that_matters_in_either(edition: str) -> None:
    for act in ACTS:
        answer = rule_on_act(BOOKS[edition], act, {})
        if answer.case is None:
            continue
        either = that_matter(edition, act, Form.STROKE_PLAY, {}) | that_matter(edition, act, Form.MATCH_PLAY, {})
        assert {fact for turn in answer.turns for fact in turn.facts} == either, act
        for form, turns in answer.turns_in.items():
            assert {fact for turn in turns for fact in turn.facts} == that_matter(edition, act, form, {}), (act, form)
