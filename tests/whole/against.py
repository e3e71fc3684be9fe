#!/usr/bin/env python3
"""lintel check SITE --against OLDER from outside: what is new and gone, and margins, in text and JSON."""

import json
import os
import re
import tempfile

from program import run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


def against(newer, older, *options):
    return json.loads(run("check", "--json", "--no-remedy", "--no-usual", *options, "--against", older, newer).stdout)


def named(findings):
    return sorted((finding["id"], finding["about"]) for finding in findings)


cases = tap.Cases()
ran = run("check", "--against", FOUND, CLEAN)
cases.case("exit status is that of the newer: 0", expect(ran.returncode == 0 and not ran.stderr, ran.stderr))
cases.case("text: what is gone has the older file's line",
           expect(re.search(r'gone +FAULT +"apprentice opens"[^"]*quayside-as-found.yaml:62', ran.stdout), ran.stdout))
cases.case("text: margins before and now",
           expect(re.search(r"goes wrong +7 s spare +apprentice opens", ran.stdout), ran.stdout))
cases.case("text: 80 columns at most", [line for line in ran.stdout.splitlines() if len(line) > 80])
back = run("check", "--no-usual", "--against", CLEAN, FOUND)
cases.case("exit status is that of the newer: 1", expect(back.returncode == 1, back.returncode))
cases.case("the other way round it is new", expect(re.search(r'new +FAULT +"apprentice opens"', back.stdout), back.stdout))
forth = against(CLEAN, FOUND)["against"]
other = against(FOUND, CLEAN)["against"]
cases.case("gone one way is new the other way", expect(
    named(forth["gone"]) == named(other["new"]) and named(forth["new"]) == named(other["gone"]), forth))
cases.case("as many findings as the report has",
           expect(len(forth["new"]) + len(forth["changed"]) + forth["as_before"] == len(against(CLEAN, FOUND)["findings"]),
                  forth["as_before"]))
itself = against(FOUND, FOUND)["against"]
cases.case("against itself: nothing differs", expect(
    not itself["new"] and not itself["gone"] and not itself["changed"]
    and all(row["as_before"] for row in itself["routines"]), itself))
cases.case("without --against it is null", expect(json.loads(run("check", "--json", "--no-usual", CLEAN).stdout)["against"] is None, ""))

with tempfile.TemporaryDirectory() as folder:
    # A new zone, device and door above all others: every index moves, no zone number does.
    text = tap.read(FOUND)
    text = text.replace("\ndoors:\n", "\ndoors:\n  - {name: cellar flap, outside: yes}\n", 1)
    text = text.replace("\ndevices:\n", "\ndevices:\n  - {name: cellar contact, profile: slim-contact, on: cellar flap}\n", 1)
    text = text.replace("\nzones:\n", "\nzones:\n  - {number: 20, says: [cellar], device: cellar contact, area: shop, "
                        "behaviour: perimeter}\n", 1)
    path = os.path.join(folder, "more.yaml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    moved = against(path, FOUND)["against"]
    cases.case("a zone above the others makes nothing new but that the drawing lacks its door", expect(
        text.count("cellar") == 5 and [row["id"] for row in moved["new"]] == ["drawing.missing"] and not moved["gone"] and not moved["changed"], moved))

    text = re.sub(r"abort-window: \S+ s", "abort-window: 40 s", tap.read(FOUND), count=1)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    changed = against(path, FOUND)["against"]["changed"]
    cases.case("what says another figure is changed", expect(
        ("settings.entry-plus-abort", "panel abort-window") in [(row["now"]["id"], row["now"]["about"]) for row in changed]
        and changed[0]["before"]["place"]["file"] == FOUND, changed))

    # The same house, and one note of it is waived; then the other way round.
    note = next(row for row in json.loads(run("check", "--json", "--no-usual", CLEAN).stdout)["findings"] if row["weight"] == "note")
    with open(path, "w", encoding="utf-8") as file:
        file.write(tap.read(CLEAN).rstrip() + "\n\nwaived:\n  - {finding: " + note["id"] + f', about: "{note["about"]}", '
                   "reason: r, by: b, until: 2100-01-01}\n")
    for newer, older, label, summed in ((path, CLEAN, "waived", "1 waived, 0 changed"),
                                        (CLEAN, path, "counts", "1 counts again, 0 changed")):
        ran = run("check", "--no-usual", "--against", older, newer)
        cases.case(f"{label}: the row and the sum say the same", expect(
            re.search(rf"^{label} +NOTE", ran.stdout, re.MULTILINE) and f"0 new, 0 gone, {summed}" in " ".join(ran.stdout.split()),
            ran.stdout[-700:] + ran.stderr))
        row = against(newer, older)["against"]["changed"]
        cases.case(f"{label}: so does the JSON", expect(
            [(r["before"]["waived"], r["now"]["waived"]) for r in row] == [(label == "counts", label == "waived")], row))

for arguments in (("nowhere.yaml", CLEAN), ("tests/whole/bad-input/twice.yaml", CLEAN), ("-", "-")):
    ran = run("check", "--against", *arguments, text="")
    cases.case(f"refused: against {arguments[0]}: exit 2, nothing on stdout",
               expect(ran.returncode == 2 and not ran.stdout and ran.stderr, ran.stdout))
ran = run("check", "--against", "tests/whole/bad-input/twice.yaml", CLEAN)
cases.case("an older file that cannot be read is told with its lines",
           expect(re.search(r"^tests/whole/bad-input/twice.yaml:\d+:\d+: ", ran.stderr, re.M), ran.stderr))
cases.end()
