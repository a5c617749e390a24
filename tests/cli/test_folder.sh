# SPDX-License-Identifier: GPL-3.0-or-later
# Run folders: what is in them, that they run again, and that nothing else is ever lost.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/tests/cli/plant.json

# Nothing is written without --out.
mkdir bare
(cd bare && "$WR_PROGRAM" run "$plant" --quiet && "$WR_PROGRAM" firm "$plant" --quiet)
[ -z "$(ls -A bare)" ] || wr_fail "no file written without --out"

program run "$plant" --set '/horizon=10 d' --set '/seed=12' --out one/two/run --units us
expect_status 0
for file in about.json answer.json report.txt scenario.json spans.csv washes.csv; do
    expect_file "one/two/run/$file"
done
[ "$(ls one/two/run | wc -l)" -eq 6 ] || wr_fail "six files"
[ "$(ls one/two)" = run ] || wr_fail "nothing left beside the folder"
cmp -s wr_out one/two/run/report.txt || wr_fail "the report as printed"

# About: command, seed, version, and the hash that sha256sum also finds.
cp one/two/run/about.json wr_out
expect_json 'd["command"] == "run" and d["seed"] == 12 and d["program"]["name"] == "washrota"'
hash=$(sha256sum <one/two/run/scenario.json | cut -d ' ' -f 1)
expect_json "d['scenario']['sha256'] == '$hash'"

# The scenario has its settings in it and gives the same answer again, byte for byte.
program run one/two/run/scenario.json --json
expect_json 'd["horizon_s"] == 864000'
cmp -s wr_out one/two/run/answer.json || wr_fail "the same answer from the folder's own scenario"
program firm "$plant" --out firm
expect_file firm/ladder.csv
program firm firm/scenario.json --json
cmp -s wr_out firm/answer.json || wr_fail "the same firm capacity from the folder's own scenario"
program check "$plant" --out check
expect_file check/answer.json

# Tables: RFC 4180, and as many washes as the answer says; numbers are those of the answer to the last bit.
python3 -c '
import csv, json
answer = json.load(open("one/two/run/answer.json"))
raw = open("one/two/run/washes.csv", newline="").read()
assert raw.count("\r\n") == raw.count("\n"), "line ends"
washes = list(csv.DictReader(open("one/two/run/washes.csv", newline="")))
assert len(washes) == answer["answers"]["wash_balance"]["washes"], "washes"
assert {w["filter"] for w in washes} == {"F1", "F2", "F3"}, "names"
for name in ("F1", "F2", "F3"):
    runs = [float(w["run_s"]) for w in washes if w["filter"] == name and w["start_up"] == "false"]
    filter = next(f for f in answer["filters"] if f["name"] == name)
    assert len(runs) == filter["runs"] and min(runs) == filter["shortest_run_s"], "runs"
ladder = list(csv.DictReader(open("firm/ladder.csv", newline="")))
firm = json.load(open("firm/answer.json"))
first = [r for r in ladder if r["unit_out"] == "F1"]
assert [float(r["demand_m3_per_s"]) for r in first] == [r["demand_m3_per_s"] for r in firm["ladder"]], "ladder"
' || wr_fail "tables that agree with the answer"

# An older run is replaced as a whole, by another command too.
program firm "$plant" --out one/two/run
expect_status 0
expect_file one/two/run/ladder.csv
[ ! -e one/two/run/washes.csv ] || wr_fail "no table of the older run"
[ "$(ls one/two)" = run ] || wr_fail "nothing left beside the folder"

# An empty folder, one with a slash at its end, one by a link.
mkdir empty
program run "$plant" --out empty/
expect_status 0
expect_file empty/about.json
ln -s empty link
program firm "$plant" --out link
expect_status 0
[ -L link ] || wr_fail "the link left as it is"
expect_file empty/ladder.csv

# Anything else is left alone.
mkdir mine
echo precious >mine/notes.txt
program run "$plant" --out mine
expect_status 2
expect_err 'is not empty'
[ "$(cat mine/notes.txt)" = precious ] && [ "$(ls mine)" = notes.txt ] || wr_fail "the folder left as it was"
echo precious >empty/notes.txt
program run "$plant" --out empty
expect_status 2
expect_err notes.txt
expect_file empty/ladder.csv
[ "$(cat empty/notes.txt)" = precious ] || wr_fail "the note left as it was"
echo '{"program": {"name": "another"}}' >mine/about.json
rm mine/notes.txt
program run "$plant" --out mine
expect_status 2
program run "$plant" --out mine/about.json
expect_status 2
expect_err 'no folder'
program run "$plant" --out ''
expect_status 2

# No answer, no folder.
program run "$plant" --set '/hozizon=1 d' --out none
expect_status 2
[ ! -e none ] || wr_fail "no folder without an answer"

# A place that cannot be written to is a fault of the machine, and the report is still printed.
if [ -d /proc/self ]; then
    program run "$plant" --out /proc/self/none
    expect_status 3
    expect_err cannot
    expect_out 'This run passes'
fi
