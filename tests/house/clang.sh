#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The whole tree, tests included, builds with clang without a warning.
# usage: clang.sh ROOT FOLDER [TARGET]     one target alone, for others who want it
set -eu
cmake -S "$1" -B "$2" -DCMAKE_C_COMPILER=clang -DWR_TESTS=ON -DWR_HOUSE=OFF -DWR_WERROR=ON
cmake --build "$2" ${3:+--target "$3"}
