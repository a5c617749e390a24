#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds models/ and sim/ to the include table of docs/house.md.

usage: includes.py ROOT
"""

import re
import sys
from pathlib import Path

PUBLIC_HEADER = "sim/washrota.h"
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.MULTILINE)


def table_of(page):
    """Rooms and what they may include, as the page's table has them."""
    rooms = {}
    for line in page.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if not line.startswith("|") or len(cells) != 2 or cells[0] in ("room", "") or set(cells[0]) <= set("-:"):
            continue
        rooms[cells[0]] = [name.strip() for name in cells[1].split(",") if name.strip()]
    return rooms


def complaints_of_table(rooms, root):
    if not rooms:
        yield "docs/house.md: no table 'room | may include'"
    for room, allowed in rooms.items():
        for name in allowed:
            if not name.endswith(".h") and name not in rooms:
                yield f"docs/house.md: {room} may include {name}, which is no room of the table"
    here = {path.parent.relative_to(root).as_posix() for path in sources_of(root)}
    for room in sorted(here - set(rooms)):
        yield f"{room}: a room with sources that the table in docs/house.md does not have"


def sources_of(root):
    for top in ("models", "sim"):
        for path in sorted((root / top).rglob("*")):
            if path.suffix in (".c", ".h"):
                yield path


def is_allowed(target, room, allowed):
    target_room = target.rsplit("/", 1)[0] if "/" in target else ""
    return target_room == room or target in allowed or target_room in allowed


def complaints_of_source(path, root, rooms):
    name = path.relative_to(root).as_posix()
    room = path.parent.relative_to(root).as_posix()
    text = path.read_text(encoding="utf-8")
    for match in INCLUDE.finditer(text):
        bracket, target = match.groups()
        where = f"{name}:{text.count(chr(10), 0, match.start(1)) + 1}"
        is_ours = (root / target).is_file()
        if bracket == "<":
            if is_ours:
                yield f"{where}: <{target}> is a header of the project and wants quotes"
        elif not is_ours:
            yield f'{where}: "{target}" is no file under the root of the tree'
        elif name == PUBLIC_HEADER:
            yield f"{where}: the public header includes {target}"
        elif not is_allowed(target, room, rooms.get(room, [])):
            yield f"{where}: {room} may not include {target}"


def main():
    root = Path(sys.argv[1])
    rooms = table_of(root / "docs/house.md")
    complaints = list(complaints_of_table(rooms, root))
    count = 0
    for path in sources_of(root):
        count += 1
        complaints.extend(complaints_of_source(path, root, rooms))
    for complaint in complaints:
        print(complaint)
    if count == 0:
        complaints.append("")
        print("no source found in models/ or sim/")
    print(f"{count} sources against {len(rooms)} rooms: {len(complaints)} complaints")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main())
