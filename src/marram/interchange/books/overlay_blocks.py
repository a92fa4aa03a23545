"""The text of a trial file in blocks, so that one change is rewritten and every other line, remark and order stays as somebody wrote it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, replace

import tomlkit

from marram.core.errors import RuleDataError
from marram.core.toml_text import read_toml
from marram.interchange.books.overlay_writing import change_lines, toml_value

HEAD, CHANGE, CLARIFICATION = "head", "change", "clarification"
_BEGINS = re.compile(r"\s*\[\[\s*(change|clarification)\s*\]\]")
_ANY_TABLE = re.compile(r"\s*\[")
_HINT = "Write each change as a [[change]] table of its own: docs/formats/overlay.md."


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A part of a trial file.

    Attributes:
        kind: What it is: the head, a change or a clarification.
        text: Its lines, with the remarks right above it.
    """

    kind: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialText:
    """A trial file in blocks, in their order.

    Attributes:
        blocks: The blocks; the first is the head.
    """

    blocks: tuple[Block, ...]

    @property
    def text(self) -> str:
        """The whole text."""
        return "".join(block.text for block in self.blocks)

    @property
    def changes(self) -> tuple[Mapping[str, object], ...]:
        """Members of each change, in order."""
        return tuple(_members(block) for block in self.blocks if block.kind == CHANGE)

    def with_head(self, members: Mapping[str, object]) -> TrialText:
        """The text with other members in its head.

        Args:
            members: What each is to be; None for one that is to go.
        """
        head, *others = self.blocks
        return TrialText(blocks=(replace(head, text=_edited(head.text, members, None)), *others))

    def with_change(self, number: int, members: Mapping[str, object]) -> TrialText:
        """The text with a change as its members say; members that stay keep their lines and remarks.

        Args:
            number: Number of the change; one more than there are for a new one.
            members: All members of the change.
        """
        places = self._places()
        if number > len(places):
            fresh = "\n".join(change_lines(members)) + "\n"
            return TrialText(blocks=(*self._ended(), Block(kind=CHANGE, text=fresh)))
        at = places[number - 1]
        before = _members(self.blocks[at])
        gone = dict.fromkeys(before.keys() - members.keys())
        text = _edited(self.blocks[at].text, {**members, **gone}, members)
        return TrialText(blocks=(*self.blocks[:at], replace(self.blocks[at], text=text), *self.blocks[at + 1 :]))

    def in_order(self, numbers: Sequence[int]) -> TrialText:
        """The text with its changes in another order, or some of them left out; clarifications go with their changes.

        Args:
            numbers: The numbers of the changes that stay, in their new order.
        """
        places = self._places()
        wanted = iter([self.blocks[places[number - 1]] for number in numbers])
        anew = {number: place for place, number in enumerate(numbers, start=1)}
        kept = [
            told
            for block in self._ended()
            for told in ([next(wanted, None)] if block.kind == CHANGE else [_renumbered(block, anew)])
            if told is not None
        ]
        return TrialText(blocks=tuple(kept))

    def _places(self) -> list[int]:
        return [at for at, block in enumerate(self.blocks) if block.kind == CHANGE]

    def _ended(self) -> tuple[Block, ...]:
        """The blocks, the last with an end of its line."""
        return tuple(
            replace(block, text=block.text if block.text.endswith("\n") or not block.text else f"{block.text}\n") for block in self.blocks
        )


def read_blocks(text: str, *, where: str) -> TrialText:
    """Take the text of a trial file apart.

    Args:
        text: The text.
        where: Name of the file, for errors.

    Raises:
        RuleDataError: It is no TOML, or its changes are no tables of their own, so that one cannot be rewritten without the others.
    """
    raw = read_toml(text, where=where, hint=_HINT, error=RuleDataError)
    blocks = tuple(_blocks(text))
    found: dict[str, list[object]] = {CHANGE: [], CLARIFICATION: []}
    try:
        for block in blocks[1:]:
            found[block.kind].append(_members(block))
        head = dict(tomlkit.parse(blocks[0].text).unwrap())
    except (ValueError, LookupError, RecursionError):
        head = {}
    is_whole = all(list(_listed(raw, kind)) == members for kind, members in found.items())
    if not is_whole or head != {name: value for name, value in raw.items() if name not in found}:
        raise RuleDataError(
            "The changes of this file cannot be told apart line by line, so nothing of it is rewritten.", where=where, hint=_HINT
        )
    return TrialText(blocks=blocks)


