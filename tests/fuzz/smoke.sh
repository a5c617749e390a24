#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# One target on its corpus, on every input that once showed a fault, and on some hundreds of spoilt copies.
# usage: smoke.sh PROGRAM scenario|settings|folder|state [COUNT [SEED]], from the root of the tree
set -eu
case $2 in
    scenario) set -- "$@" -- scenarios/*.json tests/input/*.json tests/plant/plain.json ;;
    *) set -- "$@" -- tests/fuzz/corpus/"$2"/* ;;
esac
program=$1
kind=$2
count=600
seed=1
shift 2
if [ "$1" != -- ]; then count=$1; shift; fi
if [ "$1" != -- ]; then seed=$1; shift; fi
shift
for file in tests/fuzz/regressions/"$kind"/*; do
    [ ! -f "$file" ] || set -- "$@" "$file"
done
exec "$program" "$count" "$seed" "$@"
