"""The runner of published examples compares exactly and reads what an example refers to.

The examples here are worked by hand: 11.6 - 0.5 x (11.6 - 6.5 - 3.0) = 10.55, which is 10.6 to a tenth (Rules of Handicapping 2024,
Rules 5.2a and 5.8); par of three invented holes.
"""

from fractions import Fraction
from pathlib import Path

import pytest

from tests.published import run as runner
from tests.published.adapter import Adapter, Unfit
from tests.published.comparing import Unrounded, compare
from tests.published.outcome_words import outcome_of
from tests.published.referring import course_of

CAP = "examples:\n- {id: cap, topic: soft_cap, inputs: {average_low_8: 11.6, low_index: 6.5}, expected: {handicap_index: 10.6}}\n"
INPUTS = frozenset({"average_low_8", "low_index"})


def capped(inputs: object) -> Fraction:
    assert isinstance(inputs, dict)
    average, low = (Fraction(repr(inputs[name])) for name in ("average_low_8", "low_index"))
    return average - (average - low - 3) / 2


@pytest.mark.parametrize(
    ("gives", "code"),
    [
        (Fraction(106, 10), 0),
        (10.6, 0),
        ("unrounded fraction", 1),
        ("unrounded float", 1),
        (Fraction(105, 10), 1),
        (10.600000001, 1),
        ("10.6", 1),
        (True, 1),
    ],
)
def test_an_adapter_that_never_rounds_fails(
    gives: object, code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def work_out(inputs: object) -> dict[str, object]:
        found = {"unrounded fraction": capped(inputs), "unrounded float": float(capped(inputs))}
        return {"handicap_index": found.get(str(gives), gives)}

    monkeypatch.setattr(runner, "list_adapters", lambda: [Adapter(topic="soft_cap", inputs=INPUTS, work_out=work_out)])
    file = tmp_path / "cap.yaml"
    file.write_text(CAP, encoding="utf-8")
    assert runner.main([str(file)]) == code
    assert ("10.55" in capsys.readouterr().out) is ("unrounded" in str(gives))


@pytest.mark.parametrize(
    ("expected", "found", "agree"),
    [
        (13.2195, Unrounded(Fraction(122, 10) * 128 / 113 - Fraction(6, 10)), True),
        (13.2194, Unrounded(Fraction(122, 10) * 128 / 113 - Fraction(6, 10)), False),
        (12.5, Unrounded(Fraction(25, 2)), True),
        (-5.6, Unrounded(Fraction(-565, 100)), True),  # a half goes up, toward nought
        (13, Fraction(13), True),
        (13, Fraction(132195, 10000), False),
        (True, 1, False),
        (1, True, False),
        (False, False, True),
        ([1, [2, 3]], (1, [2, 3]), True),
        ([1, 2], [1, 2, 3], False),
        ([1, 2], [1], False),
        ({"A": 1}, {"A": 1, "B": 2}, True),
        ({"A": 1, "B": 2}, {"A": 1}, False),
        ("+2", "+2", True),
        ("+2", -2, False),
        (1, float("nan"), False),
    ],
)
def test_values_agree_exactly_or_not_at_all(expected: object, found: object, agree: bool) -> None:
    assert (list(compare("value", expected, found)) == []) is agree


def test_a_tolerance_holds_only_where_it_is_stated() -> None:
    assert list(compare("value", 10.6, 10.55, 0.06)) == []
    assert list(compare("value", 10.6, 10.55, 0.04)) != []
    assert list(compare("value", [10.6, 1], [10.55, 1], 0.06)) == []


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("3 & 2", "3 and 2", True),
        ("3 & 2", "3 & 1", False),
        ("disqualified", "Disqualification", True),
        ("net 76", "76", True),
        ("net 76", "net 75", False),
        ("tied", "all square", True),
        ("1 up", "1 down", False),
        ("none - Terms decide", "none: the terms decide", True),
        ("plays off 9; opponent receives 1", "plays off 9; the opponent receives 1 stroke", True),
        ("receives 1", "opponent receives 1", False),
        ("0 points", "no points", True),
        ("P", "Q", False),
        ("anything else", "Anything  else", True),
        ("not valid", "valid", False),
    ],
)
def test_texts_agree_by_the_outcome_that_they_name(one: str, other: str, same: bool) -> None:
    assert (outcome_of(one) == outcome_of(other)) is same


def test_a_course_and_its_part_are_read() -> None:
    content = {"courses": {"links": {"note": "invented", "par": list(range(1, 19)), "stroke_index": list(range(18, 0, -1))}}}
    assert course_of("links", content)["par"] == list(range(1, 19))
    assert course_of("links back nine", content)["stroke_index"] == list(range(9, 0, -1))
    assert course_of("links holes 2-4", content) == {
        "name": "links",
        "note": "invented",
        "par": [2, 3, 4],
        "stroke_index": [17, 16, 15],
        "holes": [2, 3, 4],
    }
    for text in ("moor", "links upper half"):
        with pytest.raises(Unfit):
            course_of(text, content)
