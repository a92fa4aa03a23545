#!/bin/sh
# Runs every test but the long proofs. Tests that need a browser get one installed where that is possible; where it is
# not, they are named and left out, unless MARRAM_NOTHING_LEFT_OUT is set: then that is a failure.
# A file is run by one process, so that what its tests share (an opened course, a guide) is made once.
set -eu
cd "$(dirname "$0")/.."
python=.venv/bin/python

if grep -rlq --include='*.py' 'mark\.browser' tests && ! sh scripts/chromium.sh; then
    if [ -n "${MARRAM_NOTHING_LEFT_OUT:-}" ]; then
        echo "test: the tests that need a browser cannot run, and nothing may be left out"
        exit 1
    fi
    status=0
    "$python" -m pytest -n auto --dist loadfile -m "not long and not browser" "$@" || status=$?
    echo "test: NOT RUN, because Chromium is missing:"
    "$python" -m pytest --collect-only -q -m "browser and not long" | grep '::' || true
    exit "$status"
fi
exec "$python" -m pytest -n auto --dist loadfile -m "not long" "$@"
