# SPDX-License-Identifier: GPL-3.0-or-later
# Spent-wash tanks: the report, the document and the tables say the same of decants, sludge, holds and emergencies.

. "$WR_ROOT/tests/cli/expect.sh"

# Sums of the tables beside the document, and figures of the document in the report.
expect_same() {
    cp "$1/answer.json" wr_out
    python3 - "$1" <<'END' || wr_fail "report, document and tables that agree in $1"
import csv, json, math, os, sys
folder = sys.argv[1]
d = json.load(open(folder + "/answer.json"))["spent_wash"]
report = " ".join(open(folder + "/report.txt", encoding="utf-8").read().split())
def rows(name):
    path = folder + "/" + name
    return list(csv.DictReader(open(path, newline=""))) if os.path.exists(path) else []
def same(a, b):
    assert math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-9), (a, b)
turns, draws, uses, spans = rows("tanks.csv"), rows("sludge.csv"), rows("emergency.csv"), rows("spans.csv")
for tank in d["tanks"]:
    mine = [t for t in turns if t["tank"] == tank["name"] and t["drawn_from_s"]]
    assert len(mine) == tank["decants"]
    for key, words in (("held_by_time", "time"), ("held_by_clarity", "clarity"), ("drawn_off_unsettled", "emergency")):
        assert sum(t["held_by"] == words for t in mine) == tank[key], key
    same(sum(float(s["water_m3"]) for s in draws if s["tank"] == tank["name"]), tank["sludge"]["water_m3"])
    for t in mine:
        if t["held_by"] != "emergency":
            same(float(t["drawn_from_s"]), max(float(t["time_up_s"]), float(t["clear_s"])))
if d["tanks"]:
    same(sum(float(s["water_m3"]) for s in draws), d["sludge"]["water_m3"])
    same(sum(float(s["dry_solids_kg"]) for s in draws), d["sludge"]["dry_solids_kg"])
    assert len(draws) == d["sludge"]["draws"]
    n = len(draws)
    assert not n or f"Sludge was drawn {n:,} time" in report
for hold in d["outlets_held_by"]:
    mine = [s for s in spans if s["limit"] == hold["limit"]]
    assert len(mine) == hold["times"]
    same(sum(float(s["length_s"]) for s in mine), hold["total_s"])
emergency = [o for o in d["outlets"] if o["emergency"]]
assert len(uses) == sum(o["times_used"] for o in emergency)
same(sum(float(u["water_m3"]) for u in uses), sum(o["given_m3"] for o in emergency))
recovery = d["recovery"]
if recovery["recovered_share"] and d["outlets"][0]["kind"] == "recycle":
    assert f'Recycle brought back {100 * recovery["recovered_share"]:.1f} %' in report
END
}

particles=$WR_ROOT/scenarios/iron-four-particles.json
program run "$particles" --out particles --quiet
expect_same particles
expect_json 'all(t["held_by_clarity"] == t["decants"] > 0 for t in d["spent_wash"]["tanks"])'
# A mass balance: 1 - c/1.8 and 1 - c/10 of water that came with c kg/m3.
expect_json 'math.isclose(d["spent_wash"]["recovery"]["best_share_at_fresh_sludge"],
    1 - d["spent_wash"]["recovery"]["received_solids_kg_per_m3"] / 1.8, rel_tol=1e-9)'
expect_json 'math.isclose(d["spent_wash"]["recovery"]["best_share_at_thickened_sludge"],
    1 - d["spent_wash"]["recovery"]["received_solids_kg_per_m3"] / 10, rel_tol=1e-9)'

program run "$WR_ROOT/scenarios/iron-four.json" --out clock --quiet
expect_same clock
expect_json 'all(t["held_by_time"] == t["decants"] > 0 for t in d["spent_wash"]["tanks"])'

# One tank, and the sewer where a wash waits for room.
program run "$particles" --quiet --out emergency --set '/spent_wash/tanks=[{"volume":"11500 gal","depth":"8 ft"}]' \
    --set '/spent_wash/outlets=[{"kind":"recycle"},{"kind":"sewer","rate":"200 gal/min","emergency":true}]' \
    --set '/recycle/pump=20 gal/min' --set '/wash/rinse_to="sewer"'
expect_file emergency/emergency.csv
expect_same emergency
expect_json 'd["spent_wash"]["outlets"][1]["times_used"] > 0 and d["spent_wash"]["rinse_past_tanks_m3"] > 0'

# A starter returns about 85 % (common practice, no source).
program new pressure starter.json
program run starter.json --json
expect_json '0.8 < d["spent_wash"]["recovery"]["recovered_share"] < 0.86'
