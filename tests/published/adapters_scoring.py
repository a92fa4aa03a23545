"""Adapters for examples of scoring: cards in stroke play, Stableford, maximum score and par or bogey, and what a card answers for."""

import re
from collections.abc import Mapping, Sequence

from marram.core.terms import Form
from marram.handicaps.rounding import as_written
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.scoring.cards.card import Card, CardStatus, HoleEntry, Penalty
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Maximum, SetAs, Terms
from marram.scoring.forms.card_score import CardScore, score_card
from marram.scoring.forms.charges import Charged
from marram.scoring.forms.form_law import read_form, read_points
from marram.scoring.forms.handicap_law import read_handicap_law
from marram.scoring.forms.strokes_received import strokes_received
from marram.scoring.results import score_competition
from tests.published.adapter import Adapter, Unfit, number, to_list, whole

Inputs = Mapping[str, object]
Values = Mapping[str, object]
LATEST = "2023"
NINE = 9
TARGETS = {"par": 0, "bogey": 1, "double bogey": 2, "birdie": -1, "eagle": -2}
OUT = "disqualified"


def handicap(value: object) -> int:
    """A Playing or Course Handicap as an example writes it: a plus handicap stands in quotes."""
    if isinstance(value, str):
        return int(read_handicap(value, decimals=0))
    if isinstance(value, bool) or not isinstance(value, int):
        raise Unfit(f"{value!r} is no whole handicap")
    return value


def tee_of(inputs: Inputs) -> Tee:
    course = inputs["course"]
    if not isinstance(course, Mapping):
        raise Unfit(f"the course {course!r} is not in the file")
    return Tee(name="example", par=tuple(course["par"]), stroke_index=tuple(course["stroke_index"]))


def entries(values: object) -> tuple[HoleEntry, ...]:
    return tuple(_entry(value) for value in to_list(values, "gross"))


def _entry(value: object) -> HoleEntry:
    if value is None or isinstance(value, str):
        return HoleEntry(is_picked_up=isinstance(value, str))
    if isinstance(value, bool) or not isinstance(value, int):
        raise Unfit(f"{value!r} is no score")
    return HoleEntry(strokes=value)


def scored(
    tee: Tee,
    form: Form,
    gross: object,
    strokes: int = 0,
    *,
    edition: str = LATEST,
    over_par: int = 0,
    maximum: Maximum | None = None,
    penalties: Sequence[Penalty] = (),
    is_net: bool = True,
) -> CardScore:
    """One card scored as the command scores it."""
    book = read_book(edition)
    law = read_form(book, form)
    terms = Terms(title="", form=form, tees={"": tee}, is_net=is_net, over_par=over_par, maximum=maximum)
    card = Card(player="P", entries=entries(gross), playing_handicap=strokes, penalties=tuple(penalties))
    handicaps = read_handicap_law(read_handicap_book("2024"), terms) if is_net else None
    return score_card(book, law, terms, card, strokes_received(book, law, terms, handicaps, card, [tee]))


def target_over_par(text: object) -> int:
    """A target in words, such as ``bogey (par + 1)``."""
    words = str(text).split("(")[0].strip().casefold()
    if words not in TARGETS:
        raise Unfit(f"the target {text!r} is not known; known: {', '.join(TARGETS)}")
    return TARGETS[words]


def maximum_of(value: object) -> Maximum:
    """A maximum as an example writes it: a number, ``2 x par``, ``triple bogey``, ``par + 3`` or ``net double bogey``."""
    if isinstance(value, int):
        return Maximum(set_as=SetAs.FIXED_NUMBER, amount=value)
    text = str(value).casefold().strip()
    times = re.match(r"(\d+|two|three|double)\s*(?:x|times|\*)?\s*par$", text)
    over = re.match(r"par\s*(?:\+|plus)\s*(\d+)", text)
    if "net double bogey" in text:
        return Maximum(set_as=SetAs.NET_DOUBLE_BOGEY)
    if times:
        return Maximum(set_as=SetAs.TIMES_PAR, amount={"two": 2, "double": 2, "three": 3}.get(times[1]) or int(times[1]))
    if over:
        return Maximum(set_as=SetAs.OVER_PAR, amount=int(over[1]))
    named = {"double bogey": 2, "triple bogey": 3, "quadruple bogey": 4}
    for words, amount in named.items():
        if text.startswith(words):
            return Maximum(set_as=SetAs.OVER_PAR, amount=amount)
    if text.isdigit():
        return Maximum(set_as=SetAs.FIXED_NUMBER, amount=int(text))
    raise Unfit(f"the maximum {value!r} is not known")


