"""The local rules that come with Marram: each fits every edition that it names, and changes what it says."""

from __future__ import annotations

import pytest

from marram.core.errors import RuleDataError
from marram.interchange.books.book_files import local_rules, read_book
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.overlays.overlay import Overlay, Standing

CASES = [(overlay, edition) for overlay in local_rules() for edition in overlay.on]


@pytest.mark.parametrize(("overlay", "edition"), CASES, ids=[f"{overlay.name}-{edition}" for overlay, edition in CASES])
def test_a_local_rule_fits_its_editions_and_changes_only_what_it_names(overlay: Overlay, edition: str) -> None:
    plain, laid = read_book(edition), read_book(f"{edition}+{overlay.name}")
    assert {difference.key for difference in compare_books(plain, laid)} == {change.key for change in overlay.changes}
    assert laid.stamp != plain.stamp
    assert all(change.standing is Standing.LOCAL_RULE for change in overlay.changes)


def test_a_row_that_needs_a_local_rule_has_one_that_adopts_it() -> None:
    adopted = {change.key for overlay in local_rules() for change in overlay.changes}
    for edition in ("2016", "2019", "2023"):
        book = read_book(edition)
        for row in (row for row in book.catalogue.rows.values() if "by_local_rule" in row.parts and book.has_row(row.id)):
            if book.yes(f"{row.id}.by_local_rule").value:
                assert f"{row.id}.adopted" in adopted


def test_an_unknown_local_rule_names_the_nearest() -> None:
    with pytest.raises(RuleDataError, match="There is no local rule 'prefered-lies'") as caught:
        read_book("2023+prefered-lies")
    assert caught.value.hint.startswith("Nearest: preferred-lies")


def test_where_none_is_near_the_list_is_named_and_how_a_trial_is() -> None:
    with pytest.raises(RuleDataError, match="There is no local rule 'qqqqq'") as caught:
        read_book("2023+qqqqq")
    assert caught.value.hint == "`list_local_rules()` shows them. A trial is named by its file, ending in .toml."
