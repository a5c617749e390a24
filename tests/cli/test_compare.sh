# SPDX-License-Identifier: GPL-3.0-or-later
# compare and growth: plants side by side, and demand that grows.

. "$WR_ROOT/tests/cli/expect.sh"

scenarios=$WR_ROOT/scenarios
three=$scenarios/pressure-three.json

# Sentences flow over lines; this puts them on one.
on_one_line() {
    tr -s '\n ' '  ' <wr_out >flat
    cp flat wr_out
}

# The call.
program compare "$three"
expect_status 2
expect_err 'compare wants two scenarios'
program compare "$three" --variant '/filters/0/count=4'
expect_status 2
expect_err '--variant is a name and what it changes'
program compare "$three" --variant 'nothing'
expect_status 2
program compare - -
expect_status 2
expect_err 'read only once'
program compare "$three" "$three" "$three" "$three" "$three" "$three" "$three"
expect_status 2
expect_err 'at most 6'
program compare "$three" "$three" --rate 2
expect_status 2
expect_err 'growth is a share a year'
program run "$three" --variant 'a: /filters/0/count=4'
expect_status 2
expect_err '--variant is an option of compare'
program firm "$three" --rate '2 %'
expect_status 2
expect_err '--rate is an option of compare and growth'
program compare "$three" --variant 'no such key: /filtres/0/count=4'
expect_status 2
expect_err 'did you mean'
expect_silent out
program compare "$three" --variant 'no such key: /filtres/0/count=4' --json
expect_status 2
expect_json 'd["good"] is False and len(d["complaints"]) == 1'
program help compare
expect_status 0
expect_out 'It passes (0) when none is worse than the first'

# A plant beside itself.
program compare "$three" "$three"
expect_status 0
expect_out 'B leaves both firm capacities as they were.'
expect_out 'nothing in the plant.'

# The same quantity in other units is no change, and a variant is the same as a file that says so.
program compare "$three" --variant 'as metres: /filters/0/diameter=2.4384 m; /wash/valve_travel=60 s' --json
expect_status 0
expect_json 'd["compared"][1]["changes"] == []'
expect_json 'd["compared"][1]["name"] == "as metres"'

# Alder Fork: filter firm capacity goes up, plant firm capacity does not, and a well beside the filter lifts both.
well='/wells/-={"name": "Well 4", "flow": "135 gal/min", "on_below": "52 %", "off_above": "85 %"}'
program compare "$three" "$scenarios/pressure-four.json" --variant "both: $well; /filters/0/count=4" --rate '2 %'
expect_status 0
expect_silent err
cp wr_out text
on_one_line
expect_out 'of filter firm capacity and leaves plant firm capacity as it was: there Well 1 binds'
expect_out 'the limit with a filter out moves from "well does not fit" to "all wells running"'
expect_out '/filters/0/count: 3 before, now 4'
expect_out '/wells/3: added, Well 4 (flow 135 gal/min, on_below 52 %, off_above 85 %)'
expect_out 'None of them is worse than A'
expect_out 'Verify on the plant'
awk 'length($0) > 100 { exit 1 }' text || wr_fail "no line wider than the page"

# Text and document agree, and the document holds the answers of firm and run.
program compare "$three" "$scenarios/pressure-four.json" --variant "both: $well; /filters/0/count=4" --rate '2 %' --json
expect_status 0
python3 - <<'PYTHON' || wr_fail "the text has the figures of the document"
import json, math
d = json.load(open("wr_out"))
text = " ".join(open("text").read().split())
a, b, c = d["compared"]
mgd = 86400 / 3785.411784
filter_firm = [x["firm"]["filter_firm_m3_per_s"] for x in d["compared"]]
plant_firm = [x["firm"]["plant_firm_m3_per_s"] for x in d["compared"]]
for value in filter_firm + plant_firm:
    assert "%.4f" % (value * mgd) in text, value
gain = b["against_first"]
assert abs(gain["filter_firm_more_m3_per_s"] - (filter_firm[1] - filter_firm[0])) < 1e-15
assert "B adds %.4f Mgal/d of filter firm" % (gain["filter_firm_more_m3_per_s"] * mgd) in text
assert gain["filter_firm_moves"] and not gain["plant_firm_moves"] and not gain["is_worse"]
assert gain["limit_before"] == "well_does_not_fit" and gain["limit_after"] == "all_wells_running"
assert c["against_first"]["plant_firm_moves"]
# Both capacities are above the maximum day, so the years bought are ln(ratio) / ln(1 + rate).
years = math.log(filter_firm[1] / filter_firm[0]) / math.log(1.02)
assert abs(gain["filter_firm_years_more"] - years) < 1e-9
assert "it buys %.1f years, from 2030 to 2050" % years in text
assert [x["pointer"] for x in b["changes"]] == ["/filters/0/count"]
assert (b["changes"][0]["before"], b["changes"][0]["after"]) == (3, 4)
json.dump(b["firm"], open("firm_of_b", "w"))
json.dump(b["run"], open("run_of_b", "w"))
PYTHON
for answer in firm run; do
    program "$answer" "$scenarios/pressure-four.json" --json
    expect_json "{k: v for k, v in d.items() if k != 'scenario'} == \
{k: v for k, v in json.load(open('${answer}_of_b')).items() if k != 'scenario'}"
done
for threads in 1 2; do
    program compare "$three" "$scenarios/pressure-four.json" --json --threads "$threads"
    cp wr_out "by_$threads"
