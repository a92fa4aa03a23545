"""The workroom: rule books and courses that are opened once, and opened anew only when their files have changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from marram.rulebook.reading.files import packaged_catalogue

if TYPE_CHECKING:  # what knows ground is loaded only where a course is opened
    from datetime import date

    from marram.course.course import Course
    from marram.course.numbering.proposals import HoleEntry
    from marram.handicaps.score_record import RoundPosted
    from marram.interchange.cards.card_table import CardsRead
    from marram.interchange.cards.competition_files import Competition
    from marram.interchange.cards.entry_table import EntriesRead
    from marram.interchange.field.exercise_files import BroughtBack, Task, WrittenIncident
    from marram.interchange.field.incident_log import IncidentLog
    from marram.interchange.observed.log_table import LogRead
    from marram.office.at_desk.desk_folder import DeskFolder
    from marram.office.books.compare_two import Comparison
    from marram.office.events.kept_event import KeptEvent
    from marram.office.events.run_event import GivenTerms
    from marram.office.open_course import OpenCourse
    from marram.office.trials.plan_trial import ReadPlan
    from marram.records.measured_drops import MeasuredDrop
    from marram.records.rows import TrialRecords
    from marram.records.timings import HoleTiming
    from marram.rulebook.book import Book
    from marram.rulebook.catalogue import Catalogue
    from marram.rulebook.overlays.overlay import Change, Overlay
    from marram.rulings.case.incident import Incident
    from marram.store.open_store import Store

T = TypeVar("T")
_MOST_KEPT = 32
"""So many books and courses are kept; the one that was asked for longest ago goes first."""


class Workroom:
    """Opens what commands and pages work with, and keeps it warm: jobs of the office take opened things, only this room takes files."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, object] = {}

    def editions(self) -> tuple[str, ...]:
        """Names of all editions, the oldest first."""
        return tuple(self.catalogue.editions)

    @property
    def catalogue(self) -> Catalogue:
        """The rule data as it comes."""
        return packaged_catalogue()

    def books(self, names: Sequence[str]) -> tuple[Book, ...]:
        """Open rule books that are asked together.

        Args:
            names: Editions, or editions with overlays; none for all editions.

        Raises:
            RuleDataError: One of them cannot be used.
        """
        from marram.interchange.books.book_files import read_books

        names = tuple(names) or self.editions()
        return self._keep(("books", names, tuple(map(_overlay_states, names))), lambda: read_books(names))

    def comparison(self, names: Sequence[str]) -> Comparison:
        """Open two rule books compared.

        Args:
            names: Two editions, or editions with overlays.

        Raises:
            RuleDataError: One of them cannot be used.
        """
        from marram.office.books.compare_two import compare_two

        first, second = self.books(names)
        return self._keep(("compared", tuple(names), tuple(map(_overlay_states, names))), lambda: compare_two((first, second)))

    def book(self, name: str) -> Book:
        """Open a rule book that is asked alone.

        Args:
            name: An edition, or an edition with overlays.

        Raises:
            RuleDataError: It cannot be used.
        """
        from marram.interchange.books.book_files import read_book

        return self._keep(("book", name, _overlay_states(name)), lambda: read_book(name))

    def handicap_books(self, names: Sequence[str]) -> tuple[Book, ...]:
        """Open books of handicapping; none for the edition in force.

        Args:
            names: Editions of the Rules of Handicapping, or editions with variants.

        Raises:
            RuleDataError: One of them cannot be used.
        """
        from marram.interchange.books.book_files import read_handicap_book
        from marram.rulebook.reading.files import packaged_handicapping

        names = tuple(names) or (packaged_handicapping().latest,)
        key = ("handicap books", names, tuple(map(_overlay_states, names)))
        return self._keep(key, lambda: tuple(read_handicap_book(name) for name in names))

    def handicap_record(self, table: Path, books: Sequence[Book], last_day: date | None) -> tuple[RoundPosted, ...]:
        """Open a player's record of scores.

        Args:
            table: The record.
            books: Books of handicapping that it is followed under: they say what its figures can be.
            last_day: The day on which it is looked at; None where any day may stand.

        Raises:
            HandicapError: It cannot be used; the message lists every fault.
        """
        from marram.interchange.field.handicap_record import read_record, refuse_faults
        from marram.office.handicaps.find_index import lost_plus, record_limits

        rounds = read_record(table, record_limits(books), last_day=last_day)
        refuse_faults(table.name, lost_plus(books, rounds))
        return rounds

    def overlay(self, name: str) -> Overlay:
        """Open an overlay by itself.

        Args:
            name: A local rule that comes with Marram, or the file of a trial.

        Raises:
            RuleDataError: There is none, or it cannot be used.
        """
        from marram.interchange.books.book_files import overlay_of

        return self._keep(("overlay", name, _state(Path(name))), lambda: overlay_of(name))

    def trial(self, trial_file: Path) -> Overlay:
        """Open the file of a trial.

        Raises:
            RuleDataError: The file cannot be read or has faults.
        """
        return self._keep(("trial", trial_file, _state(trial_file)), lambda: _trial(trial_file, self.catalogue))

    def rule_sheet(self, sheet: Path, book: Book) -> tuple[Change, ...]:
        """Open a sheet of the rules with new values filled in, as changes of a book.

        Raises:
            DataError: The sheet cannot be used; the message lists every fault.
        """
        from marram.interchange.books.rule_sheet import read_rule_sheet

        return tuple(read_rule_sheet(sheet, book))

    def plan(self, plan_file: Path) -> ReadPlan:
        """Open a frozen plan.

        Raises:
            RecordError: The file cannot be read.
            StudyError: It is no plan, or was altered after it was frozen.
        """
        from marram.core.errors import RecordError
        from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
        from marram.office.trials.plan_trial import read_plan

        return read_plan(read_text(plan_file, what="a plan", largest_bytes=LARGEST_TEXT_BYTES, error=RecordError), where=plan_file.name)

    def timings(self, table: Path, course: Course) -> tuple[HoleTiming, ...]:
        """Open local timings of groups on the holes of a course.

        Raises:
            RecordError: They cannot be used; the message lists every fault.
        """
        from marram.interchange.measured.timing_table import read_timings

        return read_timings(table, course.holes)

    def measured_drops(self, table: Path) -> tuple[MeasuredDrop, ...]:
        """Open drops that were measured in the field.

        Raises:
            RecordError: They cannot be used; the message lists every fault.
        """
        from marram.interchange.measured.drop_table import read_drops
        from marram.simulation.dropped_ball.ground_met import grounds

        return read_drops(table, grounds())

    def forecast(self, forecast_file: Path) -> str:
        """Open a forecast as JSON.

        Raises:
            RecordError: The file cannot be read.
        """
        from marram.core.errors import RecordError
        from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text

        return read_text(forecast_file, what="a forecast", largest_bytes=LARGEST_TEXT_BYTES, error=RecordError)

    def records(self, days: Path, values: Path, trial: Overlay, asked: Path | None = None) -> TrialRecords:
        """Open the records of a trial.

        Args:
            days: The table of days.
            values: The table of values.
            trial: The trial that they belong to.
            asked: The table of who was asked for answers; None where there is none.

        Raises:
            RecordError: A table cannot be used; the message lists every fault.
        """
        from marram.interchange.field.trial_records import read_records

        return read_records(days, values, trial, asked)

    def past_records(self, days: Path, values: Path, trial: Overlay) -> TrialRecords:
        """Open the records of an earlier season, for the plan of a trial.

        Args:
            days: The table of days; they may stand in no pair.
            values: The table of values.
            trial: The trial that is planned.

        Raises:
            RecordError: A table cannot be used; the message lists every fault.
        """
        from marram.interchange.field.trial_records import read_past

        return read_past(days, values, trial)

    def incident_log(self, file: Path, course: Course, books: Sequence[Book]) -> IncidentLog:
        """Open the incidents of a season, placed on a course.

        Args:
            file: The log.
            course: The course.
            books: The books that they are ruled under: they say which facts may be stated.

        Raises:
            IncidentError: The file, or one of its incidents, cannot be used.
        """
        from marram.interchange.field.incident_log import read_log
        from marram.rulings.case.facts_of_situation import known_facts

        return read_log(file, course, known_facts=known_facts(books[0].catalogue), added_kinds=books[0].catalogue.added_conditions)

    def log_book(self, file: Path) -> str:
        """Name of the book that a log says its incidents were ruled under.

        Raises:
            IncidentError: The file cannot be used.
        """
        from marram.interchange.field.incident_log import read_log_book

        return read_log_book(file)

    def written_incidents(self, file: Path) -> tuple[WrittenIncident, ...]:
        """Open the written incidents of a clarity exercise.

        Raises:
            RecordError: The file cannot be used.
        """
        from marram.interchange.field.exercise_files import read_incidents

        return read_incidents(file)

    def tasks(self, file: Path, trial: Overlay) -> tuple[Task, ...]:
        """Open the tasks of stations.

        Raises:
            RecordError: The file cannot be used.
        """
        from marram.interchange.field.exercise_files import read_tasks

        return read_tasks(file, trial)

    def rulings_brought_back(self, table: Path, incidents: Sequence[WrittenIncident]) -> BroughtBack:
        """Open the table of a clarity exercise as it came back.

        Raises:
            RecordError: Rows have faults; all of them are told.
        """
        from marram.interchange.field.exercise_files import read_rulings

        return read_rulings(table, incidents)

    def tries_brought_back(self, table: Path, tasks: Sequence[Task], trial: Overlay) -> BroughtBack:
        """Open the table of stations as it came back.

        Raises:
            RecordError: Rows have faults; all of them are told.
        """
        from marram.interchange.field.exercise_files import read_tries

        return read_tries(table, tasks, trial)

    def competition(self, cards_file: Path, terms_file: Path) -> Competition:
        """Open the cards and the terms of a competition.

        Args:
            cards_file: The table of cards.
            terms_file: The terms.

        Raises:
            CardError: A file cannot be used; the message lists every fault of both.
        """
        from marram.interchange.cards.competition_files import read_competition

        return read_competition(cards_file, terms_file)

    def event_terms(self, terms_file: Path) -> GivenTerms:
        """Open the terms of an event.

        Raises:
            CardError: The file cannot be used; the message lists every fault.
        """
        from marram.interchange.cards.competition_files import read_event
        from marram.office.events.run_event import GivenTerms

        text, terms, handicapping = read_event(terms_file)
        return GivenTerms(text=text, file=terms_file.name, terms=terms, handicapping=handicapping)

    def terms_again(self, event: KeptEvent) -> GivenTerms:
        """The terms of an event as they are kept, to be set anew under the books as they are now."""
        from marram.office.events.run_event import GivenTerms

        return GivenTerms(text=event.kept.text, file=event.kept.file, terms=event.terms, handicapping=event.handicapping)

    def store(self, place: str, *, is_new: bool = False) -> Store:
        """Open a store of events.

        Args:
            place: A file, or ``sqlite:///FILE``.
            is_new: Whether it may be made where there is none.

        Raises:
            StoreError: There is none, or it cannot be used.
        """
        from marram.store.open_store import open_store

        return open_store(place, is_new=is_new)

    def event(self, store: Store, asked: str, *, is_strict: bool = True) -> KeptEvent:
        """Open an event as it stands.

        Args:
            store: The store.
            asked: Its name; empty where the store has one only.
            is_strict: Whether it is refused where a book has changed; only terms that are set anew may look past that.

        Raises:
            EventError: There is no such event, or a book has changed since it began.
            StoreError: The store cannot be read.
        """
        from marram.office.events.kept_event import choose_event, open_event

        return open_event(store, choose_event(store, asked), self.book, lambda name: self.handicap_books((name,))[0], is_strict=is_strict)

    def entries(self, table: Path, event: KeptEvent) -> EntriesRead:
        """Open a table of entries.

        Raises:
            CardError: It cannot be used; the message lists every fault.
        """
        from marram.interchange.cards.entry_table import read_entries

        return read_entries(table, event.terms, event.handicapping)

    def draw_list(self, table: Path) -> tuple[tuple[str, str], ...]:
        """Open a draw as the Committee lists it: each player with a group.

        Raises:
            CardError: It cannot be used; the message lists every fault.
        """
        from marram.interchange.cards.entry_table import read_draw_list

        return read_draw_list(table)

    def returned_cards(self, table: Path, event: KeptEvent) -> CardsRead:
        """Open cards that come in; what they leave out comes from the entry and the starting list.

        Raises:
            CardError: They cannot be used; the message lists every fault.
        """
        from marram.interchange.cards.competition_files import read_returned
        from marram.office.events.run_event import known_of_players

        return read_returned(table, event.terms.terms, event.handicapping, known_of_players(event))

    def day_log(self, table: Path) -> LogRead:
        """Open the log of a day of an event.

        Raises:
            RecordError: It cannot be used; the message lists every fault.
        """
        from marram.interchange.observed.log_table import read_log_table

        return read_log_table(table)

    @property
    def local_rules(self) -> tuple[Overlay, ...]:
        """The local rules that come with Marram, by name."""
        from marram.interchange.books.book_files import local_rules

        return self._keep(("local rules",), local_rules)

    def hole_table(self, table: Path) -> tuple[HoleEntry, ...]:
        """Open a table of holes.

        Raises:
            SurveyError: The file cannot be used.
        """
        from marram.interchange.courses.hole_table import read_holes

        return self._keep(("holes", table, _state(table)), lambda: read_holes(table))

    def survey(self, course_file: Path) -> Course:
        """Open a course as it was surveyed.

        Raises:
            SurveyError: The file cannot be used.
        """
        from marram.interchange.courses.course_geojson import read_course

        return self._keep(("survey", course_file, _state(course_file)), lambda: read_course(course_file))

    def course(self, course_file: Path, today_file: Path | None = None) -> OpenCourse:
        """Open a course as it is today.

        Args:
            course_file: The course.
            today_file: The conditions of the day; None where there are none.

        Raises:
            SurveyError: A file cannot be used.
        """
        from marram.office.open_course import OpenCourse

        survey = self.survey(course_file)
        if today_file is None:
            return OpenCourse(course=survey, day=None)
        key = ("today", course_file, _state(course_file), today_file, _state(today_file))
        return self._keep(key, lambda: _with_day(survey, today_file))

    def desk_folder(self, folder: Path) -> DeskFolder:
        """List the folder of a desk.

        Raises:
            DataError: There is no such folder.
        """
        from marram.office.at_desk.desk_folder import folder_state, read_folder

        return self._keep(("folder", folder, folder_state(folder)), lambda: read_folder(folder))

    def written_case(self, incident_file: Path) -> Mapping[str, object]:
        """Open an incident as it is written, placed on no course.

        Raises:
            IncidentError: The file cannot be read.
        """
        from marram.core.errors import IncidentError
        from marram.core.toml_text import read_toml
        from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text

        def opening() -> Mapping[str, object]:
            text = read_text(incident_file, what="an incident", largest_bytes=LARGEST_TEXT_BYTES, error=IncidentError)
            return read_toml(text, where=incident_file.name, hint="See docs/formats/incident.md.", error=IncidentError)

        return self._keep(("written", incident_file, _state(incident_file)), opening)

    def incident(self, incident_file: Path, course: Course, books: Sequence[Book]) -> Incident:
        """Open an incident, placed on a course.

        Args:
            incident_file: What happened.
            course: The course as it is today.
            books: The books that are asked: they say which facts may be stated, and which conditions.

        Raises:
            IncidentError: The file cannot be used.
            SurveyError: The course has no such hole.
        """
        from marram.interchange.field.incident_file import read_incident
        from marram.rulings.case.facts_of_situation import known_facts

        catalogue = books[0].catalogue
        facts, kinds = known_facts(catalogue), catalogue.added_conditions
        # The course and the rule data are kept with it: what has their identity is then the same, and not another in their place.
        key = ("incident", incident_file, _state(incident_file), id(course), id(catalogue))
        incident, *_ = self._keep(
            key, lambda: (read_incident(incident_file, course, known_facts=facts, added_kinds=kinds), course, catalogue)
        )
        return incident

    def _keep(self, key: Hashable, opening: Callable[[], T]) -> T:
        """What is kept under a key, opened if it is not there yet."""
        found = self._kept.pop(key, None)
        opened: T = opening() if found is None else found  # type: ignore[assignment]
        self._kept[key] = opened
        while len(self._kept) > _MOST_KEPT:
            del self._kept[next(iter(self._kept))]
        return opened


