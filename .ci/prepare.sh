#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Installs the Debian packages that are missing, of the levels named as arguments (see .ci/packages).
#
#     sh .ci/prepare.sh build test
#
# Exit 0: all are there. 3: some are missing and cannot be installed from here; the line to run is printed.
# Nothing is asked of the network while nothing is missing. With WR_PREPARED=1 nothing is looked at either: for systems
# without dpkg, whose user has installed the same things by other means.

set -eu

list=$(dirname -- "$0")/packages

usage() {
    echo "usage: prepare.sh LEVEL...   with levels build, demo, test, optional" >&2
    exit 2
}

[ $# -gt 0 ] || usage
for level in "$@"; do
    case $level in
        build | demo | test | optional) ;;
        *) usage ;;
    esac
done
[ "${WR_PREPARED:-0}" != 1 ] || exit 0

# Names of one level in the list.
packages_of() {
    while read -r name level _; do
        case $name in '' | '#'*) continue ;; esac
        [ "$level" != "$1" ] || echo "$name"
    done <"$list"
}

is_installed() {
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

missing_of() {
    for name in $(packages_of "$1"); do
        is_installed "$name" || echo "$name"
    done
}

# How to become root: nothing to do, sudo without a prompt, or not at all.
root_by() {
    if [ "$(id -u)" -eq 0 ]; then
        echo env
    elif command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then
        echo "sudo -n env"
    fi
}

apt() {
    # shellcheck disable=SC2086 # a command of several words
    $as_root DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 "$@" </dev/null
}

if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "prepare: no dpkg here. Install what .ci/packages lists by other means, then set WR_PREPARED=1." >&2
    exit 3
fi

# Both are lists of words, each word with a blank before it.
needed=
wanted=
for level in "$@"; do
    for name in $(missing_of "$level"); do
        case $level in
            optional) wanted="$wanted $name" ;;
            *) needed="$needed $name" ;;
        esac
    done
done
[ -n "$needed$wanted" ] || exit 0

give_up() {
    echo "prepare: $1. Run this, then try again:" >&2
    echo "    sudo apt-get update && sudo apt-get install -y --no-install-recommends$needed" >&2
    exit 3
}

as_root=$(root_by)
if [ -z "$as_root" ]; then
    [ -n "$needed" ] || exit 0
    give_up "missing packages, and no right to install them"
fi

echo "prepare: installing$needed$wanted"
apt update -qq || echo "prepare: the package lists could not all be refreshed; trying with those at hand" >&2
if [ -n "$needed" ]; then
    # shellcheck disable=SC2086 # a list of words
    apt install -y -qq --no-install-recommends $needed || give_up "the packages could not be installed"
fi
for name in $wanted; do
    apt install -y -qq --no-install-recommends "$name" || echo "prepare: going on without $name" >&2
done
