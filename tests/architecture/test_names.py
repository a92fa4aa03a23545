"""Rules differ by data, never by code: no test of an edition, no year in a name, no heavy library before it is needed.

The checker reads syntax trees, so that it sees through formatting and never trips over comments or docstrings.
"""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "src" / "marram"
RULE_DATA = PACKAGE / "rulebook" / "data"

EDITION_TEXT = re.compile(r"([a-z]+-)?(19|20)\d\d(?!\d)")
EDITION_YEARS = range(1900, 2100)
"""Any year may be that of an edition, of one still to come too."""
YEAR_IN_NAME = re.compile(r"(?<!\d)(19|20)\d\d(?!\d)")

HEAVY = frozenset({"numba", "pandas", "scipy", "statsmodels"})
# module -> the heavy libraries it owns and may import at the top
HEAVY_AT_THE_TOP: dict[str, frozenset[str]] = {"marram.relief.marking.kernel": frozenset({"numba"})}


def is_edition(node: ast.AST) -> bool:
    """Whether a node is a literal that names an edition of the rules."""
    if not isinstance(node, ast.Constant):
        return False
    if isinstance(node.value, str):
        return EDITION_TEXT.match(node.value) is not None
    return type(node.value) is int and node.value in EDITION_YEARS


def names_an_edition(*nodes: ast.AST) -> bool:
    """Whether an edition literal stands anywhere inside the nodes."""
    return any(is_edition(inner) for node in nodes for inner in ast.walk(node))


def asks_for_prefix(node: ast.AST) -> bool:
    """Whether a node is a call such as `edition.startswith("2019")`."""
    return (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in {"startswith", "endswith"}
        and names_an_edition(*node.args)
    )


def find_edition_tests(tree: ast.AST) -> Iterator[str]:
    """Places where code decides by the name or the year of an edition: comparisons, cases, look-up tables."""
    for node in ast.walk(tree):
        match node:
            case ast.Compare(lineno=line) if names_an_edition(node):
                yield f"line {line}: compares with an edition"
            case ast.MatchValue(lineno=line, value=value) if is_edition(value):
                yield f"line {line}: a case for an edition"
            case ast.Dict(lineno=line, keys=keys) if any(key is not None and is_edition(key) for key in keys):
                yield f"line {line}: a look-up table by edition"
            case ast.Call(lineno=line) if asks_for_prefix(node):
                yield f"line {line}: compares with an edition"


def list_names(node: ast.AST) -> list[str]:
    """The names that a node gives to something."""
    match node:
        case ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name) | ast.ClassDef(name=name):
            return [name]
        case ast.Name(id=name) | ast.Attribute(attr=name) | ast.arg(arg=name):
            return [name]
        case ast.keyword(arg=name) | ast.ExceptHandler(name=name) | ast.MatchAs(name=name) | ast.MatchStar(name=name):
            return [name] if name else []
        case ast.alias(name=name, asname=other):
            return [name, other] if other else [name]
    return []


def find_years_in_names(tree: ast.AST) -> Iterator[str]:
    """Names of functions, classes, variables and keywords that hold a year."""
    for node in ast.walk(tree):
        for name in list_names(node):
            if YEAR_IN_NAME.search(name):
                yield f"line {getattr(node, 'lineno', '?')}: a year in the name {name}"


