#!/usr/bin/env python3
"""Panels that number their zones oddly: from 0 (as hexadecimal labels do), from 9, from 101 (by expander), with gaps. A
number that is not there is told with those that are and a free one; a zone is known by its number everywhere, 0 included;
what a remedy adds and what `lintel new` writes has a number that the panel has. Which numbers a panel has is what its
profile says, so what is expected is read off the profile."""

import csv
import io
import json
import os
import re
import shutil
import subprocess
import tempfile

from program import LINTEL, run, tap

PANEL = """name: {name}
says: an invented panel that counts its zones in its own way
zones: {most}
areas: 1
exit-delay: 0..240 s
entry-delay: 0..120 s
abort-window: 0..60 s
behaviours: [entry, perimeter, follower, interior, fire]
numbers: {numbers}
wired: {wired}
radio: {radio}
hears: [skerry]
"""

# The profile's numbers, which of them are wired and radio, the highest, three radio numbers for a site, the lowest that is
# then free for radio, a number that is not there, and how those that are there are told.
PANELS = (
    ("from-nought", "0..15", "0..3", "4..15", 15, (4, 5, 15), 6, 16, "0 to 15"),
    ("from-nine", "9..40", "[]", "9..40", 40, (9, 11, 40), 10, 8, "9 to 40"),
    ("by-expander", "[101..108, 201..208]", "101..104", "[105..108, 201..208]", 208, (105, 106, 208), 107, 109, "101 to 108 and 201 to 208"),
    ("odd-ones", "[1, 3, 5, 7, 900..999]", "1", "[3, 5, 7, 900..999]", 999, (3, 5, 999), 7, 2, "1, 3, 5, 7 and 900 to 999"),
)

SITE = """site: {{name: Odd numbers, invented: yes}}
panel: {{profile: {panel}, exit-delay: 60 s, entry-delays: {{front: 45 s}}, abort-window: 15 s, drop-to-part: yes}}
areas: [{{name: house}}]
keypads: [{{name: pad}}]
doors: [{{name: front door, outside: yes}}, {{name: back door, outside: yes}}]
devices:
  - {{name: front contact, profile: slim-contact, on: front door}}
  - {{name: hall motion, profile: quarter-motion}}
  - {{name: room motion, profile: quarter-motion}}
  - {{name: siren, profile: fog-siren}}
zones:
  - {{number: {0}, says: front door, device: front contact, behaviour: entry}}
  - {{number: {1}, says: hall, device: hall motion, behaviour: follower, hold: 5 s}}
  - {{number: {2}, says: room, device: room motion, behaviour: interior}}
people: [{{name: owner, codes-in: 4..8 s}}]
ways:
  - {{name: front way, door: front door, legs: [{{pass: {1}, in: 1..2 s}}], keypad: pad, last: 1..2 s}}
  - {{name: back way, door: back door, legs: [{{pass: {1}, in: 3..4 s}}], keypad: pad, last: 1..2 s}}
routines:
  - {{name: out at the back, who: owner, steps: [{{set: full, keypad: pad}}, {{go: back way}},
      {{in: 1..2 h, come: back way}}, {{unset: pad}}]}}
"""


def expect(holds, what):
    return [] if holds else [str(what)]


def written(folder, panel):
    name, numbers, wired, radio, most = panel[:5]
    os.makedirs(os.path.join(folder, "panels"), exist_ok=True)
    with open(os.path.join(folder, "panels", name + ".yaml"), "w", encoding="utf-8") as file:
        file.write(PANEL.format(name=name, numbers=numbers, wired=wired, radio=radio, most=most))


