"""Adapters for examples of match play and of sides: results, states, handicaps, concessions, four-ball and foursomes."""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction

from marram.core.terms import Form
from marram.handicaps.playing_handicap import off_lowest
from marram.handicaps.rounding import as_written
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.scoring.cards.card import Card, Penalty
from marram.scoring.cards.concessions import Conceded, Concession
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Sides, Terms
from marram.scoring.forms.handicap_law import HandicapLaw, read_handicap_law
from marram.scoring.forms.strokes_received import playing_handicap_of
from marram.scoring.matches.concession import judge_concession
from marram.scoring.matches.declared import handicap_declared
from marram.scoring.matches.hole_won import BallPlayed, who_wins
from marram.scoring.matches.match_score import MatchScore, score_match
from marram.scoring.matches.state import MatchCourse, follow_match
from marram.scoring.ranked import Results
from marram.scoring.results import score_competition, scoring_by
from marram.scoring.sides.side import Side, handicap_of_side, sides_of
from tests.published.adapter import Unfit, to_list, to_number, whole
from tests.published.adapters_scoring import LATEST, adapter, entries, handicap, tee_of

Inputs = Mapping[str, object]
Values = Mapping[str, object]
ROUND, MOST = 18, 54


def outcomes_of(value: object) -> list[int]:
    """Holes as A won, lost or tied them: a list, or words such as ``A wins 1-3, 4-14 tied; wins 17``."""
    if not isinstance(value, str):
        return [int(to_number(one, "results_A")) for one in to_list(value, "results_A")]
    found: dict[int, int] = {}
    text = value.casefold().replace("–", "-").replace("through", "-").replace(" to ", "-")
    for clause in _clauses(text):
        sign, rest = _who_won(clause), re.sub(r"\b\d+ (?:up|down|holes|left)\b", "", clause)
        for first, last in re.findall(r"(\d+)(?:\s*-\s*(\d+))?", rest):
            found |= dict.fromkeys(range(int(first), int(last or first) + 1), sign)
    if not found:
        raise Unfit(f"the holes {value!r} cannot be read")
    if re.search(r"\b(?:others?|rest|all other)\b[^.;]*(?:tied|halved)", text):
        found = dict.fromkeys(range(1, max(ROUND, *found) + 1), 0) | found
    return [found.get(hole, 0) for hole in range(1, max(found) + 1)]


def _clauses(text: str) -> list[str]:
    """The text in parts that each speak of one outcome: a comma parts them only where a new word follows."""
    marked = re.sub(r"(?:,|;|\.|\bthen\b)\s*(?=[^;,]*?(?:wins?|won|loses?|lost|tied|halved|ties?|halves?|square))", "|", text)
    words = re.split(r"[|;]", marked)
    return [word for word in words if re.search(r"\d", word)]


def _who_won(clause: str) -> int:
    if re.search(r"tied|halved|ties?\b|halves?\b|square|level", clause):
        return 0
    is_b = re.search(r"\bb\b", clause) is not None
    if re.search(r"wins?|won", clause):
        return -1 if is_b else 1
    if re.search(r"loses?|lost", clause):
        return 1 if is_b else -1
    raise Unfit(f"who won {clause!r} cannot be read")


def _told(course: MatchCourse) -> Values:
    names = {1: "A", -1: "B", 0: "none"}
    return {
        "winner": names[course.winner],
        "result": course.result,
        "ended_on_hole": course.ended_on,
        "dormie_after_hole": course.dormie_after,
    }


def _result(inputs: Inputs) -> Values:
    return _told(follow_match(outcomes_of(inputs["results_A"]), ROUND))


def _dormie(inputs: Inputs) -> Values:
    """Holes after those that are told together, one by one: ``after_hole_15: tied``."""
    holes = outcomes_of(inputs["results_A"])
    later = {int(name.rpartition("_")[2]): str(value) for name, value in inputs.items() if name.startswith("after_hole_")}
    for hole, text in sorted(later.items()):
        if len(holes) < hole:
            holes += [0] * (hole - len(holes))
            holes[hole - 1] = _who_won(text.casefold())
    return _told(follow_match(holes, ROUND))


