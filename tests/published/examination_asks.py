"""How a question of an examination is asked: a command of the command line in its own process, or a ruling on an incident."""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import msgspec
from click import Command
from click.testing import CliRunner
from shapely.geometry import Point

from marram.answers.rules.ruling_answer import ruling_shape
from marram.cli.act.command import act
from marram.cli.drop.command import drop
from marram.cli.form.command import form
from marram.cli.object.command import object_
from marram.cli.search.command import search
from marram.cli.suspension.command import suspension
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulebook import packaged_catalogue
from marram.rulings import Choice, Incident, Player, PreviousStroke, rule_on
from tests.published.adapter import Unfit, number, numbers
from tests.support.edition_ground import edition_ground
from tests.support.ground import feature

_COMMANDS: Mapping[str, Command] = {
    "act": act,
    "drop": drop,
    "form": form,
    "object": object_,
    "search": search,
    "suspension": suspension,
}
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON)
_NOT_FOUND = "not-found"
_PREVIOUS_AT = (30.0, -250.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was answered.

    Attributes:
        kind: The command that answered; `rule` for a ruling.
        told: The answer under the edition, as outsiders read it.
        read: Gives the same as an official reads it.
    """

    kind: str
    told: Mapping[str, object]
    read: Callable[[], str]

    @property
    def text(self) -> str:
        """What an official reads, in lower case on one line."""
        return " ".join(self.read().split()).lower()


def ask_command(ask: Sequence[str], edition: str) -> Answer:
    """Ask a command under an edition.

    An act is asked under every edition, as the command does of itself, so that a fact which only others read is told and not refused.

    Raises:
        Unfit: The command does not answer.
    """
    kind, *words = ask
    if kind not in _COMMANDS:
        raise Unfit(f"there is no command {kind!r}; expected one of {', '.join(_COMMANDS)}")
    editions = [edition, *(other for other in packaged_catalogue().editions if other != edition)] if kind == "act" else [edition]
    books = [word for name in editions for word in ("--book", name)]
    told = json.loads(_output(kind, [*words, *books, "--json"]))["books"][0]
    return Answer(kind=kind, told=told, read=lambda: _output(kind, [*_read_facts(words, told), "--book", edition]))


def _read_facts(words: Sequence[str], told: Mapping[str, object]) -> list[str]:
    """The words of a command without the facts that the edition does not read, which it would refuse alone."""
    unread = {f"{name}={value}" for name in _names(told.get("facts_not_read")) for value in ("true", "false")}
    pairs = zip(words, [*words[1:], ""], strict=True)
    return [word for word, after in pairs if word not in unread and not (word == "--fact" and after in unread)]


def _names(value: object) -> list[str]:
    return [str(name) for name in value] if isinstance(value, list) else []


def _output(kind: str, words: Sequence[str]) -> str:
    done = CliRunner().invoke(_COMMANDS[kind], list(words))
    if done.exit_code != 0:
        raise Unfit(" ".join((done.output or repr(done.exception)).split()) or repr(done.exception))
    return done.stdout


@lru_cache
def _ground() -> Course:
    return edition_ground()


def ask_incident(stated: Mapping[str, object], edition: str) -> Answer:
    """Rule on an incident under an edition, with the local rule that it names, if any."""
    rule = stated.get("local_rule")
    ruling = rule_on(_incident(stated), _ground(), read_book(f"{edition}+{rule}" if rule else edition))
    told = msgspec.json.decode(msgspec.json.encode(ruling_shape(ruling, _ground().frame)), type=dict[str, object])
    return Answer(kind="rule", told=told, read=lambda: json.dumps(told, ensure_ascii=False))


def _incident(stated: Mapping[str, object]) -> Incident:
    facts = stated.get("facts", {})
    if not isinstance(facts, dict):
        raise Unfit(f"facts: expected names with true or false; found {facts!r}")
    previous = _previous(stated)
    return Incident(
        hole=1,
        situation=str(stated["situation"]),
        form=Form.STROKE_PLAY,
        ball=None if stated["ball"] == _NOT_FOUND else _at(stated, "ball"),
        player=_PLAYER,
        facts={name: value is True for name, value in facts.items()},
        crossed_at=_at(stated, "crossed_at"),
        previous_stroke=previous,
        last_stroke_outside=previous,
        estimated_at=_at(stated, "estimated_at"),
        choice=Choice(back_m=5),
        conditions=_conditions(stated),
    )


def _at(stated: Mapping[str, object], name: str) -> Position | None:
    if name not in stated:
        return None
    x_m, y_m = numbers(stated, name)
    return Position(x_m=x_m, y_m=y_m)


def _previous(stated: Mapping[str, object]) -> PreviousStroke:
    area = stated.get("previous_stroke")
    x_m, y_m = _PREVIOUS_AT
    return PreviousStroke(at=Position(x_m=x_m, y_m=y_m), area=None) if area is None else PreviousStroke(at=None, area=Area(str(area)))


def _conditions(stated: Mapping[str, object]) -> tuple[Feature, ...]:
    condition = stated.get("condition")
    if not isinstance(condition, dict):
        return ()
    outline = Point(numbers(condition, "at")).buffer(number(condition, "radius_m"))
    return (feature("met-today", FeatureKind(str(condition["kind"])), outline, what=str(condition["what"])),)
