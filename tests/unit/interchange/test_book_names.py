"""The parts that a book's name is made of, where the paths of overlays hold plus signs themselves."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.interchange.books.book_files import parts_of_book, read_book

TRIAL = Path(__file__).resolve().parents[3] / "examples" / "trials" / "fixed-lengths.toml"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder in which paths hold plus signs."""
    for place in ("a+b/t+u.toml", "t.toml", "u.toml", "v+w.toml", "v"):
        (tmp_path / place).parent.mkdir(exist_ok=True)
        (tmp_path / place).write_bytes(TRIAL.read_bytes())
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("2023", ["2023"]),
        ("2023+t.toml", ["2023", "t.toml"]),
        ("2023+t.toml+u.toml", ["2023", "t.toml", "u.toml"]),
        ("2023+preferred-lies+t.toml", ["2023", "preferred-lies", "t.toml"]),
        ("2023+a+b/t+u.toml", ["2023", "a+b/t+u.toml"]),
        ("2023+a+b/t+u.toml+preferred-lies", ["2023", "a+b/t+u.toml", "preferred-lies"]),
        ("2023+preferred-lies+a+b/t+u.toml+u.toml", ["2023", "preferred-lies", "a+b/t+u.toml", "u.toml"]),
        ("2023+v+w.toml", ["2023", "v+w.toml"]),
        ("2023+", ["2023", ""]),
        ("2023+nothing+here.toml", ["2023", "nothing", "here.toml"]),
        ("2023+" + "x+" * 200 + "t.toml", ["2023", *["x"] * 200, "t.toml"]),
    ],
)
def test_a_file_whose_path_holds_a_plus_sign_is_one_part(folder: Path, name: str, parts: list[str]) -> None:
    assert parts_of_book(name) == parts


def test_a_book_with_such_a_path_opens(folder: Path) -> None:
    assert read_book("2023+a+b/t+u.toml").stamp == read_book("2023+a+b/t+u.toml").stamp != read_book("2023").stamp
