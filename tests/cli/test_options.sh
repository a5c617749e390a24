# SPDX-License-Identifier: GPL-3.0-or-later
# Commands and options: what is known, what is suggested, and help.

. "$WR_ROOT/tests/cli/expect.sh"

plant=$WR_ROOT/tests/cli/plant.json

program
expect_status 2
expect_silent out
expect_err usage:

program frim "$plant"
expect_status 2
expect_silent out
expect_err 'unknown command "frim"; did you mean firm?'
program paint "$plant"
expect_status 2
expect_err 'lists the commands'
program help rnu
expect_status 2
expect_err 'did you mean run?'

program run "$plant" --jsn
expect_status 2
expect_silent out
expect_err 'unknown option "--jsn"; did you mean --json?'
program run "$plant" --colour=red
expect_status 2
expect_err 'unknown option "--colour"'
program run "$plant" --units uk
expect_status 2
expect_err 'us or si'
program run "$plant" --out
expect_status 2
expect_err '--out wants a value'
for number in 0 257 two 1.5 ''; do
    program firm "$plant" --threads "$number"
    expect_status 2
    expect_silent out
    expect_err '--threads is a whole number from 1 to 256'
done
program firm "$plant" --json --threads 1
cp wr_out one_thread
for number in 2 7; do
    program firm "$plant" --json --threads "$number"
    cmp -s wr_out one_thread || wr_fail "the same answer by $number threads as by one"
done
program run "$plant" --json=yes
expect_status 2
expect_err '--json takes no value'
program run "$plant" --out one --out two
expect_status 2
expect_err 'twice'
[ ! -e one ] && [ ! -e two ] || wr_fail "no folder after a wrong call"
program run "$plant" "$plant"
expect_status 2
expect_err 'too many'
program run
expect_status 2
expect_err 'wants a scenario'

# Help names every command and option, and for each command what passing means.
program help
expect_status 0
expect_silent err
for word in 'check FILE' 'run FILE' 'firm FILE' --json --out --set --units --threads --quiet --help --version; do
    expect_out "$word"
done
cp wr_out all
program --help
cmp -s wr_out all || wr_fail "the same help by --help"
for command in check run firm; do
    program help "$command"
    expect_status 0
    expect_out 'It passes (0) when'
    cp wr_out one_command
    program "$command" --help
    expect_status 0
    cmp -s wr_out one_command || wr_fail "the same help by $command --help"
    [ -z "$(awk 'length > 100' wr_out)" ] || wr_fail "help of at most 100 columns"
done

program --version
expect_status 0
[ "$(cat wr_out)" = "washrota $(sed -n 's/^project(washrota VERSION \([0-9.]*\).*/\1/p' "$WR_ROOT/CMakeLists.txt")" ] ||
    wr_fail "the version of CMakeLists.txt"

# Options may stand anywhere, with a blank or an equals sign, and -- ends them.
program --units=us run "$plant"
cp wr_out before
program run --units us "$plant"
cmp -s wr_out before || wr_fail "the same report wherever the option stands"
cp "$plant" ./--plant.json
program run -- --plant.json
expect_status 0

# A scenario from standard input.
program run "$plant" --json
cp wr_out from_file
"$WR_PROGRAM" run - --json <"$plant" >wr_out
cmp -s wr_out from_file || wr_fail "the same answer from standard input"

# Quiet: the exit status speaks; complaints are still said, and a document is still written.
program run "$plant" --quiet
expect_status 0
expect_silent out
expect_silent err
program run "$plant" --quiet --set '/demand/maximum_day=1800 m3/d'
expect_status 1
expect_silent out
program run "$plant" --quiet --set '/hozizon=1 d'
expect_status 2
expect_silent out
expect_err 'did you mean "horizon"'
program run "$plant" --quiet --json
expect_json 'd["answers"]["passes"]'
