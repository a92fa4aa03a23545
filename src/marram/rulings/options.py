"""From a procedure's row to an option, or to the reason why it is not available."""

from __future__ import annotations

from marram.core.citations import merged
from marram.core.terms import Area, Mark
from marram.core.units import LengthUnit
from marram.rulings.case import ACCURACY_SIGMAS, Case, Unknown
from marram.rulings.explain import ask, in_area_words, say, size_with_metres
from marram.rulings.measuring import Measured, Procedure, measure
from marram.rulings.obstructed import NoInterference, find_interference
from marram.rulings.ruling import NotAvailable, Option, Question


def give_option(case: Case, procedure_id: str) -> Option | NotAvailable | Question:
    """What one procedure comes to for an incident.

    Returns:
        The option, the reason why it is not available, or the question that must be answered first.
    """
    procedure = Procedure(case=case, id=procedure_id)
    if not case.book.has_row(procedure.row_id):
        return _not_available(procedure, case.book.why_absent(procedure.row_id))
    barred = _bar(procedure)
    if barred:
        return _not_available(procedure, barred)
    try:
        unsettled = _unsettled(procedure)
        measured = measure(procedure)
    except Unknown as missing:
        return question(case, missing.fact)
    except NoInterference as clear:
        return _not_available(procedure, _clear_words(clear))
    if not measured.references and not measured.steps:
        return _not_available(procedure, "There is no such point here.")
    return _option(procedure, measured, unsettled)


def question(case: Case, fact: str) -> Question:
    """The question that settles a fact, in the edition's words."""
    return Question(fact=fact, question=ask(case.book, fact, _common_fills(case)))


def is_relevant(case: Case, procedure_id: str) -> bool:
    """Whether a procedure speaks of the area that the ball is in; others of its family stay silent."""
    key = f"relief.{procedure_id}.ball_in"
    return not case.book.has(key) or case.ball_in in case.book.words(key).value


def _bar(procedure: Procedure) -> str:
    """Why the procedure is closed, before anything is measured; empty where it is open."""
    case = procedure.case
    why_not = procedure.word("why_not")
    if not procedure.says("allowed"):
        return why_not
    if case.ball_in not in procedure.words("ball_in"):
        if case.place is None:
            return f"{why_not} This one has not been found."
        lies = in_area_words(case.book, case.place.area, case.mark)
        return f"{why_not} This one lies {lies}, {case.place.margin_m:.2f} m from being elsewhere."
    if case.mark is not None and case.mark.value not in procedure.words("marks"):
        return f"{why_not} This one is {_mark_words(case)}."
    for fact in procedure.words("barred_by"):
        if case.incident.facts.get(fact) is True:
            return f"The rules take the relief away: to the question “{question(case, fact).question}” the answer is yes."
    for fact in procedure.words("needs"):
        if case.place is None and case.incident.facts.get(fact) is False:
            return f"To the question “{question(case, fact).question}” the answer is no."
    return ""


def _mark_words(case: Case) -> str:
    mark = case.mark or Mark.UNMARKED
    return "not marked" if mark is Mark.UNMARKED else f"marked {mark.value}"


def _unsettled(procedure: Procedure) -> tuple[str, ...]:
    """Facts that could still take the option away.

    Raises:
        Unknown: A fact without which there is no option is not known.
    """
    facts = procedure.case.incident.facts
    if procedure.case.place is None:
        for fact in procedure.words("needs"):
            if fact not in facts:
                raise Unknown(fact)
    return tuple(fact for fact in procedure.words("barred_by") if fact not in facts)


def _clear_words(clear: NoInterference) -> str:
    if clear.nearest is None:
        return "Nothing of the kind is within reach of ball, stance or swing; state it under [[conditions]] if it was not surveyed."
    return f"The nearest {clear.nearest.noun} is {clear.gap_m:.2f} m clear of ball, stance and swing."


