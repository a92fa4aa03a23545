"""Agreement on written incidents: worked by hand, and the exercise from rulings to its word."""

from __future__ import annotations

import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.alpha import Scale, alpha
from marram.evidence.clarity.exercise import Ruled, Wording, weigh_clarity
from marram.evidence.verdicts import Verdict


def test_two_officials_on_three_incidents_by_hand() -> None:
    """(1,1) (1,2) (2,2): values 1 1 1 2 2 2; observed disagreement 2 of 6; expected 2 x 3 x 3 / 5 of 6; alpha = 1 - 2 / 3.6."""
    assert alpha([[1, 1, 2], [1, 2, 2]]) == pytest.approx(1 - 2 / 3.6)


def test_distances_by_hand() -> None:
    """(1,3) (3,3): values 1 3 3 3. Interval: 2 x 4 observed, 2 x 1 x 3 x 4 / 3 expected: nothing beyond chance; as for names."""
    assert alpha([[1, 3], [3, 3]], Scale.INTERVAL) == pytest.approx(0.0)
    assert alpha([[1, 3], [3, 3]], Scale.NOMINAL) == pytest.approx(0.0)


def test_full_agreement_is_one_and_a_lone_answer_drops_out() -> None:
    assert alpha([[1, 2, None], [1, 2, 3]]) == 1.0
    assert alpha([[1, 1], [1, 1]]) == 1.0


@pytest.mark.parametrize("ratings", [[], [[1, 2], [1]], [[1, None], [None, 2]]])
def test_what_cannot_be_compared_is_refused(ratings: list[list[float | None]]) -> None:
    with pytest.raises(StudyError):
        alpha(ratings)


def rulings(draft_alike: int, incidents: int = 8, officials: int = 4) -> list[Ruled]:
    """Under the present text officials split two and two; under the draft all agree on so many incidents, and split on the others."""
    found = []
    for incident in range(incidents):
        for official in range(officials):
            split = "free" if official % 2 else "penalty"
            found.append(Ruled(official=f"o{official}", incident=f"i{incident}", wording=Wording.PRESENT, answer=split))
            answer = "free" if incident < draft_alike else split
            found.append(Ruled(official=f"o{official}", incident=f"i{incident}", wording=Wording.DRAFT, answer=answer))
    return found


def test_a_draft_that_most_rule_alike_is_clearer() -> None:
    """Two and two agree in 2 of 6 pairs: 1/3; four alike in all: a gain of 2/3 on six of eight incidents, 0.5 on the mean."""
    found = weigh_clarity(rulings(6), matters=0.1)
    assert found.agreement is not None
    assert found.agreement.estimate == pytest.approx(0.5)
    assert found.verdict is Verdict.DOES_IT
    present, draft = found.texts
    assert [present.raw, draft.raw] == pytest.approx([1 / 3, 5 / 6])
    assert present.words == "text leaves officials guessing"
    assert [name for name, _ in draft.split] == ["i6", "i7"]
    assert dict(draft.split)["i6"] == (("penalty", 2), ("free", 2))
    assert draft.alpha_interval95.low <= draft.alpha <= draft.alpha_interval95.high


def test_a_draft_that_changes_nothing_has_no_spread_to_judge_by() -> None:
    found = weigh_clarity(rulings(0), matters=0.1)
    assert (found.verdict, found.agreement is not None) == (Verdict.TOO_LITTLE, True)
    assert "same" in found.reason


@pytest.mark.parametrize(("incidents", "officials", "reason"), [(5, 4, "fewest"), (8, 2, "2 officials")])
def test_too_few_incidents_or_officials(incidents: int, officials: int, reason: str) -> None:
    found = weigh_clarity(rulings(3, incidents, officials), matters=0.1)
    assert found.verdict is Verdict.TOO_LITTLE
    assert reason in found.reason


def test_what_the_text_means_is_held_against_what_was_ruled() -> None:
    meant = {(f"i{number}", Wording.DRAFT): "free" for number in range(8)}
    present, draft = weigh_clarity(rulings(6), matters=0.1, meant=meant).texts
    assert present.right is None
    assert draft.right is not None
    assert draft.right.estimate == pytest.approx((6 * 4 + 2 * 2) / 32)


def test_one_text_alone_is_told_and_not_judged() -> None:
    lot = [entry for entry in rulings(6) if entry.wording is Wording.DRAFT]
    found = weigh_clarity(lot, matters=0.1)
    assert [text.wording for text in found.texts] == [Wording.DRAFT]
    assert found.verdict is Verdict.TOO_LITTLE


def test_a_second_answer_is_refused_as_is_nothing() -> None:
    with pytest.raises(StudyError, match="o0 ruled i0 twice under the present text"):
        weigh_clarity([*rulings(1), rulings(1)[0]], matters=0.1)
    with pytest.raises(StudyError, match="Nothing"):
        weigh_clarity([], matters=0.1)


def test_kappa_is_told_where_equally_many_ruled_each_incident() -> None:
    """Two and two of four each time: (2 x 1 + 2 x 1) / 12 = 1/3 agree, half by chance: (1/3 - 1/2) / (1/2) (Fleiss, 1971)."""
    given = rulings(0)
    present = next(text for text in weigh_clarity(given, matters=0.1).texts if text.wording is Wording.PRESENT)
    assert present.kappa == pytest.approx(-1 / 3)
    one_less = [entry for entry in given if not (entry.official == "o0" and entry.incident == "i0" and entry.wording is Wording.PRESENT)]
    present = next(text for text in weigh_clarity(one_less, matters=0.1).texts if text.wording is Wording.PRESENT)
    assert present.kappa is None