def _clubs(inputs: Inputs) -> Values:
    """A match as far as it is told, with a breach of the limit of clubs on every hole up to where it was noticed."""
    told = str(inputs["score_after_hole_3"])
    noticed = re.search(r"hole (\d+)", str(inputs["noticed"]))
    lead = re.search(r"(\d+) (up|down)", told)
    if noticed is None or (lead is None and "square" not in told):
        raise Unfit(f"the match {told!r} cannot be read")
    last = 3
    before = 0 if lead is None else int(lead[1]) * (1 if lead[2] == "up" else -1)
    holes = [(before > 0) - (before < 0) if hole < abs(before) else 0 for hole in range(last)]
    is_breach = whole(inputs, "clubs") > int(read_book("2019").number("clubs-max.max_clubs").value)
    after = int(noticed[1]) - ("between" in str(inputs["noticed"]) or "before" in str(inputs["noticed"]))
    penalties = tuple(Penalty(hole=hole, act="too-many-clubs") for hole in range(1, after + 1) if is_breach)
    match = _match(
        Tee(name="", par=(4,) * ROUND),
        {"A": [4 - (won > 0) for won in holes], "B": [4 - (won < 0) for won in holes]},
        edition="2019",
        penalties={"A": penalties},
    )
    state = match.course.states[-1]
    words = "all square" if state.lead == 0 else f"{abs(state.lead)} {'up' if state.lead > 0 else 'down'}"
    return {"deduction": before - state.lead, "score": words}


def _match(
    tee: Tee,
    gross: Mapping[str, Sequence[object]],
    handicaps: Mapping[str, int] | None = None,
    *,
    edition: str = LATEST,
    penalties: Mapping[str, tuple[Penalty, ...]] | None = None,
) -> MatchScore:
    terms = Terms(title="", form=Form.MATCH_PLAY, tees={"": tee}, is_net=handicaps is not None)
    cards = [
        Card(
            player=name,
            entries=entries(list(holes)),
            match="1",
            playing_handicap=None if handicaps is None else handicaps[name],
            penalties=(penalties or {}).get(name, ()),
        )
        for name, holes in gross.items()
    ]
    by = scoring_by(read_book(edition), read_handicap_book("2024"), terms, cards)
    first, second = sides_of(terms, cards)
    return score_match(by, "1", (first, second))


def _handicaps(inputs: Inputs) -> Values:
    found = inputs["playing_handicaps"]
    assert isinstance(found, Mapping)
    named = {str(name): handicap(value) for name, value in found.items()}
    received = dict(zip(named, off_lowest(list(named.values())), strict=True))
    told: dict[str, object] = {f"{name}_receives": strokes for name, strokes in received.items()}
    told |= {f"{name}_gives_back": max(0, -strokes) for name, strokes in received.items()}
    if "course" in inputs:
        match = _match(tee_of(inputs), {name: [] for name in named}, named)
        told["holes_with_stroke"] = sorted(
            hole for ball in match.balls for hole, strokes in enumerate(ball.by_hole, 1) for _ in range(strokes)
        )
    return told


def _full(inputs: Inputs) -> Values:
    gross = {name: to_list(inputs[f"gross_{name}"], name) for name in ("A", "B")}
    match = _match(tee_of(inputs), gross, {"A": whole(inputs, "A_receives"), "B": 0})
    results = [hole.won.outcome for hole in match.holes]
    # What the cards show after the match was over is told too, as the example does.
    rest = _match_all(tee_of(inputs), gross, whole(inputs, "A_receives"))
    return {**_told(match.course), "results_A": results + rest[len(results) :]}


def _match_all(tee: Tee, gross: Mapping[str, Sequence[object]], received: int) -> list[int]:
    strokes = strokes_by_hole(received, tee.stroke_index)
    pairs = zip(gross["A"], gross["B"], strokes, strict=True)
    return [who_wins([_ball(a, one)], [_ball(b, 0)]).outcome for a, b, one in pairs]


def _ball(value: object, strokes: int) -> BallPlayed:
    return BallPlayed(net=None if value is None else int(str(value)) - strokes)


def _wrong_handicap(inputs: Inputs) -> Values:
    right, opponent = handicap(inputs["right"]), handicap(inputs["opponent"])
    declared = [handicap(value) for value in to_list(inputs["declared"], "declared")]
    return {"results": [_declared(right, opponent, one) for one in declared]}


def _declared(right: int, opponent: int, declared: int) -> str:
    found = handicap_declared(read_book(LATEST), right, declared, [opponent])
    if found.is_out:
        return "disqualified"
    own, other = off_lowest([found.strokes, opponent])
    strokes = f"opponent receives {other}" if other else f"receives {own}"
    return strokes if not found.says or found.strokes == right else f"plays off {found.strokes}; {strokes}"


