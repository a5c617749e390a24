# SPDX-License-Identifier: GPL-3.0-or-later
# Sweeps: axes crossed and in step, figures, CSV, what the scenario refuses, folders and interruptions.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/pressure-three.json

program sweep "$plant" --axis '/raw_water/iron=1 mg/L to 3 mg/L in 3' --axis '/filters/0/count=3, 4' --set '/horizon=5 d'
expect_status 0
expect_silent err
expect_out '6 of 6 points pass; moved: /raw_water/iron crossed with /filters/0/count.'
expect_out '2 mg/L  4      yes'
expect_out 'Do not change setpoints on its word alone.'

# A point answers as run does for the same settings; the last axis moves fastest; as many threads as wanted.
program sweep "$plant" --axis '/demand/maximum_day=0.2 Mgal/d to 0.4 Mgal/d in 2' --axis '/wash/who_first=dirtiest, longest_waiting' \
    --show /answers/demand/delivered_m3 --show /answers/wash_balance/grade --show /answers/passes --json --threads 1
cp wr_out one
expect_json '[p["at"] for p in d["points"]] == [["0.2 Mgal/d", "dirtiest"], ["0.2 Mgal/d", "longest_waiting"], ["0.4 Mgal/d", "dirtiest"], ["0.4 Mgal/d", "longest_waiting"]]'
"$WR_PROGRAM" run "$plant" --json --set '/demand/maximum_day=0.4 Mgal/d' --set /wash/who_first=dirtiest >single || true
python3 -c '
import json
sweep, run = json.load(open("one")), json.load(open("single"))
answers = run["answers"]
assert sweep["points"][2]["figures"] == [answers["demand"]["delivered_m3"], answers["wash_balance"]["grade"], answers["passes"]]
assert sweep["points"][2]["passes"] == answers["passes"]
' || wr_fail "the figures of a run"
program sweep "$plant" --axis '/demand/maximum_day=0.2 Mgal/d to 0.4 Mgal/d in 2' --axis '/wash/who_first=dirtiest, longest_waiting' \
    --show /answers/demand/delivered_m3 --show /answers/wash_balance/grade --show /answers/passes --json --threads 4
cmp -s wr_out one || wr_fail "the same answer by four threads as by one"

# In step; firm; a value that the scenario does not allow.
program sweep "$plant" --axis '/wash/min_between_start=0 h, 6 h'
expect_status 2
expect_err 'did you mean "min_between_starts"?'
program sweep "$plant" --in-step --axis '/filters/0/count=3 to 4' --axis '/demand/maximum_day=0.36 Mgal/d, 0.5 Mgal/d' --ask firm --json
expect_status 0
expect_json 'd["in_step"] and [p["at"] for p in d["points"]] == [["3", "0.36 Mgal/d"], ["4", "0.5 Mgal/d"]]'
expect_json 'd["figures"][0] == "/filter_firm_m3_per_s" and abs(d["points"][0]["figures"][0] - 0.01689) < 1e-4'
program sweep "$plant" --axis '/wash/max_simultaneous=0 to 1' --json
expect_status 1
expect_json 'd["points"][0]["passes"] is None and "at least 1" in d["points"][0]["refused"] and d["points"][1]["passes"]'
program sweep "$plant" --axis '/wash/max_simultaneous=0 to 1'
expect_out 'does not allow 1 of them'
expect_out 'refused'

# CSV, alone on standard output and in a folder; the folder runs again; points at the start may be left out.
program sweep "$plant" --axis '/raw_water/iron=1 mg/L to 2 mg/L in 2' --axis '/title="a, b", c' --csv --out folder
expect_status 0
cmp -s wr_out folder/sweep.csv || wr_fail "the table as printed"
for file in about.json answer.json report.txt scenario.json sweep.csv; do
    expect_file "folder/$file"
done
command -v gnuplot >/dev/null && expect_file folder/sweep.png
python3 -c '
import csv
rows = list(csv.DictReader(open("folder/sweep.csv", newline="")))
assert [r["/title"] for r in rows] == ["\"a, b\"", "c"] * 2 and rows[0]["/raw_water/iron"] == "1 mg/L"
' || wr_fail "a table that reads back"
program sweep folder/scenario.json --axis '/raw_water/iron=1 mg/L to 2 mg/L in 2' --axis '/title="a, b", c' --json
cmp -s wr_out folder/answer.json || wr_fail "the same answer from the folder's own scenario"
program sweep "$plant" --axis '/raw_water/iron=1 mg/L to 2 mg/L in 5' --skip 3 --json
expect_json '[p["at"] for p in d["points"]] == [["1.75 mg/L"], ["2 mg/L"]] and d["skipped"] == 3'

# Wrong calls.
program sweep "$plant"
expect_status 2
expect_err 'sweep wants an axis'
for axis in '/raw_water/irn=1, 2' '/raw_water/iron=1 mg/L to 2 mg/L' '/raw_water/iron' '/a=' '/raw_water/iron=1 mg/L to 2 h in 3'; do
    program sweep "$plant" --axis "$axis"
    expect_status 2
    expect_silent out
done
program sweep "$plant" --in-step --axis '/filters/0/count=3, 4' --axis '/wells/0/flow=100 gal/min'
expect_status 2
expect_err 'as many values each'
program sweep "$plant" --axis '/filters/0/count=3, 4' --show /answers/nothing
expect_status 2
expect_err 'no answer has a figure /answers/nothing'
program sweep "$plant" --axis '/filters/0/count=3, 4' --skip 2
expect_status 2
expect_err 'skipped'
program sweep "$plant" --axis '/filters/0/count=3, 4' --csv --json
expect_status 2
expect_err 'one of them'

# An interrupt keeps the points that are done and says how to go on.
"$WR_PROGRAM" sweep "$WR_ROOT/scenarios/gravity-urgent.json" --axis '/demand/maximum_day=2000 m3/d to 3000 m3/d in 4000' \
    --set '/horizon=365 d' --threads 2 --out cut >wr_out 2>wr_err &
job=$!
sleep 1
kill -INT "$job"
wr_call="sweep, interrupted"
wr_status=0
wait "$job" || wr_status=$?
expect_status 3
expect_err 'interrupted; what was done is kept'
expect_out 'To go on, give the same call with --skip '
cp cut/answer.json wr_out
expect_json 'd["interrupted"] and 0 < len(d["points"]) < 4000'
