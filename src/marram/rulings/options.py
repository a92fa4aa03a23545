"""From a procedure's row to options, or to the reason why it is not available."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marram.core.citations import Citation, merged
from marram.core.terms import Area, Mark
from marram.course.joining import ACCURACY_SIGMAS
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.placeholders import OWN
from marram.rulebook.vocabulary import LiesOn, MeasuredFrom, Put, ReliefShape, WhichBall
from marram.rulebook.wording.explain import ROLL_LIMIT, ask, fill, noting_told, say, size_with_metres, strokes_words, told_text
from marram.rulings.case.case import Case, Unknown
from marram.rulings.case.closed import why_closed, why_not_given
from marram.rulings.case.known import known
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import NotAvailable, Option, Question
from marram.rulings.drop.wrong_place import judge_place
from marram.rulings.following import ball_in_words, followed_by
from marram.rulings.further import further_interference
from marram.rulings.measure.estimates import doubt_of
from marram.rulings.measure.measuring import Measured, measure
from marram.rulings.measure.near_green import far_from_green
from marram.rulings.measure.obstructed import NoInterference, find_interference

Answer = Option | NotAvailable | Question

_WHICH_BALL = {
    WhichBall.ANY: "any_ball",
    WhichBall.ORIGINAL: "original_ball",
    WhichBall.ORIGINAL_IF_RECOVERABLE: "original_ball_if_recoverable",
}
"""The sentence that says which ball may be used."""


def give_options(procedure: Procedure) -> list[Answer]:
    """What one procedure comes to for an incident.

    Returns:
        The options, the reason why it is not available, or the questions that must be answered first; each cites what changed its words.
    """
    with noting_told() as told:
        answers = _give(procedure)
    changes = procedure.case.book.changes_of(told)
    return [replace(answer, citations=merged(answer.citations, changes)) for answer in answers] if changes else answers


def _give(procedure: Procedure) -> list[Answer]:
    """What one procedure comes to, with the rules that it rests on."""
    case = procedure.case
    if not case.book.has_row(procedure.row_id):
        return [_not_available(procedure, case.book.why_absent(procedure.row_id))]
    barred = _bar(procedure)
    if barred:
        return [_not_available(procedure, barred)]
    try:
        unsettled = _unsettled(procedure)
        if procedure.words("follow"):
            return _follow(procedure)
        _refuse_clear(procedure)
        measured = measure(procedure)
    except Unknown as missing:
        return [_opening_question(procedure, missing.fact)]
    except NoInterference as clear:
        return [_not_available(procedure, _clear_words(clear))]
    if not measured.references and not measured.steps and measured.area is None and not procedure.advice():
        return [_not_available(procedure, "There is no such point here.")]
    return [_option(procedure, measured, unsettled)]


def give_all(procedures: Sequence[Procedure]) -> list[Answer]:
    """The answers of several procedures; an extra option is open only beside another one than stroke and distance."""
    given = {procedure.id: give_options(procedure) for procedure in procedures if not is_extra(procedure)}
    others = [answer for answers in given.values() for answer in answers]
    answers: list[Answer] = []
    for procedure in procedures:
        answers += given[procedure.id] if procedure.id in given else _give_extra(procedure, others)
    return answers


def is_extra(procedure: Procedure) -> bool:
    """Whether a procedure is open only beside another one."""
    return procedure.case.book.has_row(procedure.row_id) and procedure.says("beside_others")


def _give_extra(procedure: Procedure, others: Sequence[Answer]) -> list[Answer]:
    """An extra option beside others; nothing while those wait for a fact."""
    case = procedure.case
    rows = [Procedure(case=case, id=answer.carried_out_as or answer.procedure) for answer in others if isinstance(answer, Option)]
    if any(row.word("shape") != ReliefShape.PREVIOUS_SPOT for row in rows):
        return give_options(procedure)
    if any(isinstance(answer, Question) for answer in others):
        return []
    return [_not_available(procedure, procedure.word("when_barred"))]


def is_idle_local_rule(procedure: Procedure) -> bool:
    """Whether a local rule that nobody has adopted is about a thing that is not in the way: nobody need hear of it."""
    if not procedure.case.book.has_row(procedure.row_id):
        return False
    if not procedure.says("by_local_rule") or procedure.says("adopted") or not procedure.words("clear_of"):
        return False
    try:
        _refuse_clear(procedure)
    except (NoInterference, Unknown):
        return True
    return False


def _follow(procedure: Procedure) -> list[Answer]:
    """The options of the procedures by which a row is carried out."""
    answers: list[Answer] = []
    for followed in followed_by(procedure):
        answers += give_options(followed)
    return answers or [_not_available(procedure, why_closed(procedure, "ball_in"))]


def closing_question(procedure: Procedure, fact: str) -> Question:
    """The question that settles a fact which could only take an option away, in the edition's words."""
    case = procedure.case
    asked = ask(case.book, fact, _common_fills(case))
    answers = tuple(area.mark.value for area in case.crossed) if fact == NamedFact.CROSSED_MARK else ()
    return Question(fact=fact, question=asked, opens=(), titles=(), citations=procedure.citations(), answers=answers)


