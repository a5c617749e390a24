# SPDX-License-Identifier: GPL-3.0-or-later
# Text, JSON and CSV say the same numbers: of every shipped scenario, and of plants drawn at random. WR_FIGURES is how many
# of these.

. "$WR_ROOT/tests/cli/expect.sh"

plants=${WR_FIGURES:-60}
draw=$(dirname "$WR_PROGRAM")/tests/random_plants
[ -x "$draw" ] || wr_fail "the tool that draws plants"

for scenario in "$WR_ROOT"/scenarios/*.json; do
    name=$(basename "$scenario" .json)
    [ "$name" != scenario.schema ] || continue
    program run "$scenario" --units si --quiet --out "folders/$name"
    [ "$wr_status" -le 1 ] || wr_fail "a run of $name"
done
seed=1
while [ "$seed" -le "$plants" ]; do
    "$draw" --seed "$seed" --count 1 --write >plant.json
    program run plant.json --units si --quiet --out "folders/$seed"
    [ "$wr_status" -le 1 ] || wr_fail "a run of the plant of seed $seed"
    seed=$((seed + 1))
done
python3 "$WR_ROOT/tests/cli/figures.py" folders/* >said || {
    cat said >&2
    wr_fail "text, JSON and CSV that agree"
}
# It finds what does not agree.
sed -i 's/"washes":[[:space:]]*\([0-9]\)/"washes": 1\1/' folders/iron-four/answer.json
! python3 "$WR_ROOT/tests/cli/figures.py" folders/iron-four >said || wr_fail "a changed number that is found"
