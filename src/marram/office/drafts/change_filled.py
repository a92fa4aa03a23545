"""One change as it is filled in on a form: read into the members of its file, every fault beside its field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from marram.core.words import odd_sign
from marram.office.drafts.offered_field import read_filled
from marram.records.outcomes import Weighing, outcomes
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Standing
from marram.rulebook.overlays.trial_terms import Direction
from marram.rulebook.values import ABSENT, plain_value

_LONGEST, _MOST = 2_000, 1e9
_WRITTEN_HERE = ("key", "was", "now", "because", "standing", "aim", "expects", "guards", "observes", "asks", "conditions", "add")


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What stands in the fields of a change, as it was typed.

    Attributes:
        key: The key; empty for a relief that is new.
        now: The new value.
        because: Why.
        aim: What it is for.
        asks: Questions to players.
        is_local_rule: Whether a Committee may adopt it.
        outcome: The outcome that is to show it.
        direction: Which way it should go.
        matters: The smallest effect that matters.
        guards: What must not get worse: an outcome, by how much it may, and which way is worse.
        observes: What is recorded besides.
        is_anew: Whether what the book holds now takes the place of a value that has moved.
    """

    key: str = ""
    now: str = ""
    because: str = ""
    aim: str = ""
    asks: tuple[str, ...] = ()
    is_local_rule: bool = False
    outcome: str = ""
    direction: str = Direction.DOWN.value
    matters: str = ""
    guards: tuple[tuple[str, str, str], ...] = ()
    observes: tuple[str, ...] = ()
    is_anew: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadChange:
    """A change as it was read from a form.

    Attributes:
        members: Its members as a file has them; those that could not be read are not there.
        faults: What is wrong, by field.
    """

    members: dict[str, object]
    faults: dict[str, str] = field(default_factory=dict)


def filled_from(members: Mapping[str, object]) -> Filled:
    """What the fields of a change show that a file holds; its new value is told apart from them."""
    expects = members.get("expects")
    told = expects if isinstance(expects, Mapping) else {}
    listed = members.get("guards")
    guards = [entry for entry in (listed if isinstance(listed, list) else [listed]) if isinstance(entry, Mapping)]
    return Filled(
        key=_text(members.get("key")),
        because=_text(members.get("because")),
        aim=_text(members.get("aim")),
        asks=_texts(members.get("asks")),
        is_local_rule=members.get("standing") == Standing.LOCAL_RULE.value,
        outcome=_text(told.get("outcome")),
        direction=_text(told.get("direction")) or Direction.DOWN.value,
        matters=_figure(told.get("matters")),
        guards=tuple((_text(entry.get("outcome")), _figure(entry.get("margin")), _text(entry.get("worse"))) for entry in guards),
        observes=_texts(members.get("observes")),
    )


def read_change(book: Book, filled: Filled, before: Mapping[str, object] | None = None) -> ReadChange:
    """Read a filled change of a key.

    Args:
        book: The book that it changes.
        filled: What stands in the fields.
        before: The change as the file holds it; None for a new one.
    """
    read = read_wishes(filled, before)
    value, fault = read_filled(book, filled.key, filled.now)
    if value is None:
        read.faults["now"] = fault or "The new value is not given yet."
    held = plain_value(book.cited(filled.key).value if book.has(filled.key) else ABSENT)
    keeps = before is not None and before.get("key") == filled.key and not filled.is_anew
    was = before["was"] if before is not None and keeps and "was" in before else held
    told: dict[str, object] = {"key": filled.key, "was": was}
    if value is not None:
        told["now"] = plain_value(value)
    return ReadChange(members=_ordered(read.members | told), faults=read.faults)


