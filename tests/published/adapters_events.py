"""Adapters for examples of a competition before its cards: the bracket of a match play, and starting times."""

from collections.abc import Callable, Mapping

from marram.events.bracket import Bracket, draw_by_number
from marram.events.starting_times import empty_times, groups_of, is_interval_long_enough, starting_sheet
from tests.published.adapter import Adapter, Unfit, numbers, whole

Inputs = Mapping[str, object]
Values = Mapping[str, object]
FIRST = 4


def _pairs(bracket: Bracket, count: int | None = None) -> list[list[int]]:
    return [list(pair) for pair in bracket.pairs[:count]]


def _bracket(inputs: Inputs) -> Values:
    return {"pairs": _pairs(draw_by_number(whole(inputs, "entrants")))}


def _with_byes(inputs: Inputs) -> Values:
    bracket = draw_by_number(whole(inputs, "entrants"))
    return {"bracket": bracket.places, "byes": list(bracket.byes), "first_round": [list(pair) for pair in bracket.first_round]}


def _large(inputs: Inputs) -> Values:
    brackets = [draw_by_number(int(entrants)) for entrants in numbers(inputs, "entrants")]
    found: dict[str, object] = {f"first_four_{bracket.places}": _pairs(bracket, FIRST) for bracket in brackets}
    for bracket in brackets:
        (total,) = {sum(pair) for pair in bracket.pairs}
        found[f"all_{bracket.places}_pair_sum"] = total
    # the pair that heads the half without number 1, of the largest bracket
    return found | {"opposite_half_of_1_starts": list(max(brackets, key=lambda bracket: bracket.places).lower_half[0])}


def _minutes(text: object) -> int:
    hours, _, minutes = str(text).partition(":")
    if not (hours.isdigit() and minutes.isdigit()):
        raise Unfit(f"{text!r} is no time of day")
    return int(hours) * 60 + int(minutes)


def _times(inputs: Inputs) -> Values:
    groups = groups_of(whole(inputs, "players"), whole(inputs, "group_size"))
    sheet = starting_sheet(groups, first_min=_minutes(inputs["first"]), interval_min=whole(inputs, "interval_min"))
    last = sheet.starts_min[-1]
    return {"groups": groups, "last_start": f"{last // 60:02d}:{last % 60:02d}"}


def _guidance(inputs: Inputs) -> Values:
    both = zip(numbers(inputs, "group_sizes"), numbers(inputs, "proposed"), strict=True)
    return {"meets_guidance": [is_interval_long_enough(int(size), interval) for size, interval in both]}


def _gaps(inputs: Inputs) -> Values:
    found = empty_times(whole(inputs, "slots"), interval_min=whole(inputs, "interval"), gap_after=whole(inputs, "gap_after_every"))
    return {"empty_slots_min": list(found)}


def _adapter(topic: str, inputs: str, work_out: Callable[[Inputs], Values]) -> Adapter:
    return Adapter(topic=topic, inputs=frozenset(inputs.split()), work_out=work_out)


ADAPTERS = (
    _adapter("draw_8", "entrants", _bracket),
    _adapter("draw_16", "entrants", _bracket),
    _adapter("draw_32_64", "entrants", _large),
    _adapter("draw_byes", "entrants", _with_byes),
    _adapter("tee_times", "players group_size interval_min first", _times),
    _adapter("tee_times", "group_sizes proposed", _guidance),
    _adapter("tee_times_gap", "interval gap_after_every slots", _gaps),
)