_OPEN = (
    (r"caddie", {"is_by_player": False}),
    (r"shorten|agree", {"is_agreed_to_shorten": True}),
    (r"already|decided|was won|had been won|lost the hole|after the (?:result|hole) (?:was|is|had)", {"is_decided": True}),
    (r"after (?:the )?(?:stroke|putt) (?:was|is|had been) (?:made|missed)", {"is_in_time": False}),
    (
        r"withdr|taken? back|refus|declin|reject|changes? (?:his|her|their)? ?mind|putts anyway|plays on|holes? out anyway",
        {"is_taken_back": True},
    ),
)


def _concessions(inputs: Inputs) -> Values:
    return {"results": [_concession(str(case)) for case in to_list(inputs["cases"], "cases")]}


def _concession(case: str) -> str:
    words = case.casefold()
    what = (
        Conceded.MATCH
        if re.search(r"(?:concede[sd]?|concession of) (?:the )?match|match (?:is |was )?conceded", words)
        else (Conceded.HOLE if "hole" in words and not re.search(r"stroke|putt", words) else Conceded.STROKE)
    )
    facts = {name: value for pattern, given in _OPEN if re.search(pattern, words) for name, value in given.items()}
    judged = judge_concession(read_book(LATEST), Concession(what=what, **facts))
    return "disqualified" if judged.is_out else "stands" if judged.stands else "not valid"


def _four_ball_handicaps(inputs: Inputs) -> Values:
    found = inputs["unrounded_course_handicaps"]
    assert isinstance(found, Mapping)
    handicaps = read_handicap_law(read_handicap_book("2024"), _net_match(Sides.FOUR_BALL), 2)
    tee = Tee(name="", par=(4,) * ROUND)
    playing = {
        str(name): playing_handicap_of(handicaps, Card(player="", entries=(), course_handicap=_exact(value)), tee).strokes
        for name, value in found.items()
    }
    return {"playing_handicaps": playing, "strokes_received": dict(zip(playing, off_lowest(list(playing.values())), strict=True))}


def _exact(value: object) -> Fraction:
    return read_handicap(value) if isinstance(value, str) else as_written(to_number(value, "handicap"))


def _net_match(sides: Sides, tee: Tee | None = None) -> Terms:
    used = tee or Tee(name="", par=(4,) * ROUND)
    return Terms(title="", form=Form.MATCH_PLAY, tees={"": used}, sides=sides, is_net=True)


def _four_ball_holes(inputs: Inputs) -> Values:
    """Strokes as stated off the lowest, on the stroke indexes of the whole round."""
    tee, received, gross = tee_of(inputs), inputs["strokes_received"], inputs["gross"]
    assert isinstance(received, Mapping) and isinstance(gross, Mapping)
    by_hole = {name: _on_round(inputs, int(str(strokes))) for name, strokes in received.items()}
    holes = [
        who_wins(*([_ball(gross[name][place], by_hole[name][place]) for name in names] for names in ("AB", "CD")))
        for place in range(tee.holes)
    ]
    nets = list(zip(*(hole.nets for hole in holes), strict=True))
    results = [hole.outcome for hole in holes]
    return {"net_AB": list(nets[0]), "net_CD": list(nets[1]), "results_AB": results, "score_after_9": sum(results[:9])}


def _on_round(inputs: Inputs, strokes: int) -> list[int]:
    """Strokes of a whole round on the holes of the example."""
    course, courses = inputs["course"], inputs["courses"]
    assert isinstance(course, Mapping) and isinstance(courses, Mapping)
    whole_round = strokes_by_hole(strokes, tuple(courses[course["name"]]["stroke_index"]))
    return [whole_round[hole - 1] for hole in course["holes"]]


def _four_ball_card(inputs: Inputs) -> Values:
    """The score stands for the partner that the card shows it against."""
    text = str(inputs["card"])
    shown = _shown_partners(text)
    received = {name: int(inputs[f"{name}_receives_stroke"] is True) for name in ("A", "B")}
    scores: dict[str, object] = {name: inputs[f"{name}_gross"] if name in shown else None for name in ("A", "B")}
    swapped = re.search(r"(\d+) (?:shown |entered |recorded |written )?(?:against|for|under|in the (?:column|box|row) of) (A|B)\b", text)
    if swapped:
        scores = dict.fromkeys(scores) | {swapped[2]: int(swapped[1])}
    tee = Tee(name="", par=(4,), stroke_index=(1,))
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": tee}, sides=Sides.FOUR_BALL, is_net=True)
    cards = [Card(player=name, side="AB", entries=entries([score]), playing_handicap=received[name]) for name, score in scores.items()]
    results: Results = score_competition(read_book(LATEST), read_handicap_book("2024"), terms, cards)
    return {"side_score": results.ranked[0].total}


