#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What is installed: the program runs, the library links from the one public header, scenarios and plots are there.
# usage: install.sh ROOT BUILD FOLDER
set -eu
root=$1
build=$2
folder=$3

rm -rf -- "$folder"
cmake --install "$build" --prefix "$folder" >/dev/null

fail() {
    echo "$1"
    exit 1
}

if [ -e "$root/sim/cli/main.c" ]; then
    [ -x "$folder/bin/washrota" ] || fail "no program installed"
fi
library=$(find "$folder" -name libwashrota.a)
[ -n "$library" ] || fail "no library installed"
for room in scenarios plots; do
    [ ! -d "$root/$room" ] || diff -r "$root/$room" "$folder/share/washrota/$room"
done
if [ -e "$root/sim/washrota.h" ]; then
    [ "$(ls "$folder/include")" = washrota.h ] || fail "other headers than washrota.h installed"
    printf '#include <washrota.h>\nint main(void)\n{\n    return 0;\n}\n' >"$folder/user.c"
    gcc -std=c17 -Wall -Wextra -Werror -I"$folder/include" "$folder/user.c" "$library" \
        $(pkg-config --libs gsl libcjson udunits nettle) -o "$folder/user"
    "$folder/user"
fi
echo "installed as it should be"
