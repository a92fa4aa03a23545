"""Make the table of letter widths anew: ``python -m builders.letter_widths FOLDER``, a folder that holds the fonts named below."""

from __future__ import annotations

import sys
from pathlib import Path

from builders.letter_widths.truetype import widths_of

LETTERS = "".join(chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x180))) + "\u2003–—‘’“”…−≤≥′″€"
FACES = {
    "board": ("DejaVuSansCondensed.ttf",),
    "board-bold": ("DejaVuSansCondensed-Bold.ttf",),
    "book": ("DejaVuSerif.ttf", "LiberationSerif-Regular.ttf"),
    "book-italic": ("DejaVuSerif-Italic.ttf", "LiberationSerif-Italic.ttf"),
    "book-bold": ("DejaVuSerif-Bold.ttf", "LiberationSerif-Bold.ttf"),
    "paper": ("LiberationSerif-Regular.ttf",),
    "paper-italic": ("LiberationSerif-Italic.ttf",),
    "paper-bold": ("LiberationSerif-Bold.ttf",),
}
"""The widest letter of these fonts stands in the table: a screen that has none of the serifs asked for shows its own, which is wider."""
OUT = Path(__file__).resolve().parents[2] / "src" / "marram" / "sheets" / "scene" / "letter_widths.toml"
HEAD = """# How wide letters are, in thousandths of the type size: the widest of some fonts for each face.
# Made by `python -m builders.letter_widths FOLDER` from DejaVu 2.37 and Liberation 1.07.4.
"""


def main(folder: Path) -> None:
    lines = [HEAD, f"letters = '''{LETTERS}'''\n"]
    for face, files in FACES.items():
        found = [widths_of((folder / name).read_bytes(), LETTERS) for name in files]
        widest = [max(widths.get(letter, 0) for widths in found) for letter in LETTERS]
        rows = [", ".join(map(str, widest[start : start + 32])) for start in range(0, len(widest), 32)]
        lines.append(f"{face} = [\n  " + ",\n  ".join(rows) + "\n]\n")
    OUT.write_text("\n".join(lines), encoding="utf-8")


main(Path(sys.argv[1]))
