# SPDX-License-Identifier: GPL-3.0-or-later
# The search for a rota: what it shows, what its folder holds, and interruptions.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/gravity-day-shift.json
levels=4
first='longest_waiting, dirtiest'
tried=8
if [ "${WR_SANITIZED:-}" = 1 ]; then
    levels=2
    first=dirtiest
    tried=2
fi
urgent="/wash/triggers/urgent_differential=1.55 m to 1.85 m in $levels"

program rota "$plant" --may "$urgent" --may "/wash/who_first=$first" --for firm --out folder
expect_status 0
expect_silent err
expect_out 'Which rota lets the plant promise most?'
expect_out "Today's rota beside the best that were found"
expect_out "1. Better than today's: filter firm capacity 4,3"
expect_out '/wash/triggers/urgent_differential=1.55'
expect_out 'How far may the best be from the best there is?'
expect_out "All $tried combinations of the values were tried."
expect_out 'Verify on the plant before a setpoint is changed'
expect_out 'Do not change setpoints on its word alone.'
for file in about.json answer.json report.txt scenario.json; do
    expect_file "folder/$file"
done
program rota folder/scenario.json --may "$urgent" --may "/wash/who_first=$first" --for firm --json --threads 3
cmp -s wr_out folder/answer.json || wr_fail "the same answer from the folder's own scenario, by other threads"
expect_json 'd["best"][0]["better_than_today"] and d["best"][0]["differs_by"] == "filter_firm" and d["tried"] == '$tried
expect_json 'd["best"][0]["filter_firm_m3_per_s"] > 1.2 * d["today"]["filter_firm_m3_per_s"]'

# What it prints is what may be set.
setting=$(python3 -c 'import json; print(json.load(open("folder/answer.json"))["best"][0]["settings"][0])')
program firm "$plant" --set "$setting" --json
python3 -c '
import json
best = json.load(open("folder/answer.json"))["best"][0]["filter_firm_m3_per_s"]
assert json.load(open("wr_out"))["filter_firm_m3_per_s"] == best
' || wr_fail "the firm capacity of the setpoints as found"

# Wrong calls.
program rota "$plant"
expect_status 2
expect_err 'rota wants bounds'
program rota "$plant" --may '/wash/windw=[]'
expect_status 2
expect_silent out
expect_err 'unknown key'
program rota "$plant" --may '/wash/min_between_start=0 h, 6 h'
expect_status 2
expect_err 'did you mean "min_between_starts"?'
program rota "$plant" --may '/wash/min_between_starts=0 to 6'
expect_status 1
expect_out 'The scenario allows none of what was tried; the first: /wash/min_between_starts: found the bare'
program rota "$plant" --may "$urgent" --for gain
expect_status 2
expect_err 'room or firm'
program rota "$plant" --may "$urgent" --tries 0
expect_status 2
expect_err '--tries'

# An interrupt keeps the best of what was tried; a slow build is given longer before it comes.
for patience in 2 10 40; do
    "$WR_PROGRAM" rota "$plant" --may '/wash/triggers/run_hours=24 h to 96 h in 2000' --tries 2000 \
        --set '/horizon=365 d' --threads 1 --json >wr_out 2>wr_err &
    job=$!
    sleep "$patience"
    kill -INT "$job"
    wr_call="rota, interrupted after $patience s"
    wr_status=0
    wait "$job" || wr_status=$?
    expect_status 3
    expect_err 'interrupted; what was done is kept'
    grep -q '"tried":[[:space:]]*0' wr_out || break
done
expect_json 'd["interrupted"] and 0 < d["tried"] < 2000 and d["best"]'
