#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What takes too long for every change: all tests, then a thousand random plants over 14 days against the twin, then all
# benchmarks, which print their tables and fail when what they counted is wrong. Exit status 0 only if all of them end
# well.

set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
cd -- "$root"

sh tests/all.sh
echo
echo "---- random plants against the twin"
WR_TWIN_PLANTS=1000 WR_TWIN_DAYS=14 build/tests/plant_twin_random
exec sh tests/bench/bench.sh build
