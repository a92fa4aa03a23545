"""The catalogue of facts: what each is called, the question that settles it, and which cannot be true together."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from marram.core.errors import DataError
from marram.core.words import as_told
from marram.rulebook.values import nearest_names

_MEMBERS = {"name", "question", "excludes", "in", "answer"}
_LIST = "fact"


class Settled(StrEnum):
    """What settles a fact."""

    YES_NO = "yes-no"
    PLACE = "place"
    LENGTH = "length"
    SIDE = "side"
    MARK = "mark"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """Something that is so or is not so, and that an answer may turn on.

    Attributes:
        name: What the rule data calls it.
        question: The question that settles it, with terms of the edition in braces.
        by_edition: The question of an edition that asks otherwise.
        excludes: Facts that cannot be true together with it.
        answer: What the question asks for.
    """

    name: str
    question: str
    by_edition: Mapping[str, str]
    excludes: tuple[str, ...]
    answer: Settled

    def asked_in(self, edition: str) -> str:
        """The question as an edition asks it."""
        return self.by_edition.get(edition, self.question)


Facts = Mapping[str, Fact]


def parse_facts(raw: Mapping[str, object], editions: Collection[str]) -> tuple[dict[str, Fact], list[str]]:
    """Read the catalogue.

    Args:
        raw: What its file holds.
        editions: Names of the editions.

    Returns:
        The facts by name, and every fault.
    """
    facts: dict[str, Fact] = {}
    faults = [f"unknown member {member!r}; the file is a list of [[{_LIST}]]" for member in raw.keys() - {_LIST}]
    for entry in _list(raw, _LIST):
        table = entry if isinstance(entry, dict) else {}
        name = str(table.get("name", ""))
        faults += [f"{name}: it stands twice"] if name in facts else []
        faults += [f"{name}: {fault}" for fault in _faults_of(table, editions)]
        answer = table.get("answer", Settled.YES_NO)
        facts[name] = Fact(
            name=name,
            question=str(table.get("question", "")),
            by_edition={str(edition): str(question) for edition, question in _table(table, "in").items()},
            excludes=tuple(map(str, _list(table, "excludes"))),
            answer=Settled(answer) if answer in list(Settled) else Settled.YES_NO,
        )
    return facts, [*faults, *_one_sided(facts)]


def _faults_of(table: Mapping[str, object], editions: Collection[str]) -> Iterator[str]:
    if not table.get("name"):
        yield "name is missing"
    for member in table.keys() - _MEMBERS:
        yield f"unknown member {member!r}; a fact has {', '.join(sorted(_MEMBERS))}"
    questions = [table.get("question", ""), *_table(table, "in").values()]
    if not all(isinstance(question, str) and question.endswith("?") for question in questions):
        yield "a question that ends with ? is needed"
    for edition in _table(table, "in").keys() - set(editions):
        yield f"unknown edition {edition!r}"
    if table.get("answer", Settled.YES_NO) not in list(Settled):
        yield f"answer must be one of {', '.join(Settled)}"


def _one_sided(facts: Facts) -> Iterator[str]:
    """Exclusions that name no fact, or that the other fact does not name."""
    for fact in facts.values():
        for other in fact.excludes:
            if other not in facts:
                yield f"{fact.name}: excludes {other}, and there is no such fact"
            elif fact.name not in facts[other].excludes or fact.name == other:
                yield f"{fact.name}: excludes {other}, and {other} does not exclude it"


def _table(raw: Mapping[str, object], name: str) -> Mapping[str, object]:
    table = raw.get(name, {})
    return table if isinstance(table, dict) else {}


def _list(raw: Mapping[str, object], name: str) -> list[object]:
    entries = raw.get(name, [])
    return entries if isinstance(entries, list) else []


def yes_no_facts(facts: Facts) -> tuple[str, ...]:
    """Names of the facts that are true or false."""
    return tuple(fact.name for fact in facts.values() if fact.answer is Settled.YES_NO)


def unknown_fact(name: str, facts: Facts) -> str:
    """What to say of a name that is no fact; empty where it is one."""
    if name in facts and facts[name].answer is Settled.YES_NO:
        return ""
    near = nearest_names(name, yes_no_facts(facts))
    return f"there is no fact {name!r} in facts.toml; nearest: {', '.join(near)}" if near else f"there is no fact {name!r} in facts.toml"


def as_named(asked: str) -> str:
    """A fact as it was typed, written as the catalogue writes names: capitals, hyphens and spaces are forgiven."""
    return asked.strip().lower().replace("-", "_").replace(" ", "_")


def known_fact(asked: str, facts: Facts, *, field: str, read: Collection[str] = ()) -> str:
    """The fact that somebody means.

    Args:
        asked: What was typed.
        facts: The catalogue.
        field: The field that it was stated in.
        read: The facts that are read there, to be named in an error.

    Raises:
        DataError: There is no such fact; the error names the nearest.
    """
    name = as_named(asked)
    known = yes_no_facts(facts)
    if name in known:
        return name
    near = nearest_names(name, known)
    told = [f"Nearest: {', '.join(map(as_told, near))}."] if near else []
    told += [f"Read here: {', '.join(map(as_told, read))}."] if read else []
    raise DataError(f"There is no fact {asked!r}.", field=field, hint=" ".join([*told, "`list_facts()` lists all."]))


def refuse_contradiction(stated: Mapping[str, bool], facts: Facts, *, where: str = "", field: str = "") -> None:
    """See that no two facts stated true exclude each other.

    Raises:
        DataError: Two do; the error says which, with their questions.
    """
    for one, other in _excluding(stated, facts):
        raise DataError(
            f"{as_told(one)} and {as_told(other)} cannot both be true.",
            where=where,
            field=field,
            hint=f"State one as false, or leave it out. {facts[one].question} {facts[other].question}",
        )


def _excluding(stated: Mapping[str, bool], facts: Facts) -> Iterable[tuple[str, str]]:
    true = [name for name, value in stated.items() if value]
    for number, name in enumerate(true):
        yield from ((name, other) for other in true[number + 1 :] if other in facts[name].excludes)


def is_settled_by(name: str, stated: Mapping[str, bool], facts: Facts) -> bool:
    """Whether a fact cannot be true any more, since one that excludes it is stated true."""
    return any(stated.get(other) for other in facts[name].excludes)