def _points(inputs: Inputs) -> Values:
    table = read_points(read_book(LATEST))
    over = to_list(inputs["over_target"], "over_target")
    return {"points": [table.none if isinstance(value, str) else table.of_difference(int(str(value))) for value in over]}


def _values(one: CardScore) -> list[int | None]:
    return [hole.value for hole in one.holes]


def _stableford(inputs: Inputs) -> Values:
    over_par = target_over_par(inputs["target"]) if "target" in inputs else 0
    strokes = handicap(inputs["playing_handicap"])
    one = scored(tee_of(inputs), Form.STABLEFORD, inputs["gross"], strokes, over_par=over_par)
    at_par = scored(tee_of(inputs), Form.STABLEFORD, inputs["gross"], strokes)
    points = [value or 0 for value in _values(one)]
    return {
        "points": points,
        "front": sum(points[:NINE]),
        "back": sum(points[NINE:]),
        "total": one.total,
        "total_target_par": at_par.total,
    }


def _stableford_holes(inputs: Inputs) -> Values:
    """Single holes named ``hole_16``; the others are left blank."""
    tee, strokes = tee_of(inputs), handicap(inputs["playing_handicap"])
    named = {int(name.removeprefix("hole_")): value for name, value in inputs.items() if name.startswith("hole_")}
    gross: list[object] = [None] * tee.holes
    for hole, stated in named.items():
        assert isinstance(stated, Mapping)
        if stated.get("par", tee.par[hole - 1]) != tee.par[hole - 1]:
            raise Unfit(f"hole {hole} has another par on the course")
        gross[hole - 1] = stated["gross"]
    holes = [scored(tee, Form.STABLEFORD, gross, strokes).holes[hole - 1] for hole in named]
    return {"net": [(hole.strokes or 0) - hole.received for hole in holes], "points": [hole.value for hole in holes]}


_BREACHES = (
    (r"club", "too-many-clubs"),
    (r"\b(late|early|start)", "late-start-within-5"),
    (r"delay", "unreasonable-delay"),
)


def act_of(text: str) -> str:
    """The act that a breach in words is."""
    act = next((act for pattern, act in _BREACHES if re.search(pattern, text)), None)
    if act is None:
        raise Unfit(f"the breach {text!r} is not known")
    return act


COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5}


def count_of(word: str) -> int:
    """A count in figures or words."""
    return COUNTS.get(word) or int(word)


def holes_of(text: str) -> int:
    """On how many holes a breach happened: ``for three holes``, ``on holes 1-3``, ``holes 1, 2 and 3``; one where none are told."""
    spans = re.search(r"holes? ([\d, and-]+)", text)
    if spans:
        pairs = re.findall(r"(\d+)(?:\s*-\s*(\d+))?", spans[1])
        return sum(int(last or first) - int(first) + 1 for first, last in pairs)
    several = re.search(rf"(\d+|{'|'.join(COUNTS)}) holes?", text)
    return count_of(several[1]) if several else 1


