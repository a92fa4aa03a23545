"""An invented field of 72 players with entries and cards, as tables an official would bring."""

from __future__ import annotations

import random
from pathlib import Path

_NAMES = """
Alder Aspen Aster Avens Balsam Beech Betony Birch Bistort Bramble Briar Broom Bryony Bugle Burdock Campion Celery Chervil Cicely
Clary Clover Comfrey Cornel Cowslip Cress Crocus Daisy Damson Dill Dock Elder Fennel Fescue Figwort Flax Furze Gentian Gorse
Hawthorn Hazel Heather Holly Hyssop Iris Ivy Juniper Knapweed Laurel Linden Lovage Lupin Madder Maple Mallow Medlar Melick
Milkwort Mint Myrtle Nettle Orache Oxlip Pansy Poplar Primrose Privet Quince Ragwort Rampion Rowan Rush Saffron
"""
PLAYERS = tuple(_NAMES.split())
NOT_IN, NOT_STARTED, WITHDRAWN, PICKED_UP, PENALISED, BLANK = "Birch", "Betony", "Bryony", "Bugle", "Campion", "Celery"
PAR = (4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4)
STROKE_INDEX = (9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12)
FORMS = {
    "stroke-play": "",
    "stableford": "",
    "maximum-score": "maximum = { over_par = 3 }\n",
    "par-bogey": "",
}
_TEE = """[[tee]]
name = "{name}"
par = {par}
stroke_index = {index}
course_rating = {rating}
slope_rating = {slope}
"""


def terms_text(form: str, *, scores: str = "net", more: str = "") -> str:
    """The terms of the invented day, with two tees, two divisions and a start from holes 1 and 10."""
    tees = "".join(
        _TEE.format(name=name, par=list(PAR), index=list(STROKE_INDEX), rating=rating, slope=slope)
        for name, rating, slope in (("white", 71.4, 128), ("yellow", 69.2, 119))
    )
    return (
        f'title = "Thimble Moor {form}"\nform = "{form}"\nscores = "{scores}"\nday = 2026-06-13\nbook = "2023"\n{FORMS.get(form, "")}{more}'
        '[start]\nfirst = "08:00"\ninterval_min = 10\ngroup_size = 3\nholes = [1, 10]\ngap_after = 6\n'
        '[[division]]\nname = "First"\nindex_to = 14.4\n[[division]]\nname = "Second"\nindex_from = 14.5\n'
        f"{tees}"
    )


def indexes(seed: int = 5) -> dict[str, str]:
    """The Handicap Index of each player, as it is written; one of them a plus handicap."""
    chance = random.Random(seed)
    found = {name: f"{chance.triangular(0.4, 36.0, 15.0):.1f}" for name in PLAYERS}
    return found | {"Aspen": "+1.2"}


def tee_of(index: str) -> str:
    return "white" if index.startswith("+") or float(index) < 22 else "yellow"


def entries_text(players: tuple[str, ...] = PLAYERS) -> str:
    """A table of entries."""
    found = indexes()
    return "player,handicap_index,tee\n" + "".join(f"{name},{found[name]},{tee_of(found[name])}\n" for name in players)


def cards_text(players: tuple[str, ...] = PLAYERS, *, seed: int = 9, in_full: bool = False, starts: dict[str, int] | None = None) -> str:
    """A table of cards; in full with what entry and starting list would say."""
    chance = random.Random(seed)
    found = indexes()
    more = ",handicap_index,tee,start" if in_full else ""
    lines = [f"player,{','.join(str(hole) for hole in range(1, 19))},penalties,status{more}"]
    for name in players:
        scores = [_score(chance, par, found[name]) for par in PAR]
        if name == NOT_IN:
            continue
        own = f",{found[name]},{tee_of(found[name])},{(starts or {}).get(name, 1)}" if in_full else ""
        lines.append(_line(name, scores) + own)
    return "\n".join(lines) + "\n"


def _score(chance: random.Random, par: int, index: str) -> str:
    handicap = -float(index) if index.startswith("+") else float(index)
    return str(max(par - 1, min(par + 4, round(chance.gauss(par + handicap / 17 + 0.2, 0.9)))))


def _line(name: str, scores: list[str]) -> str:
    penalty = status = ""
    match name:
        case "Betony":
            scores, status = [""] * 18, "did not start"
        case "Bryony":
            scores, status = [*scores[:11], *[""] * 7], "withdrawn: injured on 11"
        case "Bugle":
            scores[6] = "P"
        case "Campion":
            penalty = "3: too-many-clubs @R1"
        case "Celery":
            scores[4] = ""
    return f"{name},{','.join(scores)},{penalty},{status}"


def write_field(folder: Path, form: str) -> tuple[Path, Path, Path]:
    """Terms, entries and cards as files."""
    files = (folder / "terms.toml", folder / "entries.csv", folder / "cards.csv")
    for file, text in zip(files, (terms_text(form), entries_text(), cards_text()), strict=True):
        file.write_text(text, encoding="utf-8")
    return files
