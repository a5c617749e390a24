#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs one test of the program in an empty folder.
# usage: one.sh SCRIPT FOLDER, with WR_PROGRAM and WR_ROOT set.
set -eu
rm -rf -- "$2"
mkdir -p -- "$2"
cd -- "$2"
exec sh -eu "$1"
