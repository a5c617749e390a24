#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every header of the tree compiles alone, without a warning, with gcc and with clang.
# usage: headers.sh ROOT, with the compile flags of the project in WR_FLAGS.
set -eu
cd -- "$1"

count=0
bad=0
for header in $(find models sim tests -name '*.h' 2>/dev/null | sort); do
    count=$((count + 1))
    for compiler in gcc clang; do
        # A header of macros alone leaves nothing, which no C file may be. The flags are meant to split into words.
        if ! printf '#include "%s"\ntypedef int wr_header_alone;\n' "$header" | "$compiler" $WR_FLAGS -Werror -I. -x c -fsyntax-only -; then
            echo "$header: does not compile alone with $compiler"
            bad=$((bad + 1))
        fi
    done
done
echo "$count headers, $bad complaints"
[ "$count" -gt 0 ] && [ "$bad" -eq 0 ]
