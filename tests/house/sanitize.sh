#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests in C and those of the program, under the address and undefined-behaviour sanitizers: a finding stops the
# program that made it, with an exit status that no answer has. Warnings are left to the plain builds, since gcc warns
# falsely here. Three tests are left out that only ask more of what others ask, for minutes.
# usage: sanitize.sh ROOT FOLDER
set -eu
cmake -S "$1" -B "$2" -DCMAKE_C_COMPILER=gcc -DWR_TESTS=ON -DWR_HOUSE=OFF -DWR_WERROR=OFF -DWR_SANITIZE=ON \
    -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="-O1 -g"
cmake --build "$2"
ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1:exitcode=99 UBSAN_OPTIONS=print_stacktrace=1:exitcode=99 \
    ctest --test-dir "$2" --output-on-failure --no-tests=error --label-regex 'unit|published|plant|input|cli|fuzz' \
    --exclude-regex 'plant.lessons|plant.rota_search|cli.docs'
