"""Sheets of an exercise: one for each person, with the incidents or tasks in the order that was drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from marram.core.terms import ADVICE
from marram.sheets.guide.paper import template
from marram.sheets.scene.typesetting import set_pdf


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """What is to be ruled or done.

    Attributes:
        text: What it is.
        answers: The answers to choose from; none where something is measured.
        station: Number of the station where it is done; 0 where it is ruled at a table.
        how: How what is measured is written, with its range; empty where nothing is.
    """

    text: str
    answers: tuple[str, ...]
    station: int = 0
    how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoTexts:
    """A change by its two texts, beside each other.

    Attributes:
        number: Its number.
        about: What it is about.
        present: What the text in force says.
        draft: What the draft says.
    """

    number: int
    about: str
    present: str
    draft: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StationCard:
    """What hangs at a station.

    Attributes:
        number: Its number.
        text: What the player does there.
        texts: The change that it is about.
        measured: What is measured.
        how: How it is written, with its range.
    """

    number: int
    text: str
    texts: TwoTexts
    measured: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExerciseSheet:
    """The sheet of one person.

    Attributes:
        person: Name of the person within the exercise.
        entries: In order, which text holds and what is to be ruled or done.
    """

    person: str
    entries: tuple[tuple[str, SheetItem], ...]


def set_exercise(
    title: str,
    sheets: Sequence[ExerciseSheet],
    *,
    cards: Sequence[StationCard] = (),
    texts: Sequence[TwoTexts] = (),
    cautions: Sequence[str] = (),
) -> bytes:
    """Set the papers of an exercise as a PDF, A4: what hangs at stations or lies before officials, then a sheet for each person.

    Args:
        title: Title of the trial.
        sheets: The sheets.
        cards: A card for each station; none where incidents are ruled at a table.
        texts: The changes by their two texts, for who rules at a table.
        cautions: What comes first wherever somebody stands on the course.
    """
    content = {
        "title": title,
        "is_station": bool(cards),
        "advice": ADVICE,
        "cards": [msgspec.to_builtins(card) for card in cards],
        "texts": [msgspec.to_builtins(one) for one in texts],
        "cautions": list(cautions),
        "sheets": [{"person": sheet.person, "entries": _told(sheet)} for sheet in sheets],
    }
    files = {"sheet.json": msgspec.json.encode(content), "common.typ": template("common.typ").encode()}
    return set_pdf(template("exercise-a4.typ"), files)


def _told(sheet: ExerciseSheet) -> list[dict[str, object]]:
    return [{"under": under, **msgspec.to_builtins(item)} for under, item in sheet.entries]
