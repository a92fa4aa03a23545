"""The first page of a report for paper and screen: one set of pictures, drawn to the width that each asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from marram.evidence.telling.answer_bars import AnswerBar
from marram.evidence.telling.first_page import FirstPage
from marram.evidence.telling.scaled_rows import EffectRow
from marram.evidence.telling.season import Season
from marram.sheets.drawn.effect_plot import axis_of, draw_foot, draw_head, draw_strip
from marram.sheets.drawn.report_bars import draw_answers, draw_band, draw_key
from marram.sheets.drawn.season_drawing import draw_season


@dataclass(frozen=True, slots=True, kw_only=True)
class Widths:
    """Widths of the pictures, in drawing units.

    Attributes:
        plot: The effects.
        season: The season and what it rests on.
        answers: The answers.
    """

    plot: float
    season: float
    answers: float


PAPER = Widths(plot=320, season=576, answers=296)
WIDE = Widths(plot=520, season=940, answers=520)
NARROW = Widths(plot=340, season=340, answers=340)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldRow:
    """A row of the plot beside its picture."""

    numbers: str
    before: str
    size: str
    after: str
    limits: str
    word: str
    reason: str
    sign: str
    picture: str
    alt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldPicture:
    """A picture with what stands beside it."""

    number: str
    picture: str
    alt: str
    words: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstSheet:
    """The first page, ready to be set."""

    mark: str
    about: str
    spoken: tuple[str, ...]
    changes: tuple[ToldRow, ...]
    guards: tuple[ToldRow, ...]
    season: ToldPicture
    bands: tuple[ToldPicture, ...]
    answers: tuple[ToldPicture, ...]
    answers_besides: tuple[str, ...]
    lines: str


def first_sheet(page: FirstPage) -> FirstSheet:
    """What is said on the first page, with the names of its pictures.

    Args:
        page: The first page.
    """
    return FirstSheet(
        mark=page.mark,
        about=page.about,
        spoken=page.spoken,
        changes=tuple(_row(row, f"change-{number}") for number, row in enumerate(page.changes)),
        guards=tuple(_row(row, f"guard-{number}") for number, row in enumerate(page.guards)),
        season=ToldPicture(number="", picture="season", alt=page.season.drawn_words, words="", lines=tuple(_key(page))),
        bands=tuple(
            ToldPicture(number="", picture=f"band-{number}", alt=band.drawn_words, words=band.besides, lines=band.losses_told)
            for number, band in enumerate(page.bands)
        ),
        answers=tuple(
            ToldPicture(
                number=str(bar.change),
                picture=f"answers-{number}",
                alt=bar.drawn_words,
                words=bar.words,
                lines=(f"{bar.answered} answered",),
            )
            for number, bar in enumerate(_answered(page))
        ),
        answers_besides=tuple(_besides(page)),
        lines=page.caption,
    )


def _answered(page: FirstPage) -> list[AnswerBar]:
    return [bar for bar in page.answers if any(bar.counts)]


def _besides(page: FirstPage) -> Iterator[str]:
    """How many were asked, and which changes nobody answered about."""
    asked = {bar.asked for bar in page.answers} - {None}
    if len(asked) == 1:
        yield f"{asked.pop()} asked about each"
    elif asked:
        yield from (f"change {bar.change}: {bar.asked} asked" for bar in page.answers if bar.asked is not None)
    yield from (f"change {bar.change}: nobody answered" for bar in page.answers if not any(bar.counts))


def _row(row: EffectRow, picture: str) -> ToldRow:
    before, size, after = row.sentence
    return ToldRow(
        numbers=", ".join(map(str, row.changes)),
        before=before,
        size=size,
        after=after,
        limits=row.limits,
        word=row.word,
        reason=row.reason,
        sign=row.sign.value,
        picture=picture,
        alt=row.drawn_words,
    )


def _key(page: FirstPage) -> Iterator[str]:
    """What the boxes of the season stand for."""
    season = page.season
    yield f"full: {page.full}"
    yield f"hatched: {page.hatched}"
    if any(cell is None for cell in chain.from_iterable(chain.from_iterable(column.cells for column in season.columns))):
        yield "broken edge: not held"
    if season.joins:
        yield f"line: {season.joins}"
    yield from _unit(season)


def _unit(season: Season) -> Iterator[str]:
    if season.unit not in {"day", "course"}:
        yield f"parts of a {season.each}: its {season.unit}s"


def draw_pictures(page: FirstPage, widths: Widths, *, is_on_page: bool = False) -> dict[str, str]:
    """Every picture of the first page by its name.

    Args:
        page: The first page.
        widths: How wide they are.
        is_on_page: Whether they stand on a page that carries the style, else in files for paper.
    """
    rows = {f"change-{number}": row for number, row in enumerate(page.changes)}
    rows |= {f"guard-{number}": row for number, row in enumerate(page.guards)}
    axis = axis_of(list(rows.values()), widths.plot)
    found = {name: draw_strip(row, axis, is_on_page=is_on_page) for name, row in rows.items()}
    found |= {"head": draw_head(axis, is_on_page=is_on_page), "foot": draw_foot(axis, is_on_page=is_on_page)}
    found["season"] = draw_season(page.season, widths.season, is_on_page=is_on_page)
    for number, band in enumerate(page.bands):
        found[f"band-{number}"] = draw_band(band, widths.season, is_on_page=is_on_page)
    for number, bar in enumerate(_answered(page)):
        found[f"answers-{number}"] = draw_answers(bar, widths.answers, is_on_page=is_on_page)
    if _answered(page):
        found["key"] = draw_key(widths.season, is_on_page=is_on_page)
    return found
