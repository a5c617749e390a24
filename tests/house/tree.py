#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What stands in the tree: its top level, a licence line in each source, no word that does not belong, and each model on
the page of theory.

usage: tree.py ROOT top|licence|words|theory
"""

import fnmatch
import os
import re
import sys
from pathlib import Path

TOP = {"README.md", "DEVELOPERS.md", "LICENSE", "CMakeLists.txt", "sim", "models", "scenarios", "tests", "plots", "docs",
       "build"}
SOURCE_SUFFIXES = {".c", ".h", ".sh", ".py", ".cmake", ".gp", ".gnuplot", ".awk"}
SOURCE_NAMES = {"CMakeLists.txt", ".clang-format", ".gitignore", "packages", "run"}
LICENCE_LINE = "SPDX-License-Identifier: GPL-3.0-or-later"

# Headers of models/ that hold no physics.
NO_MODELS = {"status.h", "range.h", "root.h"}
PROTOTYPE = re.compile(r"^\w[^;{}/]*\bwr_\w+\(", re.MULTILINE)

# Pieces keep this file from holding what it looks for.
WORDS = {
    "a path of one machine": r"(?<![\w.])/(wo" r"rk|ho" r"me/\w|Us" r"ers/\w|tmp/\w)",
    "a folder outside the tree": r"\bsha" r"red/",
    "a host of packages": r"\b(deb|security|snapshot|archive|registry|proxy|mirrors?|ftp)\.[a-z]+\.(org|com|io|net|dev)\b"
                          r"|\bnp" r"mjs\b|\bpy" r"pi\b",
    "a word about who wrote it": r"\bse" r"ssions?\b|\bassi" r"stants?\b|\bchat" r"bots?\b|\bL" r"LMs?\b"
                                 r"|\blanguage mo" r"dels?\b|\bse" r"ed document\b|\bco-auth" r"ored-by\b",
    "a number from a list of work": r"\biss" r"ues?\s+(no\.?\s*)?#?\d",
    "a mark of unfinished work": r"\bTO" r"DO\b|\bFIX" r"ME\b|\bX" r"XX\b",
}


def ignored_folders(root):
    """Patterns of folders that .gitignore leaves out, anywhere in the tree."""
    page = root / ".gitignore"
    lines = page.read_text(encoding="utf-8").splitlines() if page.is_file() else []
    return [line.strip().strip("/") for line in lines if line.strip().endswith("/") and not line.startswith("#")]


def is_ignored(name, patterns):
    return name == ".git" or name == "__pycache__" or any(fnmatch.fnmatch(name, pattern) for pattern in patterns)


def files_of(root):
    patterns = ignored_folders(root)
    for folder, folders, names in os.walk(root):
        folders[:] = sorted(name for name in folders if not is_ignored(name, patterns))
        for name in sorted(names):
            if name != ".git":
                yield Path(folder) / name


def complaints_of_top(root):
    patterns = ignored_folders(root)
    for entry in sorted(root.iterdir()):
        name = entry.name
        if name in TOP or name.startswith(".") or (entry.is_dir() and is_ignored(name, patterns)):
            continue
        yield f"{name}: does not belong at the top level"


def complaints_of_licence(root):
    count = 0
    for path in files_of(root):
        if path.suffix not in SOURCE_SUFFIXES and path.name not in SOURCE_NAMES:
            continue
        count += 1
        lines = path.read_text(encoding="utf-8").splitlines()
        line = lines[1] if lines and lines[0].startswith("#!") and len(lines) > 1 else (lines or [""])[0]
        if LICENCE_LINE not in line:
            yield f"{path.relative_to(root)}: does not start with the line {LICENCE_LINE}"
    if count == 0:
        yield "no source found"


def complaints_of_words(root):
    for path in files_of(root):
        name = path.relative_to(root).as_posix()
        if name == "LICENSE":
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        for what, pattern in WORDS.items():
            for match in re.finditer(pattern, text, re.IGNORECASE):
                line = text.count("\n", 0, match.start()) + 1
                yield f"{name}:{line}: {what}: {match.group(0)}"


def complaints_of_theory(root):
    """Models that docs/theory.md leaves out, and files that it names and the tree does not have."""
    page = root / "docs/theory.md"
    text = page.read_text(encoding="utf-8") if page.is_file() else ""
    models = [path for path in sorted((root / "models").glob("*.h"))
              if path.name not in NO_MODELS and PROTOTYPE.search(path.read_text(encoding="utf-8"))]
    for path in models:
        name = path.relative_to(root).as_posix()
        if f"`{name}`" not in text:
            yield f"{name}: docs/theory.md does not have it"
    for name in sorted(set(re.findall(r"`((?:models|sim|tests)/[\w/]+\.\w+)`", text))):
        if not (root / name).is_file():
            yield f"docs/theory.md: names {name}, which is not there"


CHECKS = {"top": complaints_of_top, "licence": complaints_of_licence, "words": complaints_of_words,
          "theory": complaints_of_theory}


def main():
    root, which = Path(sys.argv[1]), sys.argv[2]
    complaints = list(CHECKS[which](root))
    for complaint in complaints:
        print(complaint)
    print(f"{which}: {len(complaints)} complaints")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main())
