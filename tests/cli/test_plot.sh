# SPDX-License-Identifier: GPL-3.0-or-later
# Pictures: which are drawn and where, what stands in them, as many bars as washes, and what is said when there are none.

. "$WR_ROOT/tests/cli/expect.sh"

command -v gnuplot >/dev/null 2>&1 || {
    echo "no gnuplot here"
    exit 77
}
scenarios=$WR_ROOT/scenarios

# The words of a picture: those of an SVG file, one a line.
words_of() {
    sed -n 's/.*<text[^>]*> *\([^<]*\).*/\1/p' "$1" | sed 's/&lt;/</g; s/&gt;/>/g; s/&amp;/\&/g'
}

expect_words() {
    file=$1
    shift
    for word in "$@"; do
        words_of "$file" | grep -qF -- "$word" || wr_fail "$file with the words: $word"
    done
}

# Bars in a picture that stand under a title of the key: the polygons of that plot but its sample.
bars_of() {
    python3 - "$1" "$2" <<'END'
import re, sys
text = open(sys.argv[1], encoding="utf-8").read()
plots = re.split(r'<g id="[^"]*gnuplot_plot_\d+', text)[1:]
plot = [p for p in plots if f"<text>{sys.argv[2]}</text>" in p]
print(len(re.findall(r"<polygon +fill", plot[0])) - 1 if plot else 0)
END
}

# How many washes of a run folder go on in some days, counted from 0.
washes_between() {
    python3 - "$1" "$2" "$3" <<'END'
import csv, sys
from_s, until_s = float(sys.argv[2]) * 86400, float(sys.argv[3]) * 86400
washes = csv.DictReader(open(sys.argv[1] + "/washes.csv", newline=""))
print(sum(float(w["started_s"]) < until_s and float(w["ended_s"] or "inf") > from_s for w in washes))
END
}

expect_equal() {
    [ "$1" -eq "$2" ] || wr_fail "$3: $1, not $2"
}

# Every picture of a run, into its folder, with its words.
program run "$scenarios/iron-four.json" --out run --quiet
program plot run --term svg
expect_status 0
expect_silent err
for name in filters differential storage tanks recycle; do
    expect_out "run/$name.svg"
    expect_words "run/$name.svg" 'Marl Bend: the fourth filter' 'not a design' 'day 2'
done
expect_words run/filters.svg 'Filter 1' 'Filter 4' 'waits: room' 'is washed' 'serves'
expect_words run/differential.svg 'Filter 4' 'available head' trigger measured corrected psi
expect_words run/storage.svg reserve 'low mark' demand 'raw water' '600,000 gal' 'gal/min'
expect_words run/tanks.svg 'Wash water' 'Tank 1' 'Tank 2' 'no room for a wash'
expect_words run/recycle.svg recycle '10 % of the raw flow' 'would exceed its share'
[ "$(ls run/*.svg run/*.png 2>/dev/null | wc -l)" -eq 5 ] || wr_fail "five pictures"

# Where more is known of the tanks than how long they settle, what is in them shows, and the bound on the blend.
program plot "$scenarios/iron-four-particles.json" --out layers --term svg --picture tanks --picture recycle \
    --set '/recycle/max_blend_solids=18.75 mg/L' --set '/recycle/control=ratio' \
    --set '/spent_wash/outlets/1={"kind":"sewer","rate":"150 gal/min","emergency":true}'
expect_status 0
expect_silent err
expect_words layers/tanks.svg 'clear water' 'settles or stays' sludge 'no room for a wash'
expect_words layers/recycle.svg 'solids, mg/L' 'raw water and recycle together' 'their bound' 'out in an emergency' \
    'more solids into the blend'
! words_of run/tanks.svg | grep -q sludge || wr_fail "no layers where a tank settles by the clock"
! words_of run/recycle.svg | grep -q 'their bound' || wr_fail "no bound on the blend where none is given"
program plot "$scenarios/iron-four-particles.json" --term dumb --picture tanks --from 'day 20' --until 'day 22'
expect_out '~  settles or stays'
expect_out '~~~...'

