"""Make the table of letter widths anew: ``python -m builders.letter_widths FOLDER``, a folder that holds the fonts named below."""

from __future__ import annotations

import sys
from pathlib import Path

from builders.letter_widths.truetype import widths_of

LETTERS = "".join(chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x180))) + "\u2003–—‘’“”…−≤≥′″€"
_SLACK = 1.12
"""Room for a reader's font that is wider than the one reckoned with."""
FACES = {
    "board": {"DejaVuSansCondensed.ttf": _SLACK},
    "board-bold": {"DejaVuSansCondensed-Bold.ttf": _SLACK},
    "book": {"LiberationSerif-Regular.ttf": _SLACK, "DejaVuSerif.ttf": 1.0},
    "book-italic": {"LiberationSerif-Italic.ttf": _SLACK, "DejaVuSerif-Italic.ttf": 1.0},
    "book-bold": {"LiberationSerif-Bold.ttf": _SLACK, "DejaVuSerif-Bold.ttf": 1.0},
    "paper": {"LiberationSerif-Regular.ttf": _SLACK, "DejaVuSerifCondensed.ttf": 1.0},
    "paper-italic": {"LiberationSerif-Italic.ttf": _SLACK, "DejaVuSerifCondensed-Italic.ttf": 1.0},
    "paper-bold": {"LiberationSerif-Bold.ttf": _SLACK, "DejaVuSerifCondensed-Bold.ttf": 1.0},
}
"""The widest letter of these fonts, with the slack of each, stands in the table. A machine that has none of the serifs asked for shows one
of its own, which is the widest that is usual."""
OUT = Path(__file__).resolve().parents[2] / "src" / "marram" / "sheets" / "scene" / "letter_widths.toml"
HEAD = """# The room to keep for each letter, in thousandths of the type size: that of the widest of some fonts for each face, with slack.
# Made by `python -m builders.letter_widths FOLDER` from DejaVu 2.37 and Liberation 1.07.4.
"""


def main(folder: Path) -> None:
    lines = [HEAD, f"letters = '''{LETTERS}'''\n"]
    for face, fonts in FACES.items():
        found = [(slack, widths_of((folder / name).read_bytes(), LETTERS)) for name, slack in fonts.items()]
        widest = [max(round(slack * widths.get(letter, 0)) for slack, widths in found) for letter in LETTERS]
        rows = [", ".join(map(str, widest[start : start + 32])) for start in range(0, len(widest), 32)]
        lines.append(f"{face} = [\n  " + ",\n  ".join(rows) + "\n]\n")
    OUT.write_text("\n".join(lines), encoding="utf-8")


main(Path(sys.argv[1]))
