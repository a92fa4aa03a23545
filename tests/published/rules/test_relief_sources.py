"""Where each relief procedure was seen, and under which number it stands, against the collected facts.

Source: relief_procedures.yaml beside this file. What the facts have from memory may not appear as read, nor the other way about.
"""

from __future__ import annotations

import re

import pytest

from tests.support.relief_words import CELLS, CHECKED, held

_ASIDE = r" \((?:[^()]|\([^()]*\))*\)"
_FROM_MEMORY = re.compile(r"^memory\b|\bmemory$")
NOT_A_PART = {
    ("ground-condition-general-area", "2019"): "from memory is the local rule F-6, an overlay of its own",
    ("ground-condition-general-area", "2023"): "the second title is about the local rule F-6, an overlay of its own",
    ("played-from-penalty-area-lost-outside", "2016"): "from memory is Note 2, which the situation of an unplayable ball answers",
    ("wrong-green-relief", "draft-2017"): "the values are inferred from 2019, and the title speaks of the chapter alone",
}
"""Where a title or a memory of the facts is about something that the row does not hold."""


def clauses(text: str) -> list[str]:
    """The titles of a text, without what they say in brackets about themselves."""
    whole = text.replace("Rules of Golf, effective January 2023, printed page 130 and Rules of Golf, effective January 2023,", _TWO[0])
    whole = whole.replace("Rules of Golf, effective January 2023, printed page 169 and Rules of Golf, effective January 2023,", _TWO[1])
    for said, named in _AS_NAMED.items():
        whole = whole.replace(said, named)
    return re.sub(_ASIDE, "", whole).split("; ")


_AS_NAMED = {
    "D-3 carried on": "inferred",
    "detail carried back from the current text": "inferred",
    "size 2017 draft proposed-change page": "2017 draft proposed-change page",
}
"""What the facts say in passing of how a value is known, in the words of the rule data."""


_TWO = [f"Rules of Golf, effective January 2023, printed page {page} and" for page in (130, 169)]


@pytest.mark.parametrize(("row", "edition"), list(CHECKED))
def test_where_the_values_were_seen(row: str, edition: str) -> None:
    stated, citation = clauses(CHECKED[row, edition]), held(row, edition).citation
    assert citation is not None
    if stated[0].startswith("memory"):
        assert citation.seen == "memory"
        assert citation.is_unsure is stated[0].endswith("unsure")
        return
    if (row, edition) in NOT_A_PART:
        assert not citation.is_unsure
        assert clauses(citation.seen)[0] in {"inferred", "memory", stated[0]}
        return
    titles = [title for title in stated if title != "inferred" and not _FROM_MEMORY.search(title)]
    assert not citation.is_unsure
    seen = [citation.seen, *dict.fromkeys(held(row, edition).seen_of.values())]
    found = [title for text in seen for title in clauses(text) if title != "inferred" and not _FROM_MEMORY.search(title)]
    assert set(titles) <= set(found)
    assert {title for title in clauses(citation.seen) if title != "inferred" and not _FROM_MEMORY.search(title)} <= set(titles)
    says_memory = "memory" in citation.seen or "memory" in held(row, edition).seen_of.values()
    assert says_memory or len(titles) == len([title for title in stated if title != "inferred"]), (
        "the facts have a part of this from memory"
    )


@pytest.mark.parametrize(("row", "edition"), list(CELLS))
def test_rule_number(row: str, edition: str) -> None:
    citation = held(row, edition).citation
    assert citation is not None
    assert ("~" if citation.is_number_inferred else "") + citation.rule == CELLS[row, edition]["rule"]
