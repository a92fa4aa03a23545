"""Reading how wide each letter of a font is.

Source: ISO/IEC 14496-22:2019 (Open Font Format), tables head, hhea, hmtx and cmap (format 4).
"""

from __future__ import annotations

import struct
from collections.abc import Mapping


def widths_of(font: bytes, letters: str) -> Mapping[str, int]:
    """Widths of letters in thousandths of the type size; letters that the font lacks are left out."""
    tables = _tables(font)
    units = struct.unpack(">H", tables["head"][18:20])[0]
    count = struct.unpack(">H", tables["hhea"][34:36])[0]
    advances = [struct.unpack(">H", tables["hmtx"][4 * glyph : 4 * glyph + 2])[0] for glyph in range(count)]
    glyphs = _glyphs(tables["cmap"])
    found = {letter: glyphs[ord(letter)] for letter in letters if ord(letter) in glyphs}
    return {letter: round(1000 * advances[min(glyph, count - 1)] / units) for letter, glyph in found.items()}


def _tables(font: bytes) -> Mapping[str, bytes]:
    number = struct.unpack(">H", font[4:6])[0]
    entries = (struct.unpack(">4sIII", font[12 + 16 * entry : 28 + 16 * entry]) for entry in range(number))
    return {tag.decode("ascii"): font[start : start + length] for tag, _, start, length in entries}


def _glyphs(cmap: bytes) -> Mapping[int, int]:
    """Which glyph stands for which letter, from the table of format 4."""
    number = struct.unpack(">H", cmap[2:4])[0]
    starts = [struct.unpack(">HHI", cmap[4 + 8 * entry : 12 + 8 * entry])[2] for entry in range(number)]
    table = next(cmap[start:] for start in starts if struct.unpack(">H", cmap[start : start + 2])[0] == 4)
    pairs = struct.unpack(">H", table[6:8])[0] // 2
    ends, begins, deltas, offsets = (
        struct.unpack(f">{pairs}H", table[at : at + 2 * pairs]) for at in (14, 16 + 2 * pairs, 16 + 4 * pairs, 16 + 6 * pairs)
    )
    glyphs = {}
    for pair in range(pairs):
        for code in range(begins[pair], min(ends[pair], 0xFFFE) + 1):
            glyph = code + deltas[pair]
            if offsets[pair]:
                at = 16 + 6 * pairs + 2 * pair + offsets[pair] + 2 * (code - begins[pair])
                found = struct.unpack(">H", table[at : at + 2])[0]
                glyph = found + deltas[pair] if found else 0
            glyphs[code] = glyph & 0xFFFF
    return {code: glyph for code, glyph in glyphs.items() if glyph}
