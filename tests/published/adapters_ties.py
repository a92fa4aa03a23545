"""Adapters for examples of ties: countback in gross, net with fractions kept or rounded, points, two-tee starts, and play-off handicaps."""

from collections.abc import Mapping, Sequence

from marram.core.terms import Form
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.competition.terms_of_competition import COUNTBACK, Fractions, Step, Ties
from marram.scoring.ties.countback import holes_of_step, over_holes, share_of_handicap
from marram.scoring.ties.placing import place_all
from marram.scoring.ties.round_standing import Counting, RoundStanding, Standing
from tests.published.adapter import Unfit, to_list, whole
from tests.published.adapters_scoring import adapter, handicap, scored, tee_of
from tests.published.referring import referred

Inputs = Mapping[str, object]
Values = Mapping[str, object]
GROSS = Counting(counts=Counts.STROKES, takes_share=False, rounds_fractions=False)
NAMES = {Step.LAST_9: "last_9", Step.LAST_6: "last_6", Step.LAST_3: "last_3", Step.LAST_1: "last_1"}
LENGTHS = {Step.LAST_9: 9, Step.LAST_6: 6, Step.LAST_3: 3, Step.LAST_1: 1}


def _round(gross: Sequence[int], strokes: int = 0) -> RoundStanding:
    return RoundStanding(total=sum(gross) - strokes, by_hole=tuple(gross), gross_by_hole=tuple(gross), handicap=strokes)


def _by_name(inputs: Inputs, name: str) -> Mapping[str, object]:
    found = inputs[name]
    if not isinstance(found, Mapping):
        raise Unfit(f"{name} holds no values by player")
    return {str(player): value for player, value in found.items()}


def _whole_list(value: object, name: str) -> list[int]:
    return [int(str(one)) for one in to_list(value, name)]


def _gross(inputs: Inputs) -> Values:
    cards = {name: _whole_list(gross, name) for name, gross in _by_name(inputs, "cards").items()}
    rounds = {name: _round(gross) for name, gross in cards.items()}
    holes = len(next(iter(cards.values())))
    found: dict[str, object] = {
        NAMES[step]: [over_holes(one, holes_of_step(step, holes) or (), GROSS) for one in rounds.values()] for step in COUNTBACK
    }
    return {**found, **_winner(rounds, GROSS, Ties())}


def _winner(rounds: Mapping[str, RoundStanding], counting: Counting, ties: Ties) -> Values:
    """Who comes first, and on how many holes it was decided; the totals count as equal."""
    placed = place_all([Standing(name=name, total=0, rounds=(one,)) for name, one in rounds.items()], counting, ties)
    first = placed[0]
    if first.is_joint:
        return {"winner": "none - Terms decide", "decided_on": 0}
    decided = next(
        step for step in COUNTBACK if first.decided_by in {NAMES[step].replace("_", " "), "last hole"} and _is(step, first.decided_by)
    )
    return {
        "winner": first.name,
        "decided_on": LENGTHS[decided],
        "values": {one.name: one.compared[len(first.compared) - 1].value for one in placed},
    }


def _is(step: Step, words: str) -> bool:
    return words == ("last hole" if step is Step.LAST_1 else NAMES[step].replace("_", " "))


def _net(fractions: Fractions, inputs: Inputs) -> Values:
    """Gross scores over the last 9, 6, 3 and 1 holes are laid on a card that has them."""
    counting = Counting(counts=Counts.STROKES, takes_share=True, rounds_fractions=fractions is Fractions.ROUNDED)
    handicaps = {name: handicap(value) for name, value in _by_name(inputs, "playing_handicap").items()}
    rounds = {
        name: _round(_card_of(_whole_list(sums, name)), handicaps[name]) for name, sums in _by_name(inputs, "gross_last_9_6_3_1").items()
    }
    return _winner(rounds, counting, Ties(fractions=fractions))


def _card_of(sums: Sequence[int]) -> list[int]:
    """A card with given sums over the last 9, 6, 3 and 1 holes."""
    nine, six, three, one = sums
    return [0] * 9 + [nine - six, 0, 0] + [six - three, 0, 0] + [three - one, 0] + [one]


def _exact(inputs: Inputs) -> Values:
    return _net(Fractions.KEPT, inputs)


def _rounded(inputs: Inputs) -> Values:
    return _net(Fractions.ROUNDED, inputs)


def _points(inputs: Inputs) -> Values:
    examples = inputs["examples"]
    assert isinstance(examples, Mapping)
    name = str(inputs["card"]).split()[0].rstrip(".,;")
    if name not in examples:
        raise Unfit(f"the file has no example {name!r}")
    entry = examples[name]
    card = referred(entry["inputs"], {"courses": inputs["courses"], "examples": list(examples.values())})
    one = scored(tee_of(card), Form.STABLEFORD, card["gross"], handicap(card["playing_handicap"]))
    points = [hole.value or 0 for hole in one.holes]
    played = RoundStanding(total=sum(points), by_hole=tuple(points), gross_by_hole=tuple(points), handicap=0)
    counting = Counting(counts=Counts.POINTS, takes_share=False, rounds_fractions=False)
    sums = {NAMES[step]: over_holes(played, holes_of_step(step, len(points)) or (), counting) for step in COUNTBACK}
    return {"points_last_9": sums["last_9"], **sums}


def _other_start(inputs: Inputs) -> Values:
    holes = len(to_list(inputs["order_played"], "order_played"))
    return {f"{NAMES[step]}_holes": list(holes_of_step(step, holes) or ()) for step in COUNTBACK}


def _playoff(inputs: Inputs) -> Values:
    over = whole(inputs, "playoff_holes")
    name = "handicaps" if "handicaps" in inputs else "course_handicaps"
    handicaps = [handicap(value) for value in to_list(inputs[name], name)]
    return {"playoff_handicaps": [share_of_handicap(value, over, 18, is_rounded=True) for value in handicaps]}


ADAPTERS = (
    adapter("countback_gross", "cards", _gross),
    adapter("countback_net_exact", "gross_last_9_6_3_1 playing_handicap totals", _exact),
    adapter("countback_net_exact", "gross_last_9_6_3_1 playing_handicap", _exact),
    adapter("countback_net_whole", "gross_last_9_6_3_1 playing_handicap totals", _rounded),
    adapter("countback_net_whole", "gross_last_9_6_3_1 playing_handicap", _rounded),
    adapter("countback_stableford", "card", _points),
    adapter("countback_other_start", "start_hole order_played", _other_start),
    adapter("playoff_handicap", "playoff_holes course_handicaps", _playoff),
    adapter("playoff_handicap", "playoff_holes handicaps", _playoff),
)
