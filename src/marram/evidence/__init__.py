"""Evidence: plans of trials in pairs of days, effects with their intervals, guards and verdicts."""

from marram.evidence.effects import Interval, PairedDifference, Ratio, paired_days
from marram.evidence.guards import GuardWord, guard_either_way, guard_of
from marram.evidence.plan import Design, Primary, TrialPlan, plan
from marram.evidence.rates import PairedCounts, PooledRatio, RateRatio, pooled_ratio, rate_ratio
from marram.evidence.shares import Share, Steps, share, steps
from marram.evidence.verdicts import Overall, Verdict, Wanted, as_wanted, holm, overall_of, pairs_to_settle, verdict_of

__all__ = [
    "Design",
    "GuardWord",
    "Interval",
    "Overall",
    "PairedCounts",
    "PairedDifference",
    "PooledRatio",
    "Primary",
    "RateRatio",
    "Ratio",
    "Share",
    "Steps",
    "TrialPlan",
    "Verdict",
    "Wanted",
    "as_wanted",
    "guard_either_way",
    "guard_of",
    "holm",
    "overall_of",
    "paired_days",
    "pairs_to_settle",
    "plan",
    "pooled_ratio",
    "rate_ratio",
    "share",
    "steps",
    "verdict_of",
]
