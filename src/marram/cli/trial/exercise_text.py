"""Exercises as plain text: what was drawn, and what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.evidence.clarity.exercise import TextClarity
    from marram.evidence.clarity.stations import StationFinding
    from marram.evidence.effects import PairedDifference
    from marram.office.exercises.draw_exercise import ExerciseDrawn
    from marram.office.exercises.weigh_exercise import ClarityWeighed, StationsWeighed

_WIDTH = 100
_SPLIT_TOLD = 10
_TEXTS = {"present": "the text in force", "draft": "the draft"}


def drawn_text(drawn: ExerciseDrawn) -> str:
    """What was drawn."""
    people = list(dict.fromkeys(entry.person for entry in drawn.assigned))
    items = {entry.item for entry in drawn.assigned}
    who, what = ("players", "tasks") if drawn.is_station else ("officials", "incidents")
    each = [f"{len(people)} {who}, {len(items)} {what}, {len(drawn.assigned)} to be done."]
    lines = [drawn.trial.title, *each, *_size_lines(drawn), f"Make public before the first day: {drawn.seed_commitment}"]
    return "\n".join(fill(line, _WIDTH, subsequent_indent="   ") for line in lines)


def _size_lines(drawn: ExerciseDrawn) -> Iterator[str]:
    """How many are needed, and what the planned ones can find."""
    for size in drawn.stations:
        needed = "more than 10,000" if size.players_needed is None else str(size.players_needed)
        yield (
            f"Change {size.change}, {size.outcome}: {size.players} players under both texts find {size.least_effect:g} {size.unit} with a "
            f"chance of 80%; {size.matters:g} {size.unit} takes {needed}, or {size.players_in_each_lot} in each of two lots that do it "
            "under one text alone."
        )
        for guard in size.guards:
            yield f"   That {guard.outcome} stays within {guard.margin:g} takes {guard.players_in_each_lot} players in each lot to show."
    if drawn.clarity is not None:
        size_of = drawn.clarity
        least = "no difference" if size_of.least_difference is None else f"{size_of.least_difference:.0%} more"
        yield (
            f"From {size_of.agreement:.0%} agreement {size_of.rulings} rulings under each text find {least} with a chance of 80%; "
            f"{size_of.matters:.0%} more takes {size_of.rulings_needed}, {size_of.design_effect:g} times as many as if no two were of one "
            "incident."
        )


def clarity_text(weighed: ClarityWeighed) -> str:
    """What came of a clarity exercise."""
    finding = weighed.finding
    lines = [weighed.trial.title, f"Verdict: {finding.verdict.value}{_because(finding.reason)}."]
    if finding.agreement is not None:
        told = _effect(finding.agreement, "of pairs of officials agree more under the draft", "incidents")
        lines.append(f"{told} At least {finding.matters:g} was wanted.")
    for text in finding.texts:
        lines += ["", *_text_lines(text)]
    unknown = [f"{one.incident}, {_TEXTS[one.wording.value]}: {one.why_none}" for one in weighed.meant if one.why_none]
    lines += ["", "Not held against a ruling of Marram's:", *(f"   {line}." for line in unknown)] if unknown else []
    lines += [f"{weighed.blank} rows came back without an answer."] if weighed.blank else []
    return "\n".join(fill(line, _WIDTH, subsequent_indent="   ") if line else "" for line in lines)


def stations_text(weighed: StationsWeighed) -> str:
    """What came of stations."""
    lines = [weighed.trial.title]
    for finding in weighed.findings:
        lines += ["", *_station_lines(finding)]
    lines += ["", f"{weighed.blank} rows came back without a value."] if weighed.blank else []
    return "\n".join(fill(line, _WIDTH, subsequent_indent="   ") if line else "" for line in lines)


def _station_lines(finding: StationFinding) -> list[str]:
    lines = [f"{finding.change.number}. {finding.change.key}: {finding.verdict.value}{_because(finding.reason)}."]
    if finding.effect is not None and finding.change.expects is not None:
        wanted = f"wanted {finding.change.expects.direction.value} by {finding.change.expects.matters:g}"
        lines.append(
            f"{_effect(finding.effect, f'{finding.outcome.effect_unit} under the draft', 'players')} {wanted[0].upper()}{wanted[1:]}."
        )
    return lines


def _text_lines(text: TextClarity) -> list[str]:
    low, high = text.alpha_interval95.low, text.alpha_interval95.high
    lines = [
        f"{_TEXTS[text.wording.value].capitalize()}: {text.words}. {text.raw:.0%} of the pairs agree; beyond chance {text.alpha:.2f} "
        f"({low:.2f} to {high:.2f}); {text.officials} officials, {text.incidents} incidents."
    ]
    if text.kappa is not None:
        lines.append(f"By Fleiss' kappa {text.kappa:.2f} beyond chance, since equally many ruled each incident.")
    if text.right is not None:
        interval = text.right.interval95
        lines.append(f"As the text means it: {text.right.estimate:.0%} of the answers ({interval.low:.0%} to {interval.high:.0%}).")
    told = [f"{name} ({', '.join(f'{answer} {count}' for answer, count in answers)})" for name, answers in text.split[:_SPLIT_TOLD]]
    return [*lines, *([f"Officials split on: {'; '.join(told)}."] if told else [])]


def _effect(effect: PairedDifference, what: str, compared: str) -> str:
    limits = effect.interval95
    ends = f"95 % interval {limits.low:.2f} to {limits.high:.2f}" if limits.is_bounded else "no interval"
    return f"{effect.estimate:+.2f} {what} ({ends}); {effect.pairs} {compared}."


def _because(reason: str) -> str:
    return f" ({reason})" if reason else ""
