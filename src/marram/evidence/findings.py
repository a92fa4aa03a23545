"""Weigh a trial: from its records to one verdict for each change, by rules that were fixed before the data."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from marram.core.words import counted
from marram.evidence.verdicts import holm
from marram.evidence.weighing.account import account_for
from marram.evidence.weighing.by_pairs import ByPairs
from marram.evidence.weighing.comparing import Comparing, ComparingApart
from marram.evidence.weighing.odd_rows import RuleLimits, limited_by, limits_of, query_rows
from marram.evidence.weighing.one_change import OneChange
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
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
        comparing: How the design of the trial compares what was recorded.
        finish: What is said besides of each finding, by design or plan.
    """
    asked = query_rows(records, {**(limits or {}), **limits_of(trial)}, limited_by(trial))
    compare = comparing(asked)
    played, words = compare.played, compare.words
    is_interim = planned_pairs is not None and played < planned_pairs and trial.life.status in {Status.DRAFT, Status.OPEN}
    interim = (
        f"interim: {played} of {counted(planned_pairs or 0, words.unit)} are played, and the plan has no word before its end"
        if is_interim
        else ""
    )
    weighed = [OneChange(change, trial, *_apart(change, asked, compare), interim=interim) for change in trial.changes]
    rows = {entry.change.number: frozenset({entry.change.number}) if _is_apart(compare) else entry.numbers for entry in weighed}
    raised, chance = _raised(weighed, rows)
    findings = tuple(_finished(entry.finding(raised, chance, rows), entry, finish) for entry in weighed)
    rests_on = {id(entry): entry for one in weighed for entry in one.rests_on()}
    return TrialReport(
        trial=trial,
        findings=findings,
        pairs=played,
        is_interim=is_interim,
        words=words,
        records=asked,
        rows=account_for(asked, tuple(rests_on.values())),
    )


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


def _raised(weighed: Sequence[OneChange], rows: Mapping[int, frozenset[int]]) -> tuple[dict[int, float], dict[int, float]]:
    """By change, the p value raised for all outcomes that are weighed together, and the same of the wanted way alone.

    Changes that the same rows speak of are weighed once: they have one p value.
    """
    can_be_judged = [entry for entry in weighed if entry.effect is not None and not entry.why_too_little()]
    told: dict[frozenset[int], list[OneChange]] = {}
    for entry in can_be_judged:
        told.setdefault(rows[entry.change.number], []).append(entry)
    lots = list(told.values())
    two_sided = holm([lot[0].effect.p_t for lot in lots if lot[0].effect is not None])
    # Where two changes want opposite ways of one outcome both ways are looked at, so both count.
    wanted = [(entry, way) for lot in lots for way, entry in {entry.wants_less: entry for entry in lot}.items()]
    one_sided = dict(
        zip([(rows[entry.change.number], way) for entry, way in wanted], holm([entry.p_wanted for entry, _ in wanted]), strict=True)
    )
    return (
        {entry.change.number: p for lot, p in zip(lots, two_sided, strict=True) for entry in lot},
        {entry.change.number: one_sided[rows[entry.change.number], entry.wants_less] for entry in can_be_judged},
    )
