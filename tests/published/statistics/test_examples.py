"""Every stored example of statistics passes, and the runner fails what it should."""

from pathlib import Path

import pytest

from tests.published.run import Example, find_faults, list_adapters, main, read_content, read_examples

STORED = sorted(Path(__file__).parent.glob("*.yaml"))
EXAMPLES = [table for path in STORED for table in read_examples(read_content(path))]


@pytest.mark.parametrize("table", EXAMPLES, ids=lambda table: table[0].name)
def test_a_published_example(table: list[Example]) -> None:
    adapters = list_adapters()
    assert [fault for example in table for fault in find_faults(example, adapters)] == []


def write(folder: Path, text: str) -> str:
    path = folder / "examples.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


GOOD = (
    "{id: good, topic: survey, data: {count: 0, n: 20}, expected: {lower: 0.0, upper: 0.1611}, "
    "tolerance_abs: {lower: 1.0e-09, upper: 6.0e-05}}"
)
WRONG = GOOD.replace("good", "wrong").replace("0.1611", "0.1613")
UNKNOWN = "{id: strange, topic: tides, data: {height: 3}, expected: {depth: 4}}"


@pytest.mark.parametrize(
    ("checks", "code", "last"),
    [
        ([GOOD], 0, "1 passed, 0 failed"),
        ([GOOD, WRONG], 1, "1 passed, 1 failed"),
        ([UNKNOWN, GOOD], 1, "1 passed, 1 failed"),
        ([GOOD.replace("n: 20", "n: twenty")], 1, "0 passed, 1 failed"),
        ([GOOD.replace("n: 20", "n: 20, weights: [1, 2]")], 1, "0 passed, 1 failed"),  # an input that nobody takes
        ([GOOD.replace("upper: 0.1611", "middle: 0.1")], 1, "0 passed, 1 failed"),  # a value that nobody works out
    ],
)
def test_the_last_line_counts(checks: list[str], code: int, last: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([write(tmp_path, "checks:\n" + "".join(f"- {check}\n" for check in checks))]) == code
    assert capsys.readouterr().out.splitlines()[-1] == last


def test_what_is_not_known_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main([write(tmp_path, f"examples:\n- {UNKNOWN.replace('data', 'inputs')}\n")])
    out = capsys.readouterr().out
    assert "FAILED  strange" in out
    assert "'tides' with height" in out


def test_without_a_tolerance_a_value_agrees_to_its_decimals(tmp_path: Path) -> None:
    upper = "checks:\n- {{id: a, topic: survey, data: {{count: 0, n: 20}}, expected: {{upper: {}}}}}\n"
    assert main([write(tmp_path, upper.format("0.161"))]) == 0
    assert main([write(tmp_path, upper.format("0.1610"))]) == 0  # YAML does not keep the last nought
    assert main([write(tmp_path, upper.format("0.1612"))]) == 1


@pytest.mark.parametrize("text", ["", "[1, 2]", "checks: [1]", "checks: {a: 1}", "checks: []", "a: [", "checks: [{id: a, expected: {}}]"])
def test_a_file_without_examples_is_told(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([write(tmp_path, text)]) == 2
    assert capsys.readouterr().err.startswith("published: ")


def test_a_file_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(tmp_path / "none.yaml")]) == 2
    assert main([]) == 2
    assert "No such file" in capsys.readouterr().err
