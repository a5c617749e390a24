# SPDX-License-Identifier: GPL-3.0-or-later
# Reports: both questions answered first, at most 100 columns, tables that add up, units as asked, the caution.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/tests/cli/plant.json

# Lines of at most 100 characters, and rows of each table that add up to the sums printed under them.
expect_page() {
    python3 - "$1" <<'END' || wr_fail "lines of at most 100 columns, and $1 tables that add up"
import re, sys
text = open("wr_out", encoding="utf-8").read()
wide = [line for line in text.splitlines() if len(line) > 100]
if wide:
    sys.exit(wide[0])
section = text.split("Where the water went\n")[-1].split("\nFindings")[0]
tables = 0
for table in section.split("\n\n") if "Where the water went" in text else []:
    sums, total = [], 0.0
    for row in table.splitlines():
        number = re.search(r"  ([0-9,]+(\.[0-9])?)$", row)
        if not number:
            continue
        value = float(number.group(1).replace(",", ""))
        if row.strip().startswith("="):
            sums.append(value)
            if abs(total - value) > 1e-6:
                sys.exit(f"{row}: the rows give {total}")
            total = 0.0
        else:
            total += value
    if sums:
        tables += 1
        if len(sums) != 2 or sums[0] != sums[1]:
            sys.exit(f"sums {sums}")
if tables != int(sys.argv[1]):
    sys.exit(f"{tables} tables")
END
}

# Words that stand on lines one after the other.
expect_order() {
    last=0
    for words in "$@"; do
        place=$(grep -nF -m 1 -- "$words" wr_out | cut -d : -f 1)
        [ -n "$place" ] && [ "$place" -gt "$last" ] || wr_fail "in this order: $*"
        last=$place
    done
}

caution='A planning and teaching aid, not a design. Verify on the plant;'

for units in us si; do
    for demand in 1300 1800; do
        program run "$plant" --units "$units" --set "/demand/maximum_day=$demand m3/d"
        expect_order 'Did wash demand ever exceed supply?' 'Does washing keep pace all the same?' 'Is demand met?' \
            'This run ' 'called by' 'Where the water went' Findings 'What follows from the figures given' "$caution"
        expect_page 3
        program firm "$plant" --units "$units" --set "/demand/maximum_day=$demand m3/d"
        expect_order 'What can the plant promise with its largest filter out' 'Is that enough?' \
            'nameplate firm capacity' 'Nameplate firm capacity by pencil' 'The search' 'not an approved or guaranteed capacity' "$caution"
        expect_page 0
    done
done

program run "$plant"
for unit in 'm3/d' kPa 'm3/m2' m/h kg; do
    expect_out "$unit"
done
for unit in gal psi ft2; do
    expect_no_out "$unit"
done
program run "$plant" --units us
for unit in Mgal gal/min psi gal/ft2 lb; do
    expect_out "$unit"
done
expect_no_out kPa
expect_no_out m3

# Plenty: a plain no and a plain yes.
program run "$plant"
expect_out 'No. 20 washes were made, and none waited'
expect_out 'Yes. Nothing that washing needs ran short. (Grade: clear.)'
expect_out 'This run passes'

# No room for spent wash: when, how often, how long and why.
program run "$plant" --set '/spent_wash/outlets/0/rate=1.5 m3/h' --set '/wash/triggers/run_hours=20 h'
expect_out 'Yes. Filters had to wait for their wash'
expect_out 'no spent-wash tank has room for a whole wash'
expect_page 3

# Too much asked: said by the clock, and what held it.
program run "$plant" --set '/demand/maximum_day=1800 m3/d'
expect_out 'This run fails: '
expect_out 'every well is running'
grep -qE 'on day [0-9]+ at [0-2][0-9]:[0-5][0-9] \(2026-[0-9]{2}-[0-9]{2}\)' wr_out || wr_fail "a day and a clock time"

# Days are those of the calendar: the run starts at 06:00 of day 1, so 20 h later it is 02:00 of day 2.
program run "$plant" --set '/outages=[{"unit": "F2", "from": "2026-03-03 02:00", "until": "2026-03-05"}]'
tr '\n' ' ' <wr_out | grep -qF 'F2 is out of service from day 2 at 02:00 until day 4 at 00:00.' || wr_fail "the outage's days"

