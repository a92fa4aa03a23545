"""The report in one to three spoken sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marram.evidence.design_words import STEPS
from marram.evidence.guards import GuardWord
from marram.evidence.looks import Look
from marram.evidence.telling.first_page import first_page
from marram.evidence.telling.season_of_days import season_of_pairs
from marram.evidence.telling.spoken import spoken_sentences
from marram.evidence.verdicts import Overall
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport
from marram.records.outcomes import Worse, find_outcome
from marram.records.rows import TrialRecords
from marram.rulebook.differences.told_change import ToldChange
from tests.support.seasons import days_of, expecting, rows_of, steady, trial_of, weigh


def report_of(*lines: Overall, guards: tuple[GuardFinding, ...] = ()) -> TrialReport:
    """A season of 8 pairs with a change for each line; rounds take 20 minutes less."""
    days = days_of(8)
    report = weigh(trial_of(*(expecting("round_min", 5) for _ in lines)), days, rows_of(days, "round_min", steady(220, 240)))
    findings = tuple(
        replace(finding, overall=line, overall_together=None, guards=guards if line is Overall.MIXED else ())
        for finding, line in zip(report.findings, lines, strict=True)
    )
    return replace(report, findings=findings)


def guard(word: GuardWord, estimate: float | None = 0.53) -> GuardFinding:
    return GuardFinding(
        outcome=find_outcome("penalty_strokes"), margin=0.1, worse=Worse.UP, estimate=estimate, interval90=None, ratio=None, word=word
    )


def effect_words(finding: ChangeFinding) -> str:
    assert finding.effect is not None
    return f"a group takes {abs(finding.effect.estimate):.2f} min less for a round"


def test_what_did_what_it_was_meant_to_comes_first_then_mixed_then_the_rest() -> None:
    report = report_of(Overall.OPEN, Overall.DID, Overall.MIXED, Overall.DID_NOT, guards=(guard(GuardWord.HARMED),))
    effect = effect_words(report.findings[0])
    assert spoken_sentences(report) == (
        f"Change 2 did what it was meant to: {effect}.",
        f"Change 3 is mixed: {effect}, but a player gets 0.53 penalty strokes more in a round, more than may pass.",
        "Change 4 did not do what it was meant to; change 1 is open.",
    )


def test_a_guard_that_is_open_keeps_praise_back() -> None:
    told = spoken_sentences(report_of(Overall.MIXED, guards=(guard(GuardWord.OPEN),)))
    assert told[0].endswith("min less for a round, but not all that must not get worse is shown to be kept.")


def test_several_are_told_together() -> None:
    told = spoken_sentences(report_of(Overall.DID, Overall.DID, Overall.DID))
    assert told == ("Changes 1, 2 and 3 did what they were meant to.",)
    told = spoken_sentences(report_of(Overall.MIXED, Overall.MIXED, Overall.OPEN))
    assert told == (
        "Changes 1 and 2 are mixed: what must not get worse was harmed, or is not shown to be kept.",
        "Change 3 is open.",
    )


def test_the_line_over_changes_together_is_what_is_spoken() -> None:
    report = report_of(Overall.OPEN)
    (finding,) = report.findings
    together = replace(report, findings=(replace(finding, overall_together=Overall.DID),))
    assert spoken_sentences(together)[0].startswith("Change 1 did what it was meant to")


def test_a_roll_out_says_what_went_with_it() -> None:
    report = report_of(Overall.DID, Overall.DID)
    stepped = replace(report, findings=tuple(replace(finding, words=STEPS) for finding in report.findings))
    assert spoken_sentences(stepped)[0].startswith("Changes 1 and 2 went with what they were meant to do: ")


def test_before_the_end_only_that_is_said() -> None:
    report = replace(report_of(Overall.OPEN), is_interim=True, planned_pairs=10, pairs=8)
    assert spoken_sentences(report) == ("The plan is not at its end: 8 of 10 pairs are played, and no change has a word yet.",)
    one = replace(report, pairs=1)
    assert spoken_sentences(one)[0].startswith("The plan is not at its end: 1 of 10 pairs is played")


@pytest.mark.parametrize("held", [0, 1])
def test_an_empty_trial_says_what_is_missing(held: int) -> None:
    report = report_of(Overall.OPEN)
    empty = replace(report, records=TrialRecords(days=report.records.days[:held], observations=()))
    (told,) = spoken_sentences(empty)
    written = {0: "no day is", 1: "1 day is"}[held]
    assert told == (
        f"Nothing can be said yet: {written} written down, and no value that can be weighed. The tables of days and values fill this page."
    )


def test_values_that_make_no_pair_say_so() -> None:
    report = report_of(Overall.OPEN)
    (finding,) = report.findings
    assert spoken_sentences(replace(report, findings=(replace(finding, effect=None),))) == (
        "Nothing can be said yet: no pair of days has values on both days.",
    )


def look(number: int | None) -> Look:
    return Look(number=number, looks=3, pairs=8, bound=2.0, bounds=(3.0, 2.5, 2.0))


@pytest.mark.parametrize(
    ("is_interim", "at", "mark"),
    [
        (False, None, "Report"),
        (False, look(3), "Report"),
        (True, None, "Interim"),
        (True, look(2), "Interim look 2 of 3"),
        (True, look(None), "Interim"),
    ],
)
def test_a_look_before_the_end_is_marked(is_interim: bool, at: Look | None, mark: str) -> None:  # noqa: FBT001
    report = replace(report_of(Overall.OPEN), is_interim=is_interim, look=at, planned_pairs=10)
    season = season_of_pairs(report.records, frozenset(), ())
    told = {1: ToldChange(about="x", before="y", now="z")}
    page = first_page(report, told, season, plan_stamp="ab12", looks=None)
    assert page.mark == mark
    assert ("not widened for the looks" in page.caption) is (at is not None)


def test_the_line_under_the_title_counts_what_was_held() -> None:
    report = report_of(Overall.OPEN)
    season = season_of_pairs(report.records, frozenset(), ())
    told = {1: ToldChange(about="x", before="y", now="z")}
    page = first_page(report, told, season, plan_stamp=None, looks=None)
    first = report.records.days[0].day
    kept = tuple(entry for entry in report.records.observations if entry.day != first)
    fewer = replace(report, records=replace(report.records, observations=kept))
    assert "tried on 15 days" in first_page(fewer, told, season, plan_stamp=None, looks=None).about
    assert page.about == ("A trial: 1 change to the 2023 book, tried on 16 days on Moor, 4 April to 18 July 2026. No plan was given.")
