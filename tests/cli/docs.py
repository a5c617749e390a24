#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the commands of README.md and docs/ as printed and compares what they say with what is printed.

usage: docs.py ROOT PROGRAM [PAGE...]

A block marked ```sh holds commands, one a line, which a backslash at its end joins with the next. Each runs by itself, in
the order of the page, in a folder that looks like the root of the tree with the program built in build/; the folder
is one for the page. It must end with status 0, where it starts with washrota also with 1, which is an answer too, or
with the status that the line names: `# status 2`.

A block marked ```text directly under it shows what the commands say: each printed line must be a line of their output,
in the same order, where `...` stands for anything left out, within a line or as a line of its own.
"""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

# Commands that are not run here, and why: each must still name scripts that are there.
NOT_RUN = {
    r"sh scenarios/demo\.sh": "installs packages, builds, and asks every plant: minutes",
    r"sh tests/(all|long)\.sh": "runs this test among the others",
    r"sh \.ci/prepare\.sh": "installs packages",
    r"(cmake|ctest) ": "builds the tree, or runs this test among the others",
    r"git clone ": "needs the network",
}
TIME_LIMIT = 120  # s for a command
STRAY = re.compile(r"\s+\$?\s*(build/)?washrota\s+(run|firm|check|help|new [a-z]|[a-z]+ \S+\.json)\b")


class Complaint(Exception):
    pass


def blocks_of(page):
    """The fenced blocks of a page, each with its language, the number of its first line, its lines, and whether it stands
    directly under the block before it. A command outside such a block is a complaint: it would not be run."""
    blocks, inside, since = [], None, None
    for number, line in enumerate(page.read_text(encoding="utf-8").splitlines(), 1):
        fence = re.match(r"```(\w*)\s*$", line)
        if inside is None and fence:
            inside = {"language": fence.group(1), "line": number + 1, "lines": [], "under": since == "blank"}
        elif inside is not None and fence:
            blocks.append(inside)
            inside, since = None, "blank"
        elif inside is not None:
            inside["lines"].append(line)
        elif STRAY.match(line):
            raise Complaint(f"line {number}: a command outside a block marked sh, which would not be run: {line.strip()}")
        elif line.strip():
            since = "text"
    return blocks


def commands_of(block):
    """The commands of a block with the numbers of their lines, continued lines joined."""
    commands, begun = [], None
    for offset, line in enumerate(block["lines"]):
        text = line.strip() if begun is None else begun[1] + " " + line.strip()
        number = block["line"] + offset if begun is None else begun[0]
        begun = (number, text[:-1].rstrip()) if text.endswith("\\") else None
        if begun is None and text and not text.startswith("#"):
            commands.append((number, text))
    return commands


def scratch(root, program, folder):
    """A folder that looks like the root of the tree. Scenarios are copies, so that a page may change them."""
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "build").mkdir(parents=True)
    (folder / "build" / "washrota").symlink_to(program)
    for entry in sorted(root.iterdir()):
        if entry.name == "scenarios":
            shutil.copytree(entry, folder / entry.name)
        elif entry.name != "build" and entry.name != ".git":
            (folder / entry.name).symlink_to(entry)
    return folder


def check_named(root, command):
    script = re.match(r"sh (\S+)", command)
    if script and not (root / script.group(1)).is_file():
        raise Complaint(f"no such script: {command}")


def run(command, folder):
    """What a command says, errors after output; a complaint unless it ends as it should."""
    wanted = re.search(r"\s# status (\d+)$", command)
    path = f"{folder / 'build'}{os.pathsep}{os.environ.get('PATH', '')}"
    environment = dict(os.environ, PATH=path, LC_ALL="C")
    environment.pop("NO_COLOR", None)
    done = subprocess.run(["sh", "-c", command], cwd=folder, env=environment, stdin=subprocess.DEVNULL,
                          capture_output=True, text=True, encoding="utf-8", timeout=TIME_LIMIT)
    answers = re.match(r"(build/)?washrota ", command)
    allowed = [int(wanted.group(1))] if wanted else [0, 1] if answers else [0]
    if done.returncode not in allowed:
        raise Complaint(f"exit status {done.returncode}, not {' or '.join(map(str, allowed))}: {command}\n{done.stderr}")
    return done.stdout + done.stderr


def pattern_of(printed):
    pieces = re.split(r"\.{3,}", printed.strip())
    return re.compile(r"\s*" + ".*".join(re.escape(piece.rstrip()) for piece in pieces) + r"\s*$")


def compare(block, said):
    """A complaint when a printed line is not among those said after the one before it."""
    lines = said.splitlines()
    at = 0
    for offset, printed in enumerate(block["lines"]):
        if printed.strip() in ("", "..."):
            continue
        pattern = pattern_of(printed)
        found = next((k for k in range(at, len(lines)) if pattern.match(lines[k])), None)
        if found is None:
            raise Complaint(f"line {block['line'] + offset} is printed, but not said there: {printed}\n  what was said:\n"
                            + "\n".join("  | " + line for line in lines[:80]))
        at = found + 1


def try_page(root, program, page, folder):
    """Runs a page; the number of commands run and of lines compared."""
    ran, compared, said = 0, 0, None
    scratch(root, program, folder)
    for block in blocks_of(page):
        if block["language"] == "sh":
            said = ""
            for number, command in commands_of(block):
                if any(re.match(pattern, command) for pattern in NOT_RUN):
                    check_named(root, command)
                    continue
                try:
                    said += run(command, folder)
                except subprocess.TimeoutExpired:
                    raise Complaint(f"line {number}: longer than {TIME_LIMIT} s: {command}") from None
                ran += 1
        elif block["language"] == "text" and block["under"] and said is not None:
            compare(block, said)
            compared += len(block["lines"])
            said = None
        else:
            said = None
    return ran, compared


def main():
    root, program = Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve()
    pages = [Path(page) for page in sys.argv[3:]] or [root / "README.md", *sorted((root / "docs").rglob("*.md"))]
    failed, ran_in_all = 0, 0
    for page in pages:
        name = page.relative_to(root).as_posix() if page.is_relative_to(root) else page.name
        try:
            ran, compared = try_page(root, program, page, Path.cwd() / name.replace("/", "-").removesuffix(".md"))
            print(f"{name}: {ran} commands ran, {compared} lines compared")
            ran_in_all += ran
        except Complaint as complaint:
            print(f"{name}: {complaint}")
            failed += 1
    if not failed and ran_in_all == 0:
        print("no command was run")
    return 1 if failed or ran_in_all == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
