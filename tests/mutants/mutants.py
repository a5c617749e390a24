#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Faults of one line each: is every one of them caught?

usage: mutants.py ROOT check            every line of the list stands in its file, once, and every test is there
       mutants.py ROOT run FOLDER [N]   spoils a copy of the tree in FOLDER, one fault at a time (the Nth alone), builds what
                                        it needs and runs the named tests until one fails; a table, and status 1 where
                                        a fault survives
"""

import re
import shutil
import subprocess
import sys
from pathlib import Path

COPIED = ["CMakeLists.txt", "models", "sim", "scenarios", "plots", "tests", "docs"]
LONGEST = 300  # s that a test may take: a fault that makes it hang is caught


class Fault:
    def __init__(self, text):
        self.before, self.after = [], []
        for line in text.splitlines():
            mark, rest = line.split(" ", 1)
            if mark == "-":
                self.before.append(rest)
            elif mark == "+":
                self.after.append(rest)
            else:
                setattr(self, mark.rstrip(":"), rest)
        self.tests = self.tests.split()

    def places(self, lines):
        """Where in the lines of its file it applies."""
        bare = [line.strip() for line in lines]
        size = len(self.before)
        return [at for at in range(len(bare) - size + 1) if bare[at:at + size] == self.before]

    def spoil(self, text):
        lines = text.splitlines()
        (at,) = self.places(lines)
        lines[at:at + len(self.before)] = self.after
        return "\n".join(lines) + "\n"


def faults_of(root):
    text = (root / "tests/mutants/list.txt").read_text(encoding="utf-8")
    text = "".join(line for line in text.splitlines(keepends=True) if not line.startswith("#"))
    return [Fault(block) for block in re.split(r"\n{2,}", text.strip())]


def source_of(root, test):
    kind, name = test.split(".")
    return root / "tests" / kind / f"test_{name}.{'sh' if kind == 'cli' else 'c'}"


def complaints_of(root, faults):
    for number, fault in enumerate(faults, 1):
        path = root / fault.file
        places = fault.places(path.read_text(encoding="utf-8").splitlines()) if path.is_file() else []
        if len(places) != 1:
            yield f"fault {number}: {fault.file}: found {len(places)} times: {fault.before[0]}"
        if fault.before == fault.after:
            yield f"fault {number}: {fault.file}: nothing is spoilt"
        for test in fault.tests:
            if not source_of(root, test).is_file():
                yield f"fault {number}: there is no test {test}"


def target_of(test):
    return "washrota" if test.startswith("cli.") else test.replace(".", "_")


def copy_tree(root, tree):
    """With times of now: a build left from before may hold objects of a spoilt file that are younger than the file."""
    for name in COPIED:
        if (root / name).is_dir():
            shutil.rmtree(tree / name, ignore_errors=True)
            shutil.copytree(root / name, tree / name, copy_function=shutil.copy)
        else:
            tree.mkdir(parents=True, exist_ok=True)
            shutil.copy(root / name, tree / name)


def call(*command, **more):
    return subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False, **more)


def build(folder, tests):
    targets = sorted({target_of(test) for test in tests})
    return call("cmake", "--build", folder / "build", "--parallel", "2", "--target", *targets)


def is_caught(folder, test):
    return call("ctest", "--test-dir", folder / "build", "--timeout", str(LONGEST), "--no-tests=error", "-R",
                f"^{re.escape(test)}$").returncode != 0


def prepare(root, folder, faults):
    """A copy of the tree, built, in which all named tests pass: else a fault would be caught by chance."""
    copy_tree(root, folder / "tree")
    made = call("cmake", "-S", folder / "tree", "-B", folder / "build", "-DWR_HOUSE=OFF", "-DWR_WERROR=OFF")
    tests = sorted({test for fault in faults for test in fault.tests})
    built = build(folder, tests)
    if made.returncode or built.returncode:
        sys.exit(made.stdout + built.stdout)
    failing = [test for test in tests if is_caught(folder, test)]
    if failing:
        sys.exit(f"without any fault these tests fail: {' '.join(failing)}")


def verdict_of(folder, fault):
    path = folder / "tree" / fault.file
    whole = path.read_text(encoding="utf-8")
    path.write_text(fault.spoil(whole), encoding="utf-8")
    try:
        for test in fault.tests:
            if build(folder, [test]).returncode:
                return "does not build"
            if is_caught(folder, test):
                return test
        return "SURVIVES"
    finally:
        path.write_text(whole, encoding="utf-8")


def run(root, folder, faults):
    prepare(root, folder, faults)
    bad = 0
    for number, fault in enumerate(faults, 1):
        verdict = verdict_of(folder, fault)
        bad += verdict not in fault.tests
        print(f"{number:3} {fault.file:32} {fault.what:58} {verdict}", flush=True)
    print(f"{len(faults)} faults of one line, {len(faults) - bad} caught by a named test, {bad} not")
    return bad


def main():
    root = Path(sys.argv[1]).resolve()
    faults = faults_of(root)
    complaints = list(complaints_of(root, faults))
    for complaint in complaints:
        print(complaint)
    if complaints or sys.argv[2] == "check":
        print(f"{len(faults)} faults of one line in {len({fault.file for fault in faults})} files, "
              f"{len(complaints)} complaints")
        sys.exit(bool(complaints))
    chosen = [faults[int(number) - 1] for number in sys.argv[4:]] or faults
    sys.exit(bool(run(root, Path(sys.argv[3]).resolve(), chosen)))


main()
