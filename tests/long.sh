#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What takes too long for every change: all tests, then each benchmark, which prints its own table and fails when what
# it counted is wrong. Exit status 0 only if all of them end well.

set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
cd -- "$root"

sh tests/all.sh
bad=0
for source in tests/bench/bench_*.c; do
    [ -e "$source" ] || continue
    name=$(basename -- "$source" .c)
    echo
    echo "---- $name"
    "build/tests/$name" || bad=$((bad + 1))
done
echo
echo "benchmarks that failed: $bad"
[ "$bad" -eq 0 ]
