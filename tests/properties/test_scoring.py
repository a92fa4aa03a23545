"""What holds of every card: points never rise with strokes, places ignore the order of cards, no stroke is lost between holes and total."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given, settings
from hypothesis import strategies as some

from marram.core.terms import Form
from marram.scoring.cards.card import Card
from marram.scoring.competition.terms_of_competition import COUNTBACK, Fractions, Maximum, SetAs, Step, Ties
from tests.support.scored_cards import PAR, card, only, places, results

FORMS = (Form.STROKE_PLAY, Form.STABLEFORD, Form.MAXIMUM_SCORE, Form.PAR_BOGEY)
MAXIMUM = Maximum(set_as=SetAs.NET_DOUBLE_BOGEY)
scores = some.lists(some.integers(1, 12), min_size=18, max_size=18)
blanks = some.lists(some.one_of(some.none(), some.integers(1, 12)), min_size=18, max_size=18)
handicaps = some.integers(-8, 60)
holes = some.integers(0, 17)
editions = some.sampled_from(("2016", "2019", "2023"))


def one(form: Form, gross: Sequence[int | None], handicap: int, book: str = "2023") -> int | None:
    maximum = MAXIMUM if form is Form.MAXIMUM_SCORE else None
    return only(book, form, card("A", gross, handicap=handicap), is_net=True, maximum=maximum).total


@given(scores, handicaps, holes, some.sampled_from(FORMS))
def test_a_stroke_more_never_helps(gross: list[int], handicap: int, place: int, form: Form) -> None:
    more = [strokes + (at == place) for at, strokes in enumerate(gross)]
    before, after = one(form, gross, handicap), one(form, more, handicap)
    assert before is not None and after is not None
    assert after >= before if form in {Form.STROKE_PLAY, Form.MAXIMUM_SCORE} else after <= before


@given(scores, handicaps, holes)
def test_a_hole_without_a_score_is_worth_no_more_than_any_score(gross: list[int], handicap: int, place: int) -> None:
    blank: list[int | None] = [None if at == place else strokes for at, strokes in enumerate(gross)]
    for form in (Form.STABLEFORD, Form.PAR_BOGEY):
        with_score, without = one(form, gross, handicap), one(form, blank, handicap)
        assert with_score is not None and without is not None and without <= with_score
    most, least = one(Form.MAXIMUM_SCORE, blank, handicap), one(Form.MAXIMUM_SCORE, gross, handicap)
    assert most is not None and least is not None and most >= least


@given(scores, handicaps)
def test_net_is_gross_less_the_handicap(gross: list[int], handicap: int) -> None:
    assert one(Form.STROKE_PLAY, gross, handicap) == sum(gross) - handicap


@given(scores)
def test_points_at_scratch_are_two_a_hole_less_strokes_over(gross: list[int]) -> None:
    assert one(Form.STABLEFORD, gross, 0) == sum(max(0, 2 + par - strokes) for par, strokes in zip(PAR, gross, strict=True))


few = some.lists(some.tuples(scores, some.integers(0, 3)), min_size=2, max_size=6)


@given(few, some.randoms(use_true_random=False), editions, some.sampled_from(FORMS[:2]), some.sampled_from(Fractions))
@settings(max_examples=60)
def test_places_ignore_the_order_of_cards(
    drawn: list[tuple[list[int], int]], chance: object, book: str, form: Form, fractions: Fractions
) -> None:
    cards = [card(f"P{place}", _alike(gross), handicap=handicap) for place, (gross, handicap) in enumerate(drawn)]
    shuffled: list[Card] = list(cards)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    ties = Ties(steps=(*COUNTBACK, Step.FIRST_9), fractions=fractions)
    first, second = (results(book, form, of, is_net=True, ties=ties) for of in (cards, shuffled))
    assert places(first) == places(second)
    assert [one.placed for one in first.ranked] == [one.placed for one in second.ranked]


def _alike(gross: list[int]) -> list[int]:
    """Scores close to par, so that ties are common."""
    return [par + strokes % 2 for par, strokes in zip(PAR, gross, strict=True)]


@given(few)
@settings(max_examples=60)
def test_places_run_on_and_better_scores_come_first(drawn: list[tuple[list[int], int]]) -> None:
    cards = [card(f"P{place}", _alike(gross)) for place, (gross, _) in enumerate(drawn)]
    found = places(results("2023", Form.STROKE_PLAY, cards))
    totals = [total for _, _, total in found if total is not None]
    assert totals == sorted(totals)
    for place, _, _ in found:
        assert place is not None and sum(other is not None and other < place for other, _, _ in found) == place - 1
