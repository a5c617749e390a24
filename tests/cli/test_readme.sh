# SPDX-License-Identifier: GPL-3.0-or-later
# The commands of README.md run as written: each line of its blocks marked `sh` that calls build/washrota, in order, in
# one folder that looks like the root of the tree. The two scripts it names must be there; they are not run from inside
# a test. Any other command fails, so that README names none that nothing tries.

. "$WR_ROOT/tests/cli/expect.sh"

[ -e "$WR_ROOT/README.md" ] || {
    echo "no README.md yet"
    exit 77
}
mkdir build
ln -s "$WR_PROGRAM" build/washrota
for entry in "$WR_ROOT"/*; do
    [ "$(basename -- "$entry")" = build ] || ln -s "$entry" .
done

# One command a line, continued lines joined.
awk '/^```/ { inside = ($0 == "```sh"); next } inside' "$WR_ROOT/README.md" |
    sed -e ':again' -e '/\\$/{N;s/ *\\\n */ /;b again' -e '}' >commands

count=0
while read -r line; do
    case $line in
        '' | '#'* | 'git clone '* | 'cd washrota') ;;
        'sh scenarios/demo.sh'* | 'sh tests/all.sh'* | 'sh tests/long.sh'*)
            script=${line#sh }
            expect_file "${script%% *}"
            ;;
        build/washrota*)
            count=$((count + 1))
            wr_call=$line
            wr_status=0
            sh -c "$line" >wr_out 2>wr_err </dev/null || wr_status=$?
            [ "$wr_status" -le 1 ] || wr_fail "an answer, exit status 0 or 1"
            ;;
        *) wr_fail "no command in README.md that is not tried: $line" ;;
    esac
done <commands
[ "$count" -gt 0 ] || wr_fail "a command of README.md that calls build/washrota"
echo "$count commands of README.md ran as written"
