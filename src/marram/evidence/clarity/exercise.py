"""The clarity exercise: the same written incidents under the present text and under the draft, ruled by several officials.

What is compared is each incident with itself: how many pairs of officials agree on it, and how many give the ruling that the text means. So
hard incidents do not stand against easy ones; the incidents are what the exercise draws.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from marram.core.errors import StudyError
from marram.evidence.clarity.agreement import agreement_of, words_for
from marram.evidence.clarity.alpha import alpha
from marram.evidence.effects import Interval, PairedDifference, paired_days
from marram.evidence.verdicts import FEWEST_PAIRS, Verdict, as_wanted, verdict_of
from marram.evidence.weighing.clustered import Answered, ClusteredShare, clustered_share

FEWEST_OFFICIALS = 3
"""With two, one odd opinion splits every incident (ours)."""
_SPLIT_BELOW = 0.5
"""An incident splits officials where fewer than half of their pairs agree (ours)."""
_DRAWS, _SEED = 1000, 1


class Wording(StrEnum):
    """Which text an incident was ruled under."""

    PRESENT = "present"
    DRAFT = "draft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruled:
    """What one official ruled on one incident under one text.

    Attributes:
        official: Whoever ruled, by a name without meaning outside the exercise.
        incident: Name of the incident.
        wording: Which text.
        answer: What was ruled, in a word.
        seconds: How long it took; None where nobody timed it.
    """

    official: str
    incident: str
    wording: Wording
    answer: str
    seconds: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TextClarity:
    """How clear one text came out.

    Attributes:
        wording: The text.
        officials: How many ruled under it.
        incidents: How many incidents two or more of them ruled.
        raw: Mean share of pairs of officials that agree on an incident.
        alpha: Agreement beyond chance (Krippendorff, nominal).
        alpha_interval95: Its 95 % interval, by drawing incidents anew.
        kappa: Agreement beyond chance (Fleiss); None where not every incident was ruled by equally many.
        words: What is said of it.
        right: Share of answers that are what the text means; None where that is not given.
        split: Incidents on which officials split, each with its answers and how often each was given; the worst first.
    """

    wording: Wording
    officials: int
    incidents: int
    raw: float
    alpha: float
    alpha_interval95: Interval
    kappa: float | None
    words: str
    right: ClusteredShare | None
    split: tuple[tuple[str, tuple[tuple[str, int], ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClarityFinding:
    """What a clarity exercise showed.

    Attributes:
        texts: How clear each text came out.
        agreement: Share of agreeing pairs, draft less present, incident by incident; None where no incident was ruled under both.
        verdict: The word for it.
        reason: Why there is too little to judge, where that is the word.
        matters: The smallest difference that matters, as a share.
    """

    texts: tuple[TextClarity, ...]
    agreement: PairedDifference | None
    verdict: Verdict
    reason: str
    matters: float


def weigh_clarity(rulings: Sequence[Ruled], *, matters: float, meant: Mapping[tuple[str, Wording], str] | None = None) -> ClarityFinding:
    """Whether the draft is ruled more alike than the present text.

    Args:
        rulings: What was ruled.
        matters: The smallest difference of agreement that matters, as a share.
        meant: By incident and text the answer that the text means, such as Marram's own ruling; None where it is not compared.

    Raises:
        StudyError: Nothing was ruled, or an official ruled one incident twice under one text.
    """
    _refuse_twice(rulings)
    lots = {wording: [entry for entry in rulings if entry.wording is wording] for wording in Wording}
    agreed = {wording: _agreement_by_incident(lots[wording]) for wording in Wording}
    both = sorted(agreed[Wording.DRAFT].keys() & agreed[Wording.PRESENT].keys())
    effect = paired_days([(name, agreed[Wording.DRAFT][name], agreed[Wording.PRESENT][name]) for name in both]) if both else None
    reason = _why_too_little(effect, lots)
    verdict = Verdict.TOO_LITTLE
    if effect is not None and not reason:
        wanted = as_wanted(effect.estimate, effect.interval95, effect.interval90, is_less_wanted=False)
        verdict = verdict_of(wanted, matters=matters, pairs=effect.pairs)
    texts = tuple(_text(wording, lots[wording], meant or {}) for wording in Wording if agreed[wording])
    return ClarityFinding(texts=texts, agreement=effect, verdict=verdict, reason=reason, matters=matters)


def _refuse_twice(rulings: Sequence[Ruled]) -> None:
    if not rulings:
        raise StudyError("Nothing was ruled.", hint="Give one row for each official and incident.")
    counts = Counter((entry.official, entry.incident, entry.wording) for entry in rulings)
    twice = next((key for key, count in counts.items() if count > 1), None)
    if twice is not None:
        message = f"{twice[0]} ruled {twice[1]} twice under the {twice[2].value} text."
        raise StudyError(message, hint="Keep the first answer; a second one knows the first.")


def _agreement_by_incident(rulings: Sequence[Ruled]) -> dict[str, float]:
    """The share of agreeing pairs for each incident that two or more ruled."""
    answers: dict[str, list[str]] = defaultdict(list)
    for entry in rulings:
        answers[entry.incident].append(entry.answer)
    return {
        name: sum(count * (count - 1) for count in Counter(given).values()) / (len(given) * (len(given) - 1))
        for name, given in answers.items()
        if len(given) > 1
    }


def _why_too_little(effect: PairedDifference | None, lots: Mapping[Wording, Sequence[Ruled]]) -> str:
    if effect is None:
        return "no incident was ruled by two officials under both texts"
    if effect.pairs < FEWEST_PAIRS:
        return f"{effect.pairs} incidents were ruled under both texts; {FEWEST_PAIRS} are the fewest that can show anything"
    fewest = min(len({entry.official for entry in lot}) for lot in lots.values())
    if fewest < FEWEST_OFFICIALS:
        return f"{fewest} officials; {FEWEST_OFFICIALS} are the fewest, since of two one odd opinion splits every incident"
    return "" if effect.has_spread else "all incidents differ by the same, so that nothing can be said of how sure it is"


def _text(wording: Wording, rulings: Sequence[Ruled], meant: Mapping[tuple[str, Wording], str]) -> TextClarity:
    agreed = _agreement_by_incident(rulings)
    found, limits = _alpha_with_limits(rulings, sorted(agreed))
    answers: dict[str, Counter[str]] = defaultdict(Counter)
    for entry in rulings:
        answers[entry.incident][entry.answer] += 1
    split = sorted((share, name) for name, share in agreed.items() if share < _SPLIT_BELOW)
    compared = [entry for entry in rulings if (entry.incident, wording) in meant]
    right = [
        Answered(value=float(entry.answer == meant[entry.incident, wording]), player=entry.official, day=entry.incident)
        for entry in compared
    ]
    return TextClarity(
        wording=wording,
        officials=len({entry.official for entry in rulings}),
        incidents=len(agreed),
        raw=sum(agreed.values()) / len(agreed),
        alpha=found,
        alpha_interval95=limits,
        kappa=_kappa(answers),
        words=words_for(found),
        right=clustered_share(right) if right else None,
        split=tuple((name, tuple(answers[name].most_common())) for _, name in split),
    )


def _kappa(answers: Mapping[str, Counter[str]]) -> float | None:
    known = sorted({answer for given in answers.values() for answer in given})
    counts = [[given[answer] for answer in known] for given in answers.values()]
    officials = {sum(row) for row in counts}
    return agreement_of(counts).kappa if len(officials) == 1 and min(officials) > 1 else None


def _alpha_with_limits(rulings: Sequence[Ruled], incidents: Sequence[str]) -> tuple[float, Interval]:
    """Agreement beyond chance, with the range in which it lies when incidents are drawn anew."""
    import numpy as np

    codes = {answer: float(number) for number, answer in enumerate(dict.fromkeys(entry.answer for entry in rulings))}
    given = {(entry.official, entry.incident): codes[entry.answer] for entry in rulings}
    officials = sorted({entry.official for entry in rulings})
    columns = [[given.get((official, incident)) for official in officials] for incident in incidents]

    def of(places: Sequence[int]) -> float:
        return alpha([list(row) for row in zip(*(columns[place] for place in places), strict=True)])

    chance = np.random.default_rng(_SEED)
    drawn = [of([int(place) for place in chance.integers(0, len(columns), len(columns))]) for _ in range(_DRAWS)]
    low, high = np.quantile(drawn, (0.025, 0.975))
    return of(range(len(columns))), Interval(low=float(low), high=float(high))
