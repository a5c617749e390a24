# SPDX-License-Identifier: GPL-3.0-or-later
# --json: one document on standard output, nothing else, with every key that readers may count on.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/tests/cli/plant.json

program run "$plant" --json --units us
expect_status 0
expect_silent err
expect_json 'all([
    d["format"] == 1 and d["program"]["name"] == "washrota" and d["program"]["version"],
    d["scenario"]["title"].startswith("Test plant") and len(d["scenario"]["sha256"]) == 64,
    d["horizon_s"] == 14 * 86400 and d["seed"] == 7 and d["answers"]["passes"] is True,
    not {"grade", "ever_exceeds_supply", "keeps_pace", "paced_by", "washes", "washes_that_waited",
        "longest_wait_s", "total_wait_s", "worst_reserve_used", "extra_load", "most_waiting_together", "first_exceeded_s",
        "ability", "held_by"} - set(d["answers"]["wash_balance"]),
    not {"asked_m3", "delivered_m3", "unmet_m3", "least_storage_m3"} - set(d["answers"]["demand"]),
    [f["name"] for f in d["filters"]] == ["F1", "F2", "F3"],
    all(not {"name", "train", "washes", "mean_run_s", "shortest_run_s", "differential_at_wash_m",
        "unit_run_volume_m", "waited_s"} - set(f) for f in d["filters"]),
    not {"received_m3", "recycled_m3", "sewer_m3", "sludge_m3", "spilled_m3", "recovered_share",
        "highest_recycle_fraction"} - set(d["spent_wash"]),
    not {"water", "solids", "water_error_share", "solids_error_share"} - set(d["ledger"]),
    all(f["class"] == "note" for f in d["findings"]),
])'

# The figures hang together: 1,300 m3/d over 14 days; washes of the filters; spent wash; each stock's account.
expect_json 'all([
    math.isclose(d["answers"]["demand"]["asked_m3"], 18200, rel_tol=1e-12),
    d["answers"]["wash_balance"]["washes"] == sum(f["washes"] for f in d["filters"]) > 0,
    math.isclose(d["spent_wash"]["received_m3"], d["spent_wash"]["sewer_m3"]
        + sum(t["end_m3"] - t["start_m3"] for t in d["ledger"]["water"]["spent_wash_tanks"]), rel_tol=1e-9),
    all(math.isclose(a["start_m3"] + a["in_m3"], a["end_m3"] + a["out_m3"], rel_tol=1e-9)
        for a in (d["ledger"]["water"][k] for k in ("header", "storage", "wash_tank"))),
    math.isclose(d["ledger"]["solids"]["beds"]["start_kg"] + d["ledger"]["solids"]["beds"]["in_kg"],
        d["ledger"]["solids"]["beds"]["end_kg"] + d["ledger"]["solids"]["beds"]["out_kg"], rel_tol=1e-9),
])'

# Waits: first reasons add up to the whole wait, those of resources to the wait for resources, and none alone is longer
# than in all. Beds that start equal call together, so that several reasons hold at once.
program run "$plant" --json --set '/spent_wash/outlets/0/rate=1.5 m3/h' --set '/wash/triggers/run_hours=20 h' \
    --set '/start_beds={"how": "equal"}'
expect_json 'all([
    d["answers"]["wash_balance"]["ever_exceeds_supply"] and d["answers"]["wash_balance"]["held_by"],
    math.isclose(sum(h["first_s"] for h in d["answers"]["wash_balance"]["held_by"]),
        d["answers"]["wash_balance"]["total_wait_s"], rel_tol=1e-9),
    math.isclose(sum(h["first_s"] for h in d["answers"]["wash_balance"]["held_by"] if h["is_resource"]),
        d["answers"]["wash_balance"]["total_wait_for_resource_s"], rel_tol=1e-9),
    sum(h["total_s"] for h in d["answers"]["wash_balance"]["held_by"]) > d["answers"]["wash_balance"]["total_wait_s"],
    all(h["alone_s"] <= h["total_s"] and h["first_s"] <= h["total_s"] and h["limit"]
        for h in d["answers"]["wash_balance"]["held_by"]),
    d["answers"]["wash_balance"]["washes_that_waited"] <= d["answers"]["wash_balance"]["washes"],
    all(not {"kind", "class", "limit", "where", "start_s", "length_s", "worst", "unit"} - set(f)
        for f in d["findings"]) and "washes_waited" in [f["kind"] for f in d["findings"]],
])'

