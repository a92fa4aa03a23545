"""The way back: what a file of the desk held before, kept step by step, and taken back only over what the desk itself wrote."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import DataError
from marram.office.at_desk.desk_folder import DeskFolder, Holding, read_folder
from marram.office.at_desk.former_files import change_text, steps_of, take_back
from marram.office.at_desk.keep_in_folder import ChangedMeanwhile, kept_text

DAY = "date = 2026-06-13\nconditions = []\n"


def change(root: Path, text: str, name: str = "day", was: str | None = None) -> str:
    folder = read_folder(root)
    stamp = kept_text(folder, Holding.DAY, name).stamp if name in folder.names(Holding.DAY) else ""
    return change_text(folder, Holding.DAY, name, text, was=stamp if was is None else was, told=f"to {len(text)}").stamp


def test_steps_are_taken_back_one_by_one_to_before_there_was_a_file(tmp_path: Path) -> None:
    texts = [DAY + f"# {number}\n" for number in range(3)]
    stamps = [change(tmp_path, text) for text in texts]
    assert [step.told for step in steps_of(read_folder(tmp_path), Holding.DAY, "day")] == [f"to {len(text)}" for text in reversed(texts)]
    for number in (2, 1):
        take_back(read_folder(tmp_path), Holding.DAY, "day", was=stamps[number])
        assert (tmp_path / "day.toml").read_text(encoding="utf-8") == texts[number - 1]
    take_back(read_folder(tmp_path), Holding.DAY, "day", was=stamps[0])
    assert not (tmp_path / "day.toml").exists()
    with pytest.raises(DataError, match="no change"):
        take_back(read_folder(tmp_path), Holding.DAY, "day", was="")


def test_nothing_is_taken_back_over_what_a_hand_wrote(tmp_path: Path) -> None:
    change(tmp_path, DAY)
    stamp = change(tmp_path, DAY + "# two\n")
    (tmp_path / "day.toml").write_text(DAY + "# by hand\n", encoding="utf-8")
    with pytest.raises(ChangedMeanwhile):
        take_back(read_folder(tmp_path), Holding.DAY, "day", was=stamp)
    with pytest.raises(DataError, match="no change"):
        take_back(read_folder(tmp_path), Holding.DAY, "day", was=kept_text(read_folder(tmp_path), Holding.DAY, "day").stamp)
    assert "by hand" in (tmp_path / "day.toml").read_text(encoding="utf-8")


def test_a_change_that_is_refused_leaves_no_step_and_no_folder(tmp_path: Path) -> None:
    (tmp_path / "day.toml").write_text(DAY, encoding="utf-8")
    with pytest.raises(ChangedMeanwhile):
        change(tmp_path, DAY + "# x\n", was="another")
    assert [file.name for file in tmp_path.iterdir()] == ["day.toml"]
    with pytest.raises(DataError, match="cannot name a file"):
        change(tmp_path, DAY, name="../out")
    assert steps_of(read_folder(tmp_path), Holding.DAY, "../out") == ()
    assert not (tmp_path.parent / "out.toml").exists()


def test_steps_are_no_files_of_the_desk_and_the_oldest_go(tmp_path: Path) -> None:
    for number in range(23):
        change(tmp_path, DAY + f"# {number}\n")
    folder: DeskFolder = read_folder(tmp_path)
    assert len(steps_of(folder, Holding.DAY, "day")) == 20
    assert {kind: names for kind in Holding if (names := folder.names(kind))} == {Holding.DAY: ("day",)}
    assert folder.hidden == ()


def test_a_step_that_somebody_spoilt_is_left_aside(tmp_path: Path) -> None:
    change(tmp_path, DAY)
    stamp = change(tmp_path, DAY + "# two\n")
    newest = max((tmp_path / ".marram-former").glob("*/*.json"))
    newest.write_text("{", encoding="utf-8")
    assert len(steps_of(read_folder(tmp_path), Holding.DAY, "day")) == 1
    with pytest.raises(DataError, match="no change"):
        take_back(read_folder(tmp_path), Holding.DAY, "day", was=stamp)


def test_files_of_two_kinds_with_one_name_have_steps_of_their_own(tmp_path: Path) -> None:
    change(tmp_path, DAY)
    assert steps_of(read_folder(tmp_path), Holding.COURSE, "day") == ()
