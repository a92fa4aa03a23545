#!/bin/sh
# Answers 0 when Chromium and its driver are on the machine, after installing them if that is possible here.
set -eu

has_chromium() { command -v chromium >/dev/null 2>&1 && command -v chromedriver >/dev/null 2>&1; }

if has_chromium; then exit 0; fi
if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null 2>&1; then
    echo "chromium: not found; installing the Debian packages chromium and chromium-driver"
    if apt-get update -qq &&
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium chromium-driver >/dev/null; then
        if has_chromium; then exit 0; fi
    fi
fi
echo "chromium: not found; on Debian and its relatives, as root: apt-get install chromium chromium-driver"
exit 1