program firm "$plant" --json
expect_status 0
expect_silent err
expect_json 'all([
    not {"filter_firm_m3_per_s", "bracket_m3_per_s", "unit_out", "limiting", "if_lifted", "ladder", "monotone",
        "nameplate_m3_per_s", "nameplate_terms", "plant_firm_m3_per_s", "plant_firm_unit_out", "all_in_service_m3_per_s",
        "approved_m3_per_s", "maximum_day_m3_per_s", "share_used", "format", "program", "scenario"} - set(d),
    d["passes"] and d["unit_out"] == "F1" and d["approved_m3_per_s"] is None,
    not {"limit", "where", "at_s", "finding"} - set(d["limiting"]),
    len(d["ladder"]) >= 20 and all(not {"demand_m3_per_s", "passes", "limit"} - set(r) for r in d["ladder"]),
    d["bracket_m3_per_s"][0] == d["filter_firm_m3_per_s"] < d["bracket_m3_per_s"][1],
    d["bracket_m3_per_s"][1] - d["bracket_m3_per_s"][0] <= 1e-5 * d["bracket_m3_per_s"][1],
    math.isclose(d["share_used"], d["maximum_day_m3_per_s"] / d["filter_firm_m3_per_s"], rel_tol=1e-12),
])'

# By pencil: area x rate, less washes x water of a wash.
expect_json 'math.isclose(d["nameplate_m3_per_s"], (lambda t: t["area_left"] * t["approved_rate"]
    - t["washes_per_day"] * t["water_per_wash"] / 86400)({t["term"]: t["value"] for t in d["nameplate_terms"]}),
    rel_tol=1e-9)'

# A single filter leaves none.
program firm "$plant" --json --set '/filters/0/count=1' --set '/demand/maximum_day=500 m3/d'
expect_status 1
expect_json 'd["filter_firm_m3_per_s"] == 0 and d["bracket_m3_per_s"] == [0, 0] and d["share_used"] is None'

program check "$plant" --json
expect_json 'd["good"] is True and d["complaints"] == [] and d["derived"]["filter_groups"][0]["filters"] == 3'

# 15 m2 of filter at 8 m/h and two wells of 36 m3/h; hours have the first say; without that no doubt; then a slip.
expect_json 'all([
    math.isclose(d["derived"]["plant"]["area_m2"], 15, rel_tol=1e-12),
    math.isclose(d["derived"]["plant"]["approved_flow_one_out_m3_per_s"] * 3600, 80, rel_tol=1e-12),
    math.isclose(d["derived"]["plant"]["wells_flow_m3_per_s"] * 3600, 72, rel_tol=1e-12),
    d["derived"]["plant"]["largest_filter"] == "F1" and d["derived"]["plant"]["recycle_needs_raw_m3_per_s"] is None,
    [doubt["kind"] for doubt in d["derived"]["doubts"]] == ["backstop_first"],
])'
program check "$plant" --json --set '/wash/triggers/run_hours=30 d'
expect_json 'd["derived"]["doubts"] == []'
program check "$plant" --json --set '/wash/triggers/run_hours=30 d' --set '/filters/0/media/0/depth=5 m'
expect_json 'd["derived"]["doubts"] == [{"kind": "media_deep", "pointer": "/filters/0/media"}]'

# Complaints are a document too.
for command in check run firm; do
    program "$command" "$plant" --json --set '/hozizon=1 d' --set '/wash/backwash_rate=30'
    expect_status 2
    expect_silent err
    expect_json 'd["good"] is False and {c["pointer"] for c in d["complaints"]} == {"/hozizon", "/wash/backwash_rate"}'
    expect_json 'all(c["message"] and c["setting"] for c in d["complaints"])'
done
program run missing.json --json
expect_status 2
expect_json 'd["scenario"]["sha256"] is None and len(d["complaints"]) == 1'
