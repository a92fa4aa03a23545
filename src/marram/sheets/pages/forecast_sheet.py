"""A forecast to print: what was not modelled first, then what is expected, in broken lines and hollow signs unlike a field report."""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from marram.core.terms import ADVICE
from marram.sheets.guide.paper import template
from marram.sheets.scene.typesetting import set_pdf


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedRow:
    """What one change is expected to do to the round of the day.

    Attributes:
        title: The change.
        words: What is expected, in a sentence.
        estimate: The effect, minutes.
        low: The least that it may be over what is assumed.
        high: The most.
    """

    title: str
    words: str
    estimate: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedAxis:
    """The axis that all rows share.

    Attributes:
        low: Its left end, minutes.
        high: Its right end.
        low_words: What stands at the left end.
        high_words: What stands at the right end.
    """

    low: float
    high: float
    low_words: str
    high_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedChart:
    """A picture of the day under both sets of rules.

    Attributes:
        title: What it shows.
        words: The same in words, for whoever cannot see it.
        x: Where each point stands along the picture.
        present: The points under the present rules.
        proposed: The points under the proposed rules.
        low: The lower end of the axis.
        high: The upper end.
        low_words: What stands at the lower end.
        high_words: What stands at the upper end.
        first: What stands below the first point.
        last: What stands below the last.
    """

    title: str
    words: str
    x: tuple[float, ...]
    present: tuple[float, ...]
    proposed: tuple[float, ...]
    low: float
    high: float
    low_words: str
    high_words: str
    first: str
    last: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedChange:
    """One change in full.

    Attributes:
        title: The change with its number.
        lines: How it is played, and its effects.
        driven: What drives it.
    """

    title: str
    lines: tuple[str, ...]
    driven: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumedRow:
    """A value that was assumed.

    Attributes:
        means: What it is.
        value: What was played, with its unit.
        range: Between what it was tried; empty where it was stated.
        provenance: Where it comes from.
    """

    means: str
    value: str
    range: str
    provenance: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastSheet:
    """A forecast to print.

    Attributes:
        title: Title of the document.
        trial: Title of the trial.
        stamps: Stamps of the trial and of both books.
        standing: That nothing here was found on a course.
        head: What the forecast is of.
        not_modelled: What was not modelled.
        axis: The axis of the rows.
        rows: What each change that is played is expected to do.
        charts: Pictures of the day.
        changes: Every change in full.
        assumed: What is assumed, with its range.
        fixed: What is assumed besides and was not tried at other values.
        advice: Who decides.
    """

    title: str
    trial: str
    stamps: str
    standing: str
    head: tuple[str, ...]
    not_modelled: tuple[str, ...]
    axis: ExpectedAxis
    rows: tuple[ExpectedRow, ...]
    charts: tuple[ExpectedChart, ...]
    changes: tuple[ExpectedChange, ...]
    assumed: tuple[AssumedRow, ...]
    fixed: tuple[str, ...]
    advice: str = ADVICE


def forecast_sheet(sheet: ForecastSheet) -> bytes:
    """A forecast as a PDF.

    Args:
        sheet: What is printed.
    """
    files = {"common.typ": template("common.typ").encode(), "forecast.json": msgspec.json.encode(sheet)}
    return set_pdf(template("forecast-a4.typ"), files)
