"""Agreement between officials: how often they give the same answer to a written incident, which is how clear a text is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marram.core.errors import StudyError

_WORDS = ((0.40, "text leaves officials guessing"), (0.60, "partly clear"), (0.80, "clear"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How far officials agree on a set of incidents.

    Attributes:
        kappa: Agreement beyond chance: 1 is full, 0 what chance would give; 1 where all gave one and the same answer throughout.
        raw: Share of pairs of officials that agree, over all incidents.
        of_incident: That share for each incident, in the order given: where it is low, the text splits officials.
        answer_shares: Share of each answer; where one answer rules, kappa falls although officials agree.
        words: What is said of the text.
    """

    kappa: float
    raw: float
    of_incident: tuple[float, ...]
    answer_shares: tuple[float, ...]
    words: str


def agreement_of(counts: Sequence[Sequence[int]]) -> Agreement:
    """How far officials agree, each incident ruled by equally many.

    Args:
        counts: For each incident, how many officials gave each of the answers.

    Raises:
        StudyError: There is no incident, the officials of two incidents differ in number, or there are fewer than two.

    Source: Fleiss, Measuring nominal scale agreement among many raters (1971); the words are common practice.
    """
    from statsmodels.stats.inter_rater import fleiss_kappa

    officials = {sum(row) for row in counts}
    if len(officials) != 1 or len({len(row) for row in counts}) != 1 or min(officials) < 2:
        hint = "Each incident needs one count for each answer, given by the same number of officials, at least two."
        raise StudyError("The incidents cannot be compared.", hint=hint)
    n = officials.pop()
    each = tuple(sum(count * (count - 1) for count in row) / (n * (n - 1)) for row in counts)
    shares = tuple(sum(row[place] for row in counts) / (n * len(counts)) for place in range(len(counts[0])))
    kappa = 1.0 if max(shares) == 1 else float(fleiss_kappa([list(row) for row in counts]))
    return Agreement(kappa=kappa, raw=sum(each) / len(each), of_incident=each, answer_shares=shares, words=words_for(kappa))


def words_for(beyond_chance: float) -> str:
    """What is said of a text by how far officials agree beyond chance."""
    return next((word for below, word in _WORDS if beyond_chance < below), "very clear")
