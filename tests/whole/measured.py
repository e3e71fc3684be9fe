#!/usr/bin/env python3
"""Measured walking times from outside: they count instead of the estimate, a single one widened by the spread; what
disagrees is a note."""

import json

from program import run, tap

PLAIN = tap.read("demo/quayside.yaml")
LEG = "legs: [{pass: passage, in: 0..1 s}]"


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


def check(old, new):
    text = PLAIN.replace(old, new, 1)
    ran = run("check", "-", "--json", "--no-remedy", text=text)
    return json.loads(ran.stdout) if ran.stdout else {"error": ran.stderr, "findings": [], "routines": []}


def notes(report):
    return [finding for finding in report["findings"] if finding["id"] == "way.measured"]


def same(one, other):
    return [(row["name"], row["verdict"], row["margin"]) for row in one["routines"]] == [
        (row["name"], row["verdict"], row["margin"]) for row in other["routines"]]


cases = tap.Cases()
cases.case("the demo's first way is as this test wants it", expect(PLAIN.count(LEG) == 1, PLAIN.count(LEG)))
plain = check("", "")
slow = check(LEG, "legs: [{pass: passage, in: 0..1 s, measured: 8..12 s}]")
cases.case("measured counts: as if it were the estimate", expect(
    same(slow, check(LEG, "legs: [{pass: passage, in: 8..12 s}]")) and not same(slow, plain), "no"))
cases.case("one walk is widened by 20 %: 10 s is 8 to 12 s", expect(
    same(slow, check(LEG, "legs: [{pass: passage, measured: 10 s}]")), "no"))
cases.case("outward to whole seconds: 7 s is 5 to 9 s", expect(
    same(check(LEG, "legs: [{pass: passage, measured: 7 s}]"), check(LEG, "legs: [{pass: passage, in: 5..9 s}]")), "no"))
cases.case("the way's spread: 0 % is 10 s and no other", expect(
    same(check(LEG, "spread: 0 %\n    legs: [{pass: passage, measured: 10 s}]"),
         check(LEG, "legs: [{pass: passage, in: 10 s}]")), "no"))
cases.case("what disagrees is a note", expect(
    [note["about"] for note in notes(slow)] == ["way yard way legs 1 measured"]
    and "measured 8 to 12 s, estimated 0 to 1 s" in notes(slow)[0]["headline"] and notes(slow)[0]["weight"] == "note",
    notes(slow)))
cases.case("what agrees is none", expect(not notes(check(LEG, "legs: [{pass: passage, in: 0..1 s, measured: 1 s}]")), "one"))
ends = check(LEG, LEG + "\n    closes-measured: 5 s\n    last-measured: 9 s\n    measured-on: 2027-03-01\n"
             "    measured-by: the technician")
cases.case("closing and the last stretch as well, with day and name", expect(
    [note["about"] for note in notes(ends)] == ["way yard way last-measured", "way yard way closes-measured"]
    and all("on 2027-03-01 by the technician" in note["why"] for note in notes(ends)), notes(ends)))
cases.case("they count, too", expect(
    same(ends, check(LEG + "\n    keypad: passage keypad\n    last: 4..6 s",
                     LEG + "\n    keypad: passage keypad\n    last: 7..11 s\n    closes-measured: 4..6 s")), "no"))
for wrong, word in ((LEG.replace(", in: 0..1 s", ""), "how long after the leg before"),
                    (LEG.replace("in: 0..1 s", "measured: 10"), "unit"),
                    (LEG + "\n    measured-on: 2027-02-29", "no such day"), (LEG + "\n    spread: 60 %", "50 %")):
    cases.case(f"refused: {wrong}", expect(word in check(LEG, wrong).get("error", ""), check(LEG, wrong).get("error")))
cases.end()
