#!/bin/sh
# Format, lint, layers, doors, types: all run, so that one pass shows every fault.
set -eu
cd "$(dirname "$0")/.."
failed=

check() {
    name=$1
    shift
    echo "check: $name"
    "$@" || failed="$failed $name"
}

check format .venv/bin/python -m ruff format --quiet --check .
check lint .venv/bin/python -m ruff check .
check layers .venv/bin/lint-imports --no-cache
check doors .venv/bin/lint-imports --no-cache doors.toml
check types .venv/bin/python -m mypy

if [ -n "$failed" ]; then
    echo "check: failed:$failed"
    exit 1
fi
echo "check: all passed"