def site_of(folder, panel, numbers):
    path = os.path.join(folder, panel[0] + ".yaml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(SITE.format(*numbers, panel=panel[0]))
    return path


def new_by(folder, data, panel):
    """Three doors and two detectors by radio on that panel."""
    path = os.path.join(folder, "new-" + panel + ".yaml")
    answers = ["", "", panel, "", "", "", "front door", "", "", "slim-contact", "back door", "none", "slim-contact", "shed door", "none",
               "slim-contact", "", "", "hall", "quarter-motion", "", "", "study", "quarter-motion", "none", ""]
    environment = dict(os.environ, LC_ALL="C.UTF-8", LINTEL_DATA=data)
    ran = subprocess.run([LINTEL, "new", path], env=environment, input="\n".join(answers) + "\n" * 20, capture_output=True,
                         encoding="utf-8", timeout=60, check=False)
    checked = subprocess.run([LINTEL, "check", path], env=environment, capture_output=True, encoding="utf-8", timeout=60, check=False)
    with open(path, encoding="utf-8") as file:
        return ran, checked, [int(number) for number in re.findall(r"\{number: (\d+)", file.read())]


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    data = os.path.join(folder, "data")
    shutil.copytree(os.path.join(tap.SOURCE, "data"), data)
    for panel in PANELS:
        name, numbers, wired, radio, most, taken, free, absent, told = panel
        written(folder, panel)
        written(data, panel)
        path = site_of(folder, panel, taken)
        ran = run("check", path, "--json")
        report = json.loads(ran.stdout) if ran.stdout else {"findings": []}
        ids = [finding["id"] for finding in report["findings"]]
        cases.case(f"{name}: zones {taken} are there", expect(
            ran.returncode in (0, 1) and not {"zones.number-not-there", "devices.slot-kind"} & set(ids), ran.stderr + str(ids)))
        remedies = [finding["remedy"] for finding in report["findings"] if finding["id"] == "routine.dropped-to-part"]
        cases.case(f"{name}: a contact that a remedy adds has the number {free}", expect(
            any(f'a contact on "back door": zone {free},' in remedy for remedy in remedies), remedies))
        sheet = run("sheet", path)
        cases.case(f"{name}: the sheet has each zone under its number", [
            f"ZONE {number}" for number in taken if not re.search(rf"^ZONE {number}  \w", sheet.stdout, re.MULTILINE)])
        rows = list(csv.DictReader(io.StringIO(run("sheet", "--csv", path).stdout, newline="")))
        cases.case(f"{name}: CSV: the numbers of zones", expect(
            [row["number"] for row in rows if row["part"] == "zone" and row["key"] == "number"] == [str(number) for number in taken],
            [row["number"] for row in rows]))
        lines = json.loads(run("sheet", "--json", path).stdout)["lines"]
        cases.case(f"{name}: JSON: the panel has no number, zones have theirs", expect(
            {line["number"] for line in lines if line["part"] in ("panel", "save")} == {None}
            and {line["number"] for line in lines if line["part"] == "zone"} == set(taken), sorted({str(line["number"]) for line in lines})))
        ran = run("why", path, f"siren, zone {taken[0]}")
        cases.case(f"{name}: why: zone {taken[0]} by its number", expect(
            ran.returncode == 0 and f'zone {taken[0]} "front door"' in ran.stdout, ran.stdout[:300] + ran.stderr))
        cases.case(f"{name}: a number that is not there is told", expect(all(
            words in " ".join(run("check", site_of(folder, panel, (absent, *taken[1:]))).stdout.split())
            for words in (f"{name} has {told}", "a number that is free: ")), run("check", path).stdout[:900]))
        ran, checked, drafted = new_by(folder, data, name)
        cases.case(f"{name}: lintel new numbers by the panel", expect(
            ran.returncode == 0 and len(drafted) == 5 and "FAULT" not in checked.stdout and checked.returncode == 0,
            f"{drafted} {ran.stderr}{checked.stdout}{checked.stderr}"))
    ran = run("check", "-", text=SITE.format(0, 1000, -1, panel="halyard-28"))
    cases.case("0 can be read, 1000 and -1 cannot", expect(
        "1000 is out of range; expected 0 to 999" in ran.stderr and "-1 is out of range" in ran.stderr and "zones[0]" not in ran.stderr,
        ran.stderr))
cases.end()
