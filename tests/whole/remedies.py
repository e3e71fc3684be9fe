#!/usr/bin/env python3
"""Every remedy of the houses as found that can be written down, written into the file as its edits say: the routine whose
story it was then goes well, no routine that went well goes wrong, and as many go well as the remedy promised; what was no
routine's finding is found no more, and nothing else of radio and power is found instead."""

import json
import os
import re
import shutil
import tempfile

from program import run, tap
from served import Bench

DEMOS = ("quayside-as-found", "ropewalk-as-found", "surgery-as-found")


def verdicts(report):
    return {routine["name"]: routine["verdict"] for routine in report["routines"]}


def carried(report):
    """What is found of links, batteries, cables and loops, at its place."""
    return {(finding["id"], finding["place"]["path"], finding["headline"].split(" times a year")[0].rstrip("0123456789.") if
             "called missing" in finding["headline"] else finding["headline"]) for finding in report["findings"]
            if finding["id"].startswith(("radio.", "power."))}


def wrong_setting(bench, state, finding):
    """The edits of a finding that is no routine's."""
    before = carried(state["report"]["check"])
    status, content = bench.post("/edit", {"number": state["number"], "edits": finding["edits"]})
    if status != 200:
        return [f"{finding['remedy']}: {finding['edits']}: {content.decode()}"]
    report = bench.checked(lambda s: s["number"] > state["number"])["report"]["check"]
    still = [one for one in report["findings"] if one["id"] == finding["id"] and one["headline"] == finding["headline"]]
    new = {one[:2] for one in carried(report) - before if not any(one[0] == old[0] and one[2].split('"')[1:2] == old[2].split('"')[1:2] for old in before)}
    return [f"{finding['remedy']}: still {one['headline']}" for one in still] + [f"{finding['remedy']}: now {one}" for one in new]


def wrong_remedy(bench, state, finding):
    before = verdicts(state["report"]["check"])
    status, content = bench.post("/edit", {"number": state["number"], "edits": finding["edits"]})
    if status != 200:
        return [f"{finding['remedy']}: {finding['edits']}: {content.decode()}"]
    after = verdicts(bench.checked(lambda s: s["number"] > state["number"])["report"]["check"])
    well = sum(verdict == "goes well" for verdict in after.values())
    promised = re.search(r"then (\d+) go well instead of", finding["remedy"])
    wrong = [] if after[finding["routine"]] == "goes well" else [f"{finding['remedy']}: {finding['routine']} {after[finding['routine']]}"]
    wrong += [f"{finding['remedy']}: now {name} {after[name]}" for name in before
              if before[name] == "goes well" and after.get(name, "goes well") != "goes well"]
    wrong += [] if promised is None or well == int(promised.group(1)) else [f"{finding['remedy']}: {well} go well"]
    return wrong


def wrong_demo(path):
    """All remedies of one house, each taken back before the next; and how many there were."""
    wrong, tried = [], 0
    with open(path, "rb") as file:
        original = file.read()
    with Bench(path) as bench:
        state = bench.checked()
        for finding in state["report"]["check"]["findings"]:
            if finding["edits"]:
                tried += 1
                wrong += (wrong_remedy if finding["routine"] else wrong_setting)(bench, state, finding)
                bench.post("/undo", {})
                state = bench.checked(lambda s, number=state["number"]: s["number"] > number + 1)
    with open(path, "rb") as file:
        wrong += [] if file.read() == original else ["the file is not as it was"]
    return wrong, tried


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    for name in DEMOS:
        path = os.path.join(folder, name + ".yaml")
        shutil.copy(os.path.join(tap.SOURCE, "demo", name + ".yaml"), path)
        wrong, tried = wrong_demo(path)
        cases.case(f"{name}: {tried} remedies, written as they say, do what they promise", wrong if tried > 3 else [f"{tried} tried", *wrong])

# A house of three rooms behind thick walls of concrete, the panel at its far end: no repeater, but a better place.
FAR_END = """site: {name: a, invented: yes, rules: [house]}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: b}]
devices: [{name: near, profile: pet-motion}, {name: far, profile: hold-up-button}]
zones: [{number: 1, says: [near], device: near, behaviour: interior}, {number: 2, says: [far], device: far, behaviour: hold-up}]
building:
  inner-walls: concrete
  inner-thickness: 500 mm
  rooms: [{name: one, size: 6 x 4 m}, {name: "2nd: hall", size: 9 x 4 m, right-of: one},
    {name: three, size: 6 x 4 m, right-of: "2nd: hall"}]
  openings:
    - {room: one, to: "2nd: hall", is: gap, from-left: 2 m}
    - {room: "2nd: hall", to: three, is: gap, from-left: 2 m}
  places:
    - {is: panel, room: one, wall: left, from-left: 200 mm, height: 1.8 m}
    - {device: near, room: one, at: 1 x 1 m}
    - {device: far, room: three, at: 5 x 0.1 m, height: 300 mm}
"""
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "far.yaml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(FAR_END)
    with Bench(path) as bench:
        state = bench.checked()
        moves = [finding for finding in state["report"]["check"]["findings"] if finding["id"].startswith("radio.") and
                 any(edit["path"].startswith("building.places") for edit in finding["edits"])]
        wrong = [str(state["report"]["check"]["findings"])[:900]] if len(moves) != 1 else wrong_setting(bench, state, moves[0])
    cases.case("a weak link is mended by a better place of the panel, written into the drawing", wrong)
found = json.loads(run("check", "--json", "demo/quayside-as-found.yaml").stdout)["findings"]
contact = [finding for finding in found if finding["remedy"].startswith("a contact on")]
cases.case("what has to be bought and fitted is no edit", [] if contact and not contact[0]["edits"] else [str(contact)[:200]])
cases.end()
