#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Hostile input in great numbers: builds the targets with clang's libFuzzer and both sanitizers in build/fuzz, and gives each
# its share of COUNT inputs, from a corpus that build/fuzz keeps from one time to the next. Ends with a line of counts, or
# with the input that showed a fault, which then belongs in tests/fuzz/regressions/.
# usage: fuzz.sh COUNT [SECONDS]     of one million inputs and 12 hours, for each target, without
# exit 77: this clang has no libFuzzer
set -eu
root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
cd -- "$root"
count=${1:-1000000}
seconds=${2:-43200}
folder=build/fuzz

echo 'int LLVMFuzzerTestOneInput(const unsigned char *d, unsigned long n) { (void)d; (void)n; return 0; }' |
    clang -x c - -fsanitize=fuzzer -o /dev/null 2>/dev/null || {
    echo "fuzz: clang with libFuzzer is not here"
    exit 77
}

cmake -S . -B "$folder" -DCMAKE_C_COMPILER=clang -DWR_TESTS=ON -DWR_HOUSE=OFF -DWR_WERROR=OFF -DWR_SANITIZE=ON -DWR_FUZZER=ON \
    -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="-O1 -g -fsanitize=fuzzer-no-link" >/dev/null
cmake --build "$folder" --parallel "$(nproc)" --target fuzz_scenario fuzz_settings fuzz_folder fuzz_state fuzz_seeds random_plants \
    >/dev/null

mkdir -p "$folder"/corpus/scenario "$folder"/corpus/settings "$folder"/corpus/folder "$folder"/corpus/state
"$folder"/tests/fuzz_seeds words >"$folder"/dictionary
for plant in $(seq 100); do
    "$folder"/tests/random_plants --seed "$plant" --write >"$folder"/corpus/scenario/plant-"$plant"
done
"$folder"/tests/fuzz_seeds settings "$folder"/corpus/settings
cp scenarios/*.json tests/input/*.json tests/plant/plain.json "$folder"/corpus/scenario/
cp tests/fuzz/corpus/settings/* "$folder"/corpus/settings/
cp tests/fuzz/corpus/folder/* "$folder"/corpus/folder/
cp tests/fuzz/corpus/state/* "$folder"/corpus/state/

# One target on its share of the inputs; adds to $done what it did. An input that takes long is a fault, but the limit is by
# the clock: on a machine that others load, one that alone takes a third of a second has taken twenty.
done=0
fuzz() {
    "$folder"/tests/fuzz_"$1" "$folder"/corpus/"$1" -runs="$2" -max_total_time="$seconds" -dict="$folder"/dictionary \
        -max_len=16384 -timeout=120 -rss_limit_mb=2000 -print_final_stats=1 -seed=1 \
        -artifact_prefix="$folder"/"$1"- >"$folder"/"$1".log 2>&1 || {
        tail -40 "$folder"/"$1".log
        echo "fuzz: a fault of $1; its input is $folder/$1-*"
        exit 1
    }
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$folder"/"$1".log)
    echo "fuzz: $1: $runs hostile inputs"
    done=$((done + runs))
}

fuzz settings $((count / 2))
fuzz scenario $((count / 10 * 3))
fuzz folder $((count / 10))
fuzz state $((count / 10))
echo "fuzz: $done hostile inputs: no fault"
