# SPDX-License-Identifier: GPL-3.0-or-later
# Margins: how bad a number may get, what the folder holds, and interruptions.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/pressure-three.json

program margin "$plant" --of /demand/maximum_day --of /raw_water/iron
expect_status 0
expect_silent err
expect_out 'How bad may each number get before the plant no longer passes?'
expect_out 'with Filter 1 out'
expect_out 'Nearest to its limit first'
expect_out '1. /demand/maximum_day is 0.3600 Mgal/d. More: it passes up to 0.385'
expect_out 'the next well would push the filters in service over their approved rate'
expect_out '++++(+)----'
expect_out 'Do not change setpoints on its word alone.'
program margin "$plant" --of /demand/maximum_day --units si
expect_out ' m3/d'
expect_no_out 'Nearest to its limit first'

# The document: SI, and both ends of the gap.
program margin "$plant" --of /demand/maximum_day --of /raw_water/iron --json
expect_json 'd["passes"] and d["judged"] == "firm" and not d["interrupted"] and d["map"] is None'
expect_json '[m["of"] for m in d["margins"]] == ["/demand/maximum_day", "/raw_water/iron"]'
expect_json 'd["margins"][0]["unit"] == "m3/s" and d["margins"][0]["more"]["limiting"]["limit"] == "well_does_not_fit"'
expect_json '0 < d["margins"][0]["more"]["fails_at"] / d["margins"][0]["more"]["passes_at"] - 1 < 1.1e-7'
expect_json 'len(d["margins"][0]["less"]["ladder"]) == 20 and not d["margins"][0]["less"]["changes"]'
cp wr_out one
for number in 1 2 5; do
    program margin "$plant" --of /demand/maximum_day --of /raw_water/iron --json --threads "$number"
    cmp -s wr_out one || wr_fail "the same answer by $number threads"
done

# A plant that fails; the scenario's own run; every unit in service.
program margin "$WR_ROOT/scenarios/iron-four.json" --of '/raw_water/iron=2 mg/L to 8 mg/L'
expect_status 1
expect_out 'it passes from 5.8'
program margin "$plant" --of /demand/maximum_day --judged all-in --json
expect_status 0
expect_json 'd["judged"] == "all_in" and d["margins"][0]["more"]["passes_at"] > 0.02'
program margin "$plant" --of /demand/maximum_day --judged run --quiet
expect_status 0
expect_silent out

# Two numbers together, and a folder that answers again.
program margin "$plant" --of '/demand/maximum_day=0.3 Mgal/d to 0.45 Mgal/d' --of '/filters/0/count=2 to 4' --map \
    --out folder
expect_status 0
expect_out 'Both together'
for file in about.json answer.json report.txt scenario.json margin.csv map.csv; do
    expect_file "folder/$file"
done
command -v gnuplot >/dev/null && expect_file folder/map.png
cp folder/about.json wr_out
expect_json 'd["command"] == "margin" and d["asked"]["map"] and d["asked"]["of"][1] == "/filters/0/count=2 to 4"'
cp folder/answer.json wr_out
expect_json 'd["map"]["passes"][0][:2] == [False, True] or not d["map"]["passes"][0][0]'
expect_json 'len(d["map"]["x"]) == 25 and d["map"]["y"] == [2, 3, 4] and d["map"]["boundary"]'
program margin folder/scenario.json --of '/demand/maximum_day=0.3 Mgal/d to 0.45 Mgal/d' \
    --of '/filters/0/count=2 to 4' --map --json
cmp -s wr_out folder/answer.json || wr_fail "the same answer from the folder's own scenario"
program margin "$plant" --of '/demand/maximum_day=0.3 Mgal/d to 0.45 Mgal/d' --of '/filters/0/count=2 to 4' --map \
    --out folder --quiet
expect_status 0

# Wrong calls.
program margin "$plant"
expect_status 2
expect_err 'margin wants a number'
program margin "$plant" --of /raw_water/irn
expect_status 2
expect_silent out
expect_err 'did you mean'
program margin "$plant" --of /raw_water/irn --json
expect_status 2
expect_json '"irn" in d["fault"]'
program margin "$plant" --of /wash/min_between_start
expect_status 2
expect_err 'did you mean "min_between_starts"?'
program margin "$plant" --of /raw_water/iron --map
expect_status 2
expect_err 'two numbers'
program margin "$plant" --of /raw_water/iron --judged kindly
expect_status 2
expect_err 'firm, all-in or run'
program run "$plant" --of /raw_water/iron
expect_status 2
expect_err '--of is an option of margin'
program margin missing.json --of /raw_water/iron
expect_status 2
expect_err 'missing.json'

# An interrupt from the keyboard keeps what is done, and says so.
set --
for pointer in /wash/backwash_time /raw_water/iron /wells/0/flow /wells/1/flow /wells/2/flow /storage/volume; do
    set -- "$@" --of "$pointer" --of "$pointer" --of "$pointer" --of "$pointer" --of "$pointer"
done
"$WR_PROGRAM" margin "$WR_ROOT/scenarios/gravity-urgent.json" "$@" --threads 1 --out cut >wr_out 2>wr_err &
job=$!
sleep 1
kill -INT "$job"
wr_call="margin, interrupted"
wr_status=0
wait "$job" || wr_status=$?
expect_status 3
expect_err 'interrupted; what was done is kept'
expect_out 'Interrupted'
expect_out 'of 30 are done and kept'
cp cut/answer.json wr_out
expect_json 'd["interrupted"] and len(d["margins"]) < 30'