def _opening_question(procedure: Procedure, fact: str) -> Question:
    """The question whose answer could open a procedure."""
    told = procedure.told_as
    return replace(closing_question(procedure, fact), opens=(told.id,), titles=(_title(procedure),))


def _bar(procedure: Procedure) -> str:
    """Why the procedure is closed, before anything is measured; empty where it is open."""
    case = procedure.case
    if not procedure.says("allowed"):
        return why_not_given(case.book, procedure.row_id)
    if case.ball_in not in procedure.ball_in():
        return f"{why_closed(procedure, 'ball_in')} {ball_in_words(case)}"
    if procedure.says("by_local_rule") and not procedure.says("adopted"):
        rules = ", ".join(citation.rule for citation in case.book.citations(procedure.row_id))
        return f"Only where the Committee has adopted the local rule ({rules})."
    if case.mark is not None and case.mark.value not in procedure.words("marks"):
        return f"{why_closed(procedure, 'marks')} This one is {_mark_words(case)}."
    for fact in (*_barring(procedure), *procedure.words("needs_not")):
        if known(case, fact):
            barred = told_text(case.book, f"{procedure.row_id}.when_barred")
            return f"{barred} To the question “{closing_question(procedure, fact).question}” the answer is yes."
    for fact in _needed(procedure):
        if known(case, fact) is False:
            return f"To the question “{closing_question(procedure, fact).question}” the answer is no."
    if procedure.word("lies_on") == LiesOn.FAIRWAY_HEIGHT and known(case, NamedFact.ON_FAIRWAY_HEIGHT) is False:
        return why_closed(procedure, "lies_on")
    return ""


def _barring(procedure: Procedure) -> tuple[str, ...]:
    """Facts any of which takes the option away."""
    if_not_found = procedure.words("barred_if_not_found") if procedure.case.place is None else ()
    return (*procedure.words("barred_by"), *if_not_found)


def _needed(procedure: Procedure) -> tuple[str, ...]:
    """Facts without which there is no option."""
    if_not_found = procedure.words("needs_if_not_found") if procedure.case.place is None else ()
    return (*procedure.words("only_if"), *procedure.words("needs"), *if_not_found)


def _mark_words(case: Case) -> str:
    mark = case.mark or Mark.UNMARKED
    return "not marked" if mark is Mark.UNMARKED else f"marked {mark.value}"


def _unsettled(procedure: Procedure) -> tuple[str, ...]:
    """Facts that could still take the option away.

    Raises:
        Unknown: A fact without which there is no option is not known.
    """
    case = procedure.case
    for fact in (*_needed(procedure), *procedure.words("needs_not")):
        if known(case, fact) is None:
            raise Unknown(fact)
    if procedure.word("lies_on") == LiesOn.FAIRWAY_HEIGHT and known(case, NamedFact.ON_FAIRWAY_HEIGHT) is None:
        raise Unknown(NamedFact.ON_FAIRWAY_HEIGHT)
    return tuple(fact for fact in _barring(procedure) if known(case, fact) is None)


def _met(procedure: Procedure) -> Interference | None:
    """The condition in the way; None where the procedure is about none."""
    parts = frozenset(procedure.words("clear_of"))
    return find_interference(procedure.case, parts) if parts else None


def _refuse_clear(procedure: Procedure) -> None:
    """Where the procedure is about a condition, see that one is in the way.

    Raises:
        NoInterference: None is, or it lies too far from the green for this procedure.
    """
    met = _met(procedure)
    if met is not None and procedure.says("object_near_green"):
        gap_m = far_from_green(procedure.case, met.condition)
        if gap_m > 0:
            raise NoInterference(met.condition, gap_m)


def _clear_words(clear: NoInterference) -> str:
    if clear.nearest is None:
        return "Nothing of the kind is within reach of ball, stance or swing; state it under [[conditions]] if it was not surveyed."
    return f"The nearest {clear.nearest.noun} is {clear.gap_m:.2f} m clear of what the procedure is about."


def _not_available(procedure: Procedure, because: str) -> NotAvailable:
    told = procedure.told_as
    return NotAvailable(
        procedure=told.id,
        title=_title(procedure),
        because=because,
        citations=procedure.citations() or _absent_citation(procedure),
    )


def _absent_citation(procedure: Procedure) -> tuple[Citation, ...]:
    """An absent row has no rule of its own: the situation's stands for it."""
    return procedure.case.book.citations(f"situation.{procedure.case.incident.situation}")


def _title(procedure: Procedure) -> str:
    told = procedure.told_as
    title = told.word("title") if told.has("title") else told.id.replace("-", " ")
    if told is procedure or not procedure.has("title"):
        return title
    return f"{title}: {procedure.word('title')}"


