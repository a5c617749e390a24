#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The two commands on a bare Debian 12, by hand and as root:
#
#     sh tests/house/bare.sh FOLDER [COMMAND...]
#
# Makes in FOLDER (unless it is there) a Debian 12 with git and a shell and no more, clones the committed state of this
# tree into it, and runs there scenarios/demo.sh and tests/all.sh, then both again without a network. With a COMMAND
# that is run there instead, once. The mirror is the one in this machine's apt configuration. Needs debootstrap.

set -eu

root=$(CDPATH='' cd -- "$(dirname -- "$0")/../.." && pwd)
[ $# -gt 0 ] || {
    sed -n '4,11s/^# \{0,1\}//p' "$0" >&2
    exit 2
}
bare=$1
shift

mirror() {
    apt-get indextargets --format '$(ORIGIN) $(CODENAME) $(COMPONENT) $(SITE)' 'Created-By: Packages' |
        sed -n 's/^Debian bookworm main //p' | head -n 1
}

if [ ! -e "$bare/bin/sh" ]; then
    from=$(mirror)
    [ -n "$from" ] || {
        echo "bare: apt has no Debian bookworm configured here" >&2
        exit 3
    }
    debootstrap --variant=minbase --include=git bookworm "$bare" "$from"
fi
bare=$(CDPATH='' cd -- "$bare" && pwd)
[ ! -e /etc/resolv.conf ] || cp -L /etc/resolv.conf "$bare/etc/resolv.conf"

tree=$bare/root/washrota
rm -rf -- "$tree"
git clone --quiet --no-hardlinks -- "$root" "$tree"

# Runs a command line in the bare root, its mounts gone with it; options before `--` go to unshare.
inside() {
    options=
    while [ "$1" != -- ]; do
        options="$options $1"
        shift
    done
    shift
    unshare --mount --pid --fork --kill-child $options sh -eu -c '
        mount -t proc proc "$1/proc"
        mount --rbind /dev "$1/dev"
        exec chroot "$1" env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 sh -c "cd /root/washrota && $2"
    ' inside "$bare" "$1"
}

if [ $# -gt 0 ]; then
    inside -- "$*"
    exit
fi
inside -- 'sh scenarios/demo.sh'
inside -- 'sh tests/all.sh'
echo "bare: once more, without a network"
inside --net -- 'sh scenarios/demo.sh'
inside --net -- 'sh tests/all.sh'
echo "bare: both commands passed twice"
