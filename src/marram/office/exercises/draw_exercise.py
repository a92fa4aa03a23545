"""Draw an exercise: who rules which incident, or does which task, under which text; with the table to fill in and the sheets to print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.evidence.clarity.assignment import Assigned, assign_incidents, assign_tasks
from marram.evidence.clarity.exercise import Wording
from marram.evidence.plan import commitment_of
from marram.interchange.field.exercise_files import Task, WrittenIncident, blank_table
from marram.office.exercises.exercise_sizes import ClaritySize, StationSize, clarity_size, station_sizes
from marram.rulebook.overlays.overlay import Overlay
from marram.sheets.pages.exercise_sheet import ExerciseSheet, SheetItem, set_exercise


@dataclass(frozen=True, slots=True, kw_only=True)
class ExerciseDrawn:
    """An exercise as it was drawn.

    Attributes:
        trial: The trial.
        is_station: Whether players act at stations; else officials rule written incidents.
        assigned: Who does what, in each person's order.
        seed_commitment: What is made public before the first day.
        stations: How many players each station needs, where its spread was told.
        clarity: How many rulings the exercise needs, where an agreement was supposed.
    """

    trial: Overlay
    is_station: bool
    assigned: tuple[Assigned, ...]
    seed_commitment: str
    stations: tuple[StationSize, ...] = ()
    clarity: ClaritySize | None = None

    @property
    def table(self) -> str:
        """The table to be filled in, as CSV."""
        return blank_table(self.assigned, is_station=self.is_station)


def draw_clarity(
    trial: Overlay, incidents: Sequence[WrittenIncident], *, officials: int, seed: str, agreement: float | None = None, matters: float = 0.1
) -> ExerciseDrawn:
    """Draw a clarity exercise.

    Args:
        trial: The trial.
        incidents: The written incidents.
        officials: How many officials rule.
        seed: Text from which it is drawn.
        agreement: Part of rulings that agree under the text in force, as it is supposed; None where nothing is.
        matters: Smallest difference that matters, a share.

    Raises:
        StudyError: The exercise cannot answer its question.
    """
    assigned = assign_incidents([one.name for one in incidents], officials, seed)
    size = None if agreement is None else clarity_size(assigned, agreement=agreement, matters=matters)
    return ExerciseDrawn(trial=trial, is_station=False, assigned=assigned, seed_commitment=commitment_of(seed), clarity=size)


def draw_stations(
    trial: Overlay, tasks: Sequence[Task], *, players: int, seed: str, sd: Mapping[str, float] | None = None
) -> ExerciseDrawn:
    """Draw stations.

    Args:
        trial: The trial.
        tasks: The tasks.
        players: How many players.
        seed: Text from which it is drawn.
        sd: By outcome, the standard deviation between players; None where nobody told it.

    Raises:
        StudyError: The exercise cannot answer its question.
    """
    assigned = assign_tasks([one.name for one in tasks], players, seed)
    sizes = station_sizes(trial, tasks, sd or {}, players=players)
    return ExerciseDrawn(trial=trial, is_station=True, assigned=assigned, seed_commitment=commitment_of(seed), stations=sizes)


def clarity_sheets(drawn: ExerciseDrawn, incidents: Sequence[WrittenIncident]) -> bytes:
    """A sheet for each official, as a PDF: the incidents in his order, the text that holds, and boxes for the answers."""
    items = {one.name: SheetItem(text=one.text, answers=one.answers) for one in incidents}
    return _sheets(drawn, items)


def station_sheets(drawn: ExerciseDrawn, tasks: Sequence[Task]) -> bytes:
    """A sheet for each player, as a PDF: the tasks in his order, the text that holds, and a line for what is measured."""
    return _sheets(drawn, {one.name: SheetItem(text=one.text, answers=()) for one in tasks})


def _sheets(drawn: ExerciseDrawn, items: Mapping[str, SheetItem]) -> bytes:
    sheets = tuple(
        ExerciseSheet(
            person=person,
            entries=tuple((_TEXTS[entry.wording], items[entry.item]) for entry in drawn.assigned if entry.person == person),
        )
        for person in dict.fromkeys(entry.person for entry in drawn.assigned)
    )
    return set_exercise(drawn.trial.title, sheets, is_station=drawn.is_station)


_TEXTS = {Wording.PRESENT: "By the text in force", Wording.DRAFT: "By the draft"}
