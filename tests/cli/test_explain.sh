# SPDX-License-Identifier: GPL-3.0-or-later
# Stories of runs: what may be asked, of a folder and of a scenario; what a wrong call gets; text and document alike.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/iron-four.json
caution="Do not change setpoints on its word alone."

# Unasked: the worst of each kind, the longest wait as the run reports it.
program run "$plant" --out folder --quiet
expect_status 0
program explain folder
expect_status 0
expect_silent err
expect_out "(the longest wait of the run)"
expect_out "It waited 4 h 54 min, until"
expect_out "because no spent-wash tank has room for a whole wash"
expect_out "Finding: recycle held"
expect_out "(the day of most washes)"
expect_out "$caution"
python3 -c 'import sys; sys.exit(any(len(line) > 101 for line in open("wr_out", encoding="utf-8")))' ||
    wr_fail "lines of at most 100 columns"
cp wr_out of_folder

# A scenario in place of a folder tells the same; --set changes it, and a folder is told as it ran.
program explain "$plant"
cmp -s wr_out of_folder || wr_fail "the same story of the folder and of its scenario"
program explain "$plant" --set '/spent_wash/settling/time=4 h' --filter "Filter 4"
expect_status 0
expect_no_out "waited 4 h 54 min"
program explain folder --set '/horizon=3 d'
expect_status 2
expect_err "--set goes with a scenario"

# One thing at a time, and a filter on a day.
program explain folder --wash "Filter 4 3"
expect_out "Filter 4 called for a wash on day 3 at 20:12, when its differential, corrected to the approved"
expect_out "backwash, full rate"
program explain folder --filter "Filter 4"
expect_out "Filter 4, wash 3 (its longest wait)"
program explain folder --day 3
expect_out "Filter 4, wash 3: called on day 3 at 20:12 by differential, waited 4 h 54 min, longest because"
program explain folder --day 3 --filter "Filter 4"
expect_out "Filter 4 called for a wash on day 3 at 20:12"
expect_no_out "Filter 1 called"
program explain folder --finding washes_waited
expect_out "Washes waited because no spent-wash tank has room"
expect_out "The longest of these stretches was in this wait:"

# Units: those of the folder's report unless others are asked for.
program run "$plant" --out si --units si --quiet
program explain si --wash "Filter 4 3"
expect_out "55.2 kPa"
program explain si --wash "Filter 4 3" --units us
expect_out "8.01 psi"

# The document has the figures of the text and of the run.
program explain folder --wash "Filter 4 3" --json
expect_status 0
expect_json 'len(d["stories"]) == 1 and d["stories"][0]["story"] == "wash" and d["stories"][0]["filter"] == "Filter 4"'
expect_json 'round(d["stories"][0]["waited_s"] / 60) == 4 * 60 + 54'
expect_json 'abs(sum(r["to_s"] - r["from_s"] for r in d["stories"][0]["wait"]["reasons"]) - d["stories"][0]["waited_s"]) < 1e-6'
expect_json 'abs(sum(s["wash_water_m3"] for s in d["stories"][0]["steps"]) - d["stories"][0]["water"]["wash_water_m3"]) < 1e-9'
expect_json 'abs(d["stories"][0]["waited_s"] - json.load(open("folder/answer.json"))["answers"]["wash_balance"]["longest_wait_s"]) < 1e-6'
program explain folder --json
expect_json '[s["story"] for s in d["stories"]] == ["wash", "finding", "day"]'
expect_json 'd["stories"][0]["chosen_as"] == "the longest wait of the run"'
expect_json 'd["stories"][2]["washes_started"] == 3'

# A run that fails is told all the same; one without waits says so.
program explain "$WR_ROOT/scenarios/pressure-together.json" --finding available_head_reached
expect_status 0
expect_out "Cause: there is not water in hand for"
expect_out "Filter 2 was being washed."
expect_out "The first time it was this wash; from its call:"
expect_out "Filter 3 called for a wash on day 7 at 10:48"
program explain "$WR_ROOT/scenarios/pressure-three.json"
expect_status 0
expect_out "(the first after start-up, since none waited)"

