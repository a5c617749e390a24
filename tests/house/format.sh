#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every C file is laid out as clang-format 14 lays it out.
# usage: format.sh ROOT; `format.sh ROOT fix` lays them out.
set -eu
cd -- "$1"

format=clang-format-14
command -v "$format" >/dev/null 2>&1 || format=clang-format
case $("$format" --version) in
    *"version 14."*) ;;
    *)
        echo "clang-format 14 is wanted, not $("$format" --version)"
        exit 1
        ;;
esac

count=0
bad=0
for file in $(find models sim tests -name '*.[ch]' 2>/dev/null | sort); do
    count=$((count + 1))
    if [ "${2:-}" = fix ]; then
        "$format" --style=file -i "$file"
    elif ! "$format" --style=file "$file" | diff -u --label "$file" --label "$file, laid out" "$file" -; then
        bad=$((bad + 1))
    fi
done
echo "$count files, $bad laid out otherwise; to lay them out: sh tests/house/format.sh . fix"
[ "$count" -gt 0 ] && [ "$bad" -eq 0 ]
