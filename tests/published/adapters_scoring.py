"""Adapters for examples of scoring: cards in stroke play, Stableford, maximum score and par or bogey, and what a card answers for."""

import re
from collections.abc import Mapping, Sequence

from marram.core.terms import Form
from marram.handicaps.rounding import as_written
from marram.handicaps.written_handicaps import read_handicap
from marram.interchange.books.book_files import read_book, read_handicap_book
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card, CardStatus, Correction, HoleEntry, Penalty, ShownHandicap
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Maximum, SetAs, Terms
from marram.scoring.forms.card_score import CardScore, score_card
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


def breaches_of(texts: Sequence[object]) -> list[tuple[str, int]]:
    """Breaches in words: the act, and on how many holes it happened."""
    found = []
    for text in map(str, texts):
        act = next((act for pattern, act in _BREACHES if re.search(pattern, text.casefold())), None)
        if act is None:
            raise Unfit(f"the breach {text!r} is not known")
        holes = re.search(r"(\d+|one|two|three|four|five) holes?", text.casefold())
        words = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5}
        found.append((act, (words.get(holes[1]) or int(holes[1])) if holes and "club" in act else 1))
    return found


def _stableford_penalties(inputs: Inputs) -> Values:
    """Points off the total, as up to the 2019 edition: a card of the points stated, then the breaches."""
    points = whole(inputs, "points_before")
    tee = Tee(name="", par=(4,) * 18, stroke_index=tuple(range(1, 19)))
    told = breaches_of(to_list(inputs["breaches"], "breaches"))
    penalties = [Penalty(hole=hole, act=act) for act, holes in told for hole in range(1, holes + 1)]
    one = scored(tee, Form.STABLEFORD, [4] * 18, edition="2019", penalties=penalties)
    amounts, left = [], list(one.charges)
    for act, holes in told:
        own = [charge for charge in left if charge.act == act][:holes]
        amounts.append(sum(charge.amount for charge in own))
        left = [charge for charge in left if charge not in own]
    assert one.total is not None
    return {"deductions": amounts, "total": points + one.total - sum(value or 0 for value in _values(one))}


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


def _changes(text: str) -> dict[int, int | None]:
    """Holes with their new scores; None for a hole without one."""
    found: dict[int, int | None] = {}
    none = r"blank|no score|none|null|picked up|not holed out|not finished|no return"
    for holes, value in re.findall(rf"holes? ([\d, and]+?)\s*(?:is|are|was|=|:|becomes?|left|->|to)?\s*({none}|\d+(?!\d| and| ,|,))", text):
        for hole in re.findall(r"\d+", holes):
            found[int(hole)] = int(value) if value.isdigit() else None
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


def _wrong_scores(inputs: Inputs) -> Values:
    total = whole(inputs, "returned_total")
    cases = [str(case) for case in to_list(inputs["cases"], "cases")]
    return {f"RoG{edition}": [_wrong_score(edition, total, case) for case in cases] for edition in ("2016", "2019", "2023")}


def _wrong_score(edition: str, total: int, case: str) -> str:
    """A hole found to be wrong: higher, lower, or a penalty left out that the player did not know of."""
    words = case.casefold()
    strokes = _amount(words)
    if re.search(r"disqualif", words) and re.search(r"penalty|breach", words):
        return _corrected(
            edition, total, Correction(hole=1, actual=4, left_out=2, facts=frozenset({"penalty_left_out_is_disqualification"}))
        )
    if re.search(r"(unknown|not know|unaware|did not know|not known|unknowing|without knowing)", words):
        told = re.search(r"told|doubt|unsure|silent|warned", words)
        late = re.search(r"after .*close", words)
        facts = {"was_told_or_unsure_and_kept_silent"} if told else {"found_after_close_of_competition"} if late else set()
        return _corrected(edition, total, Correction(hole=1, actual=4, left_out=strokes, facts=frozenset(facts)))
    if re.search(r"missing|no score|blank|left out|not returned", words):
        return _corrected(edition, total, None)
    if re.search(r"higher|too high|more than", words):
        return _corrected(edition, total, Correction(hole=1, actual=4 - min(strokes, 3)))
    if re.search(r"lower|too low|less than|fewer", words):
        return _corrected(edition, total, Correction(hole=1, actual=4 + strokes))
    raise Unfit(f"the case {case!r} is not known")


