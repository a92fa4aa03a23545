"""What the repository may hold: nothing of one machine, no address of a registry, and no package outside the layers."""

import ast
import re
import subprocess
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "marram"

# Put together from pieces, so that this file does not hold what it refuses.
MACHINE_PATH = re.compile(r"(?<![\w.-])/(?:" + "|".join(("work", "root", "farm")) + r")/")
REGISTRIES = ("pypi" + ".org", "pythonhosted" + ".org", "npmjs" + ".org", "npmjs" + ".com", "debian" + ".org")
REGISTRY = re.compile(r"\b(?:" + "|".join(re.escape(name) for name in REGISTRIES) + r")\b", re.IGNORECASE)


def list_files() -> list[Path]:
    """The files that git holds or would take in; what .gitignore names is left out."""
    command = ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True)
    paths = (ROOT / name for name in listed.stdout.split("\0") if name)
    return sorted(path for path in paths if path.is_file())


def find_strange_addresses(text: str) -> Iterator[str]:
    """Paths of one machine and addresses of registries in a text, with their lines."""
    for number, line in enumerate(text.splitlines(), start=1):
        for pattern, what in ((MACHINE_PATH, "a path of one machine"), (REGISTRY, "an address of a registry")):
            if found := pattern.search(line):
                yield f"line {number}: {what}: {found.group()}"


def read_text(path: Path) -> str | None:
    """The text of a file, or None when it holds something else."""
    content = path.read_bytes()
    return None if b"\0" in content else content.decode("utf-8", errors="replace")


def read_project() -> dict[str, dict[str, dict[str, object]]]:
    """The project file; only its tables of tables are looked at."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def split_layers(layers: list[str]) -> list[str]:
    """The names in a list of layers, in which siblings stand on one line."""
    return [name.strip(" ()") for layer in layers for name in re.split(r"[|:]", layer)]


def list_layers() -> list[str]:
    """The packages that the layers contract names; rooms have contracts of their own."""
    contracts = read_project()["tool"]["importlinter"]["contracts"]
    assert isinstance(contracts, list)
    return [name for contract in contracts if contract["id"] == "layers" for name in split_layers(contract["layers"])]


def list_packages() -> list[str]:
    """The packages and modules straight under marram, but for those that only open the door to the others."""
    modules = (path for path in PACKAGE.iterdir() if path.suffix == ".py" and not path.stem.startswith("__"))
    packages = (path.parent for path in PACKAGE.glob("*/__init__.py"))
    return sorted(path.stem for path in (*modules, *packages))


def list_pins(lock: str) -> dict[str, str]:
    """Name and version of each package in a lock file."""
    text = (ROOT / lock).read_text(encoding="utf-8")
    return dict(re.findall(r"^([a-z0-9._-]+)==([^\s;\\]+)", text, flags=re.MULTILINE))


def test_no_file_holds_a_machine_path_or_a_registry_address() -> None:
    files = list_files()
    assert ROOT / "pyproject.toml" in files, "the list of files is not that of this repository"
    faults = [f"{path.relative_to(ROOT)}, {fault}" for path in files for fault in find_strange_addresses(read_text(path) or "")]
    assert faults == []


@pytest.mark.parametrize(
    "text",
    [
        "see /" + "work/data/course.geojson",
        "open('/" + "root/.cache')",
        "--out=/" + "farm/x",
        "https://" + REGISTRIES[0] + "/simple",
        "https://files." + REGISTRIES[1] + "/packages/x",
        "index = Registry." + REGISTRIES[2].upper(),
    ],
)
def test_a_strange_address_is_seen(text: str) -> None:
    assert list(find_strange_addresses(text)) != []


@pytest.mark.parametrize("text", ["docs/work/a.md", "network/root", "the work/rest ratio", "./root/x", "pypi", ""])
def test_an_ordinary_text_is_let_through(text: str) -> None:
    assert list(find_strange_addresses(text)) == []


def test_every_package_stands_in_the_layers_once_and_every_layer_exists() -> None:
    assert sorted(list_layers()) == list_packages()


def test_layers_are_read_with_their_siblings() -> None:
    assert split_layers(["cli", "course | rulebook", "a : b", "(core)"]) == [
        "cli",
        "course",
        "rulebook",
        "a",
        "b",
        "core",
    ]


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-build.lock", "requirements-dev.lock"])
def test_a_lock_file_gives_a_hash_for_every_package(lock: str) -> None:
    entries = re.split(r"\n(?=\S)", (ROOT / lock).read_text(encoding="utf-8").strip())
    assert entries
    assert [entry for entry in entries if "==" not in entry or "--hash=sha256:" not in entry] == []


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-build.lock"])
def test_the_lock_files_agree(lock: str) -> None:
    assert list_pins(lock).items() <= list_pins("requirements-dev.lock").items()


def test_the_build_backend_is_pinned_to_the_locked_version() -> None:
    pinned = f"hatchling=={list_pins('requirements-build.lock')['hatchling']}"
    assert [str(need) for need in read_project()["build-system"]["requires"]] == [pinned]


def test_what_the_package_needs_is_locked() -> None:
    needs = read_project()["project"]["dependencies"]
    names = {re.split(r"[<>=!~\[; ]", str(need), maxsplit=1)[0] for need in needs}
    assert names <= list_pins("requirements.lock").keys()


def list_imports() -> set[str]:
    """The outermost names that the package imports, wherever in a module it does so."""
    trees = (ast.parse(path.read_text(encoding="utf-8")) for path in PACKAGE.rglob("*.py"))
    nodes = [node for tree in trees for node in ast.walk(tree)]
    whole = {alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names}
    parts = {node.module for node in nodes if isinstance(node, ast.ImportFrom) and node.module and not node.level}
    return {name.partition(".")[0] for name in whole | parts}


def test_the_package_imports_nothing_that_only_its_makers_install() -> None:
    extras = read_project()["project"]["optional-dependencies"]["dev"]
    assert isinstance(extras, list)
    makers = {re.split(r"[<>=!~\[; ]", need, maxsplit=1)[0].lower() for need in extras} | {"yaml"}
    imported = list_imports()
    assert "statsmodels" in imported
    assert imported & makers == set()
