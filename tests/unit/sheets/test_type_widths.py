"""How wide words are reckoned: the reference fonts with their slack, and never narrower than the serif that a machine falls back to."""

from __future__ import annotations

import pytest

from marram.sheets.scene.type_widths import Face, fit_words, words_width, wrap_words

THOUSANDTHS = 1000.0


@pytest.mark.parametrize(
    ("letter", "face", "mille"),
    [
        # DejaVu Sans Condensed 2.37, table hmtx: n 1168 and zero 1172 of 2048 units; 12 % more.
        ("n", Face.BOARD, 1.12 * 1168 / 2.048),
        ("0", Face.BOARD, 1.12 * 1172 / 2.048),
        # Liberation Serif 1.07.4: n 1024 and zero 1024 of 2048 units, 560 with 12 % more; DejaVu Serif Condensed 2.37: n 1187, zero 1172.
        ("n", Face.PAPER, 1187 / 2.048),
        ("0", Face.PAPER, 1172 / 2.048),
        # Liberation Serif: M 1821 units, 996 with 12 % more; DejaVu Serif Condensed: 1887.
        ("M", Face.PAPER, 1.12 * 1821 / 2.048),
    ],
)
def test_widths_are_those_of_the_fonts(letter: str, face: Face, mille: float) -> None:
    assert words_width(letter, face, THOUSANDTHS) == pytest.approx(mille, abs=1.5)


def test_the_serif_of_a_screen_is_never_reckoned_narrower_than_that_of_paper() -> None:
    for letter in "nopqMW0123456789 ,.":
        assert words_width(letter, Face.BOOK, 15.0) >= words_width(letter, Face.PAPER, 15.0)


def test_letters_outside_the_table_have_room_too() -> None:
    assert words_width("海", Face.BOARD, 10.0) == pytest.approx(14.0)
    assert words_width("ש", Face.BOARD, 10.0) == pytest.approx(7.5)
    assert words_width("o\u0303", Face.BOARD, 10.0) == words_width("o", Face.BOARD, 10.0)  # a mark stands on its letter
    assert words_width("a\u200d", Face.BOARD, 10.0) == words_width("a", Face.BOARD, 10.0)


def test_words_are_cut_only_where_they_do_not_fit() -> None:
    name = "Upper Whinmoor"
    whole = words_width(name, Face.BOARD, 13.0)
    assert fit_words(name, whole, Face.BOARD, 13.0) == name
    cut = fit_words(name, whole - 0.5, Face.BOARD, 13.0)
    assert cut.endswith("…")
    assert name.startswith(cut[:-1])
    assert words_width(cut, Face.BOARD, 13.0) <= whole - 0.5
    assert fit_words(name, 0.0, Face.BOARD, 13.0) == "…"


def test_a_cut_leaves_no_mark_without_its_letter() -> None:
    name = "ae\u0301" * 20
    for width in range(10, 200, 7):
        cut = fit_words(name, width, Face.BOARD, 13.0)[:-1]
        assert not name[len(cut) :].startswith("\u0301")


@pytest.mark.parametrize("width", [30.0, 80.0, 150.0, 400.0])
def test_every_line_fits_and_no_word_is_lost(width: float) -> None:
    words = "Relief from the obstruction: no penalty, one club-length, pneumonoultramicroscopicsilicovolcanoconiosis"
    lines = wrap_words(words, width, Face.BOOK, 15.0)
    assert all(words_width(line, Face.BOOK, 15.0) <= width for line in lines)
    assert "".join(lines).replace(" ", "").replace("\u00a0", "") == words.replace(" ", "")