def _shown_partners(text: str) -> set[str]:
    """Whose scores a card shows, by what the text names as shown."""
    blank = {
        name
        for name in ("A", "B")
        if re.search(rf"(?:no score|nothing|blank) (?:for|against) {name}\b|{name} (?:is )?(?:blank|left out|no score)", text)
    }
    named = {name for name in ("A", "B") if re.search(rf"\b{name}('s)?\b", text)} or {"A", "B"}
    return named - blank


def _nobody_holed(inputs: Inputs) -> Values:
    """Who picked up before whom; partners who are disqualified for the hole are out of it."""
    text = str(inputs["picked_up_order"])
    order = re.search(r"\b([A-D]) (?:picks? up |picked up )?before ([A-D])", text) or re.search(
        r"\b([A-D])(?: first)?,? then ([A-D])", text
    )
    after = re.search(r"\b([A-D]) (?:picks? up |picked up )?after ([A-D])", text)
    if order is None and after is None:
        raise Unfit(f"the order {text!r} cannot be read")
    first, last = (order[1], order[2]) if order else (after[2], after[1])  # type: ignore[index]
    given_up: dict[str, int | None] = {first: 1, last: 2}
    return {"hole": _won_by(given_up), "if_order_unknown": _won_by({first: None, last: None})}


def _won_by(given_up: Mapping[str, int | None]) -> str:
    sides = [
        [BallPlayed(net=None, given_up=given_up.get(name), has_lost_hole=name not in given_up) for name in names] for names in ("AB", "CD")
    ]
    return {1: "side A-B wins", -1: "side C-D wins", 0: "tied"}[who_wins(*sides).outcome]


def _four_ball_stroke(inputs: Inputs) -> Values:
    handicaps, gross = inputs["playing_handicaps"], inputs["gross"]
    assert isinstance(handicaps, Mapping) and isinstance(gross, Mapping)
    found = {}
    for form in (Form.STROKE_PLAY, Form.STABLEFORD):
        terms = Terms(title="", form=form, tees={"": tee_of(inputs)}, sides=Sides.FOUR_BALL, is_net=True)
        cards = [
            Card(player=str(name), side="AB", entries=entries(holes), playing_handicap=handicap(handicaps[name]))
            for name, holes in gross.items()
        ]
        (found[form],) = score_competition(read_book(LATEST), read_handicap_book("2024"), terms, cards).ranked
    strokes = found[Form.STROKE_PLAY]
    return {
        "side_net": [hole.value for hole in strokes.rounds[0].holes],
        "total": strokes.total,
        "stableford_points": found[Form.STABLEFORD].total,
    }


def _foursomes(inputs: Inputs) -> Values:
    terms = _net_match(Sides.FOURSOMES)
    handicaps = read_handicap_law(read_handicap_book("2024"), terms, 2)
    sides = [_side_handicap(terms, handicaps, name, inputs) for name in ("side_1", "side_2")]
    received = off_lowest(sides)
    return {"side_handicaps": sides, "side_1_receives": received[0], "side_2_receives": received[1]}


def _side_handicap(terms: Terms, handicaps: HandicapLaw, name: str, inputs: Inputs) -> int:
    cards = tuple(
        Card(player=str(place), entries=(), course_handicap=_exact(value)) for place, value in enumerate(to_list(inputs[name], name))
    )
    return handicap_of_side(terms, handicaps, Side(name=name, cards=cards)).strokes


ADAPTERS = (
    adapter("match_result", "results_A", _result),
    adapter("match_extended", "results_A", _result),
    adapter("match_dormie", "results_A", _dormie),
    adapter("match_clubs_penalty", "clubs noticed score_after_hole_3", _clubs),
    adapter("match_handicap", "course playing_handicaps", _handicaps),
    adapter("match_handicap_plus", "playing_handicaps", _handicaps),
    adapter("match_handicap_full", "course A_receives gross_A gross_B", _full),
    adapter("match_concession", "cases", _concessions),
    adapter("match_wrong_handicap", "right opponent declared", _wrong_handicap),
    adapter("four_ball_match_handicap", "unrounded_course_handicaps", _four_ball_handicaps),
    adapter("four_ball_match_holes", "course strokes_received gross", _four_ball_holes),
    adapter("four_ball_card", "A_gross B_gross B_receives_stroke A_receives_stroke card", _four_ball_card),
    adapter("four_ball_match_no_score", "picked_up_order", _nobody_holed),
    adapter("four_ball_stroke", "course playing_handicaps gross", _four_ball_stroke),
    adapter("foursomes_match", "side_1 side_2", _foursomes),
)
