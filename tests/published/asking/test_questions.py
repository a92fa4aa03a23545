"""Questions as people put them: nearly all find their answer among the first three, or are rightly told that they are not covered."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.office.play.ask import whole_register
from tests.published.adapter import Unfit
from tests.published.phrasings import Phrasing, read_phrasings, told, try_out
from tests.published.run import main
from tests.support.yaml_text import read_yaml

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.yaml"))
LEAST = {
    "questions": (0.95, 0.9),
    "questions_afterwards": (0.95, 0.8),
    "questions_last": (0.8, 0.7),
    "strangers": (0.85, 0.8),
    "newcomers": (0.82, 0.66),
}
"""For each file: the share of questions on what the rule data holds that must find their answer among the first three, and the share of the
others that must be told that they are not covered. The last three were not used to mend anything; strangers.yaml and newcomers.yaml are by
two other hands."""


def questions_of(path: Path) -> list[Phrasing]:
    return read_phrasings(read_yaml(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_questions_find_their_answers(path: Path) -> None:
    entries = whole_register().entries
    asked = [try_out(one) for one in questions_of(path) if not one.is_covered or one.answers & entries.keys()]
    covered = [one.is_right for one in asked if one.phrasing.is_covered]
    least, least_of_others = LEAST[path.stem]
    assert sum(covered) / len(covered) >= least
    others = [one.is_right for one in asked if not one.phrasing.is_covered]
    assert sum(others) / len(others) >= least_of_others


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_question_stands_among_the_phrases_by_which_it_would_be_found(path: Path) -> None:
    from marram.asking.entries import read_phrases

    phrases = {phrase.lower() for phrases in read_phrases().values() for phrase in phrases}
    assert not [one.name for one in questions_of(path) if len(one.words.split()) > 4 and one.words.lower() in phrases]


def test_a_file_of_phrasings_is_run_and_its_shares_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "phrasings.yaml"
    file.write_text(
        "phrasings:\n"
        '- {id: a, words: "played a wrong ball", answers: [act.wrong-ball], part: one}\n'
        '- {id: b, words: "played a wrong ball", answers: [thing.rake], part: two}\n'
        '- {id: c, words: "offside in football", covered: false, part: two}\n'
    )
    assert main([str(file)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "passed  a"
    assert lines[1] == "FAILED  b" and "expected thing.rake" in lines[2]
    assert "two: among the first three: 0 of 1 (0.0 %)" in lines
    assert lines[-4:] == [
        "first: 1 of 2 (50.0 %)",
        "among the first three: 1 of 2 (50.0 %)",
        "not covered: 1 of 1 (100.0 %)",
        "2 passed, 1 failed",
    ]


@pytest.mark.parametrize(
    "entry",
    [
        "- {id: a, words: x}",
        "- {id: a, words: x, answers: [drop], covered: false}",
        "- {id: a, answers: [drop]}",
        "- {id: a, words: x, answer: [drop]}",
        "- {id: a, words: x, answers: [drop]}\n- {id: a, words: y, answers: [drop]}",
    ],
)
def test_phrasings_that_do_not_hold_together_are_refused(entry: str) -> None:
    with pytest.raises(Unfit):
        read_phrasings(read_yaml(f"phrasings:\n{entry}"))


def test_shares_of_nothing_are_told_without_a_figure() -> None:
    assert list(told([])) == ["first: 0 of 0", "among the first three: 0 of 0", "not covered: 0 of 0"]
