# SPDX-License-Identifier: GPL-3.0-or-later
"""Text, JSON and CSV of one run say the same numbers.

    figures.py FOLDER ...

reads run folders that `run --units si --out FOLDER` wrote. Exit status 0 if all agree; else what does not, and 1.
"""

import csv
import json
import math
import re
import sys

SECONDS = {"days": 86400, "day": 86400, "h": 3600, "min": 60, "s": 1}


def near(a, b, share=1e-9, least=1e-6):
    return math.isclose(a, b, rel_tol=share, abs_tol=least)


def time_of(words):
    """Seconds of "18 days 5 h", and how far rounding to its last part may be off; of "none" 0."""
    parts = re.findall(r"(\d[\d,.]*) (days?|h|min|s)\b", words)
    if not parts:
        return (0.0, 0.5) if words.strip() == "none" else None
    figures = [(float(n.replace(",", "")), SECONDS[unit]) for n, unit in parts]
    last = parts[-1]
    digits = len(last[0].partition(".")[2])
    return sum(n * s for n, s in figures), figures[-1][1] * 0.5 * 10**-digits


def figure_of(text):
    """A number as printed, and half a unit of its last digit; None for "-"."""
    text = text.replace(",", "")
    try:
        return float(text), 0.5 * 10 ** -len(text.partition(".")[2])
    except ValueError:
        return None


