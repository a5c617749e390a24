# SPDX-License-Identifier: GPL-3.0-or-later
# Runs in parts: up to a moment, saved there, gone on with; and saved runs that do not fit.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/iron-four.json

# Up to a moment it answers as a shorter horizon would, and says so.
program run "$plant" --set '/horizon=66 h' --json
cp wr_out shorter.json
program run "$plant" --until 'day 3 at 18:00' --json
expect_status 0
expect_json 'd["horizon_s"] == 66 * 3600 and d["scenario_horizon_s"] == 30 * 86400'
expect_json '[d[k] == json.load(open("shorter.json"))[k] for k in ("answers", "filters", "findings", "ledger")] == 4 * [True]'
program run "$plant" --until 'day 3 at 18:00'
tr '\n' ' ' <wr_out | grep -q "It was ended on day 3 at 18:00, as asked; the scenario's horizon is 30 days." ||
    wr_fail 'where the run was ended'
program run "$plant" --set '/horizon=66 h'
expect_no_out 'It was ended'

# Saved, gone on with, saved again in the same file, gone on with to the end: the folder is that of the run at one go.
program run "$plant" --out whole --quiet
program run "$plant" --until 'day 3 at 18:20' --save run.saved --quiet
expect_status 0
expect_silent err
expect_file run.saved
program run "$plant" --resume run.saved --until 'day 12' --save run.saved --quiet
expect_status 0
program run "$plant" --resume run.saved --out parts --quiet
expect_status 0
for file in answer.json report.txt washes.csv spans.csv tanks.csv sludge.csv about.json scenario.json; do
    cmp -s "whole/$file" "parts/$file" || wr_fail "the same $file of a run in parts"
done
[ "$(ls)" = "parts
run.saved
shorter.json
whole
wr_err
wr_out" ] || wr_fail 'nothing else left'

# A saved run that is gone on with to its own moment is the run up to there.
program run "$plant" --until 'day 12' --json
cp wr_out until.json
program run "$plant" --resume run.saved --until 'day 12' --json
cmp -s wr_out until.json || wr_fail 'the same answer at the moment of the saved run'

# A failing run is saved, too; a folder of a run up to a moment is drawn and explained as it was.
program run "$plant" --set '/demand/maximum_day=2 Mgal/d' --until 'day 6' --save failing --quiet --out until
expect_status 1
expect_file failing
program explain until --json
expect_json 'd["horizon_s"] == 5 * 86400'
[ "$(python3 -c 'import json; print(json.load(open("until/about.json"))["ended_at_s"])')" = 432000 ] ||
    wr_fail 'the end in about.json'

# Whatever does not fit is refused, and what is wrong is said.
refused() {
    expect_status 2
    expect_err "cannot go on from $1: $2"
    expect_silent out
}
program run "$plant" --resume run.saved --set /seed=7
refused run.saved 'it was saved from another scenario, or from this one with other settings'
program run "$WR_ROOT/scenarios/iron-three.json" --resume run.saved
refused run.saved 'it was saved from another scenario'
program run "$plant" --resume run.saved --until 'day 3'
refused run.saved 'it stands after the moment at which this run is to end'
program run "$plant" --resume "$plant"
refused "$plant" 'it is no saved run'
program run "$plant" --resume none
refused none 'cannot open it'
program run "$plant" --resume whole
refused whole 'cannot read it'
head -c 3000 run.saved >short
program run "$plant" --resume short
refused short 'it is cut short'
{ head -c 3000 run.saved; printf '\377\001\377'; tail -c +3004 run.saved; } >damaged
program run "$plant" --resume damaged
refused damaged 'it is damaged: its checksum does not fit'
program run "$plant" --resume /dev/zero
refused /dev/zero 'it is no saved run'
program run "$plant" --resume short --json
expect_status 2
expect_json '"cut short" in d["fault"] and "answers" not in d'

# Moments and calls.
for moment in 'day 32' 'day 1' 'day 0' 'tomorrow' '-1' ''; do
    program run "$plant" --until "$moment"
    expect_status 2
    expect_err --until
done
program run "$plant" --until 'day 31' --json
expect_json '"scenario_horizon_s" not in d'
program run "$plant" --save x
expect_status 2
expect_err '--save wants --until'
program firm "$plant" --save x
expect_status 2
expect_err '--save is an option of run'
[ ! -e x ] || wr_fail 'nothing saved'

# Nothing of anybody's is written over, and a link stays one.
echo precious >notes
program run "$plant" --until 'day 3' --save notes --quiet
expect_status 2
expect_err 'is no saved run; it is left as it is'
[ "$(cat notes)" = precious ] || wr_fail 'the notes as they were'
program run "$plant" --until 'day 3' --save whole --quiet
expect_status 2
program run "$plant" --until 'day 3' --save '' --quiet
expect_status 2
ln -s run.saved link
program run "$plant" --until 'day 3' --save link --quiet
expect_status 0
[ -L link ] || wr_fail 'the link left as it is'
program run "$plant" --resume run.saved --out parts --quiet
cmp -s whole/answer.json parts/answer.json || wr_fail 'the file behind the link saved'
if [ -d /proc/self ]; then
    program run "$plant" --until 'day 3' --save /proc/self/none
    expect_status 3
    expect_err cannot
    expect_out 'This run passes'
fi