# Where pass and fail make no staircase, whoever reads "yes" reads of the demands below that fail; and a maximum day that
# is itself among them is a no, though the firm capacity covers it.
program firm "$WR_ROOT/scenarios/iron-four.json"
expect_out 'do not make a staircase'
expect_out 'Yet that day itself fails'
expect_page 0
program firm "$WR_ROOT/scenarios/iron-four.json" --set '/demand/maximum_day=0.59 Mgal/d'
expect_out 'But some demands that were tried fail'
expect_page 0
program firm "$plant"
expect_no_out staircase
expect_no_out 'But some demands'
expect_no_out 'come out lower'

# A filter that promises nothing more says so, and a maximum day far beyond the promise is a multiple of it.
program firm "$WR_ROOT/scenarios/pressure-four.json" --set /filters/0/count=6
expect_out 'All filters in service come out lower than one out'
program firm "$plant" --set '/demand/maximum_day=9 Mgal/d'
tr -s '\n ' ' ' <wr_out | grep -qE 'is 2[0-9]\.[0-9]+ times it, more than the plant can promise' || wr_fail "a multiple"
expect_out 'times filter firm capacity'

# A check: the plant as understood, and what looks like a slip.
for units in us si; do
    for scenario in "$plant" "$WR_ROOT"/scenarios/*-*.json; do
        case $scenario in *schema*) continue ;; esac
        program check "$scenario" --units "$units"
        expect_status 0
        expect_order 'The scenario can be run' 'The plant as understood' '  Filters ' '  Maximum day ' '  Wells ' \
            '  Storage ' '  Raw water ' '  Washes ' '  Wash water ' '  Spent wash ' 'What follows from the figures given' \
            'Worth a second look' "$caution"
        expect_page 0
        for word in nan inf 'no limit' none; do
            ! grep -qwF -- "$word" wr_out || wr_fail "no word \"$word\""
        done
    done
done
program check "$plant" --set '/wash/triggers/run_hours=30 d'
expect_out 'Nothing here looks like a slip of the pen'
program check "$plant" --set '/demand/maximum_day=13000 m3/d' --set '/filters/0/media/0/depth=5 m'
expect_status 0
expect_out '/demand/maximum_day: The maximum day, 13,000 m3/d, is more than all wells give, 1,728 m3/d.'
expect_out '/filters/0/media: The media are 5.00 m deep in all'
expect_no_out 'Nothing here looks like'
program check "$WR_ROOT/scenarios/pressure-three.json" --set '/filters/0/diameter=4 ft'
expect_out 'The same: /wells/1/flow, /wells/2/flow.'
program check "$WR_ROOT/scenarios/pressure-three.json" --set '/wash/triggers/differential=1 psi'
expect_out 'calls as soon as it is washed'
expect_no_out 'no limit'

# One of a thing is not many: one filter, one tank, one wash.
program check "$plant" --set '/filters/0/count=1'
expect_out '2 wells, 1 filter, 1 spent-wash tank.'

# Titles of other scripts and long ones fit the page; what would steer a terminal does not get through.
program run "$plant" --set "/title=Wasserwerk Gr\\u00fcntal, Filter f\\u00fcr Eisen und Mangan, drei St\\u00fcck, ein sehr langer Name, der umbricht"
expect_status 0
expect_page 3
program run "$plant" --set '/title="A\u001b[31m red \u009b31m title"'
[ "$wr_status" -le 2 ] || wr_fail "no fault"
! grep -q "$(printf '\033')" wr_out || wr_fail "no escape character in a report"

# What called the washes is said for every kind of call, in the report and in the table.
program run "$WR_ROOT/scenarios/pressure-three.json" --out rota \
    --set '/wash/rota=[{"filter":"Filter 1","first":"2026-01-07 02:00","every":"2 d"}]'
expect_status 0
grep -q '^ *Filter 1 *[0-9]* *rota ' wr_out || wr_fail "a filter called by its rota"
[ "$(grep -c '^Filter 1,[^,]*,rota,' rota/washes.csv)" -gt 9 ] || wr_fail "washes called by a rota"
