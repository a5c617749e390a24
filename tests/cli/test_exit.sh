# SPDX-License-Identifier: GPL-3.0-or-later
# Exit statuses: 0 passes, 1 fails, 2 the call or the scenario was wrong, 3 a fault of program or machine.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/tests/cli/plant.json

for command in check run firm; do
    program "$command" "$plant"
    expect_status 0
    expect_silent err
done

# More than both wells give: 72 m3/h are 1,728 m3/d.
for command in run firm; do
    program "$command" "$plant" --set '/demand/maximum_day=1800 m3/d'
    expect_status 1
    expect_silent err
done
program check "$plant" --set '/demand/maximum_day=1800 m3/d'
expect_status 0

for command in check run firm; do
    program "$command" missing.json
    expect_status 2
    expect_silent out
    expect_err missing.json
    program "$command" "$plant" --set '/wash/backwash_rate=30' --set '/horizon=never'
    expect_status 2
    expect_silent out
    expect_err /wash/backwash_rate
    expect_err /horizon
done
echo '{"format": 1,' >broken.json
program run broken.json
expect_status 2
expect_err broken.json:

# Reads well, and yet no filter can be like that: the clean media alone lose more than was observed.
grep -v fittings_headloss "$plant" >heavy.json
for command in check run firm; do
    program "$command" heavy.json --set '/filters/0/deposit={"observed_run": {"clean_differential": "0.01 m",
        "dirty_differential": "5 m", "rate": "8 m/h", "hours": "30 h"}}'
    expect_status 2
    expect_silent out
    expect_err 'heavy.json: the observed clean differential is less than the clean media alone would give'
done

# A machine that cannot write.
if [ -e /dev/full ]; then
    status=0
    "$WR_PROGRAM" run "$plant" >/dev/full 2>wr_err || status=$?
    [ "$status" -eq 3 ] || wr_fail "exit status 3 when standard output is full, not $status"
    grep -q 'cannot write' wr_err || wr_fail "a word about standard output"
fi
status=0
"$WR_PROGRAM" run "$plant" >&- 2>wr_err || status=$?
[ "$status" -eq 3 ] || wr_fail "exit status 3 when standard output is closed, not $status"

# A reader that has seen enough is no fault: the answer's own status stays.
mkfifo pipe
head -n 1 pipe >/dev/null &
reader=$!
status=0
"$WR_PROGRAM" run "$plant" --set '/demand/maximum_day=1800 m3/d' --json >pipe 2>wr_err || status=$?
wait "$reader"
[ "$status" -eq 1 ] || wr_fail "the answer's status when the reader leaves, not $status"
expect_silent err