def _not_available(procedure: Procedure, because: str) -> NotAvailable:
    book = procedure.case.book
    has_title = book.has(f"{procedure.row_id}.title")
    return NotAvailable(
        procedure=procedure.id,
        title=procedure.word("title") if has_title else procedure.id.replace("-", " "),
        because=because,
        citations=book.citations(procedure.row_id),
    )


def _option(procedure: Procedure, measured: Measured, unsettled: tuple[str, ...]) -> Option:
    case, book = procedure.case, procedure.case.book
    margin_m, accuracy_m = _margin(procedure)
    fills = _common_fills(case) | _measured_fills(procedure, measured)
    which = procedure.word("which")
    steps = [say(book, name, fills) for name in measured.steps]
    steps.append(say(book, "original_ball" if which.startswith("original") else "any_ball", fills))
    return Option(
        procedure=procedure.id,
        title=procedure.word("title"),
        penalty_strokes=int(book.number(f"{procedure.row_id}.penalty_strokes").value),
        put=measured.put or procedure.word("put"),
        which=which,
        references=measured.references,
        relief_area=measured.area,
        no_nearer_m=measured.no_nearer_m,
        size_m=measured.size_m,
        size_words=measured.size.words if measured.size else "",
        line=measured.line,
        roll_m=_roll_m(case),
        steps=tuple(steps),
        margin_m=margin_m,
        accuracy_m=accuracy_m,
        waiting_for=unsettled,
        citations=merged(book.citations(procedure.row_id), measured.citations),
    )


def _roll_m(case: Case) -> float | None:
    """How far a dropped ball may roll, where the edition limits that; None also where no club is known."""
    key = "dropped-ball-roll-limit.roll_limit"
    if not case.book.has(key):
        return None
    try:
        return case.metres(case.book.size(key).value)
    except Unknown:
        return None


def _margin(procedure: Procedure) -> tuple[float | None, float | None]:
    """The least margin of what was decided from the survey, and the accuracy that it is held against."""
    case = procedure.case
    margins: list[tuple[float, float | None]] = []
    if case.place is not None:
        margins.append((case.place.margin_m, case.place.sigma_m))
    if procedure.words("clear_of"):
        met = find_interference(case, frozenset(procedure.words("clear_of")))
        margins.append((met.depth_m, met.condition.sigma_m))
    if not margins:
        return None, None
    margin_m, sigma_m = min(margins, key=lambda pair: pair[0] - ACCURACY_SIGMAS * (pair[1] or 0.0))
    return margin_m, None if sigma_m is None else ACCURACY_SIGMAS * sigma_m


def _common_fills(case: Case) -> dict[str, str]:
    words = {"condition": case.incident.situation.replace("-", " ")}
    if case.mark is not None:
        words["penalty_area"] = case.book.word(f"terms.penalty_area_{case.mark.value}").value
    elif case.place is not None and case.place.area is Area.PENALTY_AREA:
        words["penalty_area"] = case.book.word("terms.penalty_area").value
    return words


def _measured_fills(procedure: Procedure, measured: Measured) -> dict[str, str]:
    case = procedure.case
    fills = {"size": "", "size_m": "", "least_m": "", "back_m": "", "roll": ""}
    if measured.no_nearer_m is not None:
        fills["least_m"] = f"{measured.no_nearer_m:.2f}"
    if measured.size is not None and measured.size_m is not None:
        fills["size"], fills["size_m"] = measured.size.words, f"{measured.size_m:.2f}"
        fills["sized"] = size_with_metres(measured.size, measured.size_m)
    if case.incident.choice.back_m is not None:
        fills["back_m"] = f"{case.incident.choice.back_m:.2f}"
    key = "dropped-ball-roll-limit.roll_limit"
    if case.book.has(key):
        roll, roll_m = case.book.size(key).value, _roll_m(case)
        fills["roll"] = roll.words if roll_m is None or roll.unit is LengthUnit.METRES else f"{roll.words} ({roll_m:.2f} m)"
    if procedure.words("clear_of"):
        fills["condition"] = find_interference(case, frozenset(procedure.words("clear_of"))).condition.noun
    return fills
