"""Draw an exercise: who rules which incident, or does which task, under which text; with the table to fill in and the sheets to print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from marram.evidence.clarity.assignment import Assigned, assign_incidents, assign_tasks
from marram.evidence.clarity.exercise import Wording
from marram.evidence.plan import commitment_of
from marram.interchange.field.exercise_files import Task, WrittenIncident, blank_table
from marram.office.exercises.exercise_sizes import ClaritySize, StationSize, clarity_size, station_sizes
from marram.office.trials.trial_papers import cautions_on_the_course
from marram.records.recording import written_outcomes
from marram.rulebook.book import Book
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.sheets.pages.exercise_sheet import ExerciseSheet, SheetItem, StationCard, TwoTexts, set_exercise


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


def clarity_sheets(drawn: ExerciseDrawn, incidents: Sequence[WrittenIncident], base: Book) -> bytes:
    """The papers of officials, as a PDF: the two texts of each change, then for each the incidents in his order with boxes for the answers.

    Args:
        drawn: The exercise.
        incidents: The written incidents.
        base: The book that the trial changes.
    """
    items = {one.name: SheetItem(text=one.text, answers=one.answers) for one in incidents}
    return set_exercise(drawn.trial.title, _sheets(drawn, items), texts=[_two_texts(base, change) for change in drawn.trial.changes])


def station_sheets(drawn: ExerciseDrawn, tasks: Sequence[Task], base: Book) -> bytes:
    """The papers of stations, as a PDF: a card to hang at each, then for each player the tasks in his order, to be measured.

    Args:
        drawn: The exercise.
        tasks: The tasks.
        base: The book that the trial changes.
    """
    cards = [_card(number, task, drawn.trial.changes[task.change - 1], base) for number, task in enumerate(tasks, start=1)]
    items = {
        task.name: SheetItem(text=task.text, answers=(), station=card.number, how=card.how) for task, card in zip(tasks, cards, strict=True)
    }
    return set_exercise(drawn.trial.title, _sheets(drawn, items), cards=cards, cautions=cautions_on_the_course(base))


def _card(number: int, task: Task, change: Change, base: Book) -> StationCard:
    assert change.expects is not None  # a task about another change is refused when the tasks are read
    written = written_outcomes()[change.expects.outcome]
    return StationCard(
        number=number, text=task.text, texts=_two_texts(base, change), measured=written.outcome.means.rstrip("."), how=written.how_in_unit
    )


def _two_texts(base: Book, change: Change) -> TwoTexts:
    told = tell_change(base, change)
    return TwoTexts(number=change.number, about=told.about, present=told.before, draft=told.now)


def _sheets(drawn: ExerciseDrawn, items: Mapping[str, SheetItem]) -> tuple[ExerciseSheet, ...]:
    return tuple(
        ExerciseSheet(
            person=person,
            entries=tuple((_TEXTS[entry.wording], items[entry.item]) for entry in drawn.assigned if entry.person == person),
        )
        for person in dict.fromkeys(entry.person for entry in drawn.assigned)
    )


_TEXTS = {Wording.PRESENT: "By the text in force", Wording.DRAFT: "By the draft"}
