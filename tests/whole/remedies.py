#!/usr/bin/env python3
"""Every remedy of the houses as found that can be written down, written into the file as its edits say: the routine whose
story it was then goes well, no routine that went well goes wrong, and as many go well as the remedy promised."""

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
                wrong += wrong_remedy(bench, state, finding)
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
found = json.loads(run("check", "--json", "demo/quayside-as-found.yaml").stdout)["findings"]
contact = [finding for finding in found if finding["remedy"].startswith("a contact on")]
cases.case("what has to be bought and fitted is no edit", [] if contact and not contact[0]["edits"] else [str(contact)[:200]])
cases.end()