def read_wishes(filled: Filled, before: Mapping[str, object] | None) -> ReadChange:
    """Read what a filled change says besides its value: why, what for, what would show it, and what players are asked.

    Args:
        filled: What stands in the fields.
        before: The change as the file holds it; None for a new one. What a form has no field for is kept.
    """
    faults: dict[str, str] = {}
    kept = {name: value for name, value in (before or {}).items() if name not in _WRITTEN_HERE}
    told: dict[str, object] = dict(kept)
    for name, text in (("because", filled.because), ("aim", filled.aim)):
        if text.strip():
            told[name] = text.strip()
        faults |= _fault_of_text(name, text)
    if not filled.because.strip():
        faults["because"] = "Say in one sentence why; the trial file needs it."
    if filled.is_local_rule:
        told["standing"] = Standing.LOCAL_RULE.value
    elif before is not None and "standing" in before:
        told["standing"] = Standing.UNOFFICIAL.value
    if asks := [text.strip() for text in filled.asks if text.strip()]:
        told["asks"] = asks
    faults |= _fault_of_text("asks", "\n".join(filled.asks))
    expects, guards = _expects(filled, faults), _guards(filled, faults)
    told |= ({"expects": expects} if expects else {}) | ({"guards": guards} if guards else {})
    named = _outcomes_named({"expects": expects, "guards": guards}) - _outcomes_named(before or {})
    wanted = dict.fromkeys(name for name in (*filled.observes, *sorted(named)) if name in outcomes())
    order = _texts((before or {}).get("observes"))
    observes = [name for name in order if name in wanted] + [name for name in wanted if name not in order]
    told |= {"observes": observes} if observes else {}
    return ReadChange(members=_ordered(told), faults=faults)


def _outcomes_named(members: Mapping[str, object]) -> set[str]:
    """Outcomes by which a change is judged: they are recorded too, once they are named."""
    held = filled_from(members)
    return {name for name in (held.outcome, *(outcome for outcome, _, _ in held.guards)) if name}


def _fault_of_text(name: str, text: str) -> dict[str, str]:
    if len(text) > _LONGEST:
        return {name: f"That is {len(text)} letters long; up to {_LONGEST} can be read by anybody."}
    sign = odd_sign(text, is_name=False)
    return {name: f"It holds the sign {sign}, which is not seen; write it without."} if sign else {}


def _expects(filled: Filled, faults: dict[str, str]) -> dict[str, object]:
    if not filled.outcome:
        if filled.matters.strip():
            faults["outcome"] = "Choose what would show it."
        return {}
    amount = _amount("matters", filled.matters, filled.outcome, faults)
    if filled.direction not in list(Direction):
        faults["direction"] = "Choose whether it should go down or up."
    return {} if amount is None else {"outcome": filled.outcome, "direction": filled.direction, "matters": amount}


def _guards(filled: Filled, faults: dict[str, str]) -> list[dict[str, object]]:
    found: list[dict[str, object]] = []
    for number, (outcome, margin, worse) in enumerate(filled.guards):
        if not outcome:
            if margin.strip():
                faults[f"guard.{number}.outcome"] = "Choose what must not get worse."
            continue
        if outcome == filled.outcome:
            faults[f"guard.{number}.outcome"] = (
                "One thing cannot be both what shows the change and what must not get worse; choose another."
            )
        amount = _amount(f"guard.{number}.margin", margin, outcome, faults)
        if amount is not None:
            guard: dict[str, object] = {"outcome": outcome, "margin": amount}
            found.append(guard | ({"worse": worse} if worse else {}))
    return found


def _amount(name: str, text: str, outcome: str, faults: dict[str, str]) -> float | int | None:
    """A number above zero as it is typed, with a point or a comma; of what is yes or no a part of one."""
    known = outcomes().get(outcome)
    if known is None:
        faults[name] = "Nothing of that name is observed; choose one of the list."
        return None
    typed = text.strip().replace(",", ".")
    try:
        amount = float(typed)
    except ValueError:
        faults[name] = (
            f"{text.strip()[:40]!r} is no number; give one above zero, in {known.effect_unit}."
            if typed
            else f"Give a number above zero, in {known.effect_unit}."
        )
        return None
    if not 0 < amount <= _MOST:
        faults[name] = f"Give a number above zero, in {known.effect_unit}."
        return None
    if known.kind is Weighing.SHARE and amount >= 1:
        faults[name] = "This is a share of all: give a part of one, such as 0.1 for ten in a hundred."
        return None
    return int(amount) if amount.is_integer() else amount


def _ordered(members: Mapping[str, object]) -> dict[str, object]:
    """Members in the order in which a file is read best; those of no form at the end of the plain ones."""
    order = {name: place for place, name in enumerate(_WRITTEN_HERE)}
    plain = sorted(members, key=lambda name: order.get(name, order["asks"] + 0.5))
    return {name: members[name] for name in plain}


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""


def _texts(value: object) -> tuple[str, ...]:
    return tuple(entry for entry in value if isinstance(entry, str)) if isinstance(value, Sequence) and not isinstance(value, str) else ()


def _figure(value: object) -> str:
    return f"{value:.12g}" if isinstance(value, int | float) and not isinstance(value, bool) else ""