def _stableford_penalties(inputs: Inputs) -> Values:
    """Points off the total, as up to the 2019 edition: a card of the points stated, then the breaches."""
    points = whole(inputs, "points_before")
    tee = Tee(name="", par=(4,) * 18, stroke_index=tuple(range(1, 19)))
    told = [str(text).casefold() for text in to_list(inputs["breaches"], "breaches")]
    penalties: list[Penalty] = []
    for place, text in enumerate(told, start=1):
        act = act_of(text)
        earlier = sum(penalty.act == act for penalty in penalties)
        nth = 3 if "third" in text else 2 if "second" in text else 1
        penalties += [Penalty(hole=1, act=act) for _ in range(nth - 1 - earlier) if "delay" in act]  # told of before, and no part of it
        holes = holes_of(text) if "club" in act else 1
        penalties += [Penalty(hole=hole, act=act, ruling=f"R{place}") for hole in range(1, holes + 1)]
    charges = scored(tee, Form.STABLEFORD, [4] * 18, edition="2019", penalties=penalties).charges
    own = [[charge for charge in charges if charge.ruling == f"R{place}"] for place, _ in enumerate(told, start=1)]
    amounts: list[object] = [
        OUT if any(charge.charged is Charged.DISQUALIFIED for charge in mine) else sum(charge.amount for charge in mine) for mine in own
    ]
    return {
        "deductions": amounts,
        "total": OUT if OUT in amounts else points - sum(amount for amount in amounts if isinstance(amount, int)),
    }


def _maximum(inputs: Inputs) -> Values:
    maximum, tee = maximum_of(inputs["maximum"]), tee_of(inputs)
    strokes = handicap(inputs.get("playing_handicap", 0))
    one = scored(tee, Form.MAXIMUM_SCORE, inputs["gross"], strokes, maximum=maximum)
    counted = [hole.counted for hole in one.holes]
    named: dict[str, object] = {f"hole_{hole}": value for hole, value in enumerate(counted, start=1)}
    lists = {name: [counted[int(hole) - 1] for hole in name.split("_")[1:]] for name in _HOLE_LISTS}
    return {**named, **lists, "total": one.gross, "gross_total": one.gross, "net_total": one.total}


_HOLE_LISTS = ("holes_5_10_15_17",)


def _blank_hole(inputs: Inputs) -> Values:
    """The same blank hole in several forms."""
    tee = Tee(name="", par=(4,) * 18, stroke_index=tuple(range(1, 19)))
    return {"results": [_blank_in(tee, str(form)) for form in to_list(inputs["forms"], "forms")]}


def _blank_in(tee: Tee, text: str) -> str:
    words = text.casefold()
    gross: list[object] = [*[4] * 9, None, *[4] * 8]
    if "maximum" in words:
        limit = re.search(r"\(([^)]*)\)", words)
        one = scored(tee, Form.MAXIMUM_SCORE, gross, maximum=maximum_of(limit[1] if limit else words.removeprefix("maximum score").strip()))
        return str(one.holes[9].counted)
    form = next((form for word, form in _FORMS if word in words), None)
    if form is None:
        raise Unfit(f"the form {text!r} is not known")
    one = scored(tee, form, gross)
    if one.status is CardStatus.DISQUALIFIED:
        return OUT
    return f"{one.holes[9].value} points" if form is Form.STABLEFORD else {-1: "hole lost", 0: "tied"}[one.holes[9].value or 0]


_FORMS = (("stableford", Form.STABLEFORD), ("bogey", Form.PAR_BOGEY), ("stroke play", Form.STROKE_PLAY))


def _par_bogey(inputs: Inputs) -> Values:
    return _against_target(inputs, inputs["gross"], target_over_par(inputs.get("target", "par")))


def _against_target(inputs: Inputs, gross: object, over_par: int) -> Values:
    one = scored(tee_of(inputs), Form.PAR_BOGEY, gross, handicap(inputs["playing_handicap"]), over_par=over_par)
    values = _values(one)
    assert one.total is not None
    shown = "all square" if one.total == 0 else f"{abs(one.total)} {'up' if one.total > 0 else 'down'}"
    return {"per_hole": values, "won": values.count(1), "lost": values.count(-1), "result": one.total, "shown_as": shown}


