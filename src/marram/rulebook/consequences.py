"""What an act leads to, as typed cases: a case holds where all its named facts are true, and the last holds without any."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

import msgspec

HOLES = ("", "lost", "first-lost", "next-lost", "won")
WHO = ("player", "opponent")
STROKES = ("counts", "cancelled", "replay", "not-made")
BALL_WORDS: Mapping[str, str] = {
    "none": "",
    "as-it-lies": "the ball is played as it lies",
    "as-it-lies-new-spot": "the ball is played as it lies from its new spot",
    "replaced": "the ball is replaced",
    "other-replaced": "the other ball is replaced",
    "new-ball-in-play": "the new ball is in play",
    "played-out": "the hole is played out with that ball",
    "holed": "the ball is holed",
    "both-played": "both balls are played out",
    "teed-again": "the ball is teed again",
    "anywhere-in-teeing-area": "the ball is played from anywhere in the teeing area, teed or not",
    "wrong-ball-corrected": "the right ball is played",
    "corrected": "the mistake is put right by playing from the right place",
    "provisional": "the ball is a provisional ball",
    "provisional-in-play": "the provisional ball is in play",
    "estimated-place": "the ball is played from the estimated place",
    "placed-on-lip": "the ball is placed on the lip of the hole",
    "placed-on-similar-spot": "the ball is placed on the nearest spot with the most similar conditions",
    "where-stopped": "the ball is played from where it stopped",
    "dropped-under-the-place": "the ball is dropped under the place where it was",
    "first-ball-counts": "the first ball counts",
    "stroke-and-distance": "another ball is played from where the previous stroke was made",
}
BALLS = tuple(BALL_WORDS)
PUT_RIGHT = ("", "before-the-stroke", "before-the-next-tee", "before-the-card")
OUT = ("", "always", "stroke-play", "match-play", "net-event", "committee-may")
"""Whether the player is disqualified: not, in each form of play, in one form only, from a net event, or where the Committee so decides."""
ADDED = ("", "penalty-left-out", "highest-of-the-breaches", "each-of-the-breaches")
"""What comes on top of the strokes of the case itself."""
FORMS = ("", "stroke-play", "match-play")
_COMMITTEE_MAY = "the Committee may disqualify"
_NOT_ALLOWED = "not allowed, without a stated penalty"
_STROKE_COUNTS = "the stroke counts"
_STROKE_WORDS: Mapping[str, str] = {
    "counts": _STROKE_COUNTS,
    "cancelled": "the stroke does not count",
    "replay": "the stroke is cancelled and played again",
    "not-made": "no stroke was made",
}
_LISTS: Mapping[str, tuple[str, ...]] = {
    "hole": HOLES,
    "who": WHO,
    "stroke": STROKES,
    "ball": BALLS,
    "put_right": PUT_RIGHT,
    "out": OUT,
    "added": ADDED,
    "only_in": FORMS,
    "match_stroke": ("", *STROKES),
    "match_ball": ("", *BALLS),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Consequence:
    """One case of what an act leads to.

    Attributes:
        when: Facts that must all be true; none for the last case.
        strokes: Penalty strokes in stroke play.
        match_strokes: Penalty strokes in match play.
        hole: What becomes of the hole in a match; empty where nothing does.
        who: Who bears it in a match.
        out: Whether the player is disqualified.
        stroke: What becomes of the stroke.
        ball: What becomes of the ball.
        put_right: Until when it can, or must, be put right; empty where there is nothing to put right.
        match_stroke: What becomes of the stroke in match play; empty where the same as in stroke play.
        match_ball: What becomes of the ball in match play; empty where the same as in stroke play.
        only_in: The form of play in which it can happen at all; empty for both.
        per_hole: Whether it is counted for each hole.
        capped: Whether what is counted for each hole stops at the cap for clubs.
        added: What comes on top: the penalty that was left out, or the penalties of the breaches themselves.
        allowed: False for what the Rules do not let a player do and state no penalty for.
    """

    when: tuple[str, ...] = ()
    strokes: int = 0
    match_strokes: int = 0
    hole: str = ""
    who: str = "player"
    out: str = ""
    stroke: str = "counts"
    ball: str = "none"
    put_right: str = ""
    match_stroke: str = ""
    match_ball: str = ""
    only_in: str = ""
    per_hole: bool = False
    capped: bool = True
    added: str = ""
    allowed: bool = True

    @property
    def in_stroke_play(self) -> dict[str, int | str | bool | None] | None:
        """Strokes, hole and disqualification in stroke play, where no hole is lost; None where it cannot happen there."""
        if self.only_in == "match-play":
            return None
        is_out = self.out in {"always", "stroke-play", "net-event"}
        return self._more | {"strokes": self._told(self.strokes), "hole": "", "disqualified": is_out}

    @property
    def in_match_play(self) -> dict[str, int | str | bool | None] | None:
        """The same in match play, with who bears it."""
        if self.only_in == "stroke-play":
            return None
        is_out = self.out in {"always", "match-play"}
        return self._more | {"strokes": self._told(self.match_strokes), "hole": self.hole, "disqualified": is_out, "who": self.who}

    def after_in(self, *, is_match: bool) -> dict[str, str]:
        """What becomes of stroke and ball, and until when it is put right, in match play or in stroke play; a lost hole is over."""
        if not is_match:
            return {"stroke": self.stroke, "ball": self.ball, "put_right": self.put_right}
        is_over = self.hole in {"lost", "won"}
        return {
            "stroke": self.match_stroke or self.stroke,
            "ball": "none" if is_over else self.match_ball or self.ball,
            "put_right": "" if is_over or self.match_stroke else self.put_right,
        }

    def is_over_in(self, *, is_match: bool) -> bool:
        """Whether nothing is left to do after it: the player is out, or the hole of the match is lost or won."""
        if self.out in {"always", "match-play" if is_match else "stroke-play"}:
            return True
        return is_match and self.hole in {"lost", "won"}

    def _told(self, strokes: int) -> int | None:
        """Strokes as they are told; None where the amount is only that of other breaches."""
        return None if self.added and not strokes else strokes

    @property
    def _more(self) -> dict[str, int | str | bool | None]:
        """What a form of play holds besides, where there is anything: a penalty on top, a choice of the Committee, a bar."""
        more: dict[str, int | str | bool | None] = {"added": self.added} if self.added else {}
        more |= {} if self.allowed else {"allowed": False}
        return more | ({"committee_may_disqualify": True} if self.out == "committee-may" else {})

    def in_words(self, *, is_stroke_in_question: bool) -> str:
        """The case as an official reads it out.

        Args:
            is_stroke_in_question: Whether the act makes a stroke or touches one: elsewhere nobody asks whether it counts.
        """
        if (self.match_stroke or self.match_ball) and not self.only_in:
            in_match = [self.match_play_words, *self._after_words(is_match=True)]
            return f"{', '.join([self.stroke_play_words, *self._after_words(is_match=False)])}; in match play {', '.join(in_match)}."
        after = self.after_words(is_match=False, is_stroke_in_question=is_stroke_in_question)
        return f"{self._cost_words}; {after}." if after else f"{self._cost_words}."

    def in_words_of(self, *, is_match: bool, is_stroke_in_question: bool) -> str:
        """The case as an official reads it out in one form of play; where nothing is left to do, nothing more is told.

        Args:
            is_match: Whether it is match play; else stroke play.
            is_stroke_in_question: Whether the act makes a stroke or touches one.
        """
        cost = self.match_play_words if is_match else self.stroke_play_words
        after = (
            "" if self.is_over_in(is_match=is_match) else self.after_words(is_match=is_match, is_stroke_in_question=is_stroke_in_question)
        )
        return f"{cost}; {after}." if after else f"{cost}."

    def after_words(self, *, is_match: bool, is_stroke_in_question: bool) -> str:
        """What becomes of stroke and ball, as it is told: that the stroke counts only where a stroke is in question."""
        told = [words for words in self._after_words(is_match=is_match) if is_stroke_in_question or words != _STROKE_COUNTS]
        return ", ".join(told)

    @property
    def _cost_words(self) -> str:
        """What it costs: once where both forms agree, and only in the form in which it can happen."""
        if self.only_in:
            form, words = ("stroke", self.stroke_play_words) if self.only_in == "stroke-play" else ("match", self.match_play_words)
            return f"in {form} play {words}"
        stroke, match = self.stroke_play_words, self.match_play_words
        return stroke if stroke == match else f"{stroke}, in match play {match}"

    @property
    def stroke_play_words(self) -> str:
        """What it costs in stroke play."""
        if self.only_in == "match-play":
            return "not in question"
        if self.out in {"always", "stroke-play"}:
            return "disqualified"
        if self.out == "net-event":
            return "disqualified from a net event"
        if self.out == "committee-may":
            return _COMMITTEE_MAY
        if not self.allowed:
            return _NOT_ALLOWED
        if self.added:
            return self._added_words
        counts = {0: "no penalty", 1: "one penalty stroke", 2: "two penalty strokes"}
        each = " for each hole" if self.per_hole and self.strokes else ""
        return counts.get(self.strokes, f"{self.strokes} penalty strokes") + each

    @property
    def match_play_words(self) -> str:
        """What it costs in match play."""
        of = " (opponent)" if self.who == "opponent" else ""
        if self.only_in == "stroke-play":
            return "not in question"
        if self.out in {"always", "match-play"}:
            return f"disqualified{of}"
        if self.out == "committee-may":
            return _COMMITTEE_MAY
        if not self.allowed:
            return _NOT_ALLOWED
        if self.added:
            return self._added_words
        holes = {
            "lost": "loss of hole",
            "first-lost": "loss of the first hole",
            "next-lost": "loss of the next hole",
            "won": "the hole is won",
        }
        if self.hole:
            return holes[self.hole] + (", for each such hole" if self.per_hole else "") + of
        if self.per_hole and not self.match_strokes:
            return "a hole deducted for each hole"
        each = " for each hole" if self.per_hole else ""
        return {0: "no penalty", 1: "one penalty stroke"}.get(self.match_strokes, f"{self.match_strokes} penalty strokes") + each + of

    @property
    def _added_words(self) -> str:
        added = {
            "penalty-left-out": "the penalty that was left out",
            "highest-of-the-breaches": "the highest penalty of the breaches, once",
            "each-of-the-breaches": "the penalty of each breach",
        }[self.added]
        own = f" and {self.strokes} penalty strokes" if self.strokes else ""
        return added + own + (" for each hole" if self.per_hole else "")

    def _after_words(self, *, is_match: bool) -> tuple[str, ...]:
        """What becomes of the stroke and the ball, and until when it is put right."""
        after = self.after_in(is_match=is_match)
        ball = (BALL_WORDS[after["ball"]],) if BALL_WORDS[after["ball"]] else ()
        right = () if not after["put_right"] else (f"to be put right {after['put_right'].replace('-', ' ')}",)
        return (_STROKE_WORDS[after["stroke"]], *ball, *right)

    @property
    def words(self) -> str:
        """The case in short words."""
        said = [] if not self.when else [f"where {' and '.join(name.replace('_', ' ') for name in self.when)}:"]
        is_free = not (self.strokes or self.match_strokes or self.hole or self.out or self.added)
        said.append("" if not is_free else "no penalty" if self.allowed else _NOT_ALLOWED)
        said += [f"stroke play {self.strokes}"] if self.strokes else []
        said += [f"match play {self.match_strokes} ({self.who})"] if self.match_strokes else []
        said += [f"hole {self.hole} ({self.who})"] if self.hole else []
        said += [f"disqualified: {self.out}"] if self.out else []
        said += [self._added_words] if self.added else []
        said += [f"ball {self.ball}"] if self.ball != "none" else []
        return " ".join(word for word in said if word)


Cases = tuple[Consequence, ...]


def parse_cases(raw: object) -> Cases | None:
    """Read a list of cases; None where it is not one, or its last case asks for a fact."""
    if not isinstance(raw, list) or not raw:
        return None
    cases = [_parse(entry) for entry in raw]
    sound = tuple(case for case in cases if case is not None)
    if len(sound) != len(raw) or sound[-1].when or any(not case.when for case in sound[:-1]):
        return None
    return sound


def _parse(raw: object) -> Consequence | None:
    if not isinstance(raw, dict) or not set(raw) <= {entry.name for entry in fields(Consequence)}:
        return None
    if any(value not in _LISTS[name] for name, value in raw.items() if name in _LISTS):
        return None
    try:
        case = msgspec.convert(raw, Consequence)
    except msgspec.ValidationError:
        return None
    return case if case.strokes >= 0 and case.match_strokes >= 0 and all(fact.strip() for fact in case.when) else None


def plain_cases(cases: Cases) -> list[dict[str, object]]:
    """The cases as JSON and TOML write them, without what is as usual."""
    usual = {entry.name: entry.default for entry in fields(Consequence)}
    return [
        {name: list(value) if isinstance(value, tuple) else value for name in usual if (value := getattr(case, name)) != usual[name]}
        for case in cases
    ]
