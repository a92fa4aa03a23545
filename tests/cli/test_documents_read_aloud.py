"""Every document that a command writes is PDF/UA-1, checked by a library that did not make it; the list of such commands is closed."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import page
import pytest

from marram.cli.main import marram as root
from marram.sheets.scene import typesetting
from tests.support.documents import NO_PDF, WRITERS, commands, write_documents, writes_files
from tests.support.pdf_structure import structure, structure_faults
from tests.support.running import ROOT

_SOURCES = ROOT / "src" / "marram"
_SETTERS = frozenset({"set_pdf", "pages_pdf", "drawing_pdf"})
_LEAST_CHECKS = 100


@dataclass(frozen=True, slots=True)
class Written:
    """What the commands wrote.

    Attributes:
        documents: Each PDF by its path below the folder.
        by: The command that wrote each.
        modules: Modules that stood on the way to the typesetter.
    """

    documents: dict[str, bytes]
    by: dict[str, str]
    modules: frozenset[str]


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Written]:
    folder, modules = tmp_path_factory.mktemp("documents"), set[str]()
    documents, by = dict[str, bytes](), dict[str, str]()
    set_by: Callable[..., bytes] = typesetting._set

    def noted(*words: object, **named: object) -> bytes:
        modules.update(str(frame.frame.f_globals["__name__"]) for frame in inspect.stack())
        return set_by(*words, **named)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(typesetting, "_set", noted)
        for name, words, done in write_documents(folder):
            assert done.returncode in {0, 1}, f"{name} {words}: {done.stderr}"
            new = {path.relative_to(folder).as_posix(): path for path in folder.rglob("*.pdf")}.items()
            made = {place: path.read_bytes() for place, path in new if place not in documents}
            assert made, f"{name} {words} wrote no PDF"
            documents.update(made)
            by.update(dict.fromkeys(made, name))
    yield Written(documents, by, frozenset(modules))


def faults_of(pdf: bytes) -> list[str]:
    """What the checker has against a document."""
    report = page.validate_pdf_bytes(pdf, profile="ua1")
    assert report.rules.total > _LEAST_CHECKS
    found = [f"{failure.rule_id}: {failure.message}" for failure in report.failures]
    assert report.is_compliant is not bool(found)
    return found


def test_the_list_of_commands_that_write_is_closed() -> None:
    writing = {name for name, command in commands(root) if writes_files(command)}
    assert writing == {*WRITERS, *NO_PDF}
    assert not NO_PDF & set(WRITERS)


def test_every_document_is_found_sound_by_a_checker(written: Written) -> None:
    assert set(written.by.values()) == set(WRITERS)
    found = {place: faults_of(pdf) for place, pdf in written.documents.items()}
    assert {place: faults for place, faults in found.items() if faults} == {}


def test_every_document_reads_well_to_who_listens(written: Written) -> None:
    found = {place: structure_faults(pdf) for place, pdf in written.documents.items()}
    assert {place: faults for place, faults in found.items() if faults} == {}


def test_every_module_that_sets_a_pdf_was_on_the_way_of_a_checked_document(written: Written) -> None:
    setting = {
        ".".join(("marram", *path.relative_to(_SOURCES).with_suffix("").parts))
        for path in _SOURCES.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and {alias.name for alias in node.names} & _SETTERS
    }
    assert len(setting) > 5
    assert setting - written.modules == set()


def test_only_one_module_knows_the_typesetter() -> None:
    knowing = [path.name for path in _SOURCES.rglob("*.py") if "import typst" in path.read_text(encoding="utf-8")]
    assert knowing == ["typesetting.py"]


@pytest.mark.parametrize(
    ("taken", "put", "fault"),
    [
        (b"/Alt", b"/Xlt", "FIGURE-ALTERNATIVE-TEXT"),
        (b"/Lang", b"/Xang", "TEXT-LANGUAGE"),
        (b"pdfuaid:part", b"pdfuaid:xxxx", "ID-PART"),
        (b"/MarkInfo", b"/XarkInfo", "TAGGED-DOCUMENT"),
        (b"/DisplayDocTitle", b"/XisplayDocTitle", "VIEWER-PREFERENCES"),
    ],
)
def test_the_checker_sees_what_is_taken_away(written: Written, taken: bytes, put: bytes, fault: str) -> None:
    sound = written.documents["guide/guide.pdf"]
    assert taken in sound
    assert any(fault in each for each in faults_of(sound.replace(taken, put)))


def test_a_table_without_a_head_is_seen() -> None:
    """The typesetter refuses a figure without words itself, and takes a table without a head."""
    bare = typesetting.set_pdf('#set document(title: "x")\n= a\n#table(columns: 2)[a][b]')
    assert structure_faults(bare) == ["a table of 2 cells without a head"]
    headed = typesetting.set_pdf('#set document(title: "x")\n= a\n#table(columns: 2, table.header[a][b], [c], [d])')
    assert structure_faults(headed) == []
    assert [each.kind for each in structure(headed).all()].count("TH") == 2
    assert "language" in structure_faults(headed.replace(b"/Lang", b"/Xang"))[0]
