#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What takes too long for every change: all tests, then random plants, the twin, firm capacities, figures, hostile input,
# faults of one line and the benchmarks, in great numbers. Each part ends with its counts; at the end they stand in one
# line, which docs/trust.md keeps. Exit status 0 only if all of them end well.
#
#     sh tests/long.sh                  all parts: hours
#     sh tests/long.sh PART...          of tests plants twin firm figures fuzz mutants bench

set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
cd -- "$root"
line="commit $(git rev-parse --short HEAD), $(date +%Y-%m-%d)"
said=build/long.txt

# Runs a command, shows what it says, and keeps of it the line that has the counts.
counts() {
    part=$1 pattern=$2
    shift 2
    echo
    echo "---- $part: $*"
    { "$@" 2>&1 && echo long-ended-well; } | tee "$said"
    tail -n 1 "$said" | grep -qx long-ended-well
    line="$line; $part: $(grep -E -- "$pattern" "$said" | tail -n 1 | sed 's/^ *//')"
}

is_given() {
    case " $parts " in *" $1 "*) return 0 ;; esac
    return 1
}

parts=${*:-tests plants twin firm figures fuzz mutants bench}
for part in $parts; do
    case $part in
        tests | plants | twin | firm | figures | fuzz | mutants | bench) ;;
        *)
            echo "long.sh: no part $part" >&2
            exit 2
            ;;
    esac
done
[ -x build/washrota ] || is_given tests || sh tests/all.sh -L unit

if is_given tests; then counts tests 'tests passed' sh tests/all.sh; fi
if is_given plants; then counts plants 'plants break a rule' build/tests/random_plants --count 100000; fi
if is_given twin; then
    counts twin 'plants over' env WR_TWIN_PLANTS=1000 WR_TWIN_DAYS=14 build/tests/plant_twin_random
fi
if is_given firm; then counts firm 'with a promise' env WR_FIRM_PLANTS=1000 build/tests/plant_random_firm; fi
if is_given figures; then
    counts figures 'tests passed' env WR_FIGURES=1000 ctest --test-dir build --output-on-failure -R '^cli.figures$'
fi
if is_given fuzz; then counts fuzz 'hostile inputs: no fault' sh tests/fuzz/fuzz.sh 1000000; fi
if is_given mutants; then counts mutants 'faults of one line,' python3 tests/mutants/mutants.py . run build/mutants; fi
if is_given bench; then counts bench '.' sh tests/bench/bench.sh build; fi
echo
echo "$line"
