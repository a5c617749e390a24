#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Installs what is missing, builds in build/ and runs every test. Ends with ctest's own summary and its exit status.
# Arguments go to ctest: `sh tests/all.sh -L unit` runs the unit tests alone.

set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
cd -- "$root"

sh .ci/prepare.sh build test
cmake -S . -B build -DWR_TESTS=ON -DWR_HOUSE=ON
cmake --build build --parallel "$(nproc)"
exec ctest --test-dir build --parallel 2 --output-on-failure --no-tests=error "$@"
