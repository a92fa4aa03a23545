"""One hole: strokes made, strokes that count, net, what it is worth in the form of play, and when a player may stop."""

from __future__ import annotations

from dataclasses import dataclass

from marram.rulebook.form_of_play_words import Counts, NotHoledOut
from marram.scoring.forms.form_law import FormLaw


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleScore:
    """What a hole counts.

    Attributes:
        hole: Its number.
        par: Its par.
        received: Strokes received; below zero where they are given.
        strokes: Strokes with all penalty strokes; None where there is no score.
        counted: Strokes that count, a maximum taken into account; None where there is no score and none takes its place.
        value: What it is worth: net or gross strokes, points, or 1, 0 and -1 against the target; None where nothing counts.
        target: The target score, or the maximum less one: the highest score that is still worth something; None in stroke play.
        stop_after: Strokes after which a ball that is not holed can gain nothing more; None where every stroke counts.
        why: Why there is no score, in words; empty where there is one.
        does_count: Whether the hole counts; not where the Committee cut the round short.
    """

    hole: int
    par: int
    received: int
    strokes: int | None
    counted: int | None
    value: int | None
    target: int | None = None
    stop_after: int | None = None
    why: str = ""
    does_count: bool = True

    @property
    def may_stop(self) -> bool:
        """Whether the player stood at the point where a ball that is not holed can gain nothing more."""
        return self.stop_after is not None and (self.strokes is None or self.strokes > self.stop_after)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleToScore:
    """What is known of a hole before it is counted.

    Attributes:
        hole: Its number.
        par: Its par.
        received: Strokes received on it.
        strokes: Strokes with all penalty strokes; None where there is no score.
        target: The target score of the form; None where there is none.
        maximum: The maximum; None where there is none.
        is_net: Whether strokes received are taken off.
        why: Why there is no score, in words.
    """

    hole: int
    par: int
    received: int
    strokes: int | None
    target: int | None = None
    maximum: int | None = None
    is_net: bool = False
    why: str = ""


def score_hole(law: FormLaw, known: HoleToScore) -> HoleScore:
    """Count a hole as the form of play counts it.

    Args:
        law: What the book says of the form.
        known: What is known of the hole.

    Source:
        Rules of Golf (January 2023), Rules 3.3, 21.1b, 21.2b and 21.3b; what each edition says of it stands in its form row.
    """
    match law.counts:
        case Counts.POINTS:
            return _points(law, known)
        case Counts.HOLES_AGAINST_TARGET:
            return _against_target(known)
        case _:
            return _strokes(law, known)


def _off(known: HoleToScore) -> int:
    return known.received if known.is_net else 0


def _made(known: HoleToScore, *, counted: int | None, value: int | None, highest: int | None) -> HoleScore:
    """The hole; who has made the highest score that is worth something and has not holed out may stop."""
    return HoleScore(
        hole=known.hole,
        par=known.par,
        received=_off(known),
        strokes=known.strokes,
        counted=counted,
        value=value,
        target=highest,
        stop_after=None if highest is None else max(highest, 0),
        why=known.why if known.strokes is None else "",
    )


def _strokes(law: FormLaw, known: HoleToScore) -> HoleScore:
    maximum = known.maximum if law.not_holed_out is NotHoledOut.MAXIMUM else None
    made = known.strokes
    counted = made if maximum is None else maximum if made is None else min(made, maximum)
    value = None if counted is None else counted - _off(known)
    return _made(known, counted=counted, value=value, highest=None if maximum is None else maximum - 1)


def _points(law: FormLaw, known: HoleToScore) -> HoleScore:
    assert law.points is not None and known.target is not None
    table, level = law.points, known.target + _off(known)
    value = table.none if known.strokes is None else table.of_difference(known.strokes - level)
    highest = max((over for over in (0, 1) if table.of_difference(over) > table.none), default=0) + level
    return _made(known, counted=known.strokes, value=value, highest=highest)


def _against_target(known: HoleToScore) -> HoleScore:
    assert known.target is not None
    level = known.target + _off(known)
    value = -1 if known.strokes is None else (known.strokes < level) - (known.strokes > level)
    return _made(known, counted=known.strokes, value=value, highest=level)
