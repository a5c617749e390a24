#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of the tree can fail: each is run on a tiny tree, which must pass, and on that tree with one fault, which
# must not, and for the reason meant.
# usage: selftest.sh ROOT FOLDER, with the flags of the project in WR_FLAGS and WR_LINK_FLAGS.
set -eu
root=$1
folder=$2
house=$root/tests/house
count=0

# A tiny tree in $folder/tree, with this tree's build files and nothing else of it.
tiny_tree() {
    rm -rf -- "$folder/tree"
    mkdir -p "$folder/tree"
    cd -- "$folder/tree"
    mkdir -p models sim/cli tests/unit tests/support tests/house docs scenarios plots
    cp "$root/CMakeLists.txt" "$root/.clang-format" "$root/.gitignore" "$root/LICENSE" .
    cp "$root/tests/CMakeLists.txt" tests/
    cp "$root"/tests/support/check.[ch] tests/support/
    cp "$root/docs/house.md" docs/
    echo 'Twice is `models/tiny.h`; its check is `tests/unit/test_tiny.c`.' >docs/theory.md
    licence='/* SPDX-License-Identifier: GPL-3.0-or-later */'
    echo '{}' >scenarios/tiny.json
    printf '%s\ndouble wr_tiny_twice(double x);\n' "$licence" >models/tiny.h
    printf '%s\ndouble wr_tiny_twice(double x);\n' "$licence" >sim/washrota.h
    cat >tests/house/user.c <<EOF
$licence
#include <washrota.h>

int main(void)
{
    return wr_tiny_twice(0.5) == 1.0 ? 0 : 2;
}
EOF
    cat >models/tiny.c <<EOF
$licence
#include "models/tiny.h"

double wr_tiny_twice(double x)
{
    return 2.0 * x;
}
EOF
    cat >sim/cli/main.c <<EOF
$licence
#include "models/tiny.h"

#include <stdio.h>

int main(void)
{
    printf("%g\n", wr_tiny_twice(1.0));
    return 0;
}
EOF
    cat >tests/unit/test_tiny.c <<EOF
$licence
#include "models/tiny.h"
#include "tests/support/check.h"

static void twice(void **state)
{
    (void)state;
    check(wr_tiny_twice(1.0), 2.0, 0.0, "twice one, by the closed form");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(twice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
EOF
}

passes() {
    count=$((count + 1))
    "$@" >"$folder/log" 2>&1 || {
        echo "fails where it should pass: $*"
        cat "$folder/log"
        exit 1
    }
}

# fails_saying TEXT COMMAND...
fails_saying() {
    text=$1
    shift
    count=$((count + 1))
    ! "$@" >"$folder/log" 2>&1 || {
        echo "passes where it should fail, saying '$text': $*"
        exit 1
    }
    grep -qF -- "$text" "$folder/log" || {
        echo "fails, but without saying '$text': $*"
        cat "$folder/log"
        exit 1
    }
}

includes() { python3 "$house/includes.py" "$folder/tree"; }
tree() { python3 "$house/tree.py" "$folder/tree" "$1"; }
headers() { sh "$house/headers.sh" "$folder/tree"; }
format() { sh "$house/format.sh" "$folder/tree"; }
clang_build() { sh "$house/clang.sh" "$folder/tree" "$folder/clang"; }
symbols() { sh "$house/symbols.sh" "$folder/clang/libwashrota.a"; }
sanitize() { sh "$house/sanitize.sh" "$folder/tree" "$folder/sanitize"; }
same_bytes() {
    cmake -S "$folder/tree" -B "$folder/gcc" -DCMAKE_C_COMPILER=gcc -DWR_TESTS=OFF -DWR_WERROR=OFF
    cmake --build "$folder/gcc" --target washrota
    sh "$house/same_bytes.sh" "$folder/tree" "$folder/same" "$folder/gcc/washrota" "$folder/clang"
}
install_test() { sh "$house/install.sh" "$folder/tree" "$folder/clang" "$folder/install"; }

# Adds to a file of the tiny tree.
add() {
    printf '%b\n' "$2" >>"$folder/tree/$1"
}

# Puts a line into the body of a function of the tiny tree, straight after the line given.
after() {
    sed -i "s|^$2\$|&\n$3|" "$folder/tree/$1"
}

rm -rf -- "$folder"

tiny_tree
passes includes
for which in top licence words theory; do passes tree "$which"; done
passes headers
passes format
passes clang_build
passes symbols
passes sanitize
passes same_bytes
passes install_test

after models/tiny.c '#include "models/tiny.h"' '#include "sim/washrota.h"'
fails_saying 'models may not include sim/washrota.h' includes
tiny_tree
add sim/washrota.h '#include "models/tiny.h"'
fails_saying 'the public header includes models/tiny.h' includes
tiny_tree
mkdir sim/attic
cp models/tiny.h sim/attic/old.h
fails_saying 'sim/attic: a room with sources' includes
tiny_tree
add sim/cli/main.c '#include "tiny.h"'
fails_saying '"tiny.h" is no file under the root' includes
tiny_tree
grep -v '^| models |' "$root/docs/house.md" >docs/house.md
fails_saying 'models, which is no room of the table' includes

tiny_tree
add Makefile 'all:'
fails_saying 'Makefile: does not belong' tree top
tiny_tree
add sim/cli/bare.c 'int wr_bare;'
fails_saying 'sim/cli/bare.c: does not start with' tree licence
tiny_tree
for word in 'in /wo''rk/main' 'as an assi''stant' 'of deb.exam''ple.org' 'se''ssion two' 'see iss''ue #7'; do
    echo "$word" >docs/word.md
    fails_saying 'docs/word.md:1:' tree words
done

tiny_tree
echo 'Its check is `tests/unit/test_tiny.c`.' >docs/theory.md
fails_saying 'models/tiny.h: docs/theory.md does not have it' tree theory
tiny_tree
rm tests/unit/test_tiny.c
fails_saying 'names tests/unit/test_tiny.c, which is not there' tree theory

tiny_tree
add models/tiny.h 'size_t wr_tiny_count(void);'
fails_saying 'models/tiny.h: does not compile alone with clang' headers
tiny_tree
add models/tiny.h 'double * wr_tiny_place( void );'
fails_saying 'double *wr_tiny_place(void);' format

tiny_tree
after models/tiny.c '{' '    x = x;'
fails_saying 'self-assign' clang_build
tiny_tree
add models/tiny.h 'int stray(void);'
add models/tiny.c '\nint stray(void)\n{\n    return 1;\n}'
passes clang_build
fails_saying 'stray: leaves the library' symbols

tiny_tree
after tests/unit/test_tiny.c '    (void)state;' '    free(state == NULL ? NULL : strdup(""));\n    (void)!strdup("lost");'
sed -i 's|^#include "models/tiny.h"|&\n#include <stdlib.h>\n#include <string.h>|' tests/unit/test_tiny.c
fails_saying 'LeakSanitizer: detected memory leaks' sanitize
tiny_tree
after models/tiny.c '{' '    volatile int most = 2147483647;\n    most++;'
fails_saying 'signed integer overflow' sanitize

tiny_tree
after models/tiny.c '{' '#ifdef __clang__\n    x += 1e-3;\n#endif'
fails_saying 'firm scenarios/tiny.json: clang-O0 answers otherwise' same_bytes
tiny_tree
after sim/cli/main.c '{' '    puts("no answer");\n    return 3;\n}\n\nint wr_main(void);\nint wr_main(void)\n{'
fails_saying 'exit status 3' same_bytes

tiny_tree
add sim/washrota.h 'size_t wr_count(void);'
fails_saying 'size_t' install_test
tiny_tree
sed -i 's/== 1.0/== 3.0/' tests/house/user.c
fails_saying 'a user of the installed library gets no answer' install_test
tiny_tree
mv scenarios/tiny.json scenarios/huge.json
cp scenarios/huge.json "$folder/"
sed -i 's|^install(DIRECTORY scenarios.*||' CMakeLists.txt
passes clang_build
fails_saying 'share/washrota/scenarios' install_test

echo "$count runs of the tests of the tree did as they should"