def _amount(words: str) -> int:
    counts = {"one": 1, "two": 2, "three": 3, "general": 2}
    found = re.search(r"(\d+|one|two|three)[ -](?:penalty )?strokes?|(general) penalty|by (\d+|one|two|three)", words)
    word = next((group for group in found.groups() if group), "1") if found else "1"
    return counts.get(word) or int(word)


def _corrected(edition: str, total: int, correction: Correction | None) -> str:
    gross: list[object] = [*[4] * 17, total - 17 * 4]
    if correction is None:
        gross[0] = None
    book: Book = read_book(edition)
    law = read_form(book, Form.STROKE_PLAY)
    tee = Tee(name="", par=(4,) * 18)
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": tee})
    card = Card(player="P", entries=entries(gross), corrections=(correction,) if correction is not None else ())
    one = score_card(book, law, terms, card, strokes_received(book, law, terms, None, card, []))
    return OUT if one.total is None else str(one.total)


def _shown_handicaps(inputs: Inputs) -> Values:
    right, gross = handicap(inputs["right"]), whole(inputs, "gross")
    shown = to_list(inputs["shown"], "shown")
    return {f"RoG{edition}": [_with_shown(edition, right, gross, value) for value in shown] for edition in ("2016", "2019", "2023")}


def _with_shown(edition: str, right: int, gross: int, value: object) -> str:
    shown = None if value is None or str(value).casefold() in {"none", "no handicap", "missing"} else handicap(value)
    book = read_book(edition)
    terms = Terms(title="", form=Form.STROKE_PLAY, tees={"": Tee(name="", par=(4,) * 18)}, is_net=True)
    card = Card(
        player="P",
        entries=entries([4] * 17 + [gross - 17 * 4]),
        playing_handicap=right,
        shown=ShownHandicap(strokes=shown),
    )
    (one,) = score_competition(book, read_handicap_book("2024"), terms, [card]).ranked
    return OUT if one.total is None else f"net {one.total}"


def _adapter(topic: str, inputs: str, work_out: object) -> Adapter:
    assert callable(work_out)
    return Adapter(topic=topic, inputs=frozenset(inputs.split()), work_out=work_out)


_CARD = "course playing_handicap gross"
ADAPTERS = (
    _adapter("stableford_points", "over_target", _points),
    _adapter("stableford_card", _CARD, _stableford),
    _adapter("stableford_card_pickups", _CARD, _stableford),
    _adapter("stableford_scratch_other_target", f"{_CARD} target", _stableford),
    _adapter("stableford_plus", "course playing_handicap hole_16 hole_3", _stableford_holes),
    _adapter("stableford_penalties", "points_before breaches", _stableford_penalties),
    _adapter("maximum_score_card", "course maximum gross", _maximum),
    _adapter("maximum_score_card_net", f"{_CARD} maximum", _maximum),
    _adapter("maximum_score_no_dq", "hole_10 forms", _blank_hole),
    _adapter("par_bogey_card", f"{_CARD} target", _par_bogey),
    _adapter("par_bogey_card", "course playing_handicap gross_changes", _par_bogey_changed),
    _adapter("stroke_play_net", "gross unrounded_course_handicap allowance", _net),
    _adapter("stroke_play_plus", "gross playing_handicap", _net),
    _adapter("scorecard_wrong_score", "returned_total cases", _wrong_scores),
    _adapter("scorecard_handicap", "right shown gross", _shown_handicaps),
)
