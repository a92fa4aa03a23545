"""What counts for handicap and why not, by the Rules of Handicapping 2020 and 2024, Rules 2.1 and 2.2."""

from dataclasses import replace

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.acceptability import RoundPlayed, accept
from marram.handicaps.adjusted_score import ScoreOf
from marram.handicaps.rules.acceptance_rules import acceptance_rules
from marram.interchange.books.book_files import read_handicap_book
from marram.rulebook.handicap_words import ScoreNeeds

RULES = {edition: acceptance_rules(read_handicap_book(edition)).value for edition in ("2020", "2024")}


@pytest.mark.parametrize(
    ("edition", "played", "counts_as", "filled", "because"),
    [
        ("2020", RoundPlayed(holes_played=18), ScoreOf.EIGHTEEN, 0, ""),
        ("2020", RoundPlayed(holes_played=16), ScoreOf.EIGHTEEN, 2, ""),
        ("2020", RoundPlayed(holes_played=12), ScoreOf.NINE, 0, ""),
        ("2024", RoundPlayed(holes_played=12), ScoreOf.EIGHTEEN, 6, ""),
        ("2024", RoundPlayed(holes_played=8, holes_of_round=9), ScoreOf.NOTHING, 0, "9 for a score of nine, and 8 were played"),
        ("2024", RoundPlayed(holes_played=16, has_valid_reason=False), ScoreOf.NOTHING, 0, "without a valid reason"),
        ("2024", RoundPlayed(holes_played=18, has_valid_reason=False), ScoreOf.EIGHTEEN, 0, ""),
        ("2024", RoundPlayed(holes_played=18, format="foursomes"), ScoreOf.NOTHING, 0, "no player's own"),
        ("2024", RoundPlayed(holes_played=18, format="match-play", association_accepts=False), ScoreOf.NOTHING, 0, "does not accept"),
        ("2024", RoundPlayed(holes_played=18, format="match-play", association_accepts=True), ScoreOf.EIGHTEEN, 0, ""),
        ("2024", RoundPlayed(holes_played=18, format="match-play"), ScoreOf.EIGHTEEN, 0, "where the national association accepts it"),
        ("2024", RoundPlayed(holes_played=18, format="stableford-eighteen"), ScoreOf.EIGHTEEN, 0, ""),
        ("2020", RoundPlayed(holes_played=18, format="stroke-play-eighteen"), ScoreOf.EIGHTEEN, 0, ""),
    ],
)
def test_what_a_round_counts_as(edition: str, played: RoundPlayed, counts_as: ScoreOf, filled: int, because: str) -> None:
    found = accept(played, RULES[edition])
    assert (found.counts_as, found.filled) == (counts_as, filled)
    assert found.is_acceptable is (counts_as is not ScoreOf.NOTHING)
    assert (because in "; ".join(found.because)) and bool(found.because) is bool(because)


@pytest.mark.parametrize(("accepts", "hangs"), [(None, True), (True, False), (False, False)])
def test_what_hangs_on_the_association(accepts: bool | None, hangs: bool) -> None:
    found = accept(RoundPlayed(holes_played=18, format="match-play", association_accepts=accepts), RULES["2024"])
    assert (found.hangs_on_association, found.is_acceptable) == (hangs, accepts is not False)


@pytest.mark.parametrize(
    ("breach", "counts", "of_committee"),
    # Rule 2.1b: a breach without significant scoring advantage leaves the score acceptable, a penalty left out does not.
    [
        ("", True, False),
        ("disqualified-without-advantage", True, False),
        ("disqualified-with-advantage", False, False),
        ("penalty-left-out", False, False),
        ("rule-ignored-on-purpose", False, False),
        ("local-rule-not-in-force", True, True),
    ],
)
@pytest.mark.parametrize("edition", RULES)
def test_after_a_breach(edition: str, breach: str, counts: bool, of_committee: bool) -> None:
    found = accept(RoundPlayed(holes_played=18, breach=breach), RULES[edition])
    assert (found.is_acceptable, found.hangs_on_committee) == (counts, of_committee)
    assert bool(found.because) is (not counts or of_committee)


@pytest.mark.parametrize("edition", RULES)
def test_changed_rules_take_an_approval_in_writing(edition: str) -> None:
    changed = RoundPlayed(holes_played=18, changes=("Relief from divots, change 1",))
    assert not accept(changed, RULES[edition]).is_acceptable
    assert "Relief from divots, change 1" in accept(changed, RULES[edition]).because[0]
    assert accept(replace(changed, are_changes_approved=True), RULES[edition]).is_acceptable
    nobody = replace(RULES[edition], approved_counts=False)
    assert not accept(replace(changed, are_changes_approved=True), nobody).is_acceptable


@pytest.mark.parametrize(("edition", "holes", "shortest_yd"), [("2020", 18, 3000), ("2020", 9, 1500), ("2024", 18, 1500), ("2024", 9, 750)])
def test_a_course_must_be_long_enough_to_be_rated(edition: str, holes: int, shortest_yd: int) -> None:
    played = RoundPlayed(holes_played=holes, holes_of_round=holes, length_yd=shortest_yd)
    assert accept(played, RULES[edition]).is_acceptable
    assert f"it takes {shortest_yd} yd" in accept(replace(played, length_yd=shortest_yd - 1), RULES[edition]).because[0]


@pytest.mark.parametrize("edition", RULES)
def test_every_reason_is_told(edition: str) -> None:
    is_not: dict[ScoreNeeds, str] = {need: "so it was" for need in ScoreNeeds if need is not ScoreNeeds.ENOUGH_HOLES}
    found = accept(RoundPlayed(holes_played=3, is_not=is_not), RULES[edition])
    assert len(found.because) == len(ScoreNeeds)
    assert any("the company of at least one other person: so it was" in reason for reason in found.because)


@pytest.mark.parametrize(
    ("played", "said"),
    [
        (RoundPlayed(holes_played=19), "19 holes played of 18 cannot be"),
        (RoundPlayed(holes_played=-1), "-1 holes played of 18 cannot be"),
        (RoundPlayed(holes_played=12, holes_of_round=12), "12 holes played of 12 cannot be"),
        (RoundPlayed(holes_played=18, format="fourballs"), "four-ball"),
        (RoundPlayed(holes_played=18, breach="penalty-forgotten"), "penalty-left-out"),
    ],
)
def test_what_cannot_be_is_refused(played: RoundPlayed, said: str) -> None:
    with pytest.raises(HandicapError, match=said):
        accept(played, RULES["2024"])
