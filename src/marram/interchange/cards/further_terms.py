"""The members of an event's terms that several rounds and teams need: the cut, and how a team's score is made."""

from __future__ import annotations

from collections.abc import Mapping

from marram.core.terms import Form
from marram.core.words import shortly
from marram.events.decided.cut_terms import CutTerms, TiesAtTheCut
from marram.events.team_places import BestOf, TeamStep, TeamTerms
from marram.interchange.cards.terms_file import TermsReader
from marram.interchange.tables.table_rows import Faults
from marram.scoring.competition.terms_of_competition import Sides, Terms

_CUT_MEMBERS = frozenset({"after_round", "places", "ties", "within", "rule"})
_TEAM_MEMBERS = frozenset({"best_of", "each", "ties"})
_MOST_PLACES, _MOST_WITHIN, _MOST_OF_TEAM = 1000, 50, 12


def read_cut(read: TermsReader, raw: Mapping[str, object], faults: Faults, terms: Terms | None) -> CutTerms | None:
    """Read the cut; None where there is none.

    Args:
        read: Reads members.
        raw: The file.
        faults: Where faults are noted.
        terms: What cards are scored by; None where that cannot be used.
    """
    table = _table(raw, "cut", faults)
    if table is None:
        return None
    read.unknown("cut.", table, _CUT_MEMBERS)
    rounds = terms.rounds if terms is not None else 8
    if terms is not None and rounds < 2:
        faults.add("cut", "the terms have one round, so nobody can be cut; write rounds = 2, or leave [cut] out")
    if "places" not in table:
        faults.add("cut.places", "it is needed: so many play on")
    rule = table.get("rule", "")
    if not isinstance(rule, str):
        faults.add("cut.rule", f"{shortly(rule)} is no text")
    return CutTerms(
        after_round=read.whole(table, "after_round", 1, 1, max(1, rounds - 1), "cut."),
        places=read.whole(table, "places", 1, 1, _MOST_PLACES, "cut."),
        ties=read.word(table, "ties", TiesAtTheCut, TiesAtTheCut.IN, "cut."),
        within=read.whole(table, "within", 1, 0, _MOST_WITHIN, "cut.") if "within" in table else None,
        rule=str(rule),
    )


def read_team(read: TermsReader, raw: Mapping[str, object], faults: Faults, terms: Terms | None) -> TeamTerms | None:
    """Read how teams are placed; None where there are none.

    Args:
        read: Reads members.
        raw: The file.
        faults: Where faults are noted.
        terms: What cards are scored by; None where that cannot be used.
    """
    table = _table(raw, "team", faults)
    if table is None:
        return None
    read.unknown("team.", table, _TEAM_MEMBERS)
    if terms is not None and (terms.sides is not Sides.INDIVIDUAL or terms.form is Form.MATCH_PLAY):
        faults.add("team", "scores of single players are added up for a team: sides is individual, and the form is no match play")
    if "best_of" not in table:
        faults.add("team.best_of", "it is needed: so many scores count")
    return TeamTerms(
        best_of=read.whole(table, "best_of", 1, 1, _MOST_OF_TEAM, "team."),
        each=read.word(table, "each", BestOf, BestOf.ROUND, "team."),
        ties=_steps(table, faults),
    )


def _steps(table: Mapping[str, object], faults: Faults) -> tuple[TeamStep, ...]:
    stated = table.get("ties", [])
    if not isinstance(stated, list):
        faults.add("team.ties", "a list of steps is expected; none where ties stand")
        return ()
    for name in stated:
        if name not in list(TeamStep):
            faults.add("team.ties", f"{shortly(name)} is no step; expected {' or '.join(TeamStep)}")
    return tuple(TeamStep(name) for name in stated if name in list(TeamStep))


def _table(raw: Mapping[str, object], member: str, faults: Faults) -> Mapping[str, object] | None:
    table = raw.get(member)
    if table is None or isinstance(table, dict):
        return table
    faults.add(member, f"a table [{member}] is expected")
    return None