# A rota's calls have a name in the report, in the table and in a story.
rota='/wash/rota=[{"filter":"Filter 1","first":"2026-01-05 05:00","every":"24 h"}]'
program run "$plant" --set "$rota" --set '/horizon=3 d' --out rota
expect_out "rota"
grep -q ',rota,' rota/washes.csv || wr_fail "a wash called by the rota in the table of washes"
program explain rota --wash "Filter 1 1"
expect_out "when its turn by the rota had come"

# Wrong calls.
wrong() {
    said=$1
    shift
    program explain "$@"
    expect_status 2
    expect_err "$said"
    expect_silent out
}
wrong 'there is no filter "Filter 9"' folder --filter "Filter 9"
wrong 'there is no wash 99 of Filter 1' folder --wash "Filter 1 99"
wrong '--wash wants a filter and a number' folder --wash "Filter"
wrong '--wash wants a number from 1 on, not "x"' folder --wash "Filter x"
wrong 'there is no day 31: the run has 30 days' folder --day 31
wrong '--day wants a number from 1 on, not "0"' folder --day 0
wrong '--day wants a number from 1 on, not "-1"' folder --day=-1
wrong 'this run has no finding plant_locked; it has washes_waited, recycle_held' folder --finding plant_locked
wrong 'there is no kind of finding "slow"' folder --finding slow
wrong 'did not call, wait or get washed on day 1' folder --day 1 --filter "Filter 1"
wrong 'ask about a wash, a finding, a filter or a day' folder --day 1 --finding recycle_held
wrong 'explain tells, and writes no folder' folder --out elsewhere
wrong '--from is an option of plot' folder --from "day 3"
wrong 'is no run folder' "$PWD"
wrong 'no file that can be read' nothing.json
program run "$plant" --day 3
expect_status 2
expect_err "--day is an option of explain"
program firm "$WR_ROOT/scenarios/pressure-three.json" --set /storage/volume=200000gal --out of_firm --quiet
program explain of_firm
expect_status 2
program explain folder --day 99 --json
expect_status 2
expect_silent err
expect_json '"there is no day 99" in d["fault"]'

# The spent-wash side: clarity that came after the time, a backwash that was not clear, sludge that went with a decant.
particles=$WR_ROOT/scenarios/iron-four-particles.json
program explain "$particles" --wash 'Filter 3 19'
expect_out 'Tank 1 had stood its time by day 23 at 00:57,'
program explain "$particles" --wash 'Filter 3 19' --json
expect_json 'any(t["tank"] == "Tank 1" and t["clear_at_s"] > t["time_up_at_s"] + 3600 for t in d["stories"][0]["wait"]["turns"])'
program explain "$particles" --day 5
expect_out 'Sludge was'
program explain "$particles" --set '/wash/clear_at=0.5 mg/L' --set '/wash/washout_depth=10 ft' --finding wash_not_clear
expect_out 'The first time it was this wash; from its call:'
plain=$WR_ROOT/tests/plant/plain.json
program explain "$plain" --set '/filters/0/count=1' --set '/horizon=23 h' --set '/spent_wash={"tanks":[{"volume":"100 m3",
    "depth":"2 m"}],"settling":{"law":"clock","time":"1 h","start_after":"0 h","draw_off":"fixed","draw_height":"0.01 m"},
    "sludge":{"fresh_solids":"1 %"},"outlets":[{"kind":"sewer","rate":"100 m3/h"}]}' --finding decant_spoiled
expect_out 'which had begun to settle at 20:10'
expect_out 'of sludge stood above the draw-off'

# A run that was ended is told as one.
program run "$WR_ROOT/scenarios/iron-four.json" --until 'day 6' --quiet --out cut
program explain cut
expect_out 'The run was ended on day 6 at 00:00, as asked'
