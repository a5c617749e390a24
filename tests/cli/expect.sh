# SPDX-License-Identifier: GPL-3.0-or-later
# Words for tests of the program, to be read in with `. "$WR_ROOT/tests/cli/expect.sh"`.
#
#     program check plant.json      runs washrota; its output, errors and exit status are kept
#     expect_status 2               what the last run ended with
#     expect_out TEXT               standard output holds the text; expect_err the same for standard error
#     expect_no_out TEXT            and does not; expect_no_err the same
#     expect_silent out             nothing at all was written to standard output; or `err`
#     expect_json EXPRESSION        Python expression that must be true, `d` being the document on standard output
#     expect_file PATH              the file is there and not empty
#
# An expectation that is not met says so, shows the last run and ends the test. The test stands in an empty folder;
# scenarios are at "$WR_ROOT/scenarios/". LC_ALL is C and NO_COLOR is unset, unless a test sets them.

unset NO_COLOR
export LC_ALL=C

wr_call='(nothing was run)'

program() {
    wr_call="washrota $*"
    wr_status=0
    "$WR_PROGRAM" "$@" >wr_out 2>wr_err </dev/null || wr_status=$?
}

wr_fail() {
    {
        echo "expected: $1"
        echo "call: $wr_call"
        echo "exit status: ${wr_status:-none}"
        for stream in out err; do
            echo "standard $stream:"
            [ ! -f "wr_$stream" ] || head -n 60 "wr_$stream" | sed 's/^/  | /'
        done
    } >&2
    exit 1
}

expect_status() {
    [ "$wr_status" -eq "$1" ] || wr_fail "exit status $1"
}

expect_out() {
    grep -qF -- "$1" wr_out || wr_fail "standard output with: $1"
}

expect_err() {
    grep -qF -- "$1" wr_err || wr_fail "standard error with: $1"
}

expect_no_out() {
    ! grep -qF -- "$1" wr_out || wr_fail "standard output without: $1"
}

expect_no_err() {
    ! grep -qF -- "$1" wr_err || wr_fail "standard error without: $1"
}

expect_silent() {
    [ ! -s "wr_$1" ] || wr_fail "nothing on standard $1"
}

expect_json() {
    python3 -c '
import json, math, sys
d = json.load(open("wr_out"))
sys.exit(0 if eval(sys.argv[1]) else 1)' "$1" || wr_fail "a document of which this is true: $1"
}

expect_file() {
    [ -s "$1" ] || wr_fail "a file $1"
}
