#!/usr/bin/env python3
"""Temporary changes from outside: applied while they last, said before, meanwhile and after, printed on the sheet with
what is keyed back."""

import csv
import io
import json

from program import run, tap

PLAIN = tap.read("demo/quayside.yaml")
FOUND = tap.read("demo/quayside-as-found.yaml")
DAYS = "from: 2027-03-01, until: 2027-03-12, by: the technician, why: builders"


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


def check(change, today, text=PLAIN):
    whole = text + "\ntemporary:\n  - {" + change + "}\n"
    ran = run("check", "-", "--json", "--no-remedy", "--today", today, text=whole)
    return json.loads(ran.stdout) if ran.stdout else {"error": ran.stderr, "findings": []}


def said(report):
    return [(finding["id"], finding["weight"], finding["about"]) for finding in report["findings"]
            if finding["id"].startswith("temporary.")]


def verdicts(report):
    return {routine["name"]: routine["verdict"] for routine in report["routines"]}


cases = tap.Cases()
change = "bypass: shop window, " + DAYS
plain = verdicts(json.loads(run("check", "-", "--json", "--no-remedy", text=FOUND).stdout))
for today, id_, weight, works in (("2027-02-28", "planned", "note", False), ("2027-03-01", "in-force", "note", True),
                                  ("2027-03-12", "in-force", "note", True), ("2027-03-13", "over", "risk", False)):
    report = check(change, today, FOUND)
    cases.case(f"bypass on {today}: said as {id_}", expect(said(report) == [("temporary." + id_, weight, "zone 5 bypass")],
                                                           report))
    # As found, the shutter that is rolled down trips the shock sensor of the shop window: left out, it cannot.
    cases.case(f"bypass on {today}: applied or not", expect(
        plain["closing up"] == "goes wrong"
        and verdicts(report)["closing up"] == ("goes well" if works else "goes wrong"), verdicts(report)))
soak = check("soak: 5, " + DAYS, "2027-03-05", FOUND)
cases.case("soak: its signals do not count", expect(
    verdicts(soak)["closing up"] == "goes well" and said(soak) == [("temporary.in-force", "note", "zone 5 soak")],
    said(soak)))
smoke = check("bypass: flat smoke, " + DAYS, "2027-03-05")
cases.case("smoke left out is a risk", expect(said(smoke) == [("temporary.in-force", "risk", "zone 13 bypass")], said(smoke)))
# What is left out for a while is no wrong programming: no detector without its behaviour, no opening without a contact.
ROPEWALK = tap.read("demo/ropewalk.yaml")
as_keyed = {finding["id"] for finding in json.loads(run("check", "-", "--json", "--no-remedy", text=ROPEWALK).stdout)["findings"]}
for zone in ("landing smoke", "front door", "kitchen window"):
    findings = check(f"bypass: {zone}, " + DAYS, "2027-03-05", ROPEWALK)["findings"]
    fresh = [finding["id"] for finding in findings if finding["id"] not in as_keyed]
    cases.case(f"bypass of the {zone}: nothing is said of its programming", expect(
        "temporary.in-force" in fresh and all(id_.split(".")[0] in ("temporary", "routine") for id_ in fresh), fresh))
    weights = [finding["weight"] for finding in findings]
    change = [finding["id"] for finding in findings].index("temporary.in-force")
    cases.case(f"bypass of the {zone}: told first of its weight", expect(weights.index(weights[change]) == change, weights))
here = check("guest: driver, " + DAYS, "2027-03-05")
gone = check("guest: driver, " + DAYS, "2027-03-15")
cases.case("a guest's routines are looked at while the code works",
           expect("flour comes" in verdicts(here) and here["exit"] == 0, verdicts(here)))
cases.case("and rest when it does not", expect(
    "flour comes" not in verdicts(gone)
    and [row["rests"] for row in gone["absent"] if row["name"] == "flour comes"] == [True], gone["absent"]))
cases.case("who is away is nobody's guest without a code", expect(
    "guest without a code" not in verdicts(gone), verdicts(gone)))