def list_top_statements(statements: list[ast.stmt]) -> Iterator[ast.stmt]:
    """Statements that run when a module is imported; blocks under TYPE_CHECKING do not."""
    for statement in statements:
        if isinstance(statement, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        if isinstance(statement, ast.If) and ast.unparse(statement.test).endswith("TYPE_CHECKING"):
            yield from list_top_statements(statement.orelse)
            continue
        yield statement
        for field in ("body", "orelse", "finalbody"):
            yield from list_top_statements(getattr(statement, field, []))
        for handler in getattr(statement, "handlers", []):
            yield from list_top_statements(handler.body)


def find_heavy_imports(tree: ast.Module, *, allowed: frozenset[str] = frozenset()) -> Iterator[str]:
    """Heavy libraries that a module imports as soon as it is imported itself."""
    for statement in list_top_statements(tree.body):
        match statement:
            case ast.Import(lineno=line, names=names):
                roots = {alias.name.partition(".")[0] for alias in names}
            case ast.ImportFrom(lineno=line, module=str(module), level=0):
                roots = {module.partition(".")[0]}
            case _:
                continue
        for root in sorted(roots & HEAVY - allowed):
            yield f"line {line}: imports {root} at the top of the module"


def find_faults(path: Path) -> list[str]:
    """Every fault of one module of the package."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    module = ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)
    faults = [*find_edition_tests(tree), *find_years_in_names(tree)]
    faults += find_heavy_imports(tree, allowed=HEAVY_AT_THE_TOP.get(module, frozenset()))
    if YEAR_IN_NAME.search(module):
        faults.append(f"a year in the name of the module {module}")
    return [f"{module}: {fault}" for fault in faults]


def list_own_names(table: dict[str, object]) -> Iterator[str]:
    """The names that a file of rule data gives: rows, parts, words; the name of an edition itself is none."""
    for key, value in table.items():
        if not EDITION_TEXT.fullmatch(key):
            yield key
        if key == "words" and isinstance(value, list):
            yield from (str(word) for word in value)
        if isinstance(value, dict):
            yield from list_own_names(value)


def test_the_package_has_no_such_faults() -> None:
    modules = sorted(PACKAGE.rglob("*.py"))
    assert modules, "no modules found: the check would pass without looking at anything"
    assert [fault for path in modules for fault in find_faults(path)] == []


def test_the_rule_data_has_no_year_in_a_name() -> None:
    files = sorted(RULE_DATA.glob("*.toml"))
    assert files, "no rule data found: the check would pass without looking at anything"
    named = ((path, name) for path in files for name in list_own_names(tomllib.loads(path.read_text(encoding="utf-8"))))
    years = [f"{path.name}: {name}" for path, name in named if YEAR_IN_NAME.search(name)]
    assert years == []


@pytest.mark.parametrize(
    "code",
    [
        'if edition == "2019": pass',
        'if "draft-2017" != book.edition: pass',
        'if book.edition in ("2016", "2019"): pass',
        'if book.edition not in {"2023"}: pass',
        'if "2019" <= edition: pass',
        "if book.year >= 2019: pass",
        "if day < date(2019, 1, 1): pass",
        'limit = 5 if edition == "2016" else 3',
        'rows = [row for row in rows if row.edition == "2023"]',
        'match edition:\n    case "2016": pass',
        'match edition:\n    case "2016" | "2019": pass',
        'limit = {"2016": 5, "2019": 3}[edition]',
        'if edition.startswith("2019"): pass',
        'if edition == "2019+trial.toml": pass',
        'if edition == "2027": pass',
        'if edition == "draft-2031": pass',
        'if edition.startswith("1984"): pass',
        "if book.year < 2031: pass",
    ],
)
def test_a_test_of_an_edition_is_seen(code: str) -> None:
    assert list(find_edition_tests(ast.parse(code))) != []


@pytest.mark.parametrize(
    "code",
    [
        'DEFAULT = "2019"',
        'book = open_book("2019")',
        'EDITIONS = ("2016", "draft-2017", "2019", "2023")',
        "if edition == other: pass",
        "if count == 20190: pass",
        "if is_set == True: pass",
        '"""Compare the editions 2016 == 2019."""',
    ],
)
def test_what_tests_no_edition_is_let_through(code: str) -> None:
    assert list(find_edition_tests(ast.parse(code))) == []


@pytest.mark.parametrize(
    "code",
    [
        "def drop_2019(): pass",
        "async def drop_2019(): pass",
        "class Rules2016: pass",
        "limit_2019 = 3",
        "self.limit_2019 = 3",
        "limit_2019: int = 3",
        "def drop(*, as_in_2019): pass",
        "drop(as_in_2019=True)",
        "import rules2019",
        "from rules import drop as drop_1984",
        "for row_2023 in rows: pass",
        "def drop_as_in_2027(): pass",
        "class Rules2031: pass",
        "key = lambda old_2016: 1",
        "match rows:\n    case [first, *rest_2016]: pass",
        "try: pass\nexcept ValueError as from_2016: pass",
    ],
)
def test_a_year_in_a_name_is_seen(code: str) -> None:
    assert list(find_years_in_names(ast.parse(code))) != []


@pytest.mark.parametrize("code", ["wgs84 = 4326", "epsg_20190 = 1", 'title = "Rules 2019"', "# drop_2019\nx = 1"])
def test_a_name_without_a_year_is_let_through(code: str) -> None:
    assert list(find_years_in_names(ast.parse(code))) == []


@pytest.mark.parametrize(
    "code",
    [
        "import numba",
        "import pandas as pd",
        "import scipy.stats",
        "from scipy.optimize import brentq",
        "from statsmodels import api",
        "try:\n    import numba\nexcept ImportError:\n    pass",
        "try:\n    pass\nexcept ImportError:\n    import numba",
        "if fast:\n    import numba",
        "class Kernel:\n    import numba",
        "if TYPE_CHECKING:\n    pass\nelse:\n    import pandas",
    ],
)
def test_a_heavy_import_at_the_top_is_seen(code: str) -> None:
    assert list(find_heavy_imports(ast.parse(code))) != []


@pytest.mark.parametrize(
    "code",
    [
        "import numpy",
        "from .scipy import own",
        "def fit():\n    import scipy.stats",
        "class Fit:\n    def run(self):\n        import pandas",
        "if TYPE_CHECKING:\n    import pandas",
        "if typing.TYPE_CHECKING:\n    import pandas",
    ],
)
def test_a_heavy_import_that_waits_is_let_through(code: str) -> None:
    assert list(find_heavy_imports(ast.parse(code))) == []


def test_an_owner_may_import_what_it_owns_and_nothing_else() -> None:
    tree = ast.parse("import numba\nimport pandas")
    assert list(find_heavy_imports(tree, allowed=frozenset({"numba"}))) == ["line 2: imports pandas at the top of the module"]


def test_a_year_in_the_rule_data_is_seen_and_an_edition_is_no_such_year() -> None:
    data = tomllib.loads('[search]\n[search.parts]\nlimit_2019 = {words = ["as-in-2016"]}\n[search.in.2016]\nlimit_2019 = 5')
    assert [name for name in list_own_names(data) if YEAR_IN_NAME.search(name)] == [
        "limit_2019",
        "as-in-2016",
        "limit_2019",
    ]
