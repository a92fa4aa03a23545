"""Agreement between officials."""

import pytest

from marram.core.errors import StudyError
from marram.evidence.clarity.agreement import agreement_of


def test_agreement_by_hand() -> None:
    found = agreement_of([[4, 0], [2, 2], [0, 4]])
    assert found.of_incident == pytest.approx((1.0, 1 / 3, 1.0))
    assert found.raw == pytest.approx(7 / 9)
    assert found.answer_shares == pytest.approx((0.5, 0.5))
    assert found.kappa == pytest.approx((7 / 9 - 0.5) / 0.5)  # chance gives one half
    assert found.words == "partly clear"


def test_one_answer_throughout_is_full_agreement() -> None:
    found = agreement_of([[5, 0], [5, 0]])
    assert (found.kappa, found.raw, found.words) == (1.0, 1.0, "very clear")


def test_chance_alone_leaves_officials_guessing() -> None:
    assert agreement_of([[2, 2], [2, 2]]).words == "text leaves officials guessing"


@pytest.mark.parametrize("counts", [[], [[3, 1], [2, 1]], [[1, 0], [0, 1]], [[2, 0], [1, 1, 0]]])
def test_incidents_that_cannot_be_compared_are_refused(counts: list[list[int]]) -> None:
    with pytest.raises(StudyError, match="cannot be compared"):
        agreement_of(counts)
