#!/bin/sh
# Answers 0 when the server of PostgreSQL is on the machine, after installing it if that is possible here. It need not run: the tests start
# one of their own.
set -eu

has_server() { ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || command -v initdb >/dev/null 2>&1; }

if has_server; then exit 0; fi
if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null 2>&1; then
    echo "postgresql: not found; installing the Debian package postgresql"
    if apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends postgresql >/dev/null; then
        if has_server; then exit 0; fi
    fi
fi
echo "postgresql: not found; on Debian and its relatives, as root: apt-get install postgresql"
exit 1
