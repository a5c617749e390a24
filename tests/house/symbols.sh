#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every symbol that leaves the library begins with wr_.
# usage: symbols.sh LIBRARY
set -eu

# A defined external symbol is a line of three words: address, type, name.
names=$(nm --extern-only --defined-only -- "$1" | awk 'NF == 3 { print $3 }')
count=$(echo "$names" | grep -c . || :)
strangers=$(echo "$names" | grep . | grep -v '^wr_' || :)
[ -z "$strangers" ] || echo "$strangers" | sed 's/$/: leaves the library without the prefix wr_/'
echo "$count symbols, $(echo "$strangers" | grep -c . || :) complaints"
[ "$count" -gt 0 ] && [ -z "$strangers" ]
