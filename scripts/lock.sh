#!/bin/sh
# Writes the lock files from pyproject.toml: versions and hashes for Python 3.11 and later on every platform, and no
# address of any registry. One resolution (runtime, dev and build backend together) rules all three, so that they agree.
set -eu
cd "$(dirname "$0")/.."

python=.venv/bin/python
[ -x "$python" ] || python=python3
uv=${UV:-uv}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
if ! command -v "$uv" >/dev/null 2>&1; then
    echo "lock: uv is not on the path; taking it into a temporary place"
    "$python" -m venv "$scratch/uv"
    "$scratch/uv/bin/python" -m pip install --quiet --disable-pip-version-check uv==0.13.9
    uv=$scratch/uv/bin/uv
fi
"$python" -c 'import tomllib; print(*tomllib.load(open("pyproject.toml", "rb"))["build-system"]["requires"], sep="\n")' \
    >"$scratch/build.in"

# --upgrade: a new lock takes what is newest within the ranges, whatever the old lock held.
compile() {
    "$uv" pip compile --quiet --universal --python-version 3.11 --fork-strategy fewest --generate-hashes \
        --no-annotate --no-header --upgrade "$@"
}
compile pyproject.toml "$scratch/build.in" --extra dev -o requirements-dev.lock
compile pyproject.toml --constraint requirements-dev.lock -o requirements.lock
compile "$scratch/build.in" --constraint requirements-dev.lock -o requirements-build.lock
grep -c '==' requirements.lock requirements-build.lock requirements-dev.lock
