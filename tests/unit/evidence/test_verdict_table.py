"""Laws of the verdict table: each effect gets one word, and a better effect never gets a worse one."""

from hypothesis import given
from hypothesis import strategies as st

from marram.evidence.effects import Interval
from marram.evidence.guards import GuardWord, guard_either_way, guard_of
from marram.evidence.verdicts import Verdict, Wanted, as_wanted, pairs_to_settle, verdict_of

tenths = st.integers(-200, 200).map(lambda value: value / 10)
widths = st.integers(0, 200).map(lambda value: value / 10)
matters = st.integers(1, 150).map(lambda value: value / 10)

# From what was not wanted to what was: a word may only rise when the whole effect moves up. "Not shown" and "no difference" stand level:
# which of the two it is depends on how wide the interval is.
RANK = {
    Verdict.OPPOSITE: 0,
    Verdict.OPPOSITE_SLIGHT: 1,
    Verdict.NO_DIFFERENCE: 2,
    Verdict.NOT_SHOWN: 2,
    Verdict.WORKS_LESS: 3,
    Verdict.DOES_IT_SIZE_OPEN: 4,
    Verdict.DOES_IT: 5,
}


@st.composite
def effects(draw: st.DrawFn) -> Wanted:
    estimate, half90, more = draw(tenths), draw(widths), draw(widths)
    return moved(
        Wanted(estimate=0.0, interval95=Interval(low=-half90 - more, high=half90 + more), interval90=Interval(low=-half90, high=half90)),
        estimate,
    )


def moved(effect: Wanted, by: float) -> Wanted:
    wide, narrow = (Interval(low=interval.low + by, high=interval.high + by) for interval in (effect.interval95, effect.interval90))
    return Wanted(estimate=effect.estimate + by, interval95=wide, interval90=narrow)


def conditions(effect: Wanted, least: float) -> list[tuple[bool, Verdict]]:
    """The table as it stands in print, each condition with those before it left to the order."""
    low, high = effect.interval95.low, effect.interval95.high
    return [
        (low > least, Verdict.DOES_IT),
        (low > 0 and effect.estimate >= least, Verdict.DOES_IT_SIZE_OPEN),
        (low > 0 and effect.estimate < least, Verdict.WORKS_LESS),
        (-least < effect.interval90.low and effect.interval90.high < least, Verdict.NO_DIFFERENCE),
        (high < -least, Verdict.OPPOSITE),
        (high < 0, Verdict.OPPOSITE_SLIGHT),
        (True, Verdict.NOT_SHOWN),
    ]


@given(effects(), matters, st.integers(6, 40))
def test_each_effect_gets_the_one_word_of_the_first_condition_that_fits(effect: Wanted, least: float, pairs: int) -> None:
    first = next(word for fits, word in conditions(effect, least) if fits)
    assert verdict_of(effect, matters=least, pairs=pairs) is first


@given(effects(), matters, widths)
def test_a_better_effect_never_gets_a_worse_word(effect: Wanted, least: float, by: float) -> None:
    before, after = (verdict_of(one, matters=least, pairs=8) for one in (effect, moved(effect, by)))
    # an effect against the wanted direction that is too small to matter is called no difference, above "slightly opposite"
    assert RANK[after] >= RANK[before] or (before is Verdict.NO_DIFFERENCE and after is Verdict.OPPOSITE_SLIGHT)


@given(effects(), matters, st.integers(0, 5), st.integers(0, 100))
def test_too_few_pairs_or_too_much_missing_say_so_whatever_the_effect(effect: Wanted, least: float, pairs: int, missing_pct: int) -> None:
    assert verdict_of(effect, matters=least, pairs=pairs, missing_share=missing_pct / 100) is Verdict.TOO_LITTLE
    judged = verdict_of(effect, matters=least, pairs=8, missing_share=missing_pct / 100)
    assert (judged is Verdict.TOO_LITTLE) == (missing_pct > 20)


@given(effects())
def test_an_effect_turned_twice_is_itself(effect: Wanted) -> None:
    once = as_wanted(effect.estimate, effect.interval95, effect.interval90, is_less_wanted=True)
    assert as_wanted(once.estimate, once.interval95, once.interval90, is_less_wanted=True) == effect


@given(effects(), matters, widths)
def test_a_guard_is_never_harmed_by_a_better_effect(effect: Wanted, margin: float, by: float) -> None:
    rank = {GuardWord.HARMED: 0, GuardWord.OPEN: 1, GuardWord.KEPT: 2}
    before, after = (guard_of(one.interval90, margin) for one in (effect, moved(effect, by)))
    assert rank[after] >= rank[before]


@given(effects(), matters)
def test_a_guard_kept_either_way_is_kept_one_way(effect: Wanted, margin: float) -> None:
    if guard_either_way(effect.interval90, margin) is GuardWord.KEPT:
        assert guard_of(effect.interval90, margin) is GuardWord.KEPT
        assert guard_of(effect.interval90.turned(), margin) is GuardWord.KEPT


@given(tenths, st.integers(1, 300).map(lambda value: value / 10), matters, st.integers(6, 30))
def test_what_would_settle_it_is_more_than_there_is(estimate: float, sd: float, least: float, pairs: int) -> None:
    needed = pairs_to_settle(estimate, sd, matters=least, pairs=pairs)
    assert needed is None or needed > pairs
