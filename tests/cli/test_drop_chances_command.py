"""`marram drop --chances`: each book's own drop, the same chance for all, and no figure without where it comes from."""

from __future__ import annotations

import json

import pytest

from tests.support.running import Run


def chances(called: Run, *words: str) -> dict[str, dict[str, float]]:
    code, told, _ = called("drop", "--chances", "--count", "2000", "--json", *words)
    assert code == 0
    return {one["book"]: one for one in json.loads(told)["books"]}


def test_each_book_drops_from_its_own_height_in_its_own_area(called: Run) -> None:
    """Two clubs of 46 in are 2.337 m, 80 in are 2.032 m; shoulder and knee are told with the answer."""
    found = chances(called)
    assert [(one["height_m"], one["drops"]) for one in found.values()] == [(1.45, 2), (0.3, 1), (0.5, 2), (0.5, 2)]
    assert [one["radius_m"] for one in found.values()] == pytest.approx([2.336, 2.032, 2.336, 2.336], abs=0.001)
    assert found["2016"]["roll_limit_m"] == pytest.approx(2.336)
    assert not found["2016"]["must_rest_in_area"]
    assert found["2019"]["outside"] == found["2023"]["outside"]
    assert not found["draft-2017"]["drops_are_stated"]


def test_a_trial_and_a_stated_height_move_the_chances(called: Run) -> None:
    plain, longer = chances(called, "--book", "2023", "--book", "2023+examples/trials/four-changes.toml", "--from", "knee").values()
    assert longer["radius_m"] == pytest.approx(2 * plain["radius_m"])
    assert longer["outside"] < plain["outside"]
    low, high = (chances(called, "--book", "2023", "--from", height)["2023"] for height in ("0.2m", "1.2"))
    assert low["rest_median_m"] < high["rest_median_m"]
    assert high["height_m"] == 1.2


def test_the_size_of_a_procedure_is_taken(called: Run) -> None:
    found = chances(called, "--book", "2023", "--procedure", "immovable-obstruction-general-area")["2023"]
    assert found["radius_m"] == pytest.approx(1.168)


def test_it_says_that_no_turf_was_asked(called: Run) -> None:
    code, told, _ = called("drop", "--chances", "--book", "draft-2017", "--count", "500", "--slope", "14")
    assert code == 0
    assert "tried on no turf" in told
    assert "the book gives no number" in " ".join(told.split())
    assert "does not come to rest" in told
    assert "assumption" in told


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--from", "high"), 4, "--from: 'high' is no height"),
        (("--from", "0"), 4, "--from: A ball is not dropped from 0 m"),
        (("--slope", "50"), 4, "--slope: A slope of 50"),
        (("--slope", "nan"), 4, "--slope: A slope of nan"),
        (("--ground", "sand"), 4, "--ground: There is no ground called 'sand'"),
        (("--count", "3"), 4, "--count: 3 reliefs"),
        (("--procedure", "penalty-area-back-on-line"), 4, "--procedure: Under 2023 the ball is not dropped in a disc"),
        (("--procedure", "nothing"), 2, "nothing"),
    ],
)
def test_what_cannot_be_dropped_is_told_in_words(called: Run, words: tuple[str, ...], code: int, said: str) -> None:
    ended, told, complaint = called("drop", "--chances", "--book", "2023", *words)
    assert (ended, told) == (code, "")
    assert said in complaint
