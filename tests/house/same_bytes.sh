#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The same answers, byte for byte, from gcc and clang, optimised and not, built now and on this machine: by PROGRAM as it
# was built, by the clang build of house.clang, and by both compilers without optimising. No hash is kept from one run to
# the next: another processor's mathematical library may differ in a last bit. The many years of `firm` are simulated
# without optimising for the first scenario of each family of names alone.
# usage: same_bytes.sh ROOT FOLDER PROGRAM CLANG      CLANG: the folder of house.clang
#        exit 77: there is nothing yet to compare
set -eu
root=$1
folder=$2
house=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)

# COMPILER -O0: a build of its own.
build() {
    cmake -S "$root" -B "$folder/$1$2" -DCMAKE_C_COMPILER="$1" -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="$2" \
        -DWR_TESTS=OFF -DWR_WERROR=OFF
    cmake --build "$folder/$1$2" --target washrota
}

# NAME PROGRAM: one that is built.
take() {
    mkdir -p "$folder/$1"
    cp -- "$2" "$folder/$1/washrota"
}

# The answer of one build to one scenario, and its hash on standard output. Status 2 is that of a bed without media.
answer_of() {
    status=0
    "$folder/$1/washrota" "$2" "$root/$3" --json >"$folder/answer" || status=$?
    [ "$status" -le 1 ] || [ "$2 $status" = "bed 2" ] || {
        echo "$1/washrota $2 $3: exit status $status" >&2
        exit 1
    }
    [ -s "$folder/answer" ] || {
        echo "$1/washrota $2 $3: no answer" >&2
        exit 1
    }
    echo "$status $(sha256sum <"$folder/answer")"
}

cd -- "$root"
scenarios=$(find scenarios -maxdepth 1 -name '*.json' ! -name '*schema*' | sort)
if [ ! -e sim/cli/main.c ] || [ -z "$scenarios" ]; then
    echo "no program or no scenario yet: nothing compared"
    exit 77
fi

mkdir -p "$folder"
take program "$3"
sh "$house/clang.sh" "$root" "$4" washrota
take clang-O2 "$4/washrota"
build gcc -O0
build clang -O0
builds='program clang-O2 gcc-O0 clang-O0'

count=0
bad=0
family=
for scenario in $scenarios; do
    is_first=$([ "${scenario%%-*}" = "$family" ] || echo yes)
    family=${scenario%%-*}
    for command in run firm bed; do
        first=
        for name in $builds; do
            case $command$name$is_first in firm*-O0) continue ;; esac
            answer=$(answer_of "$name" "$command" "$scenario")
            count=$((count + 1))
            [ -n "$first" ] || first=$answer
            if [ "$answer" != "$first" ]; then
                echo "$command $scenario: $name answers otherwise than the first of $builds"
                bad=$((bad + 1))
            fi
        done
    done
done
echo "$count answers compared, $bad differ"
[ "$bad" -eq 0 ]
