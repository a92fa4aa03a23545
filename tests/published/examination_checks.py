"""What of an answer is held against what an examination expects: one check for each name that may stand in `expected`.

A list of words means that any of them says it. A check gives what is wrong, and nothing where all is as expected.
"""

import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from tests.published.adapter import Unfit
from tests.published.examination_asks import Answer

Check = Callable[[str, object, Answer], Iterator[str]]
_NOTHING: Mapping[str, object] = {"strokes": 0, "hole": "", "disqualified": False}
"""What a form costs in which it cannot happen."""


def _dict(value: object) -> Mapping[str, object]:
    return value if isinstance(value, dict) else {}


def _list(value: object) -> Sequence[object]:
    return value if isinstance(value, list) else [value]


def _differs(name: str, expected: object, found: object) -> Iterator[str]:
    """Any of a list is right; a yes or no is never a number."""
    if not any(found == one and isinstance(found, bool) is isinstance(one, bool) for one in _list(expected)):
        yield f"{name}: expected {expected!r}, found {found!r}"


def _side(answer: Answer, form: str) -> Mapping[str, object]:
    """What it costs in a form of play: of several acts together, of a drop, or of the act alone."""
    told = answer.told
    if answer.kind == "drop":
        penalty = {"strokes": told["penalty_strokes"], "hole": ""} if form == "stroke_play" else _dict(told["match_play"])
        return {"disqualified": False, **penalty}
    if "together" in told and told["together"] is None:
        raise Unfit(f"not added up: {told.get('together_why_not')}")
    if told.get("stroke_play") is None and told.get("match_play") is None:
        raise Unfit(f"there is no such act: {told.get('why_none')}")
    side = _dict(told.get("together")).get(form) or told.get(form) or _NOTHING
    return _dict(side)


def _in_form(form: str, member: str) -> Check:
    def check(name: str, expected: object, answer: Answer) -> Iterator[str]:
        return _differs(name, expected, _side(answer, form).get(member))

    return check


def _hole(name: str, expected: object, answer: Answer) -> Iterator[str]:
    """A hole that the opponent loses is won."""
    side = _side(answer, "match_play")
    lost = side.get("holes_lost")
    found = "".join(str(hole) for hole in lost) if isinstance(lost, list) else side.get("hole")
    return _differs(name, expected, "won" if found == "lost" and side.get("who") == "opponent" else found)


def _on_top(name: str, expected: object, answer: Answer) -> Iterator[str]:
    return _differs(name, expected, _side(answer, "stroke_play").get("strokes") or 0)


def _member(name: str, expected: object, answer: Answer) -> Iterator[str]:
    return _differs(name, expected, answer.told.get(name))


def _relief_situations(name: str, expected: object, answer: Answer) -> Iterator[str]:
    """Situations to rule on where a thing stays in the way: those expected must be among them."""
    found = _list(answer.told[name])
    yield from (f"{name}: expected {wanted!r} among {found!r}" for wanted in _list(expected) if wanted not in found)


def _act_within(name: str, expected: object, answer: Answer) -> Iterator[str]:
    """What an act leads to that an answer names; what may be moved and leads to no act costs nothing."""
    told = answer.told.get(name)
    if name == "moved":
        told = next(iter(_list(_dict(told).get("acts"))), None)
    act = _dict(told)
    stroke_play, match_play = _dict(act.get("stroke_play")), _dict(act.get("match_play"))
    if told is None and name == "if_moved" and answer.told.get("may_be_moved") == "yes":
        stroke_play = match_play = _NOTHING
    found = {"strokes": stroke_play.get("strokes"), "match_strokes": match_play.get("strokes"), "hole": match_play.get("hole")}
    for member, value in _dict(expected).items():
        yield from _differs(f"{name}, {member}", value, {**act, **found}.get(member))


def _values(name: str, expected: object, answer: Answer) -> Iterator[str]:
    """Values of the rule data behind what is said of a form of play."""
    found = {part: value for line in _list(answer.told["lines"]) for part, value in _dict(_dict(line).get("values")).items()}
    for part, value in _dict(expected).items():
        yield from _differs(f"{name}, {part}", value, found.get(part))


