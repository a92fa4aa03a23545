"""Penalties and corrections as they are written into a cell: `3: too-many-clubs @R12; 7: 2 @R9`."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from marram.scoring.cards.card import Correction, Penalty, PlayedOut, Procedure, TwoBalls
from marram.scoring.cards.concessions import Conceded, Concession

_PENALTY = re.compile(
    r"(?:(?P<hole>\d+)\s*:\s*)?(?P<what>[a-z0-9-]+)\s*(?:\((?P<facts>[^)]*)\))?\s*(?:@\s*(?P<ruling>[\w./-]+))?", re.ASCII
)
_CORRECTION = re.compile(
    r"(?P<hole>\d+)\s*:\s*(?P<actual>\d+)\s*(?:\+\s*(?P<left>\d+))?\s*(?:\((?P<facts>[^)]*)\))?\s*(?:@\s*(?P<ruling>[\w./-]+))?", re.ASCII
)
_BALL = r"(\d+)\s*(allowed|not-allowed|serious)\s*(?:\+\s*(\d+))?"
_TWO_BALLS = re.compile(
    rf"(\d+)\s*:\s*{_BALL}\s*/\s*{_BALL}\s*(?:,\s*chosen\s+(first|second|none))?\s*(\(not-reported\))?\s*(?:@\s*([\w./-]+))?", re.ASCII
)
_ONE_BALL = re.compile(r"(\d+)\s*(?:(allowed|not-allowed|serious)\s*(?:\+\s*(\d+))?)?", re.ASCII)
_MOST_STROKES = 30
_BOTH = "expected HOLE: first ball / second ball, chosen first, second or none, as in 7: 5 allowed / 6 not-allowed+2, chosen second @R4"
_CONCESSION = re.compile(r"(?:(?P<hole>\d+)\s*:\s*)?(?P<what>stroke|hole|match)\s*(?:\((?P<facts>[^)]*)\))?", re.ASCII)
_OF_CONCESSIONS: Mapping[str, tuple[str, bool]] = {
    "not_by_player": ("is_by_player", False),
    "decided_already": ("is_decided", True),
    "too_late": ("is_in_time", False),
    "taken_back": ("is_taken_back", True),
    "to_shorten": ("is_agreed_to_shorten", True),
}
_CONCEDED = (
    f"expected HOLE: stroke or hole, or match, with facts such as {', '.join(_OF_CONCESSIONS).replace('_', '-')}: 5: hole (not-by-player)"
)
_EXPECTED = "expected HOLE: ACT or strokes, (facts) and @RULING where there are any, as in 3: too-many-clubs @R12; 7: 2 @R9"
_CORRECTED = "expected HOLE: score that was right, + penalty that was not known, as in 5: 6 @R3 or 5: 4+2 @R3"


def read_penalties(text: str, *, are_in_scores: bool) -> Iterator[Penalty | str]:
    """Read the penalties of a cell; what cannot be read comes back as a fault in words.

    Args:
        text: The cell; penalties stand between semicolons.
        are_in_scores: Whether their strokes stand in the scores of the holes already.
    """
    for part in _parts(text):
        found = _PENALTY.fullmatch(part)
        if found is None:
            yield f"{part!r} is no penalty; {_EXPECTED}"
            continue
        ruling = found["ruling"] or ""
        hole = int(found["hole"]) if found["hole"] else None
        what = found["what"]
        if what.isdigit():
            yield _stated(part, hole, int(what), ruling, are_in_scores=are_in_scores)
        else:
            yield Penalty(hole=hole, act=what, facts=_facts(found["facts"]), ruling=ruling, is_in_score=are_in_scores)


def _stated(part: str, hole: int | None, strokes: int, ruling: str, *, are_in_scores: bool) -> Penalty | str:
    if hole is None:
        return f"{part!r} names no hole; {_EXPECTED}"
    if not 1 <= strokes <= 20:
        return f"{part!r}: {strokes} strokes cannot be"
    return Penalty(hole=hole, strokes=strokes, ruling=ruling, is_in_score=are_in_scores)


def read_corrections(text: str) -> Iterator[Correction | str]:
    """Read the corrections of a cell; what cannot be read comes back as a fault in words."""
    for part in _parts(text):
        found = _CORRECTION.fullmatch(part)
        if found is None:
            yield f"{part!r} is no correction; {_CORRECTED}"
            continue
        left_out = int(found["left"]) if found["left"] else None
        yield Correction(
            hole=int(found["hole"]),
            actual=int(found["actual"]),
            left_out=left_out,
            facts=_facts(found["facts"]),
            ruling=found["ruling"] or "",
        )


def read_two_balls(text: str) -> Iterator[TwoBalls | str]:
    """Read the holes that were played out with two balls; what cannot be read comes back as a fault in words."""
    for part in _parts(text):
        found = _TWO_BALLS.fullmatch(part)
        if found is None:
            yield f"{part!r} tells no two balls; {_BOTH}"
            continue
        hole, *balls, chosen, silent, ruling = found.groups()
        yield TwoBalls(
            hole=int(hole),
            balls=(_played_out(*balls[:3]), _played_out(*balls[3:])),
            chosen={"first": 0, "second": 1}.get(chosen or "none"),
            is_reported=silent is None,
            ruling=ruling or "",
        )


def read_ball(text: str) -> PlayedOut | int | None:
    """Read what is said of one of two balls: its score alone, or with what the Committee found of its procedure; None where it is neither.

    Args:
        text: Such as ``5``, ``5 allowed`` or ``6 not-allowed+2``.
    """
    found = _ONE_BALL.fullmatch(text.strip())
    if found is None or not 1 <= int(found[1]) <= _MOST_STROKES:
        return None
    return _played_out(found[1], found[2], found[3]) if found[2] else int(found[1])


def _played_out(strokes: str, procedure: str, penalty: str | None) -> PlayedOut:
    return PlayedOut(strokes=int(strokes), procedure=Procedure(procedure), penalty=int(penalty or 0))


def read_concessions(text: str) -> Iterator[Concession | str]:
    """Read what was conceded in a match; what cannot be read comes back as a fault in words."""
    for part in _parts(text):
        found = _CONCESSION.fullmatch(part.lower())
        facts = _facts(found["facts"]) if found is not None else frozenset()
        unknown = sorted(facts - _OF_CONCESSIONS.keys())
        if found is None or unknown or (found["hole"] is None and found["what"] != Conceded.MATCH):
            yield f"{part!r} is no concession; {_CONCEDED}"
            continue
        given = {field: value for fact, (field, value) in _OF_CONCESSIONS.items() if fact in facts}
        yield Concession(what=Conceded(found["what"]), hole=int(found["hole"]) if found["hole"] else None, **given)


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]


def _facts(text: str | None) -> frozenset[str]:
    return frozenset(word.strip().replace("-", "_") for word in (text or "").split(",") if word.strip())
