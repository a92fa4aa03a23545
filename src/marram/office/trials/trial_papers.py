"""Make the papers of a trial: the calendar of its plan, a blank sheet for each recorder of what it observes, the form after the round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from marram.core.errors import DataError, StudyError
from marram.core.field_names import Field
from marram.office.trials.plan_trial import ReadPlan, refuse_changed_trial
from marram.office.trials.planned_trial import trial_stamp
from marram.office.trials.trial_calendar import calendar_of, days_of, rules_told_by
from marram.records.outcomes import ASKED_BY_THE_TRIAL, Per, outcomes
from marram.records.recording import Recorder, WrittenOutcome, written_outcomes
from marram.rulebook.book import Book
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.sheets.pages.papers_sheet import (
    Column,
    DaysSheet,
    FormPart,
    FormQuestion,
    PaperTable,
    RecordingSheet,
    RulesTold,
    TrialPapers,
    TypedRow,
    set_papers,
)

_FEW_LINES, _MOST_ON_A_PAGE = 2, 2
_MOST_TOLD, _LONGEST_TOLD = 6, 170
_LIGHTNING = "caution.lightning"
_RANGE = (
    "People in range: keep behind or beside the player, out of the line of every stroke, and let nobody walk ahead while somebody plays. "
    "No record is worth being struck; the Committee and local practice come first."
)
"""Common practice."""
_WHO = {
    Recorder.STARTER: ("Starter and last green", "Kept by the starter, and by the recorder at the last green."),
    Recorder.OBSERVER: ("Observer with a group", "Kept by an observer who goes with a group, with a watch that shows seconds and a tape."),
    Recorder.REFEREE: ("Referee", "Kept by each referee: a line for each group of the day, also where nothing was asked."),
    Recorder.CARD: ("From the cards", "Copied from the cards when they have been returned, a line for each player."),
}
_OF_WHOM: Mapping[Per, tuple[str, tuple[str, ...]]] = {
    Per.GROUP_ROUND: ("A line for each group", ("Group",)),
    Per.GROUP_HOLE: ("A line for each hole", ("Group", "Hole")),
    Per.PLAYER_ROUND: ("A line for each player", ("Group", "Player")),
    Per.RULING: ("A line for each ruling", ("Group", "Player", "Hole")),
    Per.SEARCH: ("A line for each search", ("Group", "Player", "Hole")),
    Per.DROP: ("A line for each relief with a drop", ("Group", "Player", "Hole")),
    Per.PUTT: ("A line for each putt", ("Group", "Player", "Hole")),
}
_NOUGHT = "Write 0 where you looked and it did not happen; leave blank what nobody saw. Tick Query where a value looks odd."
_NAMES = "Groups and players go by names without meaning outside the trial, never their own."
_TIMES = "Times: minutes and seconds with a colon, such as 1:45; long ones hours and minutes, such as 3:55; or the times of day."


def make_papers(trial: Overlay, base: Book, frozen: ReadPlan | None) -> TrialPapers:
    """The papers of a trial, for exactly what it observes.

    Args:
        trial: The trial.
        base: The book that it changes.
        frozen: The plan as it was frozen; None where there is none, and then there is no calendar.

    Raises:
        StudyError: The trial was changed after it was planned, or observes nothing.
    """
    if frozen is not None:
        refuse_changed_trial(frozen, trial)
    rules_told = rules_told_by(frozen)
    if not _observed(trial) and not any(change.asks for change in trial.changes):
        raise StudyError("The trial observes nothing, so there is nothing to write down.", where=trial.name, hint="Write observes = [...].")
    plan = "no plan" if frozen is None else f"plan {frozen.stamp}"
    return TrialPapers(
        title=trial.title,
        stamps=f"{plan} · trial {trial_stamp(trial)}",
        form_version=trial.dated.isoformat(),
        calendar=None if frozen is None else calendar_of(frozen),
        days=_days(trial, frozen),
        sheets=tuple(_sheets(trial, base, has_arms=rules_told is RulesTold.LINE)),
        rules_told=rules_told,
        has_rounds=rules_told is RulesTold.LINE and frozen is not None and any(len(unit.rules) > 1 for unit in frozen.drawn),
        has_parts=frozen is not None and any(unit.group and unit.period for unit in frozen.drawn),
        form=tuple(_form(trial, base)),
    )


def papers_file(papers: TrialPapers, form: str) -> bytes:
    """The papers as a file.

    Args:
        papers: The papers.
        form: How its name ends.

    Raises:
        DataError: It does not end in .pdf.
    """
    if form != ".pdf":
        raise DataError(f"Papers cannot be written as {form or 'a file without ending'}.", field=Field.OUT, hint="End the name in .pdf.")
    return set_papers(papers)


def _days(trial: Overlay, frozen: ReadPlan | None) -> DaysSheet:
    heads, lines = days_of(frozen)
    has_form = any(change.asks for change in trial.changes) or any(
        one.recorder is Recorder.FORM for key, one in written_outcomes().items() if key in _observed(trial)
    )
    return DaysSheet(heads=heads, lines=lines, has_forms=has_form, typed=tuple(_typed(trial)))


def _typed(trial: Overlay) -> Iterator[TypedRow]:
    """How each column of each paper is typed in, in the order of the papers."""
    observed = _observed(trial)
    asked = {_asked_of(change) for change in trial.changes if change.asks}
    for recorder, title in [*((recorder, title) for recorder, (title, _) in _WHO.items()), (Recorder.FORM, _FORM)]:
        for key, one in written_outcomes().items():
            if one.recorder is recorder and (key in asked if key in ASKED_BY_THE_TRIAL else key in observed):
                yield TypedRow(paper=title, called=one.called, how=_typed_how(one))


def _typed_how(one: WrittenOutcome) -> str:
    """How a value is typed: two times of day apart, a step of five by its number."""
    if one.between:
        first, last = one.between
        return f"“{first}” under from, “{last}” under to"
    return f"{one.outcome.least:g} to {one.outcome.most:g}: the step that is ticked" if one.ends else one.how


def _observed(trial: Overlay) -> Mapping[str, tuple[int, ...]]:
    """What is written down, each with the changes that ask for it; what counts how many values there should be comes with them."""
    found: dict[str, list[int]] = {}
    for change in trial.changes:
        for key in change.observes:
            for one in filter(None, (key, outcomes()[key].counted_by)):
                found.setdefault(one, []).append(change.number)
    return {key: tuple(dict.fromkeys(numbers)) for key, numbers in found.items()}


def _sheets(trial: Overlay, base: Book, *, has_arms: bool) -> Iterator[RecordingSheet]:
    observed = _observed(trial)
    for recorder, (title, who) in _WHO.items():
        written = [one for key, one in written_outcomes().items() if one.recorder is recorder and key in observed]
        tables = [
            _table(per, [one for one in written if one.outcome.per is per], observed, recorder, has_arms=has_arms)
            for per in dict.fromkeys(one.outcome.per for one in written)
        ]
        pages = _pages(tables)
        numbers = {number for one in written for number in observed[one.outcome.key]}
        for place, page in enumerate(pages, start=1):
            yield RecordingSheet(
                title=title,
                part=f"{place} of {len(pages)}" if len(pages) > 1 else "",
                who=who,
                tables=page,
                how=_how(written),
                tried=_tried([change for change in trial.changes if change.number in numbers], base) if recorder in _ON_THE_COURSE else (),
                cautions=cautions_on_the_course(base) if recorder in _ON_THE_COURSE else (),
            )


_FORM = "After the round"
_ON_THE_COURSE = frozenset({Recorder.OBSERVER, Recorder.REFEREE})


def _pages(tables: Sequence[PaperTable]) -> list[tuple[PaperTable, ...]]:
    """Tables by page: those of few lines with the first, of the others two on a page."""
    short = [table for table in tables if table.rows is not None]
    long = [table for table in tables if table.rows is None]
    lots = [tuple(long[start : start + _MOST_ON_A_PAGE]) for start in range(0, len(long), _MOST_ON_A_PAGE)] or ([()] if short else [])
    return [(*short, *lots[0]), *lots[1:]] if lots else []


def _table(
    per: Per, written: Sequence[WrittenOutcome], observed: Mapping[str, tuple[int, ...]], recorder: Recorder, *, has_arms: bool
) -> PaperTable:
    title, names = _OF_WHOM[per]
    is_short = recorder is Recorder.OBSERVER and per is Per.GROUP_ROUND
    arm = ("Rules",) if has_arms else ()
    return PaperTable(
        title=f"{title} (under Rules: T for trial, O for ordinary)" if has_arms else title,
        columns=(
            *(Column(heading=name, how="", about="", is_narrow=True) for name in (*names, *arm)),
            *(column for one in written for column in _columns(one, observed[one.outcome.key])),
            Column(heading="Query", how="", about="", is_narrow=True),
        ),
        rows=_FEW_LINES if is_short else None,
    )


def _columns(written: WrittenOutcome, changes: Sequence[int]) -> Iterator[Column]:
    """A column for a value, or two for two times of day; with the change that it is typed in under, where it is about one."""
    about = "" if written.outcome.is_of_the_day else f"change {', '.join(map(str, changes))}"
    for heading in written.between or (written.heading,):
        yield Column(heading=heading, how=written.how, about=about, is_narrow=False)


def _how(written: Sequence[WrittenOutcome]) -> tuple[str, ...]:
    has_times = any(one.outcome.unit in {"s", "min"} for one in written)
    return (*([_TIMES] if has_times else []), _NOUGHT, _NAMES)


def _tried(changes: Sequence[Change], base: Book) -> tuple[str, ...]:
    """What is tried, as far as there is room for it: a long change is named, and of many their number is told."""
    if len(changes) > _MOST_TOLD:
        return (f"Changes {', '.join(str(change.number) for change in changes)} are seen here; the guide of the trial tells them.",)
    told = [(change.number, tell_change(base, change)) for change in changes]
    return tuple(f"{number}. {one.sentence if len(one.sentence) <= _LONGEST_TOLD else one.about + '.'}" for number, one in told)


def cautions_on_the_course(base: Book) -> tuple[str, ...]:
    """What comes before any record where somebody stands on the course: lightning first, then people in range."""
    return (base.word(f"{_LIGHTNING}.text").value, _RANGE)


def _form(trial: Overlay, base: Book) -> Iterator[FormPart]:
    """What players are asked about each change."""
    for change in trial.changes:
        questions = tuple(_questions(change))
        if questions:
            yield FormPart(title=f"{change.number}.", told=tell_change(base, change).sentence, questions=questions)


def _questions(change: Change) -> Iterator[FormQuestion]:
    for key, written in written_outcomes().items():
        if written.recorder is Recorder.FORM and key in change.observes and key not in ASKED_BY_THE_TRIAL:
            yield _question(written, written.heading)
    asked, has_more = written_outcomes()[_asked_of(change)], len(change.asks) > 1
    for number, text in enumerate(change.asks, start=1):
        yield _question(asked, f"Question {number}. {text}" if has_more else text)


def _asked_of(change: Change) -> str:
    """Under which outcome a change's own questions are answered: in steps where the draft says so, else by yes or no."""
    return "asked_step" if "asked_step" in change.observes else "asked_yes"


def _question(written: WrittenOutcome, text: str) -> FormQuestion:
    outcome = written.outcome
    if outcome.unit == "yes-no":
        return FormQuestion(text=text, answers=("yes", "no"), range="")
    if written.ends:
        steps = int(outcome.most - outcome.least) + 1
        return FormQuestion(text=text, answers=(written.ends[0], *("" for _ in range(steps - 2)), written.ends[1]), range="")
    return FormQuestion(text=text, answers=(), range=f"times, {outcome.least:g} to {outcome.most:g}")
