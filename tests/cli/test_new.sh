# SPDX-License-Identifier: GPL-3.0-or-later
# Starters: each answers and passes in both units, has a note in every block, and is never written over another file.

. "$WR_ROOT/tests/cli/expect.sh"

# The program alone, away from its tree.
cp "$WR_PROGRAM" alone
WR_PROGRAM=$PWD/alone

templates=$(cd "$WR_ROOT/scenarios/starters" && ls | sed 's/[.]starter$//')
[ "$(echo "$templates" | wc -l)" -ge 3 ] || wr_fail "three templates at least"

for template in $templates; do
    for units in us si; do
        file=$template-$units.json
        program new "$template" "$file" --units "$units"
        expect_status 0
        expect_silent err
        expect_out "washrota check $file"
        expect_out 'not a design'
        [ -z "$(awk 'length > 100' wr_out)" ] || wr_fail "lines of at most 100 columns"
        for command in check run firm; do
            # The same plant in other units, of which the sanitizers need not see the many years again.
            case ${WR_SANITIZED:-0}$command$units in 1firmsi) continue ;; esac
            program "$command" "$file"
            expect_status 0
            expect_silent err
        done
        python3 - "$file" "$units" <<'END' || wr_fail "notes in every block of $file, and numbers in $units units"
import json, re, sys
strange = {"us": r"\d (m3|m3/h|m3/d|m/h|m2|m|kPa|degC)$", "si": r"\d (gal.*|Mgal.*|ft.*|in|psi|degF)$"}[sys.argv[2]]
def walk(node, pointer):
    if isinstance(node, dict):
        assert len(node.get("note", "")) > 10, f"{pointer}: no note"
        for key, child in node.items():
            assert key == "note" or not isinstance(child, str) or not re.search(strange, child), f"{pointer}/{key}"
            walk(child, f"{pointer}/{key}")
    elif isinstance(node, list):
        for place, child in enumerate(node):
            walk(child, f"{pointer}/{place}")
text = open(sys.argv[1], encoding="ascii").read()
assert not re.search("[<>|]", text), "a pair of texts left as it was"
plant = json.loads(text)
walk(plant, "")
assert plant["units"] == sys.argv[2] and "invented" in plant["note"]
first = [int(number) for number in re.findall(r"REPLACE FIRST, (\d)", text)]
assert sorted(first) == [1, 2, 3, 4, 5], first
assert "REPLACE FIRST, 1." in plant["filters"][0]["deposit"]["observed_run"]["note"]
END
    done
    program help new
    expect_out "$template"
done

# US units unless asked otherwise; to standard output the scenario and nothing else.
program new pressure -
expect_status 0
cmp -s wr_out pressure-us.json || wr_fail "the same scenario on standard output"
program new pressure quiet.json --quiet
expect_silent out
cmp -s quiet.json pressure-us.json || wr_fail "the same scenario without a word"

# A file that is there stays as it is.
echo precious >mine.json
program new pressure mine.json
expect_status 2
expect_silent out
expect_err 'mine.json is there already'
[ "$(cat mine.json)" = precious ] || wr_fail "the file left as it was"
program new pressure none/plant.json
expect_status 2
expect_err 'none/plant.json'

# Slips, and what there is.
program new presure plant.json
expect_status 2
expect_err 'did you mean pressure?'
expect_err self-washing
program new plant.json gravity
expect_status 2
expect_err 'washrota new gravity plant.json'
for call in new 'new gravity' 'new gravity a.json b.json' 'new gravity plant.json --set /horizon=1' \
    'new gravity plant.json --json' 'new gravity plant.json --out plant' 'new paint plant.json'; do
    # The words of a call.
    # shellcheck disable=SC2086
    program $call
    expect_status 2
    expect_silent out
done
[ ! -e plant.json ] && [ ! -e a.json ] || wr_fail "no file after a wrong call"

# A machine that cannot write leaves no part of a file.
if [ -e /dev/full ]; then
    status=0
    "$WR_PROGRAM" new pressure - >/dev/full 2>wr_err || status=$?
    [ "$status" -eq 3 ] || wr_fail "exit status 3 when standard output is full, not $status"
fi
