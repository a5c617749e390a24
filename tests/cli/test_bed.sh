# SPDX-License-Identifier: GPL-3.0-or-later
# Beds in their wash: what lifts them, what is said where media are not known, and which rate expands them.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/scenarios/pressure-three.json
months='/wash_water/temperature=["5 degC","5 degC","6 degC","9 degC","13 degC","18 degC","25 degC","24 degC","20 degC",
    "15 degC","10 degC","7 degC"]'

# The raw water's temperature stands in for the wash water's, and that is said.
program bed "$plant"
expect_status 0
expect_out "Filter 1 to Filter 3: Yes. The backwash of 12.0 gal/min/ft2 lifts all of the media;"
expect_out "taken to be as warm as the raw water"
expect_out "No freeboard is given"
expect_out "carries the media"
expect_out "A planning and teaching aid, not a design."
expect_silent err

# Warm water lifts less: the same wash leaves grains lying in July.
program bed "$plant" --set "$months" --units si
expect_status 1
expect_out "No. The backwash of 29.3 m/h lifts all of the media in the coldest wash"
expect_out "water but not in the warmest"
expect_out "at 5.00 degC in January"
expect_out "in July"

# A freeboard that the bed outgrows.
program bed "$plant" --set '/filters/0/freeboard=6 in'
expect_status 1
expect_out "RISES ABOVE"
program bed "$plant" --set '/filters/0/freeboard=8 in'
expect_status 0
expect_out "stays within"

# At the rate that is said to expand a bed, it expands so.
program bed "$plant" --expand '50 %' --json
expect_status 0
expect_silent err
rate=$(python3 -c 'import json; d = json.load(open("wr_out"))
print(repr(3600 * d["filter_groups"][0]["coldest"]["by_law"][0]["wanted_rate_m_per_s"]))')
program bed "$plant" --set "/wash/backwash_rate=$rate m/h" --set '/wash/backwash_time=4 min' --json
expect_json 'abs(d["filter_groups"][0]["coldest"]["by_law"][0]["expansion"] - 0.5) < 1e-9'
expect_json 'd["filter_groups"][0]["coldest"]["by_law"][1]["expansion"] > 0.5'
expect_json 'len(d["filter_groups"][0]["over_temperature"]) == 31'

# A wash that carries fine grains off.
program bed "$plant" --set '/filters/0/media/1/uniformity=3' --set '/wash/backwash_rate=60 m/h' --set '/wash/backwash_time=4 min'
expect_status 1
expect_out "of its mass"

# Media of which not all is known, or none.
program bed "$WR_ROOT/tests/input/plant.json"
expect_status 2
expect_err "no filter has media whose weight and shape are all known"
program bed "$WR_ROOT/scenarios/small-unsettled.json" --json
expect_status 2
expect_json 'd["fault"].startswith("no filter has media")'

# What is asked must be a share, and only of this command.
program bed "$plant" --expand 40
expect_status 2
expect_err '--expand is a share such as "40 %", up to 300 %, not "40"'
program run "$plant" --expand '40 %'
expect_status 2
expect_err "--expand is an option of bed"

# A run folder.
program bed "$plant" --expand '30 %' --out folder
expect_status 0
expect_file folder/report.txt
grep -q '"wanted_expansion":	0.3' folder/about.json || wr_fail "the wanted expansion in about.json"
