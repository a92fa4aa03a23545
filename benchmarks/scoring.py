"""10,000 cards: the whole command with its process, and how much of it is scoring. No other way is timed: a plain loop is fast enough."""

from __future__ import annotations

import random
import tempfile
from pathlib import Path

from benchmarks.commands import MAIN, wait_s
from benchmarks.timing import Row, row, side_by_side
from marram.interchange.books.book_files import read_books
from marram.interchange.cards.competition_files import Competition, read_competition
from marram.office.scoring.score_cards import score_cards

CARDS, ROUNDS, SEED = 10_000, 2, 16
EXAMPLES = Path(__file__).resolve().parents[1] / "examples" / "cards"
TERMS = EXAMPLES / "stableford.toml"
PAR = (4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4)
OVER = (-1, 0, 0, 0, 1, 1, 2, 3)


def write_cards(path: Path) -> None:
    """Invented cards: on each hole a birdie to three over, a penalty on every fiftieth card."""
    chance = random.Random(SEED)
    lines = ["player,playing_handicap," + ",".join(map(str, range(1, 19))) + ",penalties"]
    for number in range(CARDS):
        gross = [par + chance.choice(OVER) for par in PAR]
        penalty = "" if number % 50 else f"1: too-many-clubs @R{number}"
        lines.append(",".join([f"P{number}", str(chance.randint(0, 36)), *map(str, gross), penalty]))
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def measure() -> list[Row]:
    """Time the whole process, then reading and scoring by themselves in this one."""
    with tempfile.TemporaryDirectory() as folder:
        cards = Path(folder) / "cards.csv"
        write_cards(cards)
        words = ["-c", MAIN, "score", str(cards), "--terms", str(TERMS), "--book", "2023", "-o", str(Path(folder) / "places.csv")]
        whole_s = min(wait_s(words, folder) for _ in range(ROUNDS))
        bare_s = min(wait_s(["-c", "pass"], folder) for _ in range(ROUNDS))
        books = read_books(("2023",))
        read: list[Competition] = [read_competition(cards, TERMS)]
        times = side_by_side({"reading": lambda: read_competition(cards, TERMS), "scoring": lambda: score_cards(books, read[0])}, ROUNDS)
    return [
        row("marram score, 10,000 cards", whole_s, "bare interpreter", bare_s, CARDS),
        row("of it scoring", times["scoring"], "the whole command", whole_s, CARDS),
        row("of it reading the table", times["reading"], "the whole command", whole_s, CARDS),
    ]


if __name__ == "__main__":
    measure()
