"""Trials written by hand: the sentences that must be told under each, and those that may not be."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path

import pytest

from marram.core.terms import Club, Hand
from marram.course.course import Course
from marram.office.trials.make_guide import guide_trial
from marram.rulebook import Book, Overlay, open_book, packaged_catalogue, read_overlay
from marram.rulebook.differences.differences import tell_differences
from marram.rulings import Player
from marram.sheets.guide.content import Guide, GuidePage
from marram.sheets.guide.screen import Screen, guide_html
from tests.support.ground import course, pond
from tests.support.tellings import tellers
from tests.support.told_keys import base

TRIALS = tomllib.loads((Path(__file__).parent / "trials.toml").read_text(encoding="utf-8"))["trial"]
CASES = [pytest.param(edition, trial, id=f"{edition}-{trial['says']}") for trial in TRIALS for edition in trial["on"]]
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON)


def _overlay(trial: Mapping[str, object]) -> Overlay:
    changes = trial["change"]
    assert isinstance(changes, list)
    tables = [f'[[change]]\nkey = "{entry["key"]}"\nwas = {_toml(entry["was"])}\nnow = {_toml(entry["now"])}' for entry in changes]
    text = "\n".join(['title = "A trial"', "dated = 2026-03-01", *(f'{table}\nbecause = "To try it."' for table in tables)])
    return read_overlay(text, name="trial", catalogue=packaged_catalogue())


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {_toml(entry)}" for name, entry in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)


def _said(book: Book, before: Book, overlay: Overlay, who: str) -> list[str]:
    """What one who tells says, as far as it speaks of the book now."""
    if who == "guide":
        return list(_guide_said(before, overlay))
    return [words for name, tell in tellers().items() if name.startswith(who) for words in tell(book)]


def _guide_said(before: Book, overlay: Overlay) -> Iterator[str]:
    guide = _guide(before.edition, overlay)
    assert guide.pages, guide.not_shown
    for page in guide.pages:
        yield from _page_said(page)
    forms: tuple[Screen, ...] = ("phone", "screen")
    for form in forms:
        html = guide_html(guide, form)
        assert all(step.title in html for page in guide.pages for step in page.steps)


def _page_said(page: GuidePage) -> Iterator[str]:
    yield from (f"{label}: {words}" for label, words in page.now.rows)
    yield from (line.text for line in (*page.stays, *page.newly))
    yield from (words for step in page.steps for words in step.words)
    yield from (step.drawing.alt for step in page.steps)
    yield page.length_title


_GUIDES: dict[tuple[str, tuple[object, ...]], Guide] = {}


def _guide(edition: str, overlay: Overlay) -> Guide:
    key = edition, tuple((change.key, repr(change.now)) for change in overlay.changes)
    if key not in _GUIDES:
        shown = ("penalty-area-lateral-red",)
        _GUIDES[key] = guide_trial(_ground(), base(edition), overlay, player=_PLAYER, each=1, procedures=shown)
    return _GUIDES[key]


@lru_cache
def _ground() -> Course:
    return course(pond())


@pytest.mark.parametrize(("edition", "trial"), CASES)
def test_what_a_trial_changes_is_told_so(edition: str, trial: Mapping[str, list[str]]) -> None:
    before, overlay = base(edition), _overlay(trial)
    book = open_book(edition, [overlay], packaged_catalogue())
    for who in trial["in"]:
        said = _said(book, before, overlay, who)
        assert said
        told = "\n".join(said)
        for words in trial["must"]:
            assert words in told, f"{who} does not say {words!r}:\n{told}"
        for words in trial["gone"]:
            assert words not in told, f"{who} still says {words!r}: {[line for line in said if words in line]}"
    sentences = "\n".join(entry.sentence for entry in tell_differences((before, book)).told)
    for words in trial.get("compare", []):
        assert words in sentences, sentences