done
cmp -s by_1 by_2 || wr_fail "the same answer by one thread and by two"

# What is asked differs as written: it runs so where that is wanted.
program compare "$scenarios/iron-three.json" "$scenarios/iron-four.json" --as-written --json
expect_json 'd["same_demand"] is False'
expect_json 'abs(d["compared"][1]["firm"]["maximum_day_m3_per_s"] * 86400 / 3785.411784 - 0.7) < 1e-12'
expect_json '[c["asked_of_the_plant"] for c in d["compared"][1]["changes"]].count(True) == 1'

# The larger plants, on which the sanitizers would spend minutes for little that they have not seen above.
if [ "${WR_SANITIZED:-}" != 1 ]; then
    # Marl Bend: the fourth filter mostly buys waiting. What is asked differs: it is said, and set aside.
    program compare "$scenarios/iron-three.json" "$scenarios/iron-four.json" "$scenarios/iron-four-third-tank.json"
    expect_status 0
    on_one_line
    expect_out 'moves from "well does not fit" to "spent wash room"'
    expect_out 'the plant as a whole gives 50 % of that'
    expect_out 'What B is asked differs as written, and was set aside: it ran as A is asked.'
    expect_out '/demand/maximum_day: 0.55 Mgal/d before, now 0.70 Mgal/d'
    expect_out 'What happened before and no longer does: washes waited.'

    # Fenholm: a roster costs capacity, so it is worse than none; an urgent override gives most of it back.
    program compare "$scenarios/gravity-any-hour.json" "$scenarios/gravity-day-shift.json" \
        "$scenarios/gravity-urgent.json"
    expect_status 1
    on_one_line
    expect_out 'm3/d of filter firm capacity'
    expect_out 'Worse than A, by a lower firm capacity or by what fails its run: B, C.'
    expect_out 'C costs 159.8 m3/d of filter firm capacity and leaves plant firm capacity as it was'
fi

# A filter less is worse; reports are in the units asked for.
program compare "$scenarios/pressure-four.json" "$three" --quiet
expect_status 1
expect_silent out
program compare "$scenarios/pressure-four.json" "$three" --units si
expect_out 'm3/d'
expect_no_out 'Mgal/d'

# A run folder has every scenario as it was run, and the picture where gnuplot is; it can be written again.
for turn in once again; do
    program compare "$three" --variant 'fourth: /filters/0/count=4' --out folder --quiet
    expect_status 0
    expect_silent out
done
for file in about.json answer.json report.txt scenario.json scenario-B.json; do
    expect_file "folder/$file"
done
program compare folder/scenario.json folder/scenario-B.json --json
expect_json '[x["firm"] for x in d["compared"]] == [x["firm"] for x in json.load(open("folder/answer.json"))["compared"]]'
if command -v gnuplot >/dev/null; then
    expect_file folder/compare.png
    expect_silent err
fi
program growth "$three" --rate '3 %' --out growing --quiet
expect_status 0
program growth growing/scenario.json --rate '3 %' --json
cmp -s wr_out growing/answer.json || wr_fail "the same answer from a run folder"

# Growth.
program growth "$three"
expect_status 2
expect_err 'how fast demand grows'
for rate in 2 '0 %' '51 %' '-1 %' fast; do
    program growth "$three" --rate "$rate"
    expect_status 2
    expect_silent out
    expect_err 'growth is a share a year'
done
program growth "$three" --rate '2 %' --set '/approved_capacity=0.5 Mgal/d'
expect_status 0
cp wr_out text
on_one_line
expect_out '100 % of it is reached in 2030'
expect_out 'The approved capacity of 0.5000 Mgal/d'
program growth "$three" --rate '2 %' --set '/approved_capacity=0.5 Mgal/d' --json
expect_status 0
expect_json 'all(abs(m["years"] - math.log(m["share"] * c["capacity_m3_per_s"] / d["maximum_day_m3_per_s"]) / math.log(1.02)) < 1e-9 for c in d["capacities"] for m in c["reached"])'
expect_json 'all(len(c["reached"]) == 3 for c in d["capacities"])'
expect_json 'all(("%d " % y["year"]) in open("text").read() for y in d["years"])'
expect_json 'all(abs(y["maximum_day_m3_per_s"] / (d["maximum_day_m3_per_s"] * 1.02 ** (y["year"] - 2026)) - 1) < 1e-12 for y in d["years"])'
program growth "$scenarios/small-unsettled.json" --rate '1 %'
expect_status 1
expect_out 'is nothing: no demand is met'
