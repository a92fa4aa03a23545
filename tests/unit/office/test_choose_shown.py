"""What a guide shows and in which order, and what it says of a change that it shows nowhere."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from shapely.geometry import box

from marram.core.terms import Club, FeatureKind, Hand
from marram.interchange.books.book_files import overlay_of, read_book
from marram.office.trials.make_guide import guide_trial
from marram.rulebook import Overlay, packaged_catalogue, read_overlay
from marram.rulings.case.incident import Player
from marram.sheets.guide.content import Guide
from marram.sheets.guide.leaflet import leaflet_steps
from tests.support.ground import course, feature, pond

_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)
_DROP = 'key = "drop-height.height"\nwas = "knee-as-when-standing"\nnow = "shoulder"'
_LATERAL = 'key = "relief.lateral.size"\nwas = { club_lengths = 2 }\nnow = { metres = 2 }'
_SEARCH = 'key = "search.limit_min"\nwas = 3\nnow = 2'


def _trial(*changes: str) -> Overlay:
    tables = (f'[[change]]\n{change}\nbecause = "To try it."\n' for change in changes)
    return read_overlay("\n".join(['title = "A trial"', "dated = 2026-03-01", *tables]), name="trial", catalogue=packaged_catalogue())


def _guide(trial: Overlay, *, with_pond: bool = True) -> Guide:
    ground = course(pond()) if with_pond else course()
    return guide_trial(ground, read_book("2023"), trial, player=_PLAYER, each=1, procedures=())


def test_a_change_of_how_a_ball_is_dropped_is_told_on_the_pages_of_the_others() -> None:
    guide = _guide(_trial(_DROP, _LATERAL, _SEARCH))
    assert [page.title for page in guide.pages] == ["Lateral relief, penalty area"]
    assert [change.sheets for change in guide.changes] == [(1,), (1,), ()]
    assert guide.pages[0].lead == (
        "Change 1: where the ball is let go: from shoulder height instead of from knee height.",
        "Change 2: two metres instead of two club-lengths.",
    )
    assert guide.changes[2].not_shown == "It is no part of how relief is measured, so there is nothing to draw."


def test_as_many_procedures_are_shown_as_are_asked_for() -> None:
    for each, titles in ((1, 1), (2, 2)):
        guide = guide_trial(course(pond()), read_book("2023"), _trial(_LATERAL), player=_PLAYER, each=each, procedures=())
        assert len(guide.pages) == titles, [page.title for page in guide.pages]
        assert guide.changes[0].sheets == tuple(range(1, titles + 1))


def test_a_change_whose_relief_has_no_place_says_why() -> None:
    trial = _trial('key = "relief.penalty-area-lateral-red.which"\nwas = "any"\nnow = "original"')
    guide = _guide(trial, with_pond=False)
    assert guide.pages == ()
    assert guide.changes[0].not_shown == ("Lateral relief: Test Ground has no penalty area marked red or unmarked.")
    assert guide.not_shown == (f"Change 1. {guide.changes[0].not_shown}",)


def test_a_situation_that_its_relief_names_is_not_named_again() -> None:
    trial = overlay_of(str(Path(__file__).parents[3] / "examples" / "trials" / "divot-holes.toml"))
    fairway = feature("fairway", FeatureKind.FAIRWAY, box(-30, -330, 30, -100), holes=(1,))
    guide = guide_trial(course(fairway), read_book("2023"), trial, player=_PLAYER, each=1, procedures=())
    assert [page.title for page in guide.pages] == ["Free relief from the divot hole"]
    assert guide.changes[0].touches == "Touches free relief from the divot hole."


def test_four_steps_stand_in_the_leaflet_as_they_are() -> None:
    (page,) = _guide(_trial(_LATERAL)).pages
    assert leaflet_steps(replace(page, steps=page.steps[:4])) == page.steps[:4]
    assert [step.title for step in leaflet_steps(page)][-1] == "What becomes of the drop"