# As many bars as washes, over spans of several kinds; as long a span as the run has.
for span in '1 31' '3 4' '8 15' '1 2'; do
    # Two words.
    # shellcheck disable=SC2086
    set -- $span
    program plot run --term svg --picture filters --from "day $1" --until "day $2"
    expect_status 0
    drawn=$(bars_of run/filters.svg 'is washed')
    expect_equal "$drawn" "$(washes_between run $(($1 - 1)) $(($2 - 1)))" "bars of washes from day $1 to $2"
    [ "$drawn" -gt 1 ] || wr_fail "washes from day $1 to $2"
    expect_words run/filters.svg "$drawn washes"
done
expect_words run/filters.svg 'day 1; a day stands at its midnight' '12:00'
program plot run --term svg --picture filters --from 'day 3 at 06:00' --until 'day 3 at 18:00'
expect_words run/filters.svg 'day 3 at 06:00 to day 3 at 18:00' '09:00'
program plot run --term svg --picture filters --until 'day 3'
expect_words run/filters.svg 'days 1 to 2'

# Waits are drawn as waits: over the whole run at least one bar for each wash that waited for something short.
program plot run --term svg --picture filters --from 'day 1' --until 'day 31'
waited=$(python3 -c '
import json
print(json.load(open("run/answer.json"))["answers"]["wash_balance"]["washes_that_waited_for_resource"])')
bars=$(($(bars_of run/filters.svg 'waits: room') + $(bars_of run/filters.svg 'waits: wash system')))
[ "$waited" -gt 9 ] && [ "$bars" -ge "$waited" ] || wr_fail "a bar for each of $waited waits, not $bars"

# The pointer's words: one for each wash drawn, and the script that shows them in the file itself.
grep -q 'Filter 4 is washed from day 1 at' run/filters.svg || wr_fail "words for the pointer"
grep -q '<script' run/filters.svg || wr_fail "a script for the pointer"

# PNG is what is drawn when nothing is said.
program plot run
expect_status 0
for name in filters differential storage tanks recycle; do
    [ "$(head -c 8 "run/$name.png" | od -An -tx1 | tr -d ' \n')" = 89504e470d0a1a0a ] || wr_fail "a PNG of $name"
done

# A folder with its pictures is a run folder still: it is replaced as a whole.
program run "$scenarios/pressure-three.json" --out run --quiet
expect_status 0
[ -z "$(find run -name '*.png' -o -name '*.svg')" ] || wr_fail "no picture of the older run"

# Text on standard output, nothing written.
program plot run --term dumb
expect_status 0
expect_silent err
for words in 'What each filter was doing: 6 washes; no filter waited' 'Filter 3' 'W  is washed' 'available head' \
    'Storage and its reserve' 'Wash water' 'Recycle against its limit' 'not a design'; do
    expect_out "$words"
done
[ "$(grep -c 'Filter [123] +-|[.]*W[.W]*$' wr_out)" -eq 3 ] || wr_fail "washes in the rows of all filters"
[ -z "$(awk 'length > 118' wr_out)" ] || wr_fail "lines of at most 118 columns"
[ -z "$(find run -name '*.png' -o -name '*.svg' -o -name '*.txt' ! -name report.txt)" ] || wr_fail "nothing written"

# Units are those of the folder's report, or as asked.
program run "$scenarios/pressure-three.json" --out si --quiet --units si
program plot si --term svg
expect_words si/differential.svg kPa
expect_words si/tanks.svg 'in m3'
program plot si --term svg --units us --picture tanks
expect_words si/tanks.svg 'in gal'

# A scenario in place of a folder is run; it needs a place for files.
program plot "$scenarios/gravity-day-shift.json" --out "a b/c"
expect_status 2
mkdir 'a b'
program plot "$scenarios/gravity-day-shift.json" --out 'a b/c' --term svg
expect_status 0
expect_words 'a b/c/filters.svg' 'waits: own rule' 'waits: wash system' 'waits: room' 'by rule' 'days 5 to 11'
[ ! -e 'a b/c/recycle.svg' ] || wr_fail "no picture of recycle where there is none"
program plot - --term dumb --picture storage
expect_status 2
program plot "$scenarios/iron-four.json" --set /filters/0/count=2 --term dumb --picture filters
expect_status 0
expect_no_out 'Filter 3'

# Filters that rinse at the plant's start, one out of service, and more of them than a picture has rows for.
program plot "$scenarios/gravity-day-shift.json" --out many --term svg --picture filters --set '/wash/rinse_at_start=40 min' \
    --set '/wells=[{"name":"W","flow":"220 m3/h","on_below":"60 %","off_above":"90 %"}]' \
    --set '/filters/0/approved_rate=12 m/h' --set /filters/0/count=20 \
    --set '/outages=[{"unit":"Filter 2","from":"2026-01-05"}]'
expect_status 0
expect_words many/filters.svg 'rinses at start' 'no flow' 'out of service' 'Filter 16' 'the first 16 of 20 filters'
! words_of many/filters.svg | grep -q 'Filter 17' || wr_fail "no more than 16 filters"

# A scenario's text stays text.
python3 -c '
import json, sys
plant = json.load(open(sys.argv[1]))
plant["title"] = "T '"'"' \" ` touch pwned` \\ <b>&amp; @x; system"
plant["filters"][0]["name"] = "F'"'"'\"\\`touch pwned`<&> "
json.dump(plant, open("nasty.json", "w"))' "$scenarios/pressure-three.json"
program plot nasty.json --out nasty --term svg
expect_status 0
[ ! -e pwned ] || wr_fail "nothing of a title carried out"
expect_words nasty/filters.svg "T ' \" \` touch pwned\` \\ <b>&amp; @x; system" "F'\"\\\`touch pwned\`<&> 3"
python3 -c '
import glob, xml.dom.minidom
for name in glob.glob("nasty/*.svg"):
    xml.dom.minidom.parse(name)' || wr_fail "whole XML"

# Beds, of a folder with the expansion that was wanted, or of a scenario.
program bed "$scenarios/pressure-three.json" --expand '35 %' --out beds --quiet
program plot beds --term svg
expect_status 0
expect_words beds/bed.svg 'What lifts the bed' 'Filter 1 to Filter 3' 'expands it by 35 %, Ergun' 'backwash' \
    'temperature of the wash water, degF' 'at 12.0 gal/min/ft2'
program plot "$scenarios/gravity-any-hour.json" --picture bed --term dumb
expect_status 0
expect_out 'temperature of the wash water, degC'
program plot "$scenarios/small-unsettled.json" --picture bed --term dumb
expect_status 2
expect_err 'no filter has media'

# Firm capacities: a ladder and a comparison, alone and side by side.
for name in pressure-three iron-three; do
    program firm "$scenarios/$name.json" --out "$name-firm" --quiet
done
program plot pressure-three-firm --term svg
expect_status 0
expect_words pressure-three-firm/ladder.svg passes 'the next well would push' 'firm 0.3855 Mgal/d' \
    'maximum day 0.3600 Mgal/d' 'Filter 1 out' 'all in service'
expect_words pressure-three-firm/capacities.svg nameplate 'filter firm' 'plant firm' 'maximum day' '0.3855 Mgal/d' \
    'not an approved or guaranteed capacity'
program plot pressure-three-firm iron-three-firm --out towns --term svg
expect_status 0
expect_words towns/capacities.svg 'Alder Fork: three pressure filters' 'Marl Bend: high iron, three filters'
[ "$(ls towns)" = capacities.svg ] || wr_fail "one picture of several plants"

# Studies are worked again as they were asked, and drawn as they were drawn then.
test_plant=$WR_ROOT/tests/cli/plant.json
program compare "$test_plant" --variant 'fourth: /filters/0/count=4' --as-written --out side --quiet
program sweep "$test_plant" --axis '/raw_water/iron=1 mg/L, 4 mg/L' --show /answers/demand/unmet_m3 --out swept --quiet
program margin "$test_plant" --of '/demand/maximum_day=0.3 Mgal/d to 0.45 Mgal/d' --of '/filters/0/count=2 to 4' --map \
    --judged run --out near --quiet
for study in side/compare swept/sweep near/map; do
    mv "$study.png" before.png
    program plot "${study%/*}"
    expect_status 0
    expect_out "$study.png"
    cmp -s before.png "$study.png" || wr_fail "the same picture as the study drew"
done
program plot side --term svg --units us
expect_status 0
expect_words side/compare.svg fourth 'filter firm' Mgal/d
program plot swept --term dumb --picture sweep
expect_status 0
expect_out unmet_m3

# What cannot be drawn, and why.
refused() {
    status=$1
    words=$2
    shift 2
    program plot "$@"
    expect_status "$status"
    expect_silent out
    expect_err "$words"
}
refused 2 'wants a scenario'
refused 2 'no run folder' .
refused 2 'no run folder and no scenario is at none' none
refused 2 'where shall the pictures go' "$scenarios/iron-four.json"
refused 2 'where shall the pictures go' pressure-three-firm iron-three-firm
refused 2 'takes no --out' run --term dumb --out x
refused 2 'png, svg or dumb' run --term gif
refused 2 'did you mean filters?' run --picture filtres
refused 2 'no picture "ladder" of run' run --picture ladder
refused 2 '--set goes with a scenario' run --set /filters/0/count=4
refused 2 'no document' run --json
refused 2 'a moment such as' run --from tomorrow
refused 2 'a moment such as' run --until 'day 3 at 25:00'
refused 2 'no stretch from day 5 until day 3' run --from 'day 5' --until 'day 3'
refused 2 'no stretch from day 400' run --from 'day 400'
program run run --term svg
expect_status 2
expect_err '--term is an option of plot'
program check "$scenarios/iron-four.json" --out check --quiet
refused 2 'of which there is no picture' check
refused 2 'no picture "map" of side: it is of the run folder of a margin with --map' side --picture map
refused 2 'no picture "sweep"' "$scenarios/iron-four.json" --picture sweep --term dumb
program margin "$test_plant" --of '/demand/maximum_day=0.3 Mgal/d to 0.45 Mgal/d' --judged run --out alone --quiet
refused 2 'nothing to draw of alone' alone
rm side/scenario-B.json
refused 2 'side does not say what was asked, or lacks a scenario of it' side
for asked in '{}' '{"axes": 3, "show": []}' '{"axes": [], "show": []}' '{"axes": [1], "show": []}' '{"axes": ["/x"]}' 7; do
    python3 -c '
import json, sys
about = json.load(open("swept/about.json"))
about["asked"] = json.loads(sys.argv[1])
json.dump(about, open("swept/about.json", "w"))' "$asked"
    refused 2 'swept does not say what was asked' swept
done

# A folder whose about.json is broken, whose scenario was changed, and one of another version.
cp -r run broken
echo '{"program": {"name": "washrota"' >broken/about.json
refused 2 'broken is no run folder' broken
cp -r run changed
sed -i 's/0.36 Mgal/0.37 Mgal/' changed/scenario.json
refused 2 'not the one that its about.json tells of' changed
cp -r run older
sed -i 's/"[0-9]*[.][0-9]*[.][0-9]*"/"0.0.1"/' older/about.json
program plot older --quiet --picture storage
expect_status 0
expect_err 'was written by version 0.0.1'

# Without gnuplot, with one that fails, and without scripts: a plain word, status 3, nothing left behind.
count_files() {
    find run | wc -l
}
before=$(count_files)
mkdir bare
real=$WR_PROGRAM

# The program run with other settings, as `env` takes them.
settings() {
    printf '#!/bin/sh\n%s exec "%s" "$@"\n' "$1" "$real" >set
    chmod +x set
    WR_PROGRAM=$PWD/set
}

settings "PATH='$PWD/bare'"
refused 3 'the package gnuplot-nox' run
printf '#!/bin/sh\necho half\necho "it broke" >&2\nexit 1\n' >bare/gnuplot
chmod +x bare/gnuplot
settings "PATH='$PWD/bare':\$PATH"
refused 3 'it broke' run
refused 3 'could not draw' run --term dumb
settings "WASHROTA_PLOTS='$PWD/bare'"
refused 3 'no scripts for pictures in' run
expect_equal "$(count_files)" "$before" "files in the folder"

# Scripts of one's own.
mkdir mine
cp "$WR_ROOT"/plots/*.gp mine/
sed -i "s/Storage and its reserve/Our storage/" mine/storage.gp
settings "WASHROTA_PLOTS='$PWD/mine'"
program plot run --term dumb --picture storage
expect_out 'Our storage'
WR_PROGRAM=$real

# The picture that README shows is as large as the one that its commands draw now: neither filters nor head have changed.
program run "$scenarios/iron-four.json" --out readme --quiet
program plot readme --picture filters
size_of() {
    od -An -tx1 -j 16 -N 8 "$1"
}
[ "$(size_of readme/filters.png)" = "$(size_of "$WR_ROOT/docs/pictures/filters.png")" ] ||
    wr_fail "docs/pictures/filters.png as it is drawn now"
