#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# All benchmarks, as tables: what a whole plant costs, by events and by the twin in fixed steps; how many instructions an
# instant and a wash take, where valgrind is there to count them; what settling adds; what threads give a study; the
# winner tree against a plain heap; a beat of the engine alone. Builds nothing. Exit status 0 only if every program
# counted what it should.
#
# usage: bench.sh [BUILD [quick]]     quick: small counts and no valgrind, to see that all run and count right

set -u
root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
tests=$(CDPATH='' cd -- "${1:-$root/build}/tests" && pwd) || exit 2
mode=${2:-whole}
bad=0

# NAME ARGUMENT...: one program under its name.
run() {
    name=$1
    shift
    echo
    echo "---- $name"
    "$tests/$name" "$@" || bad=$((bad + 1))
}

# FILTERS DAYS [apart]: instants, washes and instructions within wr_simulation_run of one run.
count_instructions() {
    counts=$("$tests/bench_plant" count "$@") || return 1
    collected=$(valgrind --tool=callgrind --callgrind-out-file=/dev/null --toggle-collect=wr_simulation_run \
        "$tests/bench_plant" count "$@" 2>&1 >/dev/null | sed -n 's/.*Collected : *//p')
    [ -n "$collected" ] && [ "$collected" -gt 0 ] && echo "$1 $counts $collected"
}

# DAYS [apart]: the table for all sizes, and with what power of the filters the cost of a wash grows.
instructions_table() {
    for filters in 4 16 64 256; do
        count_instructions "$filters" "$@" || echo "failed"
    done | awk '
        NF != 4 { bad = 1; next }
        { printf "%8d %9d %8d %12.0f %12.0f\n", $1, $2, $3, $4 / $2, $4 / $3 }
        NR == 1 { first = $1; cost = $4 / $3 }
        { power = $1 > first ? log($4 / $3 / cost) / log($1 / first) : 0 }
        END {
            printf "the cost of a wash grows with the filters to the power of %.2f\n", power
            exit bad
        }' || bad=$((bad + 1))
}

instructions() {
    echo
    echo "---- instructions"
    if ! command -v valgrind >/dev/null 2>&1; then
        echo "not counted: valgrind is not installed"
        return
    fi
    echo "30 days, counted by callgrind within wr_simulation_run: record, lists, habits and books, assertions too"
    printf '%8s %9s %8s %12s %12s\n' filters instants washes 'an instant' 'a wash'
    echo "washes start when they may, many at one instant"
    instructions_table 30
    echo "washes are kept apart by a time between starts"
    instructions_table 30 apart
}

if [ "$mode" = quick ]; then
    run bench_plant 1 4
    run bench_twin 1 4
    run bench_settling 1 4
    run bench_workers 1 4
    run bench_hold 1 1000
    run bench_beat 1 1000
else
    run bench_plant
    instructions
    run bench_twin
    run bench_settling
    run bench_workers
    run bench_hold
    run bench_beat
fi
echo
echo "benchmarks that failed: $bad"
[ "$bad" -eq 0 ]
