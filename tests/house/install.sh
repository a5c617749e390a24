#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What is installed: the program, the library with its one header, scenarios and plots, by which it draws. A program that knows nothing of
# the tree but these, tests/house/user.c, builds and runs the installed scenarios.
# usage: install.sh ROOT BUILD FOLDER, with what the library links in WR_LINK_FLAGS
set -eu
root=$1
build=$2
folder=$3

rm -rf -- "$folder" "$folder-moved"
cmake --install "$build" --prefix "$folder" >/dev/null

fail() {
    echo "$1"
    exit 1
}

[ ! -e "$root/sim/cli/main.c" ] || [ -x "$folder/bin/washrota" ] || fail "no program installed"
library=$(find "$folder" -name libwashrota.a)
[ -n "$library" ] || fail "no library installed"
for room in scenarios plots; do
    [ ! -d "$root/$room" ] || diff -r "$root/$room" "$folder/share/washrota/$room"
done
if [ -e "$root/sim/washrota.h" ]; then
    [ "$(ls "$folder/include")" = washrota.h ] || fail "other headers than washrota.h installed"
    # Lists of words, here and below.
    # shellcheck disable=SC2086
    gcc -std=c17 -Wall -Wextra -Werror -I"$folder/include" "$root/tests/house/user.c" "$library" \
        $WR_LINK_FLAGS -o "$folder/user"
    status=0
    # shellcheck disable=SC2046
    "$folder/user" $(find "$folder/share/washrota/scenarios" -name '*.json' ! -name '*schema*') || status=$?
    [ "$status" -le 1 ] || fail "a user of the installed library gets no answer"
fi
# The installed program draws by the installed scripts, wherever the folder has been moved to.
if [ -e "$root/plots/storage.gp" ] && command -v gnuplot >/dev/null 2>&1; then
    mv "$folder" "$folder-moved"
    sed -i "s/Storage and its reserve/As installed/" "$folder-moved/share/washrota/plots/storage.gp"
    "$folder-moved/bin/washrota" plot "$folder-moved/share/washrota/scenarios/pressure-three.json" --term dumb \
        --picture storage >"$folder-moved/picture" || fail "the installed program draws no picture"
    grep -q 'As installed' "$folder-moved/picture" || fail "the installed program does not draw by the installed scripts"
    rm -rf -- "$folder-moved"
fi
echo "installed as it should be"