def _lacks(name: str, expected: object, text: str) -> Iterator[str]:
    """Of each list of words the text must hold one, from its first letter on."""
    for words in _list(expected):
        if not any(re.search(rf"\b{re.escape(str(word).lower())}", text) for word in _list(words)):
            yield f"{name}: expected one of {words!r}"


def _told(name: str, expected: object, answer: Answer) -> Iterator[str]:
    return _lacks(name, expected, answer.text)


def _cautions(name: str, expected: object, answer: Answer) -> Iterator[str]:
    return _lacks(name, expected, json.dumps(answer.told["cautions"]).lower())


def _options_of(answer: Answer) -> list[Mapping[str, object]]:
    """Every option besides playing the ball as it lies."""
    options = [_dict(option) for option in _list(answer.told["options"])]
    return [option for option in options if _dict(option["ball"]).get("put") != "as-it-lies"]


def _option_faults(expected: Mapping[str, object], option: Mapping[str, object]) -> Iterator[str]:
    name = str(option["carried_out_as"])
    for member in ("penalty_strokes", "size"):
        if member in expected:
            yield from _differs(f"option {name}, {member}", expected[member], option[member])
    if "put" in expected:
        yield from _differs(f"option {name}, put", expected["put"], _dict(option["ball"])["put"])
    yield from _lacks(f"option {name}, told", expected.get("told", []), json.dumps(option, ensure_ascii=False).lower())


def _among(name: str, expected: object, answer: Answer) -> Iterator[str]:
    """An option that names no procedure is looked for among all of them, by what it costs and measures."""
    options = _options_of(answer)
    for wanted in map(_dict, _list(expected)):
        names = _list(wanted.get("carried_out_as", [option["carried_out_as"] for option in options]))
        fitting = [list(_option_faults(wanted, option)) for option in options if option["carried_out_as"] in names]
        if not fitting:
            yield f"{name}: expected {wanted!r}, found {[option['carried_out_as'] for option in options]!r}"
        elif [] not in fitting:
            yield from fitting[0]


def _all_options(name: str, expected: object, answer: Answer) -> Iterator[str]:
    yield from _among(name, expected, answer)
    if len(found := _options_of(answer)) != len(_list(expected)):
        yield f"{name}: expected {len(_list(expected))}, found {[option['carried_out_as'] for option in found]!r}"


def _none(name: str, answer: Answer) -> Iterator[str]:
    """What is said of every option is not held right where there is none."""
    if not _options_of(answer):
        yield f"{name}: there is no option"


def _which(name: str, expected: object, answer: Answer) -> Iterator[str]:
    for option in _options_of(answer):
        yield from _differs(f"option {option['carried_out_as']}, {name}", expected, _dict(option["ball"]).get("which"))
    yield from _none(name, answer)


def _mandatory(name: str, expected: object, answer: Answer) -> Iterator[str]:
    for option in _options_of(answer):
        yield from _differs(f"option {option['carried_out_as']}, {name}", expected, option["mandatory"])
    yield from _none(name, answer)


def _free_relief(name: str, expected: object, answer: Answer) -> Iterator[str]:
    free = [option for option in _options_of(answer) if option["penalty_strokes"] == 0]
    yield from _differs(name, expected, bool(free))


CHECKS: Mapping[str, Check] = {
    "stroke_play_strokes": _in_form("stroke_play", "strokes"),
    "match_play_strokes": _in_form("match_play", "strokes"),
    "match_play_hole": _hole,
    "over_holes": _in_form("match_play", "over_holes"),
    "holes_deducted": _in_form("match_play", "holes_deducted"),
    "disqualified_stroke_play": _in_form("stroke_play", "disqualified"),
    "disqualified_match_play": _in_form("match_play", "disqualified"),
    "added": _in_form("stroke_play", "added"),
    "on_top": _on_top,
    "told": _told,
    "relief_situations": _relief_situations,
    "if_moved": _act_within,
    "if_ball_moves": _act_within,
    "if_put_back": _act_within,
    "moved": _act_within,
    "values": _values,
    "options": _all_options,
    "among_options": _among,
    "which": _which,
    "mandatory": _mandatory,
    "free_relief": _free_relief,
    "cautions": _cautions,
} | dict.fromkeys(
    ("stroke", "ball", "put_right", "may_be_moved", "kind", "state", "drops_counted", "penalty_strokes") + ("searched_s", "limit_s"),
    _member,
)
