"""The terms of a competition: what cards are scored by, read with every fault in one pass."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar

from marram.core.terms import Form
from marram.core.words import shortly
from marram.handicaps.rounding import as_written
from marram.interchange.tables.table_rows import Faults
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import (
    COUNTBACK,
    Fractions,
    Maximum,
    OverHoles,
    ParDifference,
    SetAs,
    Sides,
    Step,
    Terms,
    Ties,
)

HINT = "See docs/formats/terms.md."
_TARGETS = {"par": 0, "bogey": 1, "double-bogey": 2, "birdie": -1, "eagle": -2}
_MAXIMUM = {
    "fixed": SetAs.FIXED_NUMBER,
    "times_par": SetAs.TIMES_PAR,
    "over_par": SetAs.OVER_PAR,
    "net_double_bogey": SetAs.NET_DOUBLE_BOGEY,
}
_MEMBERS = frozenset(
    {"title", "form", "sides", "scores", "rounds", "allowance_pct", "target", "maximum", "told", "different_pars", "best_of"}
    | {"handicapping", "certification", "may_end_tied", "ties", "tee"}
)
OF_EVENT = frozenset({"course", "day", "book", "start", "division", "cut", "team"})
"""Members that say nothing of scores; the terms of an event are read with them."""
_TIES_MEMBERS = frozenset({"steps", "fractions", "counted", "drawn"})
_TEE_MEMBERS = frozenset({"name", "par", "stroke_index", "course_rating", "slope_rating"})
_PARTNERS = frozenset({Form.FOURSOMES, Form.FOUR_BALL, Form.THREE_BALL})
_RATING, _SLOPE, _PAR = (15, 90), (55, 155), (3, 6)
"""Course Ratings are guarded against a slip of the pen; Slope Ratings run from 55 to 155 (Rules of Handicapping 2020, Definitions)."""
Word = TypeVar("Word", bound=StrEnum)


class TermsReader:
    """Reads what cards are scored by, and the members that other readers of terms ask it for."""

    def __init__(self, raw: Mapping[str, object], faults: Faults) -> None:
        self.raw = raw
        self.faults = faults

    def terms(self) -> Terms | None:
        """The terms; None where so much is wrong that no card can be held against them."""
        raw = self.raw
        self.unknown("", raw, _MEMBERS | OF_EVENT)
        tees = self._tees()
        form = self._form()
        sides = self.word(raw, "sides", Sides, Sides.INDIVIDUAL)
        maximum = self._maximum()
        if form is Form.MAXIMUM_SCORE and "maximum" not in raw:
            self.faults.add("maximum", "the form maximum-score needs it, such as { fixed = 8 } or { times_par = 2 }")
        over_par, targets = self._target(tees)
        terms = Terms(
            title=self.text("title"),
            form=form or Form.STROKE_PLAY,
            tees={tee.name: tee for tee in tees},
            sides=sides,
            is_net=self.choice("scores", ("gross", "net")) == "net",
            rounds=self.whole(raw, "rounds", 1, 1, 8),
            over_par=over_par,
            targets=targets,
            maximum=maximum,
            allowances=self._allowances(),
            ties=self._ties(),
            is_told_against_par=self.choice("told", ("total", "against-par")) == "against-par",
            par_difference=self.word(raw, "different_pars", ParDifference, ParDifference.HIGHER_PAR_RECEIVES),
            best_of=self.whole(raw, "best_of", 1, 1, 8),
            handicapping=self.text("handicapping", needed=False),
            has_certification_penalty=self.choice("certification", ("disqualified", "two-strokes")) == "two-strokes",
            may_end_tied=self._yes("may_end_tied"),
        )
        return terms if tees and form is not None else None

    def unknown(self, where: str, table: Mapping[str, object], known: frozenset[str]) -> None:
        """Note members that there are not."""
        for member in sorted(table.keys() - known):
            near = get_close_matches(member, sorted(known), n=1)
            self.faults.add(f"{where}{member}", "there is no such member" + (f"; is {near[0]} meant?" if near else ""))

    def text(self, member: str, *, needed: bool = True) -> str:
        """A text; empty, with a fault noted where it is needed, if there is none."""
        value = self.raw.get(member, "")
        if not isinstance(value, str) or (needed and not value.strip()):
            self.faults.add(member, "a text is needed" if member not in self.raw else f"{shortly(value)} is no text")
            return ""
        return value

    def _form(self) -> Form | None:
        value = self.raw.get("form")
        known = [form.value for form in Form if form not in _PARTNERS]
        if isinstance(value, str) and value in known:
            return Form(value)
        if isinstance(value, str) and value in list(Form):
            self.faults.add("form", f"{value} says who plays together; write it under sides, and here what is played, such as stroke-play")
        else:
            near = get_close_matches(str(value), known, n=1)
            hint = f"; is {near[0]} meant?" if near else f"; expected one of {', '.join(known)}"
            self.faults.add("form", f"{shortly(value)} is no form of play{hint}")
        return None

    def choice(self, member: str, words: tuple[str, str]) -> str:
        """One of two words; the first is usual."""
        value = self.raw.get(member, words[0])
        if value not in words:
            self.faults.add(member, f"{shortly(value)}; expected {' or '.join(words)}")
            return words[0]
        return str(value)

    def _yes(self, member: str) -> bool:
        value = self.raw.get(member, False)
        if not isinstance(value, bool):
            self.faults.add(member, f"{shortly(value)}; expected true or false")
        return value is True

    def word(self, table: Mapping[str, object], member: str, words: type[Word], usual: Word, where: str = "") -> Word:
        """A word of a closed list."""
        value = table.get(member, usual.value)
        if isinstance(value, str) and value in list(words):
            return words(value)
        near = get_close_matches(str(value), [word.value for word in words], n=1)
        hint = f"; is {near[0]} meant?" if near else f"; expected one of {', '.join(words)}"
        self.faults.add(f"{where}{member}", f"{shortly(value)} is not known{hint}")
        return usual

    def whole(self, table: Mapping[str, object], member: str, usual: int, least: int, most: int, where: str = "") -> int:
        """A whole number."""
        value = table.get(member, usual)
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            self.faults.add(f"{where}{member}", f"{shortly(value)}; expected a whole number from {least} to {most}")
            return usual
        return value

    def _allowances(self) -> tuple[Fraction, ...]:
        stated = self.raw.get("allowance_pct", [])
        listed = stated if isinstance(stated, list) else [stated]
        sound = [value for value in listed if isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value <= 100]
        for value in listed:
            if value not in sound:
                self.faults.add(
                    "allowance_pct", f"{shortly(value)}; expected per cent from 0 to 100, such as 95, the lowest handicap first"
                )
        return tuple(as_written(value) / 100 for value in sound)

    def _target(self, tees: Sequence[Tee]) -> tuple[int, tuple[int, ...]]:
        value = self.raw.get("target", "par")
        if isinstance(value, str) and value in _TARGETS:
            return _TARGETS[value], ()
        if isinstance(value, list) and all(isinstance(one, int) and 1 <= one <= 12 for one in value):
            if not tees or len(value) == tees[0].holes:
                return 0, tuple(value)
            self.faults.add("target", f"{len(value)} scores for {tees[0].holes} holes")
        else:
            self.faults.add("target", f"{shortly(value)}; expected {', '.join(_TARGETS)} or a score for each hole")
        return 0, ()

    def _maximum(self) -> Maximum | None:
        value = self.raw.get("maximum")
        if value is None:
            return None
        if not isinstance(value, dict) or len(value) != 1 or not value.keys() <= _MAXIMUM.keys():
            self.faults.add("maximum", f"{shortly(value)}; expected one of {', '.join(_MAXIMUM)}, such as {{ times_par = 2 }}")
            return None
        ((name, amount),) = value.items()
        if name == "net_double_bogey":
            return Maximum(set_as=SetAs.NET_DOUBLE_BOGEY)
        if isinstance(amount, bool) or not isinstance(amount, int) or not 1 <= amount <= 20:
            self.faults.add(f"maximum.{name}", f"{shortly(amount)}; expected a whole number from 1 to 20")
            return None
        return Maximum(set_as=_MAXIMUM[name], amount=amount)

    def _ties(self) -> Ties:
        table = self.raw.get("ties", {})
        if not isinstance(table, dict):
            self.faults.add("ties", "a table [ties] is expected")
            return Ties()
        self.unknown("ties.", table, _TIES_MEMBERS)
        counted = self.word(table, "counted", OverHoles, OverHoles.SHARE_OF_HANDICAP, "ties.") if "counted" in table else None
        drawn = table.get("drawn", [])
        if not isinstance(drawn, list) or not all(isinstance(name, str) for name in drawn):
            self.faults.add("ties.drawn", "a list of names is expected, the first drawn first")
            drawn = []
        return Ties(
            steps=self._steps(table),
            fractions=self.word(table, "fractions", Fractions, Fractions.KEPT, "ties."),
            counted=counted,
            drawn=tuple(drawn),
        )

    def _steps(self, table: Mapping[str, object]) -> tuple[Step, ...]:
        stated = table.get("steps", ["countback"])
        if not isinstance(stated, list):
            self.faults.add("ties.steps", "a list of steps is expected; an empty one where ties stand")
            return ()
        steps: list[Step] = []
        for name in stated:
            if name == "countback":
                steps += COUNTBACK
            elif isinstance(name, str) and name in list(Step):
                steps.append(Step(name))
            else:
                self.faults.add("ties.steps", f"{shortly(name)} is no step; expected countback or one of {', '.join(Step)}")
        return tuple(steps)

    def _tees(self) -> list[Tee]:
        tables = self.raw.get("tee", [])
        if not isinstance(tables, list) or not tables:
            self.faults.add("tee", "at least one [[tee]] with the par of each hole is needed")
            return []
        found = [self._tee(number, table) for number, table in enumerate(tables, start=1) if isinstance(table, dict)]
        tees = [tee for tee in found if tee is not None]
        names = [tee.name for tee in tees]
        for name in sorted({name for name in names if names.count(name) > 1}):
            self.faults.add("tee", f"two tees are called {name}")
        if len({tee.holes for tee in tees}) > 1:
            self.faults.add("tee", "the tees have different numbers of holes")
        return tees

    def _tee(self, number: int, table: Mapping[str, object]) -> Tee | None:
        where = f"tee {number}, "
        self.unknown(where, table, _TEE_MEMBERS)
        par = self.wholes(table, "par", *_PAR, where)
        if len(par) not in {9, 18}:
            self.faults.add(f"{where}par", f"{len(par)} holes; expected the par of 18 or of 9 holes")
            return None
        index = self.wholes(table, "stroke_index", 1, 18, where)
        if index and (len(index) != len(par) or len(set(index)) != len(index)):
            self.faults.add(f"{where}stroke_index", f"expected {len(par)} different numbers, one for each hole")
            index = ()
        rating = table.get("course_rating")
        if rating is not None and not self._is_rating(rating):
            self.faults.add(f"{where}course_rating", f"{shortly(rating)}; expected {_RATING[0]} to {_RATING[1]}, such as 71.4")
            rating = None
        slope = self.whole(table, "slope_rating", 113, *_SLOPE, where) if "slope_rating" in table else None
        course_rating = as_written(rating) if isinstance(rating, int | float) else None
        return Tee(name=str(table.get("name", "")), par=par, stroke_index=index, course_rating=course_rating, slope_rating=slope)

    @staticmethod
    def _is_rating(value: object) -> bool:
        return isinstance(value, int | float) and not isinstance(value, bool) and _RATING[0] <= value <= _RATING[1]

    def wholes(self, table: Mapping[str, object], member: str, least: int, most: int, where: str) -> tuple[int, ...]:
        """Whole numbers, one for each hole or place."""
        value = table.get(member, [])
        listed = value if isinstance(value, list) else [value]
        for place, one in enumerate(listed, start=1):
            if isinstance(one, bool) or not isinstance(one, int) or not least <= one <= most:
                self.faults.add(f"{where}{member}, hole {place}", f"{shortly(one)}; expected a whole number from {least} to {most}")
        return tuple(one if isinstance(one, int) and least <= one <= most else least for one in listed)
