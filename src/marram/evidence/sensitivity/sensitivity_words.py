"""Lines of sensitivity as sentences, each marked as what it is: sensitivity, and not the verdict."""

from __future__ import annotations

from collections.abc import Iterator

from marram.evidence.effects import Interval
from marram.evidence.sensitivity.sensitivity_line import Scale, SensitivityLine, Way
from marram.evidence.sizes import ALPHA
from marram.evidence.weighing.finding_words import turned_words
from marram.evidence.weighing.told_findings import ChangeFinding
from marram.records.outcomes import Outcome, Weighing, outcomes

_OF_ROWS = {Way.ROWS: "row by row", Way.WITHIN_PLAYERS: "within one and the same player", Way.COURSES: "course by course"}
_TIMES = {Scale.TIMES_RATIO: "as long on trial days", Scale.RATES_RATIO: "as often on trial days"}


def sensitivity_sentences(finding: ChangeFinding) -> tuple[str, ...]:
    """What other ways of reckoning say, a paragraph for each outcome and question; nothing where they were not asked for."""
    lots: dict[tuple[str, str], list[SensitivityLine]] = {}
    for line in finding.sensitivity:
        lots.setdefault((line.outcome, line.question), []).append(line)
    return tuple(_paragraph(outcomes()[outcome], question, lines) for (outcome, question), lines in lots.items())


def _paragraph(outcome: Outcome, question: str, lines: list[SensitivityLine]) -> str:
    of_rows = [line for line in lines if line.way in _OF_ROWS]
    asked = f"“{question}”" if question else outcome.means.rstrip(".")
    told = [*(_of_rows(line, outcome) for line in of_rows), "; ".join(_of_days(lines, outcome))]
    first, *more = filter(None, told)
    return f"Sensitivity, not the verdict. {asked}: {'. '.join([first, *map(_begun, more)])}."


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]


def _of_rows(line: SensitivityLine, outcome: Outcome) -> str:
    where = _OF_ROWS[line.way]
    if line.estimate is None:
        return f"{where} nothing can be said, since {line.why_none[:1].lower()}{line.why_none[1:].rstrip('.')}"
    return f"{where} ({line.model}; {line.rows} values), {_amount(line, outcome)}"


def _of_days(lines: list[SensitivityLine], outcome: Outcome) -> Iterator[str]:
    for line in lines:
        if line.way is Way.EVENTS:
            yield _of_events(line)
        elif line.way is Way.WITHOUT_ONE and line.interval95 is not None:
            ends = line.interval95
            yield f"with {line.model}, from {turned_words(ends.low, outcome)} to {turned_words(ends.high, outcome)}"
        elif line.way is Way.RANKS and line.estimate is not None:
            yield f"with {line.model}, a trial day lies above an ordinary day with a chance of {line.estimate:.0%}; half is no difference"
        elif line.way is Way.TWO_LOTS and line.p is not None:
            kept = "shown" if line.p < ALPHA else "not shown"
            yield f"with {line.model}, {_amount(line, outcome)}, and it is {kept} that it stays within its margin either way"
        elif line.way in {Way.TRIMMED, Way.FILLED}:
            yield f"with {line.model}, {_amount(line, outcome)}"


def _of_events(line: SensitivityLine) -> str:
    ratio = line.why_none if line.estimate is None else f"{line.estimate:.2f} times as often{_limits(line.interval95)}"
    p = line.p or 0.0
    chance = "fewer than one of a thousand" if p < 0.001 else f"about {p * 100:.1f} of a hundred"
    return f"{line.model}, {ratio}; were the rates alike, chance would show as much that way in {chance} such trials"


def _amount(line: SensitivityLine, outcome: Outcome) -> str:
    assert line.estimate is not None
    if line.scale is Scale.DIFFERENCE:
        ends = line.interval95
        limits = "" if ends is None else f" (95 %: {turned_words(ends.low, outcome)} to {turned_words(ends.high, outcome)})"
        return f"{turned_words(line.estimate, outcome)} on trial days{limits}"
    if line.scale is Scale.ODDS_RATIO:
        what = "a higher answer" if outcome.kind is Weighing.STEPS else "yes"
        return f"the odds of {what} on trial days are {line.estimate:.2f} times those of ordinary days{_limits(line.interval95)}"
    return f"{line.estimate:.2f} times {_TIMES[line.scale]}{_limits(line.interval95)}"


def _limits(ends: Interval | None) -> str:
    return "" if ends is None else f" (95 %: {ends.low:.2f} to {ends.high:.2f})"