def _listed(raw: Mapping[str, object], kind: str) -> Sequence[object]:
    listed = raw.get(kind, [])
    return listed if isinstance(listed, list) else [listed]


def _blocks(text: str) -> Iterator[Block]:
    kind, lines = HEAD, list[str]()
    for line in text.splitlines(keepends=True):
        begun = _BEGINS.match(line)
        if begun is None:
            lines.append(line)
            continue
        above = _remarks_above(lines)
        yield Block(kind=kind, text="".join(lines[: len(lines) - above]))
        kind, lines = begun[1], [*lines[len(lines) - above :], line]
    yield Block(kind=kind, text="".join(lines))


def _remarks_above(lines: Sequence[str]) -> int:
    """How many of the last lines belong to what follows: the remarks right above it, and the empty lines before these."""
    count = 0
    while count < len(lines) and lines[-1 - count].lstrip().startswith("#"):
        count += 1
    if count == len(lines):
        return 0  # remarks at the top of a file are about all of it
    while count < len(lines) and not lines[-1 - count].strip():
        count += 1
    return count


def _members(block: Block) -> dict[str, object]:
    (members,) = tomlkit.parse(block.text).unwrap()[block.kind]
    return dict(members)


def _renumbered(block: Block, anew: Mapping[int, int]) -> Block | None:
    """A clarification with the number that its change has now; None where that change is gone."""
    if block.kind != CLARIFICATION or "change" not in (members := _members(block)):
        return block
    number = anew.get(int(members["change"])) if isinstance(members["change"], int) else None
    if number is None:
        return None
    document = tomlkit.parse(block.text)
    document[CLARIFICATION][0]["change"] = number
    return replace(block, text=tomlkit.dumps(document))


def _edited(text: str, members: Mapping[str, object], whole: Mapping[str, object] | None) -> str:
    """A block with other members; where the lines cannot be edited one by one, written anew below its remarks.

    Args:
        text: The block.
        members: What each member is to be; None for one that is to go.
        whole: All members of a change, as they must be read back; None for the head.
    """
    document = tomlkit.parse(text)
    table = document[CHANGE][0] if whole is not None else document
    for name, value in members.items():
        if value is None:
            table.pop(name, None)
        elif table.get(name) != value:
            _put(table, name, value)
    written = tomlkit.dumps(document)
    if whole is None or _reads_as(written, whole):
        return written
    remarks = [f"{line.strip()}\n" for line in text.splitlines() if line.lstrip().startswith("#")]
    return "".join(["\n", *remarks, *("\n".join(list(change_lines(whole))[1:]), "\n")])


def _put(table: MutableMapping[str, object], name: str, value: object) -> None:
    """Put a member; a table of rows part by part, so that what stays keeps its lines."""
    inner = table.get(name)
    if not isinstance(value, dict) or name not in {"add", "conditions"} or not isinstance(inner, MutableMapping):
        table[name] = _item(value)
        return
    for entry in [entry for entry in inner if entry not in value]:
        inner.pop(entry)
    for entry, parts in value.items():
        row = inner.get(entry)
        if not isinstance(row, MutableMapping):
            inner[entry] = parts
            continue
        for part in [part for part in row if part not in parts]:
            row.pop(part)
        for part, told in parts.items():
            if row.get(part) != told:
                row[part] = _item(told)


def _item(value: object) -> object:
    return tomlkit.parse(f"value = {toml_value(value)}\n")["value"]


def _reads_as(text: str, whole: Mapping[str, object]) -> bool:
    try:
        return _members(Block(kind=CHANGE, text=text)) == dict(whole)
    except (ValueError, LookupError):
        return False
