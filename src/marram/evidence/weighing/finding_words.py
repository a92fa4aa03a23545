"""Findings as sentences that an official would speak: what was measured and what it rests on, never what was hoped for.

Screen, paper and text tell the same sentences.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from marram.core.words import counted
from marram.evidence.design_words import PAIRED, DesignWords
from marram.evidence.effects import Interval
from marram.evidence.rates import RateRatio
from marram.evidence.weighing.answers_given import AnswersCompared, AnswersTold, Met
from marram.evidence.weighing.told_findings import ChangeFinding, GuardFinding, TrialReport
from marram.records.outcomes import Outcome, Per, Weighing, Worse, outcomes
from marram.records.rows import Arm
from marram.rulebook.overlays.trial_terms import Direction

_WORSE = {Worse.UP: "More would be worse", Worse.DOWN: "Less would be worse", Worse.EITHER: "Either way would be worse"}
_EACH = {
    Per.GROUP_ROUND: " for each group",
    Per.GROUP_HOLE: " for each group and hole",
    Per.PLAYER_ROUND: " for each player",
    Per.RULING: " for each ruling",
    Per.SEARCH: " for each search",
    Per.DROP: " for each drop",
    Per.PUTT: " for each putt",
    Per.ANSWER: " for each answer",
}
_MOST_REASONS = 6


def finding_sentences(finding: ChangeFinding) -> tuple[str, ...]:
    """Everything that is said of a change besides its word, its guards and its answers."""
    return tuple(_sentences(finding))


def _sentences(finding: ChangeFinding) -> Iterator[str]:
    effect, outcome, expects = finding.effect, finding.outcome, finding.change.expects
    if effect is None or outcome is None or expects is None:
        return
    wanted = -expects.matters if expects.direction is Direction.DOWN else expects.matters
    trial, ordinary = map(finding.words.on, Arm)
    yield (
        f"{outcome.means} {amount_words(effect.trial_mean, outcome)} {trial}, {amount_words(effect.ordinary_mean, outcome)} {ordinary}: "
        f"{finding.words.cleared_of}{turned_words(effect.estimate, outcome)} {trial}"
        f"{limit_words(effect.interval95, outcome, 95, finding.words)}."
    )
    rests_on = f"This rests on {counted(effect.units, finding.words.rests_on)} and {finding.rows} values"
    yield f"At least {turned_words(wanted, outcome, is_stated=True)} was wanted. {rests_on}; {_chance(effect.p_t)}."
    yield from _looked(finding, outcome)
    yield from _shared(finding)
    yield from _defined(finding, outcome)
    yield from _missing(finding, outcome)
    if finding.ratio is not None:
        yield from _ratio_sentences(finding.ratio, finding.words)
    yield from _turning(finding)
    yield from finding.besides
    if finding.pairs_to_settle is not None:
        yield f"About {counted(finding.pairs_to_settle, finding.words.unit)} in all would settle it."


def _turning(finding: ChangeFinding) -> Iterator[str]:
    """The single pairs on which the word hangs."""
    unit, single = finding.words.unit, "days" if finding.words.is_of_days else f"{finding.words.unit}s"
    if len(finding.turned_by) == 1:
        yield f"It hangs on single {single}: without {unit} {finding.turned_by[0]} alone the word would be another."
    elif finding.turned_by:
        yield f"It hangs on single {single}: without any one of the {unit}s {', '.join(finding.turned_by)} the word would be another."


def _looked(finding: ChangeFinding, outcome: Outcome) -> Iterator[str]:
    """How the effect stands at a look of the plan."""
    taken = finding.look
    if taken is None:
        return
    look = taken.look
    passed = "and the bound is passed" if taken.is_passed else "and the bound is not passed"
    yield (
        f"{look.words[0].upper()}{look.words[1:]}: an effect must lie {look.bound:.2f} standard errors from nothing; this lies "
        f"{taken.standard_errors:.2f}, {passed}. At the level of this look ({look.level:.2%}) the difference is "
        f"{turned_words(taken.interval.low, outcome)} to {turned_words(taken.interval.high, outcome)}; other intervals are not widened "
        f"for the looks. Over all looks {_chance(taken.p_of_all)}."
    )


def _shared(finding: ChangeFinding) -> Iterator[str]:
    """What no day tells apart."""
    if finding.together and finding.overall_together is not None:
        was = "was" if len(finding.together) == 1 else "were"
        what, one = ("the days show", "day") if finding.words.is_of_days else ("is shown", finding.words.unit)
        yield (
            f"{change_numbers(finding.together)} {was} in force on the same days and to move the same: what {what} is theirs together, "
            f"and no {one} says which of them did it. Together: {finding.words.said(finding.overall_together)}."
        )
    if finding.also_touched_by:
        yield f"{change_numbers(finding.also_touched_by)} may have moved it too: there the trial watches it as well."


def change_numbers(changes: tuple[int, ...]) -> str:
    """Changes by their numbers, as a sentence begins with them."""
    if len(changes) == 1:
        return f"Change {changes[0]}"
    return f"Changes {', '.join(map(str, changes[:-1]))} and {changes[-1]}"


def _defined(finding: ChangeFinding, outcome: Outcome) -> Iterator[str]:
    """What the change makes by definition, apart from what play did."""
    part = finding.by_definition
    if part is None:
        return
    both = "both kinds of day" if finding.words.is_of_days else "the values under both sets of rules"
    yield (
        f"Of this, {turned_words(part.share_of_difference, outcome)} comes of the limit itself, since whatever would have gone on is cut "
        f"at {part.limit:g} {outcome.unit}. With {both} cut there, {turned_words(part.restricted.estimate, outcome)} is left"
        f"{limit_words(part.restricted.interval95, outcome, 95, finding.words)}."
    )
    if part.found is not None:
        ends, way = part.found.interval95, "fewer" if part.found.estimate < 0 else "more"
        yield (
            f"Balls found in time: {abs(part.found.estimate):.0%} of all searches {way} {finding.words.on(Arm.TRIAL)} "
            f"(95 %: {ends.low:+.0%} to {ends.high:+.0%})."
        )


def _missing(finding: ChangeFinding, outcome: Outcome) -> Iterator[str]:
    """How much is missing, and what it could turn."""
    if finding.missing is None or finding.missing_bounds is None:
        return
    shares = [f"{finding.missing.share(arm):.0%} of those of {finding.words.kind(arm)}" for arm in Arm if finding.missing.share(arm) > 0]
    low, high = finding.missing_bounds
    yield (
        f"Values are missing: {' and '.join(shares) or 'a few'}. Had they all been as low or as high as the outermost twentieth of what "
        f"was seen, the difference would lie between {turned_words(low, outcome)} and {turned_words(high, outcome)}."
    )


def _ratio_sentences(ratio: RateRatio, words: DesignWords) -> Iterator[str]:
    trial, ordinary = map(words.on, Arm)
    both = f"{ratio.trial_count} {trial} and {ratio.ordinary_count} {ordinary}"
    if ratio.is_rare:
        ends, estimate = ratio.pooled.interval95, ratio.pooled.estimate
        told = "no ratio" if estimate is None else f"{estimate:.2f} times as often {trial}"
        top = f"{ends.high:.2f}" if ends.is_bounded else "any number"
        yield f"Counted so seldom, {both}, that the exact limits hold: {told}, between {ends.low:.2f} and {top} times (95 %)."
    elif ratio.ratio.interval95.is_bounded:
        ends, often = ratio.ratio.interval95, f"{ratio.ratio.estimate:.2f} times as often {trial}"
        yield f"Counted: {both}; {often}, between {ends.low:.2f} and {ends.high:.2f} (95 %)."


def guard_sentence(guard: GuardFinding, words: DesignWords = PAIRED) -> str:
    """What is said of something that must not get worse."""
    outcome = guard.outcome
    may_pass = f"up to {amount_words(guard.margin, outcome, is_stated=True)} may pass"
    asked = f"{outcome.means} {_WORSE[guard.worse]}, and {may_pass}: {words.said(guard.word)}"
    if guard.interval90 is None or guard.estimate is None:
        return f"{asked}; {guard.reason or f'too few {words.unit}s have values'}."
    told = f"{asked}; {turned_words(guard.estimate, outcome)} {words.on(Arm.TRIAL)}{limit_words(guard.interval90, outcome, 90, words)}."
    if guard.ratio is not None and guard.ratio.is_rare:
        told += "".join(f" {sentence}" for sentence in _ratio_sentences(guard.ratio, words))
    return told


def answer_sentence(lot: AnswersTold, words: DesignWords = PAIRED) -> str:
    """What one lot of players answered to one question."""
    asked = f"“{lot.question}”" if lot.question else lot.outcome.means.rstrip(".")
    who = {Met.MET: "players who met it", Met.NOT_MET: "players who did not meet it", Met.NOT_KNOWN: "players of whom nobody knows whether"}
    day = "" if lot.arm is Arm.TRIAL else f", {words.on(lot.arm)}"
    named = f"{who[lot.met]}{' they met it' if lot.met is Met.NOT_KNOWN else ''}{day}"
    what = "say yes" if lot.outcome.kind is Weighing.SHARE else "give one of the two best of five"
    ends = lot.top_two.interval95
    steps = ("no", "yes") if lot.outcome.kind is Weighing.SHARE else range(1, len(lot.counts) + 1)
    counts = ", ".join(f"{count} said {step}" for count, step in zip(lot.counts, steps, strict=True))
    return (
        f"{asked}: of {lot.top_two.of} answers by {named}, {lot.top_two.estimate:.0%} {what} (95 %: {ends.low:.0%} to {ends.high:.0%}, "
        f"players and days that come again allowed for); {counts}."
    )


def compared_sentence(compared: AnswersCompared, words: DesignWords = PAIRED) -> str:
    """Answers of trial days held against those of ordinary days."""
    asked = f"“{compared.question}”" if compared.question else compared.outcome.means.rstrip(".")
    ends = compared.better.interval95
    limits = f", between {0.5 + ends.low:.0%} and {0.5 + ends.high:.0%} (95 %)" if ends.is_bounded else ""
    of_trial, of_ordinary, events = (
        ("of a trial day", "of its ordinary day", "pair of days") if words.is_of_days else (*map(words.on, Arm), "day")
    )
    return (
        f"{asked}: an answer {of_trial} is higher than one {of_ordinary} with a chance of "
        f"{compared.chance_of_better:.0%}{limits}; half is no difference. {counted(compared.better.pairs, events)}."
    )


def rated_sentences(report: TrialReport) -> tuple[str, ...]:
    """How players who said of every change how fair it is put them in order."""
    rated = report.rated
    if rated is None:
        return ()
    told = ", ".join(f"change {number} {rank:.2f}" for number, rank in zip(rated.changes, rated.ranked.mean_ranks, strict=True))
    return (
        f"{counted(rated.players, 'player')} said of every change how fair it is; by mean rank, the fairest highest: {told}. Were all "
        f"alike, {_chance(rated.ranked.p)}.",
    )


def account_sentences(report: TrialReport) -> tuple[str, ...]:
    """What became of every row, by outcome and kind of day."""
    read: Counter[tuple[str, Arm | None]] = Counter()
    weighed: Counter[tuple[str, Arm | None]] = Counter()
    reasons: dict[tuple[str, Arm | None], Counter[str]] = defaultdict(Counter)
    for row in report.rows:
        key = (row.outcome, row.arm)
        read[key] += row.read
        weighed[key] += row.weighed
        reasons[key].update(dict(row.left_out))
    return tuple(
        _account(f"{_rows_of(outcome)}, {_under(report, arm)}", read[key], weighed[key], reasons[key])
        for key in sorted(read, key=lambda key: (key[0], key[1] or ""))
        for outcome, arm in (key,)
    )


def _under(report: TrialReport, arm: Arm | None) -> str:
    return "rules not known" if arm is None else report.words.kind(arm)


def _rows_of(outcome: str) -> str:
    called = outcomes()[outcome].called
    return called[:1].upper() + called[1:]


def _account(what: str, read: int, weighed: int, reasons: Counter[str]) -> str:
    left = [f"{count} not: {reason}" for reason, count in reasons.most_common(_MOST_REASONS)]
    return f"{what}: {read} read, {weighed} weighed{'; ' if left else ''}{'; '.join(left)}."


def amount_words(value: float, outcome: Outcome, *, is_stated: bool = False) -> str:
    """A value in the unit of an outcome; one that was stated beforehand as it was stated."""
    if outcome.kind is Weighing.SHARE:
        return f"{value:.0%}"
    told = f"{value:g}" if is_stated else f"{value:.2f}"
    return f"{told}{_EACH[outcome.per]}" if outcome.unit == "count" else f"{told} {outcome.unit}"


def turned_words(amount: float, outcome: Outcome, *, is_stated: bool = False) -> str:
    """A difference as so much more or less; one that was stated beforehand as it was stated."""
    told = f"{abs(amount):g}" if is_stated else f"{abs(amount):.2f}"
    if outcome.kind is Weighing.SHARE:
        return f"{abs(amount):.0%} of all {'fewer' if amount < 0 else 'more'}"
    if outcome.unit == "count":
        return f"{told} {'fewer' if amount < 0 else 'more'}{_EACH[outcome.per]}"
    return f"{told} {outcome.unit} {'less' if amount < 0 else 'more'}"


def limit_words(interval: Interval, outcome: Outcome, level: int, words: DesignWords) -> str:
    """The interval of an effect, in brackets."""
    if not interval.is_bounded:
        return f"; the {words.mean_of} bound nothing"
    return f" ({level} % interval: {turned_words(interval.low, outcome)} to {turned_words(interval.high, outcome)})"


def _chance(p: float) -> str:
    """How often chance alone would show as much."""
    if p < 0.001:
        return "chance alone would show as much or more in fewer than one of a thousand such trials"
    return f"chance alone would show as much or more in about {p * 100:.1f} of a hundred such trials"
