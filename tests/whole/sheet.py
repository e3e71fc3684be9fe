#!/usr/bin/env python3
"""The programming sheet from outside: text within 80 columns in any script, CSV and JSON read back, the demo pair
against each other, a site of 128 zones. Widths are those of Python's unicodedata, CSV of Python's csv."""

import csv
import io
import json
import re
import unicodedata

from program import run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"
NAMES = ["κεντρική είσοδος του εργαστηρίου", "tylne drzwi do piekarni ąęłżó", "玄関の引き戸と裏口の窓ガラス", "side door"]


def cells(line):
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)


def big(words="uk"):
    lines = [f"site: {{name: Big, invented: yes, words: {words}}}",
             "panel: {profile: spinnaker-128, entry-delays: {yard: 30 s}}",
             "areas: [{name: shop}]", "keypads: [{name: pad}]", "devices:"]
    lines += [f"  - {{name: device {i}, profile: slim-contact, serial: \"{i:04}\"}}" for i in range(128, 0, -1)]
    lines += ["zones:"]
    lines += [f"  - {{number: {i}, says: [\"{NAMES[i % 4]} {i}\"], device: device {i}, behaviour: perimeter}}"
              for i in range(128, 0, -1)]
    return "\n".join(lines) + "\n"


def records(*arguments, text=None):
    ran = run("sheet", *arguments, "--csv", text=text)
    return list(csv.DictReader(io.StringIO(ran.stdout, newline=""), strict=True))


def lines_of(*arguments, text=None):
    return json.loads(run("sheet", *arguments, "--json", text=text).stdout)["lines"]


def expect(holds, what):
    return [] if holds else [what]


cases = tap.Cases()
ran = run("sheet", CLEAN)
cases.case("text: exit 0, nothing on stderr", expect(ran.returncode == 0 and not ran.stderr, ran.stderr[:200]))
cases.case("text: 80 columns at most", [line for line in ran.stdout.splitlines() if cells(line) > 80])
cases.case("text: a wired input is a box", expect("wired input                    [___" in ran.stdout, ran.stdout[:500]))
cases.case("text: the zone schedule stands at the end", expect("ZONE SCHEDULE" in ran.stdout, "it does not"))
for words, word in (("uk", "mains loss"), ("us", "AC loss")):
    ran = run("sheet", "-", text=big(words))
    cases.case(f"{words}, 128 zones: its words", expect(word in ran.stdout, ran.stdout[:300] + ran.stderr[:300]))
    cases.case(f"{words}, 128 zones in any script: 80 columns at most",
               [f"{cells(line)}: {line}" for line in ran.stdout.splitlines() if cells(line) > 80])
    other = r"\b(arm(s|ed|ing)?|disarm\w*|AC)\b" if words == "uk" else r"\b(un)?set(s|ting)?\b|\bmains\b"
    cases.case(f"{words}: no word of the other set", [line for line in ran.stdout.splitlines() if re.search(other, line)])
rows = records("-", text=big())
numbers = [int(row["number"]) for row in rows if row["part"] == "zone" and row["key"] == "number"]
cases.case("128 zones come in number order", expect(numbers == list(range(1, 129)), str(numbers)))
cases.case("names come through whole", expect(
    [row["thing"] for row in rows if row["key"] == "says"] == [f"{NAMES[i % 4]} {i}" for i in range(1, 129)], "no"))
cases.case("CSV and JSON say the same", expect(
    [(row["part"], row["key"], row["value"], row["usual"] == "yes") for row in records(CLEAN)]
    == [(row["part"], row["key"], row["value"], row["usual"]) for row in lines_of(CLEAN)], "they differ"))
raw = run("sheet", CLEAN, "--csv").stdout
cases.case("CSV: a value with a comma is quoted", expect('"yard door, leads outside"' in raw, raw[:300]))
cases.case("against itself: nothing", expect(
    "Nothing has to be keyed differently." in run("sheet", "--against", CLEAN, CLEAN).stdout, "something"))
changed = {(row["part"], row["number"], row["key"]): row for row in lines_of("--against", FOUND, CLEAN)}
wanted = {("panel", None, "exit-delay.full"): ("60 s", "45 s"), ("panel", None, "abort-window"): ("15 s", "45 s"),
          ("panel", None, "swinger-limit"): ("2 times", "1 time"), ("panel", None, "exit-restart"): ("yes", "no"),
          ("entry delay", 4, "entry-delay"): ("45 s", "30 s"), ("zone", 2, "hold"): ("5 s", "0 s"),
          ("zone", 6, "behaviour"): ("entry", "perimeter"), ("user", 6, "areas"): ("all", "shop")}
for key, (value, before) in wanted.items():
    row = changed.get(key, {})
    cases.case(f"against the demo as found: {key}",
               expect((row.get("value"), row.get("before")) == (value, before), str(row)))
cases.case("against the demo as found: untouched zones are not there",
           [str(key) for key in changed if key[0] == "zone" and key[1] in (1, 3, 8)])
cases.case("against the clean one: the added zone is cleared", expect(
    [row["number"] for row in lines_of("--against", CLEAN, FOUND) if row["kind"] == "clear"] == [10], "no"))
schedule = list(csv.DictReader(io.StringIO(run("sheet", "--schedule", "--csv", CLEAN).stdout, newline=""), strict=True))
as_json = json.loads(run("sheet", "--json", CLEAN).stdout)["schedule"]
cases.case("the schedule: CSV and JSON say the same", expect(
    [{key: {None: "", True: "yes", False: "no"}.get(value, str(value)) if not isinstance(value, int) or isinstance(value, bool)
      else str(value) for key, value in zone.items()} for zone in as_json] == schedule and len(schedule) == 13, str(as_json[0])))
ran = run("sheet", "--schedule", CLEAN)
cases.case("the schedule alone as text", expect("ZONE SCHEDULE" in ran.stdout and "PANEL" not in ran.stdout, ran.stdout[:300]))
cases.case("the schedule is not in what is keyed differently", expect(
    "schedule" not in json.loads(run("sheet", "--json", "--against", FOUND, CLEAN).stdout), "it is"))
for arguments in (("--schedule", "--against", FOUND, CLEAN), (), (CLEAN, FOUND), ("--csv", "--json", CLEAN), ("--against", "-", "-"), ("nowhere.yaml",),
                  ("--against", "nowhere.yaml", CLEAN)):
    ran = run("sheet", *arguments)
    cases.case(f"refused: {' '.join(arguments)}", expect(ran.returncode == 2 and not ran.stdout and ran.stderr, ran.stdout))
cases.end()
