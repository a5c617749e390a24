# SPDX-License-Identifier: GPL-3.0-or-later
# size: filters for a wanted flow, by the pencil and by simulation.

. "$WR_ROOT/tests/cli/expect.sh"

alder=$WR_ROOT/scenarios/pressure-three.json

# The pencil's list, in the scenario's units.
program size "$alder" --firm '300 gal/min'
expect_status 0
expect_out 'Which filters would give that with one of them out?'
expect_out '5  6.00 ft  28.3     141      339      333'
expect_out 'just'
expect_out 'With a'
expect_out 'A planning and teaching aid, not a design.'
expect_no_out 'And by simulation?'

# What comes out of it is a plant whose nameplate firm capacity is at least what was wanted.
program size "$alder" --firm '0.42 Mgal/d' --count 4 --json
expect_status 0
expect_json 'len(d["rows"]) == 1 and d["rows"][0]["filters"] == 4 and abs(d["rows"][0]["diameter_m"] - 7 * 0.3048) < 1e-9'
net=$(python3 -c 'import json; print(repr(json.load(open("wr_out"))["rows"][0]["net_m3_per_s"]))')
program firm "$alder" --set '/filters/0/count=4' --set '/filters/0/diameter=7 ft' --json
expect_json "abs(d['nameplate_m3_per_s'] - $net) < 1e-9 * $net"

# By simulation wells in steps bind, whatever the filters.
program size "$alder" --firm '0.42 Mgal/d' --count '3 to 5' --simulate --out folder
expect_status 1
expect_out 'And by simulation?'
expect_out 'well does not fit'
expect_file folder/report.txt
program size "$alder" --firm '0.42 Mgal/d' --count '3 to 5' --simulate --json --threads 2
cp wr_out two
program size "$alder" --firm '0.42 Mgal/d' --count '3 to 5' --simulate --json --threads 1
cmp -s wr_out two || wr_fail 'the same document by any number of threads'
expect_json 'not d["passes"] and all(r["limit"] == "well_does_not_fit" and r["filter_firm_m3_per_s"] < d["wanted_m3_per_s"] for r in d["rows"])'
# A row is what firm says of the same plant.
firm=$(python3 -c 'import json; print(repr([r for r in json.load(open("wr_out"))["rows"] if r["filters"] == 4][0]["filter_firm_m3_per_s"]))')
program firm "$alder" --set '/filters/0/count=4' --set '/filters/0/diameter=7 ft' --set '/wash_water/tank/volume=9236 gal' --json
expect_json "abs(d['filter_firm_m3_per_s'] - $firm) < 2e-3 * $firm"

# Cells of a gravity plant, and wells that give less than is wanted.
program size "$WR_ROOT/scenarios/gravity-any-hour.json" --firm '5000 m3/d'
expect_out 'whole steps of area'
expect_out 'no filter helps before there are more wells'
program size "$alder" --firm '0.9 Mgal/d' --quiet
expect_status 1
# A battery that washes itself: the last column counts the filter that is out.
program size "$WR_ROOT/scenarios/self-washing.json" --firm '0.5 Mgal/d' --json
expect_json 'all(r["others_spare_one_out_m3_per_s"] < r["others_spare_m3_per_s"] for r in d["rows"] if r["in_series"])'
# A flow beyond every size.
program size "$alder" --firm '90 Mgal/d'
expect_status 1
expect_out 'none is large enough'

# Wrong calls.
program size "$alder"
expect_status 2
expect_err 'size wants to know the flow'
for flow in '-3 gal/min' '0 m3/h' '300' 'much' '5 ft'; do
    program size "$alder" --firm "$flow"
    expect_status 2
    expect_err '--firm is a flow'
    expect_silent out
done
for count in 1 25 '5 to 3' '3 to' x '2 to 4 in 2'; do
    program size "$alder" --firm '1 m3/h' --count "$count"
    expect_status 2
    expect_err '--count is a number of filters from 2 to 24'
done
program size "$alder" --firm '300 gal/min' --set '/filters/1={"count": 1, "diameter": "6 ft", "approved_rate": "3 gal/min/ft2",
    "available_head": "12 psi", "media": [{"medium": "anthracite", "depth": "18 in", "grain_size": "0.8 mm"}],
    "deposit": {"slope": "2 psi/(lb/ft2)"}}'
expect_status 2
expect_err 'filters of one group'