class Folder:
    def __init__(self, path):
        self.path = path
        self.answer = json.load(open(path + "/answer.json"))
        self.text = open(path + "/report.txt").read()
        self.flat = re.sub(r"\s+", " ", self.text)
        self.washes = list(csv.DictReader(open(path + "/washes.csv", newline="")))
        self.spans = list(csv.DictReader(open(path + "/spans.csv", newline="")))
        self.faults = []

    def hold(self, true, *words):
        if not true:
            self.faults.append(" ".join(str(w) for w in words))

    def says(self, pattern):
        found = re.search(pattern, self.flat)
        return found.groups() if found else None

    def section(self, heading):
        """Lines between a heading and the next one."""
        part = self.text.partition("\n" + heading + "\n")[2]
        return re.split(r"\n\S", part)[0].splitlines()

    # Tables ---------------------------------------------------------------------------------------------------------

    def counts_washes(self):
        balance = self.answer["answers"]["wash_balance"]
        self.hold(len(self.washes) == balance["washes"], "washes.csv has", len(self.washes), "of", balance["washes"])
        self.hold(sum(f["washes"] for f in self.answer["filters"]) == balance["washes"], "washes over filters")
        counted = [w for w in self.washes if w["start_up"] == "false"]
        for column, key, longest in (("waited_s", "total_wait_s", "longest_wait_s"),
                                     ("waited_for_resource_s", "total_wait_for_resource_s", "longest_wait_for_resource_s")):
            waits = [float(w[column]) for w in counted]
            self.hold(sum(waits) <= balance[key] * (1 + 1e-9) + 1e-6, "washes waited", sum(waits), "of", balance[key])
            self.hold(max(waits, default=0) <= balance[longest] * (1 + 1e-9) + 1e-6, longest, max(waits, default=0))
        for f in self.answer["filters"]:
            runs = [float(w["run_s"]) for w in counted if w["filter"] == f["name"]]
            self.hold(sum(w["filter"] == f["name"] for w in self.washes) == f["washes"], "washes of", f["name"])
            self.hold(len(runs) == f["runs"], "runs of", f["name"], len(runs), f["runs"])
            if runs:
                self.hold(near(min(runs), f["shortest_run_s"]), "shortest run of", f["name"])
                self.hold(near(sum(runs) / len(runs), f["mean_run_s"]), "mean run of", f["name"])

    def adds_spans(self):
        held = {}
        for s in self.spans:
            start, end, length = (float(s[c]) for c in ("from_s", "to_s", "length_s"))
            self.hold(near(end - start, length), "length of a span", s)
            self.hold(0 <= start <= end <= self.answer["horizon_s"] * (1 + 1e-12), "a span in the run", s)
            held[s["limit"]] = held.get(s["limit"], 0) + length
        for h in self.answer["answers"]["wash_balance"]["held_by"]:
            total = h["total_s"] + h["start_up_s"]
            self.hold(near(held.get(h["limit"], 0), total, 1e-9, 1e-3), "spans of", h["limit"], held.get(h["limit"]), total)

    # Text -----------------------------------------------------------------------------------------------------------

    def says_answers(self):
        answers = self.answer["answers"]
        balance = answers["wash_balance"]
        self.hold(self.says(r"\(Grade: (\w+)\.\)") == (balance["grade"],), "grade", balance["grade"])
        self.hold(("This run passes" in self.flat) == answers["passes"], "passes", answers["passes"])
        self.hold(("This run fails" in self.flat) != answers["passes"], "fails")
        said = self.says(r"Did wash demand ever exceed supply\? (Yes|No)\.")
        self.hold(said == ("Yes" if balance["ever_exceeds_supply"] else "No",), "demand over supply", said)
        said = self.says(r"\((\d+) wash(?:es were|) ?(?:was )?made\)")
        if said:
            self.hold(int(said[0]) == balance["washes"], "washes made", said)
        said = self.says(r"\. (?:All )?([\d,.]+) m3 (?:that was asked for was delivered|of ([\d,.]+) m3 was not)")
        if said:
            number, half = figure_of(said[0])
            wanted = answers["demand"]["unmet_m3" if said[1] else "delivered_m3"]
            self.hold(abs(number - wanted) <= max(half, 1e-3 * wanted), "demand", said, wanted)

    def says_filters(self):
        rows = {}
        for line in self.section("Filters"):
            cells = re.split(r"\s{2,}", line.strip())
            if len(cells) >= 8:
                rows[cells[0]] = cells
        for f in self.answer["filters"]:
            row = rows.get(f["name"])
            if row is None:
                self.hold(len(self.answer["filters"]) > 16, "no row of", f["name"])
                continue
            self.hold(int(row[1].replace(",", "")) == f["washes"], "washes in the row of", f["name"])
            for cell, key in ((row[3], "mean_run_s"), (row[4], "shortest_run_s")):
                shown = figure_of(cell)
                if shown and f["runs"]:
                    self.hold(abs(shown[0] - f[key] / 3600) <= shown[1] * 1.001, key, "of", f["name"], cell, f[key] / 3600)
            waited, half = time_of(row[-1]) or (0.0, 0.0)
            self.hold(abs(waited - f["waited_s"]) <= max(half * 1.001, 1.0), "wait of", f["name"], row[-1], f["waited_s"])

    def says_water(self):
        """Each account adds up, its figures rounded so that they do, and its first ones are the ledger's."""
        rows, total = {}, 0.0
        for line in self.section("Where the water went"):
            found = re.match(r"\s+(.*?)\s{2,}([\d,.]+)$", line)
            if not found:
                total = 0.0
                continue
            words, shown = found[1], figure_of(found[2])
            if words in ("= came in", "= went out"):
                self.hold(near(total, shown[0]), "the sum", line.strip(), total)
                total = 0.0
            else:
                total += shown[0]
                rows.setdefault(words, shown)
        water = self.answer["ledger"]["water"]
        for words, figure in (("raw water from the wells", water["wells"]["out_m3"]),
                              ("delivered to demand", water["demand"]["in_m3"]),
                              ("recycled to the filters", self.answer["spent_wash"] and
                               self.answer["spent_wash"]["recycled_m3"])):
            if words in rows:
                shown = rows[words]
                self.hold(abs(shown[0] - figure) <= 2 * shown[1] * 1.001, words, shown[0], figure)

    def says_findings(self):
        part = self.text.partition("\nFindings")[2].partition("\nWhat follows")[0]
        said = re.split(r"\n  ([!-]) ", part)[1:]
        findings = sorted(self.answer["findings"], key=lambda f: not f["fails"])
        self.hold(len(said) // 2 == len(findings), "findings said", len(said) // 2, "of", len(findings))
        for mark, words, finding in zip(said[::2], said[1::2], findings):
            self.hold(("!" == mark) == finding["fails"], "mark of", finding["kind"])
            times = re.search(r" (\d[\d,]*) times", re.sub(r"\s+", " ", words))
            if times:
                self.hold(int(times[1].replace(",", "")) == finding["times"], "times of", finding["kind"], times[1])


def faults_of(path):
    folder = Folder(path)
    folder.counts_washes()
    folder.adds_spans()
    folder.says_answers()
    folder.says_filters()
    folder.says_water()
    folder.says_findings()
    return folder.faults


if __name__ == "__main__":
    faults = [(path, fault) for path in sys.argv[1:] for fault in faults_of(path)]
    for path, fault in faults:
        print(path + ":", fault)
    sys.exit(1 if faults else 0)
