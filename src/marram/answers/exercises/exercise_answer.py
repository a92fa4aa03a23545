"""Exercises, as outsiders read them: what was drawn, and what came of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.evidence.clarity.exercise import TextClarity
    from marram.evidence.clarity.stations import StationFinding
    from marram.evidence.effects import Interval, PairedDifference
    from marram.office.exercises.draw_exercise import ExerciseDrawn
    from marram.office.exercises.exercise_sizes import ClaritySize, StationSize
    from marram.office.exercises.weigh_exercise import ClarityWeighed, StationsWeighed

Limits = tuple[float, float]


class AssignedShape(Shape, frozen=True, kw_only=True):
    """One thing to be done by one person.

    Attributes:
        person: Whoever does it.
        place: Its place in that person's order, from 1.
        item: Name of the incident or the task.
        text: `present` or `draft`.
    """

    person: str
    place: int
    item: str
    text: str


class GuardSizeShape(Shape, frozen=True, kw_only=True):
    """How many players show that something stays within its margin.

    Attributes:
        outcome: The outcome.
        margin: The margin.
        players_in_each_lot: Players in each of two lots, if it does not move at all.
    """

    outcome: str
    margin: float
    players_in_each_lot: int


class StationSizeShape(Shape, frozen=True, kw_only=True):
    """How many players the station of a change needs.

    Attributes:
        change: Number of the change.
        outcome: What is measured.
        unit: Its unit.
        matters: Smallest effect that matters.
        sd: Standard deviation between players, and about that of the difference of one player's two tries.
        players: Players that are planned.
        players_needed: Players that find what matters, each under both texts; null where more than 10,000 would be needed.
        least_effect: Smallest effect that the planned players find.
        players_in_each_lot: Players that each of two lots would need, each under one text alone.
        guards: The same for what must not get worse.
    """

    change: int
    outcome: str
    unit: str
    matters: float
    sd: float
    players: int
    players_needed: int | None
    least_effect: float
    players_in_each_lot: int
    guards: tuple[GuardSizeShape, ...]


class ClaritySizeShape(Shape, frozen=True, kw_only=True):
    """How many rulings a clarity exercise needs under each text.

    Attributes:
        agreement: Part of rulings that agree under the text in force, as it is supposed.
        matters: Smallest difference that matters.
        design_effect: By how much more are needed because rulings of one incident hang together.
        rulings: Rulings under each text that are planned.
        rulings_needed: Rulings under each text that find what matters.
        least_difference: Smallest difference that the planned rulings find; null where they find none.
    """

    agreement: float
    matters: float
    design_effect: float
    rulings: int
    rulings_needed: int
    least_difference: float | None


class ExercisePlanAnswer(Answer, frozen=True, kw_only=True):
    """Who rules or does what under which text (`marram trial clarity plan`, `marram trial stations plan`).

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        kind: `clarity` or `stations`.
        assigned: Who does what.
        seed_commitment: What is made public before the first day.
        stations: How many players each station needs, where its spread was told.
        clarity: How many rulings the exercise needs, where an agreement was supposed; else null.
    """

    schema: Literal["marram.exercise-plan/1"] = "marram.exercise-plan/1"
    trial: str
    kind: str
    assigned: tuple[AssignedShape, ...]
    seed_commitment: str
    stations: tuple[StationSizeShape, ...]
    clarity: ClaritySizeShape | None


class EffectShape(Shape, frozen=True, kw_only=True):
    """A difference, draft less present.

    Attributes:
        estimate: The mean difference.
        interval95: Its 95 % interval; null where there is none.
        interval90: Its 90 % interval; null where there is none.
        compared: How many incidents or players were held against themselves.
        present_mean: Mean under the text in force.
        draft_mean: Mean under the draft.
    """

    estimate: float
    interval95: Limits | None
    interval90: Limits | None
    compared: int
    present_mean: float
    draft_mean: float


class SplitShape(Shape, frozen=True, kw_only=True):
    """An incident on which officials split.

    Attributes:
        incident: Its name.
        answers: Each answer with how often it was given.
    """

    incident: str
    answers: tuple[tuple[str, int], ...]


class TextShape(Shape, frozen=True, kw_only=True):
    """How clear one text came out.

    Attributes:
        text: `present` or `draft`.
        officials: How many ruled under it.
        incidents: Incidents that two or more ruled.
        raw_agreement: Mean share of pairs of officials that agree.
        alpha: Agreement beyond chance (Krippendorff).
        alpha_interval95: Its 95 % interval.
        kappa: Agreement beyond chance (Fleiss); null where not every incident was ruled by equally many.
        words: What is said of it.
        right: Share of answers that are what the text means; null where that is not known.
        right_interval95: Its 95 % interval; null where it is not known.
        split: Incidents on which officials split, the worst first.
    """

    text: str
    officials: int
    incidents: int
    raw_agreement: float
    alpha: float
    alpha_interval95: Limits
    kappa: float | None
    words: str
    right: float | None
    right_interval95: Limits | None
    split: tuple[SplitShape, ...]


class MeantShape(Shape, frozen=True, kw_only=True):
    """What Marram makes of an incident under one text.

    Attributes:
        incident: Its name.
        text: `present` or `draft`.
        answer: The answer that it comes to; empty where none says so.
        why_none: Why there is none.
    """

    incident: str
    text: str
    answer: str
    why_none: str


class ClarityAnswer(Answer, frozen=True, kw_only=True):
    """Whether officials rule more alike under the draft (`marram trial clarity report`).

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        matters: The smallest difference of agreement that matters.
        agreement: Share of agreeing pairs, draft less present, incident by incident; null where no incident was ruled under both.
        verdict: The word.
        reason: Why there is too little to judge; empty where that is not the word.
        texts: How clear each text came out.
        meant: What Marram makes of each incident, where that is known.
        blank: Rows that came back without an answer.
    """

    schema: Literal["marram.clarity/1"] = "marram.clarity/1"
    trial: str
    matters: float
    agreement: EffectShape | None
    verdict: str
    reason: str
    texts: tuple[TextShape, ...]
    meant: tuple[MeantShape, ...]
    blank: int


class StationShape(Shape, frozen=True, kw_only=True):
    """What the stations of one change showed.

    Attributes:
        change: Its number.
        key: Its key.
        outcome: What was measured.
        unit: Its unit.
        effect: Draft less present, player by player; null where no player did a task under both.
        values: Values weighed.
        matters: The smallest effect that matters.
        verdict: The word.
        reason: Why there is too little to judge; empty where that is not the word.
    """

    change: int
    key: str
    outcome: str
    unit: str
    effect: EffectShape | None
    values: int
    matters: float | None
    verdict: str
    reason: str


class StationsAnswer(Answer, frozen=True, kw_only=True):
    """What came of stations (`marram trial stations report`).

    Attributes:
        schema: Name and version of this shape.
        trial: Title of the trial.
        findings: One for each change that had a station.
        blank: Rows that came back without a value.
    """

    schema: Literal["marram.stations/1"] = "marram.stations/1"
    trial: str
    findings: tuple[StationShape, ...]
    blank: int


def exercise_plan_answer(drawn: ExerciseDrawn) -> ExercisePlanAnswer:
    """Who does what under which text."""
    return ExercisePlanAnswer(
        trial=drawn.trial.title,
        kind="stations" if drawn.is_station else "clarity",
        assigned=tuple(
            AssignedShape(person=entry.person, place=entry.place, item=entry.item, text=entry.wording.value) for entry in drawn.assigned
        ),
        seed_commitment=drawn.seed_commitment,
        stations=tuple(map(_station_size, drawn.stations)),
        clarity=None if drawn.clarity is None else _clarity_size(drawn.clarity),
    )


def _station_size(size: StationSize) -> StationSizeShape:
    return StationSizeShape(
        change=size.change,
        outcome=size.outcome,
        unit=size.unit,
        matters=size.matters,
        sd=size.sd,
        players=size.players,
        players_needed=size.players_needed,
        least_effect=size.least_effect,
        players_in_each_lot=size.players_in_each_lot,
        guards=tuple(
            GuardSizeShape(outcome=guard.outcome, margin=guard.margin, players_in_each_lot=guard.players_in_each_lot)
            for guard in size.guards
        ),
    )


def _clarity_size(size: ClaritySize) -> ClaritySizeShape:
    return ClaritySizeShape(
        agreement=size.agreement,
        matters=size.matters,
        design_effect=size.design_effect,
        rulings=size.rulings,
        rulings_needed=size.rulings_needed,
        least_difference=size.least_difference,
    )


def clarity_answer(weighed: ClarityWeighed) -> ClarityAnswer:
    """What came of a clarity exercise."""
    finding = weighed.finding
    return ClarityAnswer(
        trial=weighed.trial.title,
        matters=finding.matters,
        agreement=_effect(finding.agreement),
        verdict=finding.verdict.value,
        reason=finding.reason,
        texts=tuple(map(_text, finding.texts)),
        meant=tuple(
            MeantShape(incident=one.incident, text=one.wording.value, answer=one.answer, why_none=one.why_none) for one in weighed.meant
        ),
        blank=weighed.blank,
    )


def stations_answer(weighed: StationsWeighed) -> StationsAnswer:
    """What came of stations."""
    return StationsAnswer(trial=weighed.trial.title, findings=tuple(map(_station, weighed.findings)), blank=weighed.blank)


def _station(finding: StationFinding) -> StationShape:
    expects = finding.change.expects
    return StationShape(
        change=finding.change.number,
        key=finding.change.key,
        outcome=finding.outcome.key,
        unit=finding.outcome.effect_unit,
        effect=_effect(finding.effect),
        values=finding.values,
        matters=None if expects is None else expects.matters,
        verdict=finding.verdict.value,
        reason=finding.reason,
    )


def _text(text: TextClarity) -> TextShape:
    return TextShape(
        text=text.wording.value,
        officials=text.officials,
        incidents=text.incidents,
        raw_agreement=round(text.raw, 4),
        alpha=round(text.alpha, 4),
        alpha_interval95=(round(text.alpha_interval95.low, 4), round(text.alpha_interval95.high, 4)),
        kappa=None if text.kappa is None else round(text.kappa, 4),
        words=text.words,
        right=None if text.right is None else round(text.right.estimate, 4),
        right_interval95=None if text.right is None else _limits(text.right.interval95),
        split=tuple(SplitShape(incident=name, answers=answers) for name, answers in text.split),
    )


def _effect(effect: PairedDifference | None) -> EffectShape | None:
    if effect is None:
        return None
    return EffectShape(
        estimate=round(effect.estimate, 4),
        interval95=_limits(effect.interval95),
        interval90=_limits(effect.interval90),
        compared=effect.pairs,
        present_mean=round(effect.ordinary_mean, 4),
        draft_mean=round(effect.trial_mean, 4),
    )


def _limits(interval: Interval) -> Limits | None:
    return (round(interval.low, 4), round(interval.high, 4)) if interval.is_bounded else None
