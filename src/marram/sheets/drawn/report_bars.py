"""Bars of a report: what is left from step to step, and what players answered, in five patterns from dark to light."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marram.evidence.telling.answer_bars import STEPS_OF_FAIRNESS, AnswerBar
from marram.evidence.telling.resting import Band, Step
from marram.sheets.drawn.report_marks import FIVE, box, drawn, grouped, told_width, words_at

ANSWERS_HEIGHT = 37.0
_STEPS_AT = (0.0, 0.42, 0.72)  # of the width: the first step has the longest words
_TALL, _TOP, _KEY_LINE, _SEAM = 18.0, 18.0, 20.0, 0.4


def draw_band(band: Band, width: float, *, is_on_page: bool = False) -> str:
    """A band as high as what is left at each step.

    Args:
        band: What grows less.
        width: Width in drawing units.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    whole = band.steps[0].count
    starts = [at * width for at in _STEPS_AT[: len(band.steps)]]
    ends = [*starts[1:], width]
    body = list[str]()
    for step, start, end in zip(band.steps, starts, ends, strict=True):
        body.append(words_at(start, 12, _heading(step, end - start)))
        if step.count:
            tall = _TALL * step.count / whole
            body.append(
                f'<rect x="{start:.2f}" y="{_TOP:g}" width="{min(end + _SEAM, width) - start:.2f}" height="{tall:.3f}" class="solid"/>'
            )
        if step.lost:
            body.append(f'<path d="M{start:.2f} {_TOP + _TALL - 1:.2f}c8 0 10 3 10 12" class="axis"/>')
            body.append(words_at(start + 15, _TOP + _TALL + 15, f"{grouped(step.lost)} less"))
    if not whole:
        body.append(box(0.7, _TOP, width - 1.4, _TALL, "lost"))
    height = _TOP + _TALL + (20.0 if any(step.lost for step in band.steps) else 6.0)
    return drawn(body, width, height, band.drawn_words, is_on_page=is_on_page)


def _heading(step: Step, room: float) -> str:
    """How many, of what: in all its words, or in the first where there is no room for more."""
    told = f"{grouped(step.count)} {step.word}"
    return told if told_width(told) <= room else f"{grouped(step.count)} {step.word.partition(' ')[0]}"


def draw_answers(bar: AnswerBar, width: float, *, is_on_page: bool = False) -> str:
    """The answers about one change: the fairest first and darkest, with their counts beneath.

    Args:
        bar: The answers.
        width: Width in drawing units.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    counts, total = bar.counts[::-1], sum(bar.counts)
    body, at, middles = list[str](), 0.7, list[tuple[float, str]]()
    for count, pattern in zip(counts, FIVE, strict=True):
        wide = (width - 1.4) * count / total if total else 0.0
        if count:
            body.append(box(at, 0.7, wide, 20, pattern))
            middles.append((at + wide / 2, grouped(count)))
        at += wide
    if not total:
        body.append(box(0.7, 0.7, width - 1.4, 20, "lost"))
    body += [words_at(x, 34, told, "middle") for x, told in _apart(middles, width)]
    return drawn(body, width, ANSWERS_HEIGHT, bar.drawn_words, is_on_page=is_on_page)


def _apart(middles: Sequence[tuple[float, str]], width: float) -> Iterator[tuple[float, str]]:
    """Numbers moved aside until none stands over another."""
    places = [x for x, _ in middles]
    half = [told_width(told) / 2 + 3 for _, told in middles]
    for number in range(len(places)):
        least = half[number] if number == 0 else places[number - 1] + half[number - 1] + half[number]
        places[number] = max(places[number], least)
    for number in reversed(range(len(places))):
        most = width - half[number] if number == len(places) - 1 else places[number + 1] - half[number + 1] - half[number]
        places[number] = min(places[number], most)
    yield from zip(places, (told for _, told in middles), strict=True)


def draw_key(width: float, *, is_on_page: bool = False) -> str:
    """What the five patterns stand for, in as many lines as it takes."""
    body, x, line = list[str](), 0.7, 0
    for word, pattern in zip(reversed(STEPS_OF_FAIRNESS), FIVE, strict=True):
        wide = 24 + told_width(word)
        if x + wide > width:
            x, line = 0.7, line + 1
        body.append(box(x, line * _KEY_LINE + 2, 17, 12, pattern))
        body.append(words_at(x + 23, line * _KEY_LINE + 13, word))
        x += wide + 10
    return drawn(
        body, width, (line + 1) * _KEY_LINE, f"From dark to light: {', '.join(reversed(STEPS_OF_FAIRNESS))}.", is_on_page=is_on_page
    )