ran = run("tell", "-", "flour comes", "--today", "2027-03-15",
          text=PLAIN + "\ntemporary:\n  - {guest: driver, " + DAYS + "}\n")
cases.case("told: a routine that rests says so", expect("not there today" in ran.stdout + ran.stderr, ran.stdout + ran.stderr))

for wrong, word in (("bypass: landing, soak: landing, " + DAYS, "one thing"), (DAYS, "one thing"),
                    ("guest: dog, " + DAYS, "an animal"), ("bypass: nowhere, " + DAYS, "nowhere"),
                    ("bypass: landing, from: 2027-03-02, until: 2027-03-01, by: b, why: w", "before it begins"),
                    ("bypass: landing, from: 2027-02-30, until: 2027-03-01, by: b, why: w", "no such day"),
                    ("bypass: landing, until: 2027-03-01, by: b, why: w", "from"),
                    ("bypass: landing, from: 2027-03-01, by: b, why: w", 'the key "until" is missing: the last day'),
                    ("bypass: landing, from: 2027-03-01, lasting: no, by: b, why: w", 'the key "until" is missing'),
                    ("bypass: landing, lasting: yes, " + DAYS, "what lasts has no last day"),
                    ("guest: driver, from: 2027-03-01, lasting: yes, by: b, why: w", "a guest who stays"),
                    ("bypass: landing, from: 2027-03-01, until: 2027-03-01, by: b", "why")):
    cases.case(f"refused: {wrong[:60]}", expect(word in check(wrong, "2027-03-05").get("error", ""), wrong))

LASTING = "bypass: shop window, from: 2027-03-01, lasting: yes, by: the owner, why: it rattles"
for today, id_, weight in (("2027-02-28", "planned", "note"), ("2027-03-01", "lasting", "risk"), ("2031-01-01", "lasting", "risk")):
    report = check(LASTING, today, FOUND)
    cases.case(f"a lasting bypass on {today}: {id_}", expect(said(report) == [("temporary." + id_, weight, "zone 5 bypass")],
                                                             said(report)))
said_so = run("check", "-", "--no-usual", "--no-remedy", "--today", "2028-01-01",
              text=PLAIN + "\ntemporary:\n  - {" + LASTING + "}\n").stdout
cases.case("a lasting bypass: which zone, and since when", expect(
    'zone 5 "shop window" has been left out since 2027-03-01' in " ".join(said_so.split()), said_so))
rows = [row for row in csv.DictReader(io.StringIO(run(
    "sheet", "-", "--csv", text=PLAIN + "\ntemporary:\n  - {" + LASTING + "}\n").stdout, newline=""))
    if row["part"] == "temporary change"]
cases.case("a lasting bypass on the sheet: no end, and when it is keyed back", expect(
    rows[0]["value"].startswith("from 2027-03-01, no end known") and rows[1]["value"].startswith("when it is mended"), rows))

with_change = PLAIN + "\ntemporary:\n  - {bypass: landing, " + DAYS + "}\n  - {guest: driver, " + DAYS + "}\n"
rows = [row for row in csv.DictReader(io.StringIO(run("sheet", "-", "--csv", text=with_change).stdout, newline=""))
        if row["part"] == "temporary change"]
cases.case("sheet: the days, and what is keyed back", expect(
    [row["key"] for row in rows] == ["change", "back", "change", "back"] and "2027-03-01 to 2027-03-12" in rows[0]["value"]
    and "behaviour follower" in rows[1]["value"] and "in night out" in rows[1]["value"]
    and "delete this user" in rows[3]["value"], rows))
cases.case("sheet: a change that is taken out is told", expect(
    "key back what it changed" in run("sheet", "demo/quayside.yaml", "--csv", "--against", "-", text=with_change).stdout, "no"))
longer = with_change.replace("2027-03-12", "2027-03-19", 1)
rows = json.loads(run("sheet", "-", "--json", text=longer).stdout)["lines"]
cases.case("sheet in JSON: the same", expect(any("2027-03-19" in row["value"] for row in rows), rows[-3:]))
cases.end()