def _option(procedure: Procedure, measured: Measured, unsettled: tuple[str, ...]) -> Option:
    case, book, told = procedure.case, procedure.case.book, procedure.told_as
    margin_m, accuracy_m = _margin(procedure)
    fills = _common_fills(case) | _measured_fills(procedure, measured)
    which = told.word("which")
    steps = [say(book, name, fills) for name in measured.steps]
    put, met = measured.put or procedure.word("put"), _met(procedure)
    if put != Put.AS_IT_LIES:
        steps.append(say(book, _WHICH_BALL[WhichBall(which)], fills))
    if procedure.is_mandatory():
        steps.insert(0, say(book, "must_take", fills))
    return Option(
        procedure=told.id,
        carried_out_as="" if told is procedure else procedure.id,
        rows=procedure.rows(),
        title=_title(procedure),
        penalty_strokes=procedure.penalty_strokes(),
        put=put,
        which=which,
        references=measured.references,
        relief_area=measured.area,
        no_nearer_m=measured.no_nearer_m,
        size_m=measured.size_m,
        size_words=measured.size.words if measured.size else "",
        line=measured.line,
        roll_m=_roll_m(case),
        steps=(*steps, *procedure.advice()),
        margin_m=margin_m,
        accuracy_m=accuracy_m,
        met=met,
        further=further_interference(procedure, measured, met),
        is_mandatory=procedure.is_mandatory(),
        doubt=doubt_of(procedure, measured),
        crossing_moved_m=_crossing_moved_m(case, measured),
        waiting_for=unsettled,
        right_place=judge_place(procedure, measured, put, met),
        citations=merged(procedure.citations(), measured.citations),
    )


def _roll_m(case: Case) -> float | None:
    """How far a dropped ball may roll, where the edition limits that; None also where no club is known."""
    if not case.book.has(ROLL_LIMIT):
        return None
    try:
        return case.metres(case.book.size(ROLL_LIMIT).value)
    except Unknown:
        return None


def _margin(procedure: Procedure) -> tuple[float | None, float | None]:
    """The least margin of what was decided from the survey, and the accuracy that it is held against."""
    case = procedure.case
    margins: list[tuple[float, float | None]] = []
    if case.place is not None:
        margins.append((case.place.margin_m, case.place.sigma_m))
    met = _met(procedure)
    if met is not None:
        margins.append((met.depth_m, met.condition.sigma_m))
    if not margins:
        return None, None
    margin_m, sigma_m = min(margins, key=lambda pair: pair[0] - ACCURACY_SIGMAS * (pair[1] or 0.0))
    return margin_m, None if sigma_m is None else ACCURACY_SIGMAS * sigma_m


def _crossing_moved_m(case: Case, measured: Measured) -> float | None:
    """How far the crossing point stated was moved, where the option rests on it."""
    kinds = {reference.kind for reference in measured.references}
    if case.off_condition_m is None and not kinds & {MeasuredFrom.CROSSING_POINT, MeasuredFrom.OPPOSITE_EDGE}:
        return None
    return case.crossing_moved_m


def _common_fills(case: Case) -> dict[str, str]:
    words = {"condition": case.incident.situation.replace("-", " ")}
    if case.mark is not None:
        words["penalty_area"] = case.book.word(f"terms.penalty_area_{case.mark.value}").value
    elif case.place is not None and case.place.area is Area.PENALTY_AREA:
        words["penalty_area"] = case.book.word("terms.penalty_area").value
    return words


def _measured_fills(procedure: Procedure, measured: Measured) -> dict[str, str]:
    case = procedure.case
    fills = {"size": "", "size_m": "", "least_m": "", "back_m": "", "sized": ""}
    if measured.no_nearer_m is not None:
        fills["least_m"] = f"{measured.no_nearer_m:.2f}"
    elif measured.references:
        fills["least_m"] = f"{measured.references[0].position.distance_m(case.hole_at):.2f}"
    if measured.size is not None and measured.size_m is not None:
        fills["size"], fills["size_m"] = measured.size.words, f"{measured.size_m:.2f}"
        fills["sized"] = size_with_metres(measured.size, measured.size_m)
    if case.incident.choice.back_m is not None:
        fills["back_m"] = f"{case.incident.choice.back_m:.2f}"
    if case.book.has(ROLL_LIMIT):
        roll, roll_m = case.book.size(ROLL_LIMIT).value, _roll_m(case)
        fills[ROLL_LIMIT] = roll.words if roll_m is None else size_with_metres(roll, roll_m)
    needs_club = measured.size is not None and measured.size.needs_club
    fills["same_club"] = fill(case.book, "{club-length.same_club_throughout:same-club}") if needs_club else ""
    fills[OWN] = procedure.row_id
    if "take_away" in measured.steps:
        on_green = case.place is not None and case.place.area is Area.PUTTING_GREEN
        fills["moved"] = strokes_words(procedure.count("strokes_if_moved_on_green" if on_green else "strokes_if_moved")).lower()
    met = _met(procedure)
    if met is not None:
        fills["condition"] = met.condition.noun
    return fills