def _par_bogey_changed(inputs: Inputs) -> Values:
    """Another example's card with some holes changed, in words: ``PB-01 with hole 5 blank and hole 9 = 4``."""
    text = str(inputs["gross_changes"])
    base = _base_card(text, inputs)
    gross = list(to_list(base["gross"], "gross"))
    changes = _changes(text)
    if not changes:
        raise Unfit(f"no hole is changed in {text!r}")
    for hole, value in changes.items():
        gross[hole - 1] = value
    return _against_target(inputs, gross, target_over_par(base.get("target", "par")))


def _base_card(text: str, inputs: Inputs) -> Inputs:
    examples = inputs["examples"]
    assert isinstance(examples, Mapping)
    cards = {name: entry["inputs"] for name, entry in examples.items() if "gross" in entry.get("inputs", {})}
    named = [name for name in sorted(cards, key=len, reverse=True) if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text)]
    alike = [name for name, entry in examples.items() if name in cards and entry.get("topic") == "par_bogey_card"]
    if not named and not alike:
        raise Unfit(f"{text!r} names no card of the file")
    found = cards[(named or alike)[0]]
    assert isinstance(found, Mapping)
    return found


_NO_SCORE = r"blank|no score|none|null|picked up|pick(?:s|ed)? ?up|not holed|not finished|no return|missing"


def _changes(text: str) -> dict[int, int | None]:
    """Holes with their new scores, each clause with its holes first; None for a hole without one."""
    found: dict[int, int | None] = {}
    for clause in re.split(r"(?=\bholes?\b)", text.casefold())[1:]:
        holes = re.match(r"holes? (\d+(?:(?:,| and|, and) \d+(?!\s*(?:strokes|for)))*)", clause)
        if holes is None:
            raise Unfit(f"the change {clause!r} cannot be read")
        rest = clause[holes.end() :]
        values = re.findall(r"\d+", rest)
        if not re.search(_NO_SCORE, rest) and not values:
            raise Unfit(f"the change {clause!r} names no score")
        value = None if re.search(_NO_SCORE, rest) else int(values[-1])
        found |= dict.fromkeys(map(int, re.findall(r"\d+", holes[1])), value)
    return found


def _net(inputs: Inputs) -> Values:
    """Net of a total: the strokes received are taken off it."""
    tee = Tee(name="", par=(4,) * 18)
    gross = [*[4] * 17, whole(inputs, "gross") - 17 * 4]
    if "playing_handicap" in inputs:
        strokes = handicap(inputs["playing_handicap"])
        return {"playing_handicap": strokes, "net": scored(tee, Form.STROKE_PLAY, gross, strokes).total}
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": tee}, is_net=True, allowances=(as_written(number(inputs, "allowance")),))
    card = Card(player="P", entries=entries(gross), course_handicap=as_written(number(inputs, "unrounded_course_handicap")))
    (one,) = score_competition(read_book(LATEST), read_handicap_book("2024"), terms, [card]).ranked
    return {"playing_handicap": one.rounds[0].strokes.total, "net": one.total}


def adapter(topic: str, inputs: str, work_out: object) -> Adapter:
    assert callable(work_out)
    return Adapter(topic=topic, inputs=frozenset(inputs.split()), work_out=work_out)


_CARD = "course playing_handicap gross"
ADAPTERS = (
    adapter("stableford_points", "over_target", _points),
    adapter("stableford_card", _CARD, _stableford),
    adapter("stableford_card_pickups", _CARD, _stableford),
    adapter("stableford_scratch_other_target", f"{_CARD} target", _stableford),
    adapter("stableford_plus", "course playing_handicap hole_16 hole_3", _stableford_holes),
    adapter("stableford_penalties", "points_before breaches", _stableford_penalties),
    adapter("maximum_score_card", "course maximum gross", _maximum),
    adapter("maximum_score_card_net", f"{_CARD} maximum", _maximum),
    adapter("maximum_score_no_dq", "hole_10 forms", _blank_hole),
    adapter("par_bogey_card", f"{_CARD} target", _par_bogey),
    adapter("par_bogey_card", "course playing_handicap gross_changes", _par_bogey_changed),
    adapter("stroke_play_net", "gross unrounded_course_handicap allowance", _net),
    adapter("stroke_play_plus", "gross playing_handicap", _net),
)
