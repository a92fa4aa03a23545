#!/bin/sh
# Runs every test but the long proofs. Tests that need a browser or the server of PostgreSQL get one installed where that is possible; where
# it is not, they are named and left out, unless MARRAM_NOTHING_LEFT_OUT is set: then that is a failure.
# A file is run by one process, so that what its tests share (an opened course, a guide) is made once.
set -eu
cd "$(dirname "$0")/.."
python=.venv/bin/python
chosen="not long"
left=

# $1 marks the tests, $2 is what they need, $3 sees that it is there.
need() {
    if grep -rlq --include='*.py' "mark\.$1" tests && ! sh "$3"; then
        if [ -n "${MARRAM_NOTHING_LEFT_OUT:-}" ]; then
            echo "test: the tests that need $2 cannot run, and nothing may be left out"
            exit 1
        fi
        chosen="$chosen and not $1"
        left="${left:+$left or }$1"
        echo "test: $2 is missing"
    fi
}

need browser "a browser" scripts/chromium.sh
need postgresql "the server of PostgreSQL" scripts/postgresql.sh

if [ -z "$left" ]; then
    exec "$python" -m pytest -n auto --dist loadfile -m "$chosen" "$@"
fi
status=0
"$python" -m pytest -n auto --dist loadfile -m "$chosen" "$@" || status=$?
echo "test: NOT RUN, because what they need is missing:"
"$python" -m pytest --collect-only -q -m "($left) and not long" | grep '::' || true
exit "$status"
