# SPDX-License-Identifier: GPL-3.0-or-later
# check beside published guidance: what is not met, all rows by --all and in the document, and no exit status but 0.

. "$WR_ROOT/tests/cli/expect.sh"

alder=$WR_ROOT/scenarios/pressure-three.json

# Runs of high iron are short; those of Alder Fork are not.
for name in iron-three iron-four; do
    program check "$WR_ROOT/scenarios/$name.json"
    expect_status 0
    expect_out "Beside published guidance"
    expect_out "the local authority and a licensed engineer decide"
    expect_out "Water filtered in a run of the maximum day"
    expect_out "runs of less water are short"
    expect_no_out "  Met:"
done
program check "$alder"
expect_status 0
expect_no_out "runs of less water are short"

# The row of greensand is for greensand: Alder Fork's sand is coated.
expect_json_of() {
    program check "$alder" --json "$@"
    expect_status 0
}
row='{r["key"]: r for r in d["review"]["rows"]}'
expect_json_of
expect_json "$row[\"greensand_rate\"][\"state\"] == \"not_applicable\" and \"coated\" in $row[\"greensand_rate\"][\"why\"]"
expect_json "$row[\"coated_wash_rate\"][\"state\"] == \"not_met\""
expect_json "abs($row[\"coated_wash_rate\"][\"found_m_per_s\"] - 12 * 6.790972e-4) < 1e-7"
expect_json "abs($row[\"coated_wash_rate\"][\"least_m_per_s\"] - 15 * 6.790972e-4) < 1e-7"
expect_json "$row[\"recycle_share\"][\"most\"] == 0.1"
expect_json 'sum(d["review"][s] for s in ("not_met", "met", "not_told", "not_applicable")) == len(d["review"]["rows"])'
expect_json 'all(r["source"] and r["for"] for r in d["review"]["rows"])'
expect_json_of --set '/filters/0/media/1/medium=greensand'
expect_json "$row[\"greensand_rate\"][\"state\"] == \"met\""

# Groups are held one by one, and named.
program check "$alder" --all --set '/filters/1={"name": "Old ", "count": 1, "diameter": "6 ft", "approved_rate":
    "4.5 gal/min/ft2", "available_head": "12 psi", "media": [{"medium": "anthracite", "depth": "18 in", "grain_size":
    "0.8 mm"}], "deposit": {"slope": "2 psi/(lb/ft2)"}}'
expect_status 0
expect_out "Approved rate of pressure filters, Old 1: 4.50 gal/min/ft2."
expect_out "Approved rate of pressure filters, Filter 1 to Filter 3: 3.00 gal/min/ft2."
expect_out "Not met:"
expect_out "  Met:"
expect_out "To be asked, for the scenario does not hold it:"
expect_out "Not applicable:"

# Nothing of this makes a scenario invalid, and the option is check's.
program check "$alder" --quiet --set '/filters/0/approved_rate=12 gal/min/ft2'
expect_status 0
program run "$alder" --all
expect_status 2
expect_err "--all is an option of check"

# Fenholm in its own units.
program check "$WR_ROOT/scenarios/gravity-day-shift.json"
expect_out "Backwash rate of manganese-coated media: 36.0 m/h. Guidance: 36.7 m/h to 48.9 m/h."
