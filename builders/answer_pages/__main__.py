"""Write docs/formats/answers: the JSON Schema of each kind of answer, and a page that tells what its members are."""

from __future__ import annotations

from pathlib import Path

from builders.answer_pages.page import INDEX, answer_files

FOLDER = Path(__file__).resolve().parents[2] / "docs" / "formats" / "answers"


def main() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    files = answer_files()
    for old in FOLDER.iterdir():
        if old.name not in files:
            old.unlink()
    for name, text in files.items():
        (FOLDER / name).write_text(text, encoding="utf-8")
    print(f"{len(files)} files in {FOLDER.name}, first {INDEX}")


main()
