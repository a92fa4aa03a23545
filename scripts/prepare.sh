#!/bin/sh
# Makes .venv, the environment of every make target: finds a Python, then installs exactly what the lock files hold.
# Run through make, which calls it when a lock file or pyproject.toml is newer than .venv/.ready.
set -eu
cd "$(dirname "$0")/.."
here=$(pwd -P)

say() { echo "prepare: $*"; }

# Several names are tried because the first python3 on the path may be a version manager's stand-in or too old, and
# because a system Python may lack ensurepip (Debian ships it apart, in python3-venv).
candidates() {
    printf '%s\n' ${PYTHON:+"$PYTHON"} python3 python3.14 python3.13 python3.12 python3.11 \
        /usr/bin/python3 /usr/local/bin/python3 python
}

is_new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; }
makes_venvs() { "$1" -c 'import ensurepip, venv' >/dev/null 2>&1; }

find_python() {
    for candidate in $(candidates); do
        if is_new_enough "$candidate" && makes_venvs "$candidate"; then
            echo "$candidate"
            return
        fi
    done
}

find_python_without_venv() {
    for candidate in $(candidates); do
        if is_new_enough "$candidate"; then
            echo "$candidate"
            return
        fi
    done
}

python=$(find_python)
if [ -z "$python" ]; then
    bare=$(find_python_without_venv)
    if [ -z "$bare" ]; then
        say "no Python 3.11 or later found (looked for: $(candidates | tr '\n' ' '))"
        say "install one, or name it: make PYTHON=/path/to/python3 ..."
        exit 1
    fi
    if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null 2>&1; then
        say "$bare cannot make virtual environments; installing the Debian package python3-venv"
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends python3-venv >/dev/null
        python=$(find_python)
    fi
    if [ -z "$python" ]; then
        say "$bare cannot make virtual environments (the module ensurepip is missing)"
        say "on Debian and its relatives, as root: apt-get install python3-venv"
        exit 1
    fi
fi

# An environment is kept when it works and was made here: a copied tree would otherwise test the tree it came from.
if [ ! -x .venv/bin/python ] || ! is_new_enough .venv/bin/python || ! .venv/bin/python -m pip --version >/dev/null 2>&1 ||
    [ "$(cat .venv/.made-in 2>/dev/null)" != "$here" ]; then
    say "making .venv with $("$python" -c 'import sys; print(sys.executable, sys.version.split()[0])')"
    "$python" -m venv --clear .venv
    printf '%s\n' "$here" >.venv/.made-in
fi

say "installing what the lock files hold (a few minutes the first time)"
rm -f .venv/.ready
export PIP_DISABLE_PIP_VERSION_CHECK=1
.venv/bin/python -m pip install --quiet --require-hashes -r requirements-dev.lock
.venv/bin/python -m pip install --quiet --no-deps --no-build-isolation --editable .
.venv/bin/python -m pip check
printf '%s\n' "$here" >.venv/.ready
