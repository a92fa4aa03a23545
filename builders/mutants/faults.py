"""The small faults: which places can be wrong, which of them are taken, and the source with one of them in it.

The operators are those of cosmic-ray that make a slip which a person makes. A place is taken by a number drawn from the seed, the file and
the text of its line, so that a change elsewhere does not move the choice.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators import binary_operator_replacement as binary
from cosmic_ray.operators import boolean_replacer as boolean
from cosmic_ray.operators import comparison_operator_replacement as comparison
from cosmic_ray.operators import unary_operator_replacement as unary
from cosmic_ray.operators.break_continue import ReplaceBreakWithContinue, ReplaceContinueWithBreak
from cosmic_ray.operators.number_replacer import NumberReplacer
from cosmic_ray.operators.operator import Operator
from cosmic_ray.operators.zero_iteration_for_loop import ZeroIterationForLoop

# A slip of a person: the neighbour of a comparison, the other sign, a condition turned round, a number one off.
COMPARED = ("Lt_LtE", "LtE_Lt", "Gt_GtE", "GtE_Gt", "Lt_Gt", "LtE_GtE", "Gt_Lt", "GtE_LtE", "Eq_NotEq", "NotEq_Eq", "Is_IsNot", "IsNot_Is")
REPLACED = ("Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "BitAnd_BitOr", "BitOr_BitAnd")
OPERATORS: tuple[Operator, ...] = (
    *(getattr(comparison, f"ReplaceComparisonOperator_{name}")() for name in COMPARED),
    *(getattr(binary, f"ReplaceBinaryOperator_{name}")() for name in REPLACED),
    unary.ReplaceUnaryOperator_Delete_Not(),
    unary.ReplaceUnaryOperator_Delete_USub(),
    boolean.AddNot(),
    boolean.ReplaceAndWithOr(),
    boolean.ReplaceOrWithAnd(),
    boolean.ReplaceTrueWithFalse(),
    boolean.ReplaceFalseWithTrue(),
    NumberReplacer(),
    ReplaceBreakWithContinue(),
    ReplaceContinueWithBreak(),
    ZeroIterationForLoop(),
)


Span = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One small fault: where it is, what stood there, what stands there now, and the whole source with it."""

    file: str
    function: str
    line: int
    before: str
    after: str
    source: str

    @property
    def name(self) -> tuple[str, str, str, str]:
        """What tells this fault from others, whatever is written above it."""
        return (self.file, self.function, self.before, self.after)


def choose_faults(root: Path, package: str, seed: str, number: int) -> list[Fault]:
    """The faults of a package that a seed takes: one at each place, at the places with the smallest drawn numbers."""
    files = {path.relative_to(root).as_posix(): path.read_text(encoding="utf-8") for path in sorted((root / package).rglob("*.py"))}
    drawn = sorted((key, name, place) for name, source in files.items() for key, place in draw_places(name, source, seed))
    faults = (make_fault(name, files[name], place, key) for key, name, place in drawn)
    taken = [fault for fault, _ in zip((fault for fault in faults if fault is not None), range(number), strict=False)]
    return sorted(taken, key=lambda fault: (fault.file, fault.line, fault.name))


def draw_places(name: str, source: str, seed: str) -> Iterator[tuple[str, Span]]:
    """Each place of a source that can be wrong, with the number that the seed draws for it."""
    lines, seen = source.splitlines(), dict[tuple[str, int], int]()
    for line, column in find_places(source):
        text = lines[line - 1].strip()
        at = (text, column - len(lines[line - 1]) + len(lines[line - 1].lstrip()))
        seen[at] = seen.get(at, 0) + 1
        yield sha256(f"{seed}|{name}|{at}|{seen[at]}".encode()).hexdigest(), (line, column)


def find_places(source: str) -> list[Span]:
    """Line and column of whatever an operator can change, but for what types alone read."""
    closed = list(find_closed(source))
    starts = {start for _, _, start in find_changes(source)}
    return sorted(start for start in starts if not any(first <= start < last for first, last in closed))


@lru_cache(maxsize=2)
def find_changes(source: str) -> list[tuple[Operator, int, Span]]:
    """Each change that the operators can make in a source: operator, which of its occurrences, and where."""
    nodes = list(ast_nodes(get_ast(source)))
    found = []
    for operator in OPERATORS:
        places = [(node, start) for node in nodes for start, _ in operator.mutation_positions(node)]
        # The bare star of a signature is no product, whatever the operator thinks.
        found += [
            (operator, nth, start) for nth, (node, start) in enumerate(places) if node.parent is None or node.parent.type != "parameters"
        ]
    return found


def find_closed(source: str) -> Iterator[tuple[Span, Span]]:
    """Where no fault is put: annotations, names for types, and decorators, which say what mypy checks and nothing that is decided."""
    for node in ast.walk(ast.parse(source)):
        inner: list[ast.expr | None] = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        inner += getattr(node, "decorator_list", [])
        if isinstance(node, ast.Assign) and all(
            isinstance(part, ast.BinOp | ast.BitOr | ast.Name | ast.Load) for part in ast.walk(node.value)
        ):
            inner.append(node.value)
        for part in inner:
            if part is not None:
                yield (part.lineno, part.col_offset), (part.end_lineno or part.lineno, part.end_col_offset or 0)


def make_fault(name: str, source: str, place: Span, key: str) -> Fault | None:
    """The fault at a place: of the changes that can be made there, the one that its number takes; None when none changes a thing."""
    changes = [(operator, nth) for operator, nth, start in find_changes(source) if start == place]
    turn = int(key[:8], 16) % len(changes)
    texts = (mutate_code(source, operator, nth) for operator, nth in changes[turn:] + changes[:turn])
    text = next((text for text in texts if text is not None and is_other_code(source, text)), None)
    if text is None:
        return None
    old, new = source.splitlines(), text.splitlines()
    at = next(index for index, (one, other) in enumerate(zip(old, new, strict=False)) if one != other)
    after = re.sub(r"(?<=[ (\[{]) +", "", new[at].strip())
    return Fault(file=name, function=name_place(source, at + 1), line=at + 1, before=old[at].strip(), after=after, source=text)


def is_other_code(source: str, text: str) -> bool:
    """Whether a changed source can be read and says something else."""
    try:
        return dump(text) != dump(source)
    except SyntaxError:
        return False


@lru_cache(maxsize=4)
def dump(source: str) -> str:
    """What a source says, whatever its spaces."""
    return ast.dump(ast.parse(source))


def name_place(source: str, line: int) -> str:
    """The function or class in which a line stands, from outside to inside; ``module`` when it stands in none."""
    return ".".join(node.name for node in find_around(source, line)) or "module"


def find_around(source: str, line: int) -> list[ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef]:
    """The functions and classes around a line, the outermost first."""
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    around = [node for node in ast.walk(ast.parse(source)) if isinstance(node, kinds)]
    return sorted((node for node in around if node.lineno <= line <= (node.end_lineno or line)), key=lambda node: node.lineno)
