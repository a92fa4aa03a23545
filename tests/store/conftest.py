"""A store of each kind: a file, and a database of a PostgreSQL that the tests start."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from marram.store.open_store import Store, open_store
from tests.support.postgresql import Cluster, running_cluster


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    with running_cluster() as made:
        yield made


@pytest.fixture(params=["file", pytest.param("postgresql", marks=pytest.mark.postgresql)])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a new store may be made."""
    if request.param == "file":
        return str(tmp_path / "store.sqlite")
    made: Cluster = request.getfixturevalue("cluster")
    return made.database()


@pytest.fixture
def store(place: str) -> Store:
    return open_store(place, is_new=True)
