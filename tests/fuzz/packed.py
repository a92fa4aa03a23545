"""Blows at what lies packed in a file: the members of a workbook, the blocks of map data in PBF."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Sequence
from random import Random

from tests.fuzz.mutations import BYTES, TEXT, struck

_BOMB = 80 * 1024 * 1024
_DIMENSION = (
    (b'ref="A1:', b'ref="A1:XFD1048576" x="'),
    (b'r="A2"', b'r="XFD1048576"'),
    (b'r="2"', b'r="1048576"'),
    (b'r="2"', b'r="-1"'),
    (b"<sheetData>", b'<sheetData><row r="1048576"><c r="XFD1048576" t="n"><v>1</v></c></row>'),
    (b"</sheetData>", b'</sheetData><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>'),
    (b't="inlineStr"', b't="s"'),
    (b"<v>", b"<v>9999999999"),
    (b"<v>", b"<v>1e999"),
    (b"<sheetData>", b'<cols><col min="1" max="999999999" width="9"/></cols><sheetData>'),
    (b"<sheetData>", b"<sheetData>" + b'<row r="3"/>' * 2_000),
    (b"<?xml", b'<!DOCTYPE a [<!ENTITY b "' + b"x" * 100 + b'"><!ENTITY c "' + b"&b;" * 50 + b'">]><?xml'),
)


def of_workbook(random: Random, data: bytes) -> bytes:
    """A member of a workbook is damaged, missing, doubled, or unpacks to more than it should."""
    if random.random() < 0.2:
        return struck(random, data, BYTES)
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        members = [(name, packed.read(name)) for name in packed.namelist()]
    place = random.randrange(len(members))
    if random.random() < 0.6:
        place = next(number for number, (name, _) in enumerate(members) if name.endswith("sheet1.xml"))
    name, content = members[place]
    match random.randrange(12):
        case 0:
            del members[place]
        case 1:
            members.append((name, content))
        case 2 if random.random() < 0.1:
            members[place] = (name, content + b" " * _BOMB)
        case 3 | 4 | 5:
            was, now = random.choice(_DIMENSION)
            members[place] = (name, content.replace(was, now, random.choice((1, -1))))
        case _:
            members[place] = (name, struck(random, content, TEXT))
    return _zipped(members, lie=random.random() < 0.05)


def _zipped(members: Sequence[tuple[str, bytes]], *, lie: bool) -> bytes:
    """The members as a zip file; one that lies states a size that is not so."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as packed:
        for name, content in members:
            entry = zipfile.ZipInfo(name, date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            _write(packed, entry, content)
        if lie:
            packed.infolist()[-1].file_size = 12
    return held.getvalue()


def _write(packed: zipfile.ZipFile, entry: zipfile.ZipInfo, content: bytes) -> None:
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # two members of one name are what is wanted
        packed.writestr(entry, content)


def of_pbf(random: Random, data: bytes) -> bytes:
    """A block of map data is damaged inside its packing, so that the damage is met where the things are read."""
    if random.random() < 0.3:
        return struck(random, data, BYTES)
    out = bytearray()
    place = 0
    while place < len(data):
        (length,) = struct.unpack(">I", data[place : place + 4])
        head = _fields(data[place + 4 : place + 4 + length])
        size = head[3]
        assert isinstance(size, int)
        blob = _fields(data[place + 4 + length : place + 4 + length + size])
        content = blob.get(1) or zlib.decompress(_bytes(blob[3]))
        if random.random() < 0.6:
            content = struck(random, _bytes(content), BYTES)
        out += _block(_bytes(head[1]), _bytes(content))
        place += 4 + length + size
    return bytes(out)


def _bytes(field: object) -> bytes:
    assert isinstance(field, bytes)
    return field


def _block(kind: bytes, content: bytes) -> bytes:
    blob = b"\x10" + _varint(len(content)) + b"\x1a" + _length(zlib.compress(content, 1))
    head = b"\x0a" + _length(kind) + b"\x18" + _varint(len(blob))
    return struct.pack(">I", len(head)) + head + blob


def _length(content: bytes) -> bytes:
    return _varint(len(content)) + content


def _varint(number: int) -> bytes:
    out = bytearray()
    while number > 127:
        out.append(number & 127 | 128)
        number >>= 7
    return bytes([*out, number])


def _fields(message: bytes) -> dict[int, int | bytes]:
    """The fields of a message: number to value (protocol buffers; only whole numbers and bytes occur here)."""
    fields: dict[int, int | bytes] = {}
    place = 0
    while place < len(message):
        key, place = _read_varint(message, place)
        value, place = _read_varint(message, place)
        if key & 7 == 2:
            fields[key >> 3] = message[place : place + value]
            place += value
        else:
            fields[key >> 3] = value
    return fields


def _read_varint(message: bytes, place: int) -> tuple[int, int]:
    number = shift = 0
    while True:
        byte = message[place]
        number |= (byte & 127) << shift
        place, shift = place + 1, shift + 7
        if byte < 128:
            return number, place
