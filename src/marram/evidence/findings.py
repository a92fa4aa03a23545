"""Weigh a trial: from its records to one verdict for each change, by rules that were fixed before the data."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from marram.core.words import counted
from marram.evidence.looks import Look, Looks
from marram.evidence.ranks import rated_by_all
from marram.evidence.verdicts import holm
from marram.evidence.weighing.account import account_for
from marram.evidence.weighing.by_pairs import ByPairs
from marram.evidence.weighing.comparing import Comparing, ComparingApart
from marram.evidence.weighing.odd_rows import RuleLimits, limited_by, limits_of, query_rows
from marram.evidence.weighing.one_change import Moment, OneChange
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.outcomes import outcomes
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.overlays.trial_terms import Status

Finish = Callable[[ChangeFinding, OneChange], ChangeFinding]
"""What a design or a plan adds to a finding."""


def weigh_trial(
    trial: Overlay,
    records: TrialRecords,
    limits: RuleLimits | None = None,
    *,
    planned_pairs: int | None = None,
    looks: Looks | None = None,
    elsewhere: frozenset[int] = frozenset(),
    comparing: Callable[[TrialRecords], Comparing] = ByPairs,
    finish: Sequence[Finish] = (),
) -> TrialReport:
    """Weigh every change of a trial.

    Args:
        trial: The trial as it was planned.
        records: What was recorded.
        limits: What the rules let no value go beyond, where the base of the trial says more than its changes do.
        planned_pairs: Pairs, or what else is drawn, that the plan has; None where there is no plan. Before its end a trial that is still
            open gets no word: looking again and again would find praise by chance.
        looks: Looks that are planned before its end; None where none is. At one of them a word is said where its bound is passed.
        elsewhere: Numbers of changes that the plan sends to a station or a clarity exercise: days say no word of them.
        comparing: How the design of the trial compares what was recorded.
        finish: What is said besides of each finding, by design or plan.
    """
    asked = query_rows(records, {**(limits or {}), **limits_of(trial)}, limited_by(trial))
    compare = comparing(asked)
    played, words = compare.played, compare.words
    is_interim = planned_pairs is not None and played < planned_pairs and trial.life.status in {Status.DRAFT, Status.OPEN}
    interim = f"interim: {played} of {counted(planned_pairs or 0, words.unit)} are played, and {_no_word(looks)}" if is_interim else ""
    at = Moment(interim=interim, look=_look(looks, played, is_interim=is_interim))
    weighed = [
        OneChange(change, trial, *_apart(change, asked, compare), at=replace(at, is_elsewhere=change.number in elsewhere))
        for change in trial.changes
    ]
    rows = {entry.change.number: frozenset({entry.change.number}) if _is_apart(compare) else entry.numbers for entry in weighed}
    raised, chance = _raised(weighed, rows, has_looks=at.look is not None)
    findings = tuple(_finished(entry.finding(raised, chance, rows), entry, finish) for entry in weighed)
    rests_on = {id(entry): entry for one in weighed for entry in one.rests_on()}
    return TrialReport(
        trial=trial,
        findings=findings,
        pairs=played,
        is_interim=is_interim,
        rated=rated_by_all(outcomes()["fair"], asked),
        look=at.look,
        planned_pairs=planned_pairs,
        words=words,
        records=asked,
        rows=account_for(asked, tuple(rests_on.values())),
    )


def _look(looks: Looks | None, played: int, *, is_interim: bool) -> Look | None:
    if looks is None:
        return None
    return looks.look_at(played) if is_interim else looks.look_at_end(played)


def _no_word(looks: Looks | None) -> str:
    if looks is None:
        return "the plan has no word before its end"
    return f"the plan has a word after {', '.join(str(look.pairs) for look in looks.planned)} pairs alone"


def _is_apart(compare: Comparing) -> bool:
    """Whether the days tell each change from the others."""
    return isinstance(compare, ComparingApart)


def _apart(change: Change, records: TrialRecords, compare: Comparing) -> tuple[TrialRecords, Comparing]:
    """The records as they stand for one change, and how they are compared for it."""
    return compare.apart(change.number) if isinstance(compare, ComparingApart) else (records, compare)


def _finished(finding: ChangeFinding, entry: OneChange, finish: Sequence[Finish]) -> ChangeFinding:
    for step in finish:
        finding = step(finding, entry)
    return finding


def _raised(
    weighed: Sequence[OneChange], rows: Mapping[int, frozenset[int]], *, has_looks: bool
) -> tuple[dict[int, float], dict[int, float]]:
    """By change, the p value raised for all outcomes that are weighed together, and the same of the wanted way alone.

    Changes that the same rows speak of are weighed once: they have one p value. Where looks are planned, that of a look is the chance of so
    much at any of them, and what cannot be judged now counts too, since it may be at another look.
    """
    can_be_judged = [entry for entry in weighed if entry.effect is not None and not entry.why_not_now()]
    told: dict[frozenset[int], list[OneChange]] = {}
    for entry in can_be_judged:
        told.setdefault(rows[entry.change.number], []).append(entry)
    lots = list(told.values())
    waiting = [1.0] * (_waiting(weighed, can_be_judged, rows) if has_looks else 0)
    two_sided = holm([*(lot[0].p for lot in lots), *waiting])
    # Where two changes want opposite ways of one outcome both ways are looked at, so both count.
    wanted = [(entry, way) for lot in lots for way, entry in {entry.wants_less: entry for entry in lot}.items()]
    raised = holm([*(entry.p_wanted for entry, _ in wanted), *waiting])
    one_sided = dict(zip([(rows[entry.change.number], way) for entry, way in wanted], raised, strict=False))
    return (
        {entry.change.number: p for lot, p in zip(lots, two_sided, strict=False) for entry in lot},
        {entry.change.number: one_sided[rows[entry.change.number], entry.wants_less] for entry in can_be_judged},
    )


def _waiting(weighed: Sequence[OneChange], judged: Sequence[OneChange], rows: Mapping[int, frozenset[int]]) -> int:
    """How many outcomes and ways days are to judge and cannot yet."""
    now = {(rows[entry.change.number], entry.wants_less) for entry in judged}
    waits = {
        (entry.outcome.key, entry.wants_less)
        for entry in weighed
        if entry.outcome is not None and not entry.at.is_elsewhere and (rows[entry.change.number], entry.wants_less) not in now
    }
    return len(waits)