def _trial(trial_file: Path, catalogue: Catalogue) -> Overlay:
    from marram.core.errors import RuleDataError
    from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
    from marram.rulebook.overlays.overlay import read_overlay

    text = read_text(trial_file, what="a trial", largest_bytes=LARGEST_TEXT_BYTES, error=RuleDataError)
    return read_overlay(text, name=trial_file.stem, catalogue=catalogue)


def overlay_paths(name: str) -> tuple[Path, ...]:
    """Paths that the overlays in the name of a book may stand at; that of a local rule leads nowhere."""
    from marram.interchange.books.book_files import parts_of_book

    return tuple(map(Path, parts_of_book(name)[1:]))


def _overlay_states(name: str) -> tuple[Hashable, ...]:
    """What tells whether an overlay of a book has changed."""
    return tuple(_state(overlay) for overlay in overlay_paths(name))


def _with_day(survey: Course, today_file: Path) -> OpenCourse:
    from marram.course.day import with_day
    from marram.interchange.field.day_file import read_day
    from marram.office.open_course import OpenCourse

    day = read_day(today_file, survey)
    return OpenCourse(course=with_day(survey, day), day=day)


def _state(file: Path) -> tuple[int, int, int] | None:
    """What tells whether a file has changed; None where there is no such file."""
    try:
        found = file.stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
