"""A PostgreSQL of the tests' own: a cluster in a folder that goes when the tests end, with a database for each test."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_LISTENS_NOWHERE = "-c listen_addresses='' -c fsync=on"


class Cluster:
    """A cluster that runs."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.made = folder, 0

    def database(self) -> str:
        """The address of a new, empty database."""
        self.made += 1
        name = f"events{self.made}"
        self.tell("template1", f"CREATE DATABASE {name}")
        return self.address(name)

    def address(self, name: str) -> str:
        """The address of a database."""
        return f"postgresql+psycopg://tests@/{name}?host={self.folder}"

    def tell(self, name: str, *statements: str) -> None:
        """Run statements in a database."""
        import psycopg

        with psycopg.connect(host=str(self.folder), user="tests", dbname=name, autocommit=True) as connection:
            for statement in statements:
                connection.execute(statement.encode())


def find_programs() -> Path | None:
    """The folder of the latest server that is installed; None where there is none."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parents[1].name))
    if found:
        return found[-1].parent
    on_path = shutil.which("initdb")
    return Path(on_path).parent if on_path else None


@contextmanager
def running_cluster() -> Iterator[Cluster]:
    """A cluster that runs until it is left.

    Raises:
        FileNotFoundError: No server is installed.
    """
    programs = find_programs()
    if programs is None:
        raise FileNotFoundError("PostgreSQL is missing: scripts/postgresql.sh installs it")
    folder = Path(tempfile.mkdtemp(prefix="marram-tests-"))  # a short path: that of a socket may hold some hundred signs only
    owner = _owner()
    if owner is not None:
        os.chown(folder, owner.pw_uid, owner.pw_gid)
    data, server = str(folder / "data"), f"{_LISTENS_NOWHERE} -k {folder}"
    try:
        _run(programs / "initdb", owner, "-D", data, "-U", "tests", "--auth=trust", "--encoding=UTF8", "--no-sync", "--locale=C")
        _run(programs / "pg_ctl", owner, "-D", data, "-w", "-l", str(folder / "log"), "-o", server, "start")
        try:
            yield Cluster(folder)
        finally:
            _run(programs / "pg_ctl", owner, "-D", data, "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _run(program: Path, owner: pwd.struct_passwd | None, *words: str) -> None:
    rights = {} if owner is None else {"user": owner.pw_uid, "group": owner.pw_gid, "extra_groups": ()}
    # its output goes to a file, since the server keeps what it was started with open
    with tempfile.TemporaryFile("w+") as told:
        done = subprocess.run([str(program), *words], cwd="/", stdout=told, stderr=told, check=False, **rights)  # type: ignore[call-overload]
        told.seek(0)
        assert done.returncode == 0, told.read()


def _owner() -> pwd.struct_passwd | None:
    """As whom the server runs: it refuses root."""
    if os.getuid() != 0:
        return None
    for name in ("postgres", "nobody"):
        try:
            return pwd.getpwnam(name)
        except KeyError:
            continue
    raise FileNotFoundError("PostgreSQL does not run as root, and there is no other user")
