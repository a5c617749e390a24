#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Installs what is missing, builds build/washrota, and prints both answers for each ready plant: does wash demand ever
# exceed supply (`run`), and what is the firm capacity and its limit (`firm`). Run folders go to build/demo/, each with its
# pictures, and a picture that puts three of the towns side by side to build/demo/towns/.
#
#     sh scenarios/demo.sh              every scenario, the town of three pressure filters first
#     sh scenarios/demo.sh FILE...      those alone

set -eu

# Paths given are meant from where the caller stands.
absolute() {
    case $1 in
        /*) echo "$1" ;;
        *) echo "$PWD/$1" ;;
    esac
}

# The scenarios shown when none is named.
ready_plants() {
    echo scenarios/pressure-three.json
    for file in scenarios/*.json; do
        case $file in
            *schema* | scenarios/pressure-three.json) ;;
            *) echo "$file" ;;
        esac
    done
}

# An answer is an answer whether the plant passes (0) or fails (1).
answer() {
    command=$1
    file=$2
    folder=build/demo/$(basename -- "$file" .json)-$command
    rm -rf -- "$folder"
    echo
    echo "---- build/washrota $command $file --out $folder"
    echo
    status=0
    build/washrota "$command" "$file" --out "$folder" || status=$?
    if [ "$status" -gt 1 ]; then
        echo "demo: no answer, exit status $status" >&2
        exit "$status"
    fi
    build/washrota plot "$folder"
}

# Firm capacities of three towns side by side, where the demo has just asked for them.
compare() {
    set -- pressure-three iron-three gravity-any-hour
    for name in "$@"; do
        shift
        set -- "$@" "build/demo/$name-firm"
    done
    echo
    build/washrota plot "$@" --out build/demo/towns
}

root=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
for file in "$@"; do
    shift
    set -- "$@" "$(absolute "$file")"
done
cd -- "$root"

sh .ci/prepare.sh build demo
mkdir -p build/demo
cmake -S . -B build -DWR_TESTS=OFF
cmake --build build --parallel "$(nproc)" --target washrota

named=$#
if [ $# -eq 0 ]; then
    ready_plants >build/demo/plants
    while read -r file; do
        set -- "$@" "$file"
    done <build/demo/plants
fi
for file in "$@"; do
    answer run "$file"
    answer firm "$file"
done
[ "$named" -gt 0 ] || compare
