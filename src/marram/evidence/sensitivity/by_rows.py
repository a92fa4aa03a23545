"""Each kind of outcome row by row, beside what the days say: rows keep their pair, and the limits know how few pairs there are.

Where the pairs are held fixed in a model with robust errors, clusters of days would count each pair twice; so rows hang together by pair.

Source: de Chaisemartin and Ramirez-Cuellar, At what level should one cluster standard errors in paired and small-strata experiments?
(2024).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.models.count_model import OVERDISPERSED_FROM, fit_counts
from marram.evidence.models.fitted import Coefficient, Terms, find
from marram.evidence.models.mixed_model import fit_mixed
from marram.evidence.models.odds_model import proportional_odds
from marram.evidence.models.random_odds import odds_within_players
from marram.evidence.models.yes_no_model import fit_yes_no
from marram.evidence.sensitivity.sensitivity_line import Scale, SensitivityLine, Way
from marram.evidence.shares import changed_answers
from marram.records.outcomes import Outcome, Weighing

FEWEST_ROWS_A_DAY = 2
"""With fewer values on a day, the rows say no more than the days do."""
FEWEST_PLAYERS_ON_BOTH = 10
"""From so many players on who answer under both rules, they are compared with themselves (ours)."""
_FEW_CLUSTERS = 40
FEWEST_COURSES = 6
"""Of fewer courses, as of fewer pairs, nothing can be said (ours)."""
TRIAL = "trial"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One value: under which rules, on which day of which pair, from which player, and on which course."""

    value: float
    is_trial: bool
    day: str
    pair: str
    player: str = ""
    course: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What a model says of the trial rules: the coefficient, its degrees of freedom, its scale and the model in words."""

    trial: Coefficient
    freedom: float
    scale: Scale
    model: str


def row_line(outcome: Outcome, rows: Sequence[Row], question: str = "") -> SensitivityLine | None:
    """What the rows say of an outcome; None where a day has too few.

    Args:
        outcome: The outcome.
        rows: Its values, of whole pairs alone.
        question: The question that was answered.
    """
    if len(rows) < FEWEST_ROWS_A_DAY * len({row.day for row in rows}):
        return None
    return _line(Way.ROWS, _FITS[outcome.kind], outcome, rows, question)


def player_line(outcome: Outcome, rows: Sequence[Row], question: str = "") -> SensitivityLine | None:
    """What answers in steps, or yes and no, say within one and the same player; None where too few answered under both rules.

    Args:
        outcome: The outcome.
        rows: The answers.
        question: The question.
    """
    named = [row for row in rows if row.player]
    sides = [{row.player for row in named if row.is_trial is is_trial} for is_trial in (True, False)]
    both = sides[0] & sides[1]
    if outcome.kind not in {Weighing.STEPS, Weighing.SHARE} or len(both) < FEWEST_PLAYERS_ON_BOTH:
        return None
    if outcome.kind is Weighing.SHARE:
        return _changed(outcome, named, sorted(both), question)
    return _line(Way.WITHIN_PLAYERS, _within_players, outcome, named, question)


def _changed(outcome: Outcome, rows: Sequence[Row], players: Sequence[str], question: str) -> SensitivityLine:
    """How many of the same players say yes under one set of rules alone, by the first answer of each under either."""
    first: dict[tuple[str, bool], bool] = {}
    for row in rows:
        first.setdefault((row.player, row.is_trial), row.value > 0)
    counts = Counter((first[player, False], first[player, True]) for player in players)
    found = changed_answers(
        both_yes=counts[True, True], only_first=counts[True, False], only_second=counts[False, True], both_no=counts[False, False]
    )
    return SensitivityLine(
        way=Way.WITHIN_PLAYERS,
        outcome=outcome.key,
        question=question,
        scale=Scale.DIFFERENCE,
        estimate=found.difference,
        interval95=None,
        rows=2 * len(players),
        model=f"{counts[False, True]} say yes under trial rules alone and {counts[True, False]} under ordinary rules alone",
        p=found.p_exact,
    )


def course_line(outcome: Outcome, rows: Sequence[Row]) -> SensitivityLine | None:
    """What courses say that each lean their own way and are each moved by as much as they are; None where there are too few.

    Args:
        outcome: The outcome.
        rows: Its values.
    """
    courses = [{row.course for row in rows if row.is_trial is is_trial} for is_trial in (True, False)]
    if outcome.kind is not Weighing.MEAN or courses[0] != courses[1] or len(courses[0]) < FEWEST_COURSES or "" in courses[0]:
        return None
    return _line(Way.COURSES, _by_course, outcome, rows, "")


Fit = Callable[[Sequence[Row]], Fitted]


def _line(way: Way, fit: Fit, outcome: Outcome, rows: Sequence[Row], question: str) -> SensitivityLine:
    try:
        found = fit(rows)
    except StudyError as problem:
        model = "a model of the rows"
        return SensitivityLine(
            way=way,
            outcome=outcome.key,
            question=question,
            scale=Scale.DIFFERENCE,
            estimate=None,
            interval95=None,
            rows=len(rows),
            model=model,
            why_none=problem.message,
        )
    ends, turn = found.trial.interval(0.95, found.freedom), exp if found.scale is not Scale.DIFFERENCE else float
    return SensitivityLine(
        way=way,
        outcome=outcome.key,
        question=question,
        scale=found.scale,
        estimate=turn(found.trial.estimate),
        interval95=Interval(low=turn(ends.low), high=turn(ends.high)),
        rows=len(rows),
        model=found.model,
    )


def _pairs(rows: Sequence[Row]) -> list[str]:
    return list(dict.fromkeys(row.pair for row in rows))


def _trial(rows: Sequence[Row]) -> list[float]:
    return [float(row.is_trial) for row in rows]


def _mean(rows: Sequence[Row]) -> Fitted:
    found, model = _mixed(rows, [row.value for row in rows])
    return Fitted(trial=found, freedom=len(_pairs(rows)) - 1, scale=Scale.DIFFERENCE, model=model)


def _log_mean(rows: Sequence[Row]) -> Fitted:
    found, model = _mixed(rows, [log(row.value) for row in rows])
    return Fitted(trial=found, freedom=len(_pairs(rows)) - 1, scale=Scale.TIMES_RATIO, model=f"logarithms, {model}")


def _mixed(rows: Sequence[Row], values: Sequence[float]) -> tuple[Coefficient, str]:
    terms: Terms = {TRIAL: _trial(rows)} | {f"pair {name}": [float(row.pair == name) for row in rows] for name in _pairs(rows)[1:]}
    found = fit_mixed(values, terms, [row.day for row in rows])
    return find(found.terms, TRIAL), f"pairs held fixed and days leaning by chance, which is {found.icc:.0%} of what is left of the spread"


def _by_course(rows: Sequence[Row]) -> Fitted:
    found = fit_mixed([row.value for row in rows], {TRIAL: _trial(rows)}, [row.course for row in rows], slope=TRIAL)
    courses, spread = len({row.course for row in rows}), sqrt(max(found.slope_between or 0.0, 0.0))
    model = f"{courses} courses, each with a level and an effect of its own, which spread by {spread:.2g} from course to course"
    return Fitted(trial=find(found.terms, TRIAL), freedom=courses - 1, scale=Scale.DIFFERENCE, model=model)


def _rate(rows: Sequence[Row]) -> Fitted:
    counts, terms, pairs = [row.value for row in rows], {TRIAL: _trial(rows)}, [row.pair for row in rows]
    found, spread = fit_counts(counts, terms, clusters=pairs), "as chance has it"
    if found.dispersion > OVERDISPERSED_FROM:
        found, spread = fit_counts(counts, terms, clusters=pairs, is_wide=True), "more widely than chance has it"
    model = f"counts that spread {spread}, rows of a pair hanging together"
    return Fitted(trial=find(found.terms, TRIAL), freedom=len(set(pairs)) - 1, scale=Scale.RATES_RATIO, model=model)


def _share(rows: Sequence[Row]) -> Fitted:
    pairs = [row.pair for row in rows]
    found = fit_yes_no([row.value for row in rows], {TRIAL: _trial(rows)}, pairs, are_few=len(set(pairs)) < _FEW_CLUSTERS)
    model = "yes and no, rows of a pair hanging together"
    return Fitted(trial=find(found.terms, TRIAL), freedom=found.clusters - len(found.terms), scale=Scale.ODDS_RATIO, model=model)


def _steps(rows: Sequence[Row]) -> Fitted:
    pairs = [row.pair for row in rows]
    players = [row.player or f"\n{place}" for place, row in enumerate(rows)]  # an answer of nobody in particular stands for itself
    found = proportional_odds([row.value for row in rows], {TRIAL: _trial(rows)}, clusters=(players, pairs))
    model = "odds of a higher answer at every cut, answers of a player and of a pair hanging together"
    return Fitted(trial=find(found.terms, TRIAL), freedom=len(set(pairs)) - 1, scale=Scale.ODDS_RATIO, model=model)


def _within_players(rows: Sequence[Row]) -> Fitted:
    found = odds_within_players([row.value for row in rows], {TRIAL: _trial(rows)}, [row.player for row in rows])
    model = "odds of a higher answer from one and the same player; days are not allowed for"
    return Fitted(trial=find(found.terms, TRIAL), freedom=len(_pairs(rows)) - 1, scale=Scale.ODDS_RATIO, model=model)


_FITS: Mapping[Weighing, Fit] = {
    Weighing.MEAN: _mean,
    Weighing.LOG_MEAN: _log_mean,
    Weighing.RATE: _rate,
    Weighing.SHARE: _share,
    Weighing.STEPS: _steps,
}
