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

files=$(find models sim tests -name '*.[ch]' 2>/dev/null | sort)
[ -n "$files" ] || {
    echo "no C file found"
    exit 1
}
# A list of words: no file of the tree has a blank in its name. All at once, since the formatter is slow to start.
# shellcheck disable=SC2086
if [ "${2:-}" = fix ]; then
    "$format" --style=file -i $files
    exit
elif "$format" --style=file --dry-run --Werror $files 2>/dev/null; then
    echo "$(echo "$files" | wc -l) files laid out as they should be"
    exit
fi
for file in $files; do
    "$format" --style=file "$file" | diff -u --label "$file" --label "$file, laid out" "$file" - || :
done
echo "to lay them out: sh tests/house/format.sh . fix"
exit 1
