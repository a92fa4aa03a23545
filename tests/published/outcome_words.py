"""Outcomes in the words of examples: texts that name the same outcome are equal, and any other text must be the same word for word."""

from __future__ import annotations

import re

_N = r"(\d+(?:\.\d+)?)"
_PHRASES: tuple[tuple[str, str], ...] = (
    (r"dis-?qualif\w*", "disqualified"),
    (r"stands? as returned", "stands"),
    (rf"{_N} ?(?:&|and) ?{_N}", "won {} and {}"),
    (rf"(?:[ab] )?(?:wins? |won )?(?:at |on |1 up at )?(?:the )?{_N}(?:st|nd|rd|th)(?: hole)?", "hole {}"),
    (rf"1 up ?\({_N}\)", "hole {}"),
    (rf"{_N} up", "{} up"),
    (rf"{_N} down", "{} down"),
    (r"(?:match )?(?:all square|tied|halved|level|tie|square|none|nobody|neither|no winner)", "level"),
    (rf"plays off {_N}", "plays off {}"),
    (rf"(?:the )?opponent receives {_N}(?: strokes?)?", "opponent receives {}"),
    (rf"receives {_N}(?: strokes?)?", "receives {}"),
    (rf"gives {_N}(?: strokes?)?", "gives {}"),
    (rf"{_N} points?", "{} points"),
    (r"no points", "0 points"),
    (r"(?:hole lost|loss of (?:the )?hole|lost hole|loses the hole|lost)", "hole lost"),
    (rf"net {_N}", "score {}"),
    (rf"(?:gross |score |total |total of )?{_N}(?: stands.*| \(.*\)| in all)?", "score {}"),
    (r"(?:none|nobody|no winner)\W+(?:the )?terms decide", "terms decide"),
    (r"side ([a-z])-?([a-z]) wins(?: the hole)?", "side {}{} wins"),
    (r"(?:void|not valid|invalid|no effect|does not count|has no effect|not allowed)", "void"),
    (r"(?:valid|stands|binding|final|stands and is final|counts)", "stands"),
)


def outcome_of(text: str) -> str:
    """The outcome that a text names, its parts between semicolons; the text itself, without case, where it names none of the list."""
    plain = " ".join(text.casefold().replace("\N{MINUS SIGN}", "-").split()).rstrip(".")
    return "; ".join(_one(part.strip()) for part in plain.split(";"))


def _one(part: str) -> str:
    for pattern, outcome in _PHRASES:
        found = re.fullmatch(pattern, part)
        if found is not None:
            return outcome.format(*(_as_number(group) for group in found.groups()))
    return part


def _as_number(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text
