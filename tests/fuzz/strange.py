"""Numbers, words and lumps that no careful hand writes into a file."""

from __future__ import annotations

HUGE = "9" * 400
"""A whole number that no float holds."""
NUMBERS = (
    "0", "-0", "-1", "1", "2", "19", "99", "100", "1e308", "-1e308", "1e309", "1e-320", "NaN", "nan", "-nan", "Infinity", "-Infinity",
    "inf", "-inf", HUGE, "-" + HUGE, "9" * 5_000, "0." + "3" * 400, "1_000", "0x1F", "1,5", "2147483648", "-9223372036854775809",
    "18446744073709551616", "180.0000001", "-180", "89.999999", "90", "91", "1e5", "0.00000000001", "00", "007", "+5", "--5", "5.", ".5",
    "1.2.3", "٣", "½", "1e", "true", "null",
)  # fmt: skip
TEXTS = (
    "", " ", "\n", "\r\n", "\t", "\x00", "\x1b[31m", "\u202eright to left", "\u2066\u2069", "\u200b", "\ufeff", "\u2028", "\U0001f3cc",
    "<script>alert(1)</script>", "&amp;&#0;&bogus;", "]]>", "<!--", "<![CDATA[", '"', "'", "\\", "\\u0000", "\\ud800", '""', "``",
    "${x}", "{0}", "%s%n", "=1+1", "-", "..", "../../x", "é" * 300, "a" * 5_000, "é", "ß", "İ", "true", "false", "None", "2026-02-30",
    "2026-13-01", "9999-12-31", "0001-01-01T00:00:00Z", "24:60", "10:42:99", "[", "]", "{", "}", ",", ";", "#", "=",
)  # fmt: skip
_DEEP = (10, 200, 990, 3_000, 60_000)
LUMPS = tuple(f"{opened * deep}{closed * deep}" for opened, closed in (("[", "]"), ('{"a":', "}"), ("<a>", "</a>")) for deep in _DEEP)
"""Things within things within things."""
