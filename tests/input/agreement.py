#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The JSON Schema of scenarios against the reader: what the reader takes the schema takes, and what is wrong in its structure
both refuse. The schema is weaker than the reader: it knows no units and nothing that must hold between keys.

usage: agreement.py ROOT CASES PROGRAM       exit 77: no library to validate with

CASES is the test program input_each_key, which writes a scenario for every way in which a key can be wrong; PROGRAM is
washrota. Validation is by Debian's python3-jsonschema, an outside voice.
"""

import copy
import json
import subprocess
import sys
import tempfile
from pathlib import Path

try:
    import jsonschema
except ImportError:
    print("python3-jsonschema is not installed: nothing validated")
    sys.exit(77)

# Texts for a quantity, here a time. The schema must take whatever the reader takes; of those it takes beyond that, what is
# wrong is a unit or a range.
TIMES = ["30 d", "30d", " 30  d ", "3e1 d", "0.5 h", "1.5E+2 min", "7200 s", "1 week", "12 m3/(m3/d)", "3 d^1", "4 1/s",
         "-1 d", "0 d", "30", "", "d", ".5 d", "1. d", "01 d", "+1 d", "1,000 s", "1e d", "30 days", "30 d d", "30 d;",
         "30 \u00b5s", "\n30 d", "3 d @ 5", "4000 d", "30 gal"]
UNITS_OR_RANGE = {"30 days", "-1 d", "0 d", "1e d", "30 d d", "4000 d", "30 gal"}
DATES = ["2026-01-05", "2026-01-05 06:00", "2026-02-30", "2026-13-01", "2026-00-01", "1899-12-31", "2199-12-31", "2200-01-01",
         "2026-1-5", "2026-01-05 24:00", "2026-01-05T06:00", "2026-01-05 06:60"]
CALENDAR = {"2026-02-30"}
CLOCKS = ["07:00", "7:00", "23:59", "24:00", "24:01", "25:00", "07:60", "07-00", "07:00:00"]


class Agreement:
    def __init__(self, root, program):
        self.program = program
        self.schema = json.loads((root / "scenarios/scenario.schema.json").read_text(encoding="utf-8"))
        jsonschema.Draft7Validator.check_schema(self.schema)
        self.validator = jsonschema.Draft7Validator(self.schema)
        self.faults = []
        self.checks = 0

    def expect(self, is_good, scenario, what):
        self.checks += 1
        error = next(self.validator.iter_errors(scenario), None)
        if is_good and error is not None:
            self.faults.append(f"{what}: the schema refuses it: {error.message[:200]}")
        if not is_good and error is None:
            self.faults.append(f"{what}: the schema takes it")

    def reader_takes(self, scenario):
        done = subprocess.run([self.program, "check", "-", "--quiet"], input=json.dumps(scenario), text=True,
                              capture_output=True, check=False)
        if done.returncode not in (0, 2):
            raise SystemExit(f"washrota check ended with {done.returncode}: {done.stderr}")
        return done.returncode == 0

    def values(self, scenario, put, values, reader_alone, what):
        """Values of one kind: the same verdict from both, but for texts that only the reader can refuse."""
        taken = 0
        for value in values:
            changed = copy.deepcopy(scenario)
            put(changed, value)
            takes = self.reader_takes(changed)
            taken += takes
            alone = isinstance(value, str) and value in reader_alone
            if takes and alone:
                self.faults.append(f"{what} {value!r}: the reader takes it")
            self.expect(takes or alone, changed, f"{what} {value!r}")
        if taken < 2:
            self.faults.append(f"{what}: the reader takes hardly any")


def shipped(root):
    pages = sorted(root.glob("scenarios/*.json"))
    pages += [root / name for name in ("tests/input/plant.json", "tests/input/least.json", "tests/cli/plant.json",
                                       "tests/plant/plain.json")]
    return [page for page in pages if not page.name.endswith(".schema.json")]


def check_shipped(agreement, root):
    for page in shipped(root):
        agreement.expect(True, json.loads(page.read_text(encoding="utf-8")), page.name)


def check_starters(agreement, root):
    """What `washrota new` writes for each kind of plant, in both unit systems."""
    for starter in sorted(root.glob("scenarios/starters/*.starter")):
        for units in ("us", "si"):
            with tempfile.TemporaryDirectory() as folder:
                page = Path(folder) / "plant.json"
                subprocess.run([agreement.program, "new", starter.stem, page, "--units", units], check=True,
                               capture_output=True)
                agreement.expect(True, json.loads(page.read_text(encoding="utf-8")), f"{starter.stem} in {units}")


def check_cases(agreement, cases):
    lines = subprocess.run([cases, "cases"], text=True, capture_output=True, check=True).stdout.splitlines()
    structural = 0
    for line in lines:
        standing, what, text = line.split("\t")
        if standing == "structure":
            structural += 1
            agreement.expect(False, json.loads(text), what)
    if structural < 300:
        agreement.faults.append(f"only {structural} cases of structure")


def check_values(agreement, root):
    plant = json.loads((root / "tests/input/least.json").read_text(encoding="utf-8"))

    def clock(scenario, text):
        scenario["wash"]["window"] = [{"from": "06:30", "until": text}]

    agreement.values(plant, lambda scenario, text: scenario.update(horizon=text), TIMES, UNITS_OR_RANGE, "time")
    agreement.values(plant, lambda scenario, text: scenario.update(start=text), DATES, CALENDAR, "date")
    agreement.values(plant, clock, CLOCKS, set(), "time of day")
    agreement.values(plant, lambda scenario, word: scenario.update(units=word), ["us", "si", "SI", "metric", "", " us"], set(),
                    "choice")
    agreement.values(plant, lambda scenario, count: scenario["filters"][0].update(count=count),
                    [3, 3.0, 1, 1000, 2.5, "3", 0, -3, 1001, True, None, [3]], set(), "count")
    agreement.values(plant, lambda scenario, title: scenario.update(title=title),
                    ["", "x" * 200, "x" * 201, "\u00e9" * 101, 5], {"\u00e9" * 101}, "text")


def check_notes(agreement, root):
    plant = json.loads((root / "tests/input/least.json").read_text(encoding="utf-8"))
    for note, is_good in (("a text", True), (5, False), (None, False), ([], False)):
        changed = copy.deepcopy(plant)
        changed["storage"]["note"] = note
        if agreement.reader_takes(changed) != is_good:
            agreement.faults.append(f"note {note!r}: not what the reader says")
        agreement.expect(is_good, changed, f"note {note!r}")


def main():
    root = Path(sys.argv[1])
    agreement = Agreement(root, sys.argv[3])
    check_shipped(agreement, root)
    check_starters(agreement, root)
    check_cases(agreement, sys.argv[2])
    check_values(agreement, root)
    check_notes(agreement, root)
    for fault in agreement.faults:
        print(fault)
    print(f"{agreement.checks} scenarios against the schema: {len(agreement.faults)} faults")
    return 1 if agreement.faults else 0


if __name__ == "__main__":
    sys.exit(main())
