"""The ruling: facts, course and book in; options with their rules out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from marram.core.citations import MEMORY, Citation, merged
from marram.core.errors import IncidentError
from marram.core.kept import OnRequest
from marram.core.terms import Area
from marram.course.course import Course
from marram.relief.area.area import SMALLEST_M2
from marram.relief.clear.interference import Weights
from marram.rulebook.book import Book
from marram.rulebook.vocabulary import ClearOf, MeasuredFrom, Put
from marram.rulebook.wording.explain import area_words, in_area_words, told_text
from marram.rulebook.wording.value_words import listed
from marram.rulings.case.case import Case
from marram.rulings.case.cautions import cautions_for
from marram.rulings.case.incident import Incident
from marram.rulings.case.met import Interference
from marram.rulings.case.procedure import Procedure
from marram.rulings.case.ruling import FoundPoint, LineStatus, NotAvailable, Option, Question, Ruling, RulingLine
from marram.rulings.following import is_relevant, is_spoken_of
from marram.rulings.further_words import further_words
from marram.rulings.measure.obstructed import USUAL_CLUB
from marram.rulings.options import Answer, closing_question, give_all, is_extra, is_idle_local_rule

_LEFT = "left-without-relief"
_NEAR_M = 3.0
"""Things of a joined condition nearer than this to ball or point are named."""
_TOLD_MOVE_M = 0.005
"""A point moved by less is told as not moved: distances are told to a centimetre."""
_RESTS_ON_STANCE = frozenset(
    {MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF, FoundPoint.MAXIMUM_AVAILABLE_RELIEF, MeasuredFrom.EQUAL_ARC_POINT}
)


def situations(book: Book) -> dict[str, str]:
    """Every situation that an incident may state, with what it means."""
    return dict(book.catalogue.means_of_situations)


def rule_on(incident: Incident, course: Course, book: Book, *, only: frozenset[str] | None = None) -> Ruling:
    """Rule on one ball.

    Args:
        incident: What happened.
        course: The course.
        book: The rule book.
        only: Procedures of the situation that are looked at, where many balls are tried for one procedure; None for all. An extra
            option is looked at together with those that it stands beside.

    Returns:
        Options, what is not available and why, questions, lines and cautions. Advice to the official.

    Raises:
        IncidentError: The incident says something impossible.
        SurveyError: The course lacks what the ruling needs.
    """
    known = situations(book)
    if incident.situation not in known:
        raise IncidentError(f"There is no situation {incident.situation!r}.", where="situation", hint=f"Known: {', '.join(known)}.")
    case = Case(incident=incident, course=course.with_conditions(incident.conditions), book=book)
    _refuse_outside(case)
    answers: list[Answer] = [_not_in_book(case)]
    if book.has_row(case.situation_row):
        answers = give_all(_procedures(case, only))
    options = tuple(answer for answer in answers if isinstance(answer, Option))
    not_available = tuple(answer for answer in answers if isinstance(answer, NotAvailable))
    return Ruling(
        book=book.name,
        title=book.title,
        stamp=book.stamp,
        options=options,
        not_available=not_available,
        facts_needed=_questions(case, answers, options),
        cautions=cautions_for(case),
        area_words={area: area_words(book, area) for area in Area},
        reasons=OnRequest(lambda: tuple(_lines(case, answers))),
    )


def _procedures(case: Case, only: frozenset[str] | None) -> list[Procedure]:
    """The procedures of the situation that speak of this ball."""
    listed = case.book.words(f"{case.situation_row}.procedures").value
    procedures = [Procedure(case=case, id=name) for name in listed]
    relevant = [procedure for procedure in procedures if is_relevant(procedure)]
    if only is not None and not any(is_extra(procedure) for procedure in relevant if procedure.id in only):
        procedures, relevant = ([entry for entry in entries if entry.id in only] for entries in (relevant, relevant))
    relevant = [procedure for procedure in relevant if not is_idle_local_rule(procedure)] or relevant
    # Where none speaks of the ball's place, each says why; where none is spoken of at all, each asks for what it needs.
    return relevant or [procedure for procedure in procedures if is_spoken_of(procedure)] or procedures


def _not_in_book(case: Case) -> NotAvailable:
    """What to say where only another of the books asked knows such a situation."""
    because = f"{case.book.name} knows no such relief: {case.book.why_absent(case.situation_row)}."
    return NotAvailable(procedure=case.incident.situation, title="Relief", because=because, citations=case.book.citations(_LEFT))


def _refuse_outside(case: Case) -> None:
    place = case.place
    if place is None or place.area is not Area.OUT_OF_BOUNDS:
        return
    may_be_out = f"{case.situation_row}.ball_may_be_out"
    if not case.book.has(may_be_out) or not case.book.yes(may_be_out).value:
        raise IncidentError(
            f"The ball lies {place.margin_m:.1f} m outside the boundary of {case.course.name}.",
            where="ball",
            hint='If that is right, state situation = "out-of-bounds"; if not, check the coordinates and their order.',
        )


def _questions(case: Case, answers: list[Answer], options: tuple[Option, ...]) -> tuple[Question, ...]:
    asked = [answer for answer in answers if isinstance(answer, Question)]
    asked += [closing_question(Procedure(case=case, id=option.procedure), fact) for option in options for fact in option.waiting_for]
    facts = dict.fromkeys(entry.fact for entry in asked)
    return tuple(_as_one([entry for entry in asked if entry.fact == fact]) for fact in facts)


def _as_one(asked: list[Question]) -> Question:
    """One question for all that wait for its fact, with everything that its answer could open."""
    opened = {name: title for entry in asked for name, title in zip(entry.opens, entry.titles, strict=True)}
    cited = merged(*(entry.citations for entry in asked))
    return replace(asked[-1], opens=tuple(opened), titles=tuple(dict.fromkeys(opened.values())), citations=cited)


def _lines(case: Case, answers: list[Answer]) -> Iterator[RulingLine]:
    yield from _place_lines(case)
    yield from _moved_lines(answers)
    for answer in answers:
        match answer:
            case Option():
                yield _option_line(answer)
                yield from _doubt_lines(case, answer)
            case NotAvailable():
                text = f"{answer.title}: not available. {answer.because}"
                yield RulingLine(text=text, status=LineStatus.NOT_APPLICABLE, citations=answer.citations, sums_up=True)
            case Question():
                yield RulingLine(text=answer.question, status=LineStatus.WAITING, citations=answer.citations, sums_up=True)
    if all(isinstance(answer, NotAvailable) for answer in answers):
        yield from _left_lines(case)


def _left_lines(case: Case) -> Iterator[RulingLine]:
    """What a player may do whose ball is met by something that gives no relief."""
    is_told = case.is_added or case.incident.situation in case.book.words(f"{_LEFT}.situations").value
    if case.place is None or not is_told:
        return
    part = "in_penalty_area" if case.place.area is Area.PENALTY_AREA else "elsewhere"
    yield RulingLine(text=told_text(case.book, f"{_LEFT}.{part}"), status=LineStatus.APPLIED, citations=case.book.citations(_LEFT))


def _place_lines(case: Case) -> Iterator[RulingLine]:
    if case.place is None:
        return
    lies = in_area_words(case.book, case.place.area, case.place.mark)
    text = f"The ball lies {lies}; the nearest edge that would change that is {case.place.margin_m:.2f} m away."
    row_id = {Area.PENALTY_AREA: "penalty-area-ball-in", Area.OUT_OF_BOUNDS: "out-of-bounds-edge"}.get(
        case.place.area, "precedence-two-areas"
    )
    yield RulingLine(text=text, status=LineStatus.APPLIED, citations=case.book.citations(row_id))


def _option_line(option: Option) -> RulingLine:
    parts = [f"{option.title}: {option.penalty_words.lower()}"]
    if option.line is not None:
        parts.append(f"usable on the line: {option.usable_words}")
    if option.relief_area is not None:
        parts.append(f"area {option.relief_area.area_m2:.2f} m²")
    return RulingLine(text="; ".join(parts) + ".", status=LineStatus.APPLIED, citations=option.citations, sums_up=True)


def _doubt_lines(case: Case, option: Option) -> Iterator[RulingLine]:
    """What the official should know about how sure the option is."""
    for fact in option.waiting_for:
        asked = closing_question(Procedure(case=case, id=option.procedure), fact)
        yield RulingLine(
            text=f"{option.title} holds unless the answer is yes: {asked.question}",
            status=LineStatus.WAITING,
            citations=option.citations,
        )
    back_m = case.incident.choice.back_m
    if option.line is not None and back_m is not None and not option.line.holds(back_m):
        allowed = option.usable_words
        yield RulingLine(
            text=f"{option.title}: {back_m:.2f} m back is no place for a drop; usable: {allowed}.",
            status=LineStatus.NOT_APPLICABLE,
            citations=option.citations,
        )
    if option.put == Put.DROP and option.relief_area is not None and option.relief_area.area_m2 < SMALLEST_M2:
        yield RulingLine(
            text=f"{option.title}: next to nothing of the measured ground is left; there is nowhere to drop.",
            status=LineStatus.NOT_APPLICABLE,
            citations=option.citations,
        )
    yield from _stance_lines(case, option)


def _moved_lines(answers: Sequence[Answer]) -> Iterator[RulingLine]:
    """That a crossing point was taken to an edge, and from how far; once for all options that rest on it."""
    moved = [(answer.crossing_moved_m, answer.citations) for answer in answers if isinstance(answer, Option)]
    told = {f"{moved_m:.2f}": citations for moved_m, citations in reversed(moved) if moved_m is not None and moved_m >= _TOLD_MOVE_M}
    for metres, citations in told.items():
        text = f"The crossing point stated lies {metres} m off the edge; the nearest point of the edge is taken."
        yield RulingLine(text=text, status=LineStatus.APPLIED, citations=citations)


def _stance_citation(case: Case) -> Citation:
    """No rule gives lengths for a stance, so the line that uses them says where they come from."""
    return Citation(document="Marram, table of stances and weights", edition=case.book.edition, rule="no rule", seen=MEMORY)


def _stance_lines(case: Case, option: Option) -> Iterator[RulingLine]:
    met = option.met
    if met is None:
        return
    touched = ", ".join(sorted(met.parts))
    text = f"The {met.condition.noun} interferes with: {touched} (by {met.depth_m:.2f} m)."
    yield RulingLine(text=text, status=LineStatus.APPLIED, citations=option.citations)
    yield from _joined_lines(case, option, met)
    # What a trial changed of the relief moves the point or area that the other condition is in the way of.
    changes = tuple(citation for citation in option.citations if citation.overlay is not None)
    for further in option.further:
        cited = merged(further.citations, changes)
        yield RulingLine(text=further_words(case.book, option, further), status=LineStatus.APPLIED, citations=cited)
    if len({reference.kind for reference in option.references}) == 1 < len(option.references):
        text = f"{len(option.references)} points are equally near; the official chooses one ([choice] reference)."
        yield RulingLine(text=text, status=LineStatus.APPLIED, citations=option.citations)
    if option.references and option.references[0].kind in _RESTS_ON_STANCE:
        yield from _own_numbers(case, option)


def _joined_lines(case: Case, option: Option, met: Interference) -> Iterator[RulingLine]:
    """That several things are one condition, where more than one of them is near."""
    spots = [case.place.position] if case.place is not None else []
    spots += [reference.position for reference in option.references[:1]]
    near = {feature.id: feature for spot in spots for feature in met.joined.near(spot, _NEAR_M)}
    if len(near) > 1:
        named = listed([f"{feature.noun} ({name})" for name, feature in sorted(near.items())], "and")
        why = "lie apart by less than the survey can tell" if met.joined.is_by_accuracy else "touch"
        yield RulingLine(text=f"{named} {why}: relief is from all as one.", status=LineStatus.APPLIED, citations=option.citations)


def _other_clubs(moved_m: float) -> str:
    return "no other club moves the point" if moved_m < _TOLD_MOVE_M else f"another club moves the point by up to {moved_m:.2f} m"


def _own_numbers(case: Case, option: Option) -> Iterator[RulingLine]:
    """Numbers of our own that the reference point rests on, where the rules give none."""
    cited = (_stance_citation(case),)
    row = f"relief.{option.carried_out_as or option.procedure}"
    if {ClearOf.STANCE, ClearOf.SWING} & set(case.book.words(f"{row}.clear_of").value):
        club = case.incident.player.club or USUAL_CLUB
        stance = f"Stance of a mid-sized adult with {'an' if club.value[0] in 'aeiou' else 'a'} {club.value}, from memory"
        moved = option.references[0].range_m
        tail = "" if moved is None else f"; {_other_clubs(moved)}"
        yield RulingLine(text=f"{stance}{tail}.", status=LineStatus.APPLIED, citations=cited)
    if option.references[0].kind == FoundPoint.MAXIMUM_AVAILABLE_RELIEF:
        weights = Weights()
        text = (
            f"The rules give no measure of least interference; the lie was weighed {weights.lie:g}, the stance {weights.stance:g}, "
            f"the swing {weights.swing:g}, the line of play {weights.line:g}, from memory. Look at it on the ground."
        )
        yield RulingLine(text=text, status=LineStatus.APPLIED, citations=cited)
