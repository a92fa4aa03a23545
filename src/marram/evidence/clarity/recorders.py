"""Whether people who recorded the same thing agree, told where several did."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from statistics import fmean

from marram.core.errors import StudyError
from marram.evidence.clarity.observers import observers_agree
from marram.records.outcomes import outcomes
from marram.records.rows import Readings, TrialRecords

_FEWEST = 5
"""Of fewer things nothing is said (ours)."""
_ENOUGH = 0.75
"""Below such a part one recorder alone does not do (common practice)."""


def recorder_remarks(records: TrialRecords) -> Iterator[str]:
    """How far recorders agree who saw the same, a sentence for each outcome that several recorded.

    Args:
        records: What was recorded.
    """
    by_outcome: dict[str, list[Readings]] = defaultdict(list)
    for reading in records.readings:
        by_outcome[reading.outcome].append(reading)
    for key, readings in sorted(by_outcome.items()):
        usual = Counter(len(one.values) for one in readings).most_common(1)[0][0]
        alike = [one for one in readings if len(one.values) == usual]
        if len(alike) >= _FEWEST:
            yield _sentence(key, alike)


def _sentence(key: str, readings: Sequence[Readings]) -> str:
    outcome, both = outcomes()[key], [sorted(one.values) for one in readings]
    names = {tuple(name for name, _ in one) for one in both}
    values = [[value for _, value in one] for one in both]
    apart = fmean(max(one) - min(one) for one in values)
    told = (
        f"{outcome.means.rstrip('.')}: {len(values)} were recorded by {len(values[0])} people, {apart:.2f} {outcome.unit} apart on average"
    )
    try:
        found = observers_agree(values)
    except StudyError:
        return f"{told}; all readings are alike."
    # where the same people recorded all, one who always reads higher shows as such; else each thing had people of its own
    part = found.any_observer if len(names) == 1 else found.drawn_anew
    mean = found.any_observer_mean if len(names) == 1 else found.drawn_anew_mean
    often = f"; {max(part, 0):.0%} of what one of them reads differs between the things themselves, {max(mean, 0):.0%} of their mean"
    more = "" if part >= _ENOUGH else ". One recorder alone does not do here: agree on when the watch starts and stops"
    return f"{told}{often}{more}."
