"""Every paper and page that is printed: the command that makes it, what it is printed from, and what a folder still lacks for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from marram.office.sheets.print_makers import (
    HTML,
    PDF,
    Maker,
    print_clarity,
    print_compared,
    print_course,
    print_event,
    print_forecast,
    print_guide,
    print_marking,
    print_papers,
    print_places,
    print_procedure,
    print_relief,
    print_report,
    print_ruling,
    print_season,
    print_stations,
    print_strip,
    print_trial,
)
from marram.office.sheets.printed_from import Field, Need, PrintAsked, has

if TYPE_CHECKING:
    from marram.office.trials.guide_file import GuideForm


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """A print.

    Attributes:
        name: Its name.
        command: The command that makes it.
        group: What it is about: ``rules``, ``course``, ``trial`` or ``event``.
        needs: What it is made from.
        make: Makes it.
        fields: What is stated for it, with what is usual.
        form: ``pdf``, or ``html`` for a page that is saved.
    """

    name: str
    command: str
    group: str
    needs: tuple[Need, ...]
    make: Maker
    fields: Mapping[Field, str] = field(default_factory=dict)
    form: str = PDF

    def missing(self, asked: PrintAsked) -> tuple[Need, ...]:
        """What the folder, or the address, still lacks for it."""
        return tuple(need for need in self.needs if not has(need, asked))


def every_print() -> tuple[Print, ...]:
    """Every print, in the order in which they are listed."""
    return (*_of_rules_and_course(), *_of_trials_and_events())


def _of_rules_and_course() -> Iterator[Print]:
    hole, relief = {Field.HOLE: "1"}, {Field.PROCEDURE: "unplayable-lateral"}
    course = (Need.COURSE,)
    yield Print(name="ruling", command="rule", group="rules", needs=(Need.COURSE, Need.CASE), make=print_ruling)
    yield Print(name="relief", command="sheet relief", group="rules", needs=(), make=print_relief)
    yield Print(name="differences", command="book compare", group="rules", needs=(Need.SECOND_BOOK,), make=print_compared(PDF))
    yield Print(
        name="differences-page", command="book compare", group="rules", needs=(Need.SECOND_BOOK,), make=print_compared(HTML), form=HTML
    )
    yield Print(name="strip", command="sheet strip", group="rules", needs=(), make=print_strip, fields={Field.LENGTH: "2m"})
    for form, name in _GUIDE_FORMS.items():
        kind = HTML if form in _PAGES else PDF
        yield Print(
            name=f"procedure{name}",
            command="sheet procedure",
            group="rules",
            needs=course,
            make=print_procedure(form),
            fields=relief,
            form=kind,
        )
    yield Print(name="course", command="course draw", group="course", needs=course, make=print_course)
    yield Print(name="hole", command="course draw", group="course", needs=course, make=print_course, fields=hole)
    yield Print(name="marking", command="course marking", group="course", needs=course, make=print_marking)
    yield Print(
        name="places", command="course places", group="course", needs=course, make=print_places, fields={**relief, Field.COUNT: "3"}
    )


def _of_trials_and_events() -> Iterator[Print]:
    course, trial = (Need.COURSE,), (Need.TRIAL,)
    yield Print(name="trial", command="sheet trial", group="trial", needs=trial, make=print_trial)
    for form, name in _GUIDE_FORMS.items():
        kind, count = HTML if form in _PAGES else PDF, {Field.COUNT: "2"}
        yield Print(
            name=f"guide{name}",
            command="trial guide",
            group="trial",
            needs=(*trial, *course),
            make=print_guide(form),
            fields=count,
            form=kind,
        )
    yield Print(
        name="forecast",
        command="forecast",
        group="trial",
        needs=(*trial, *course),
        make=print_forecast,
        fields={Field.PEOPLE: "75"},
    )
    yield Print(name="papers", command="trial papers", group="trial", needs=trial, make=print_papers(of_plan=False))
    yield Print(name="papers-of-plan", command="trial papers", group="trial", needs=(*trial, Need.PLAN), make=print_papers(of_plan=True))
    people = {Field.PEOPLE: "8", Field.SEED: ""}
    yield Print(
        name="clarity", command="trial clarity plan", group="trial", needs=(*trial, Need.INCIDENTS), make=print_clarity, fields=people
    )
    people = {Field.PEOPLE: "12", Field.SEED: ""}
    yield Print(
        name="stations", command="trial stations plan", group="trial", needs=(*trial, Need.TASKS), make=print_stations, fields=people
    )
    yield Print(name="report", command="trial report", group="trial", needs=(*trial, Need.RECORDS), make=print_report(PDF))
    yield Print(name="report-page", command="trial report", group="trial", needs=(*trial, Need.RECORDS), make=print_report(HTML), form=HTML)
    for paper in ("starting-list", "cards", "results", "local-rules"):
        yield Print(name=paper, command="event print", group="event", needs=(Need.EVENT,), make=print_event(paper))
    yield Print(name="season", command="event season", group="event", needs=(Need.EVENT, *course), make=print_season)


_PAGES = frozenset({"phone", "screen"})
_GUIDE_FORMS: Mapping[GuideForm, str] = {"a4": "", "pocket": "-leaflet", "phone": "-phone", "screen": "-screen"}
