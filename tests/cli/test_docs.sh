# SPDX-License-Identifier: GPL-3.0-or-later
# The commands of README.md and of all pages in docs/ run as printed, and what is printed under them is what they say. How
# to write one stands in DEVELOPERS.md. First, pages with one fault each must not pass.

try() {
    python3 "$WR_ROOT/tests/cli/docs.py" "$WR_ROOT" "$WR_PROGRAM" "$@"
}

# fault NAME WORDS, the page on standard input: it fails with these words.
fault() {
    cat >"$1.md"
    if try "$PWD/$1.md" >wr_out; then
        echo "$1: a page with a fault passes"
        exit 1
    fi
    grep -qF -- "$2" wr_out || {
        echo "$1: no complaint with: $2"
        cat wr_out
        exit 1
    }
}

fault status 'exit status 2, not 0 or 1' <<'END'
```sh
washrota run none.json
```
END
fault other-status 'exit status 1, not 0:' <<'END'
```sh
test -e none.json
```
END
fault output 'is printed, but not said there: washrota 9' <<'END'
```sh
washrota --version
```
```text
washrota 9
```
END
fault order 'is printed, but not said there: one' <<'END'
```sh
printf 'one\ntwo\n'
```

```text
t...o
one
```
END
fault stray 'a command outside a block marked sh' <<'END'
Try this:

    washrota run scenarios/iron-four.json
END
fault script 'no such script' <<'END'
```sh
sh tests/all.sh
sh scenarios/demo.sh
cmake -S . -B build
sh .ci/prepare.sh.none
```
END
fault nothing 'no command was run' <<'END'
A page without commands.
END

cat >good.md <<'END'
```sh
# A page that passes.
cp scenarios/iron-four.json \
    plant.json
build/washrota run plant.json
washrota check none.json # status 2
```

```text
Did wash demand ever exceed supply?
  Yes. Filters had ... 56 times because ...
...
none.json: found no file ...
```
END
try "$PWD/good.md"
try
