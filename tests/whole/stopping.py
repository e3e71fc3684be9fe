#!/usr/bin/env python3
"""A check that takes long tells how far it is, can be stopped, and is made after all when somebody wants it. The site has routines
in which five people do as they please: each takes a machine some seconds."""

import json
import os
import re
import tempfile
import time

from program import tap
from served import PATIENCE_S, Bench

WHO = (("baker", "yard door"), ("apprentice", "side door"), ("partner", "shop door"), ("driver", "yard door"), ("lodger", "back stairs"))
STEPS = "".join(f"      - {{who: {who}, in: 1..{40 + 7 * i} s, {('open', 'close')[i % 2]}: {door}, maybe: yes}}\n" for who, door in WHO for i in range(4))
BUSY = "".join(f"  - name: everybody at once {which}\n    starts: {{shop: full, flat: night}}\n    steps:\n{STEPS}" for which in "abc")
PLAIN = tap.read("demo/quayside.yaml")
AFTER = "  - name: apprentice opens\n"


def waited(bench, wanted):
    for _ in range(PATIENCE_S * 20):
        state = json.loads(bench.ask("GET", "/state")[1])
        if wanted(state):
            return state
        time.sleep(0.05)
    return {}


def same(got, wanted):
    return [] if got == wanted else [f"got    {got}", f"wanted {wanted}"]


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "busy.yaml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(PLAIN.replace(AFTER, BUSY + AFTER, 1))
    with Bench(path) as bench:
        begun = time.monotonic()
        early = json.loads(bench.ask("GET", "/state")[1])
        first = waited(bench, lambda state: state["progress"])
        after_s = time.monotonic() - begun
        cases.case("for a second nothing is told of it", same(early["progress"], None) if after_s > 0.3 else ["too slow to see"])
        cases.case("then how many routines are done, of all there are", same([first.get("report", 0), first["progress"]["done"] <= 1, first["progress"]["of"]], [None, True, 49]))
        later = waited(bench, lambda state: state["progress"] and state["progress"]["for_s"] >= 2)
        cases.case("and for how long", [] if later else ["no progress"])
        cases.case("a stop that is about another text stops nothing", same(bench.post("/stop", {"number": first["number"] + 1})[0], 422))
        cases.case("nor is one that is none", same(bench.post("/stop", "no")[0], 422))
        cases.case("it runs on", same(json.loads(bench.ask("GET", "/state")[1])["report"], None))
        cases.case("nothing is gone on with that was not stopped", same(bench.post("/go-on", {})[0], 422))
        cases.case("stopped", same(bench.post("/stop", {"number": first["number"]})[0], 200))
        state = waited(bench, lambda state: state["report"] and state["report"]["whole"])
        check = state["report"]["check"]
        verdicts = [routine["verdict"] for routine in check["routines"]]
        cases.case("what was proven is, the rest is not settled, and the report says that it was stopped", same(
            [verdicts[0], set(verdicts[2:]), check["stopped"], state["report"]["given_up"], state["progress"]], ["goes well", {"not settled"}, True, True, None]))
        remedy = [finding["remedy"] for finding in check["findings"] if finding["id"] == "check.stopped"]
        named = re.search(r'narrower times take less: of "([^"]*)", at which it stopped, the widest time is "', " ".join(remedy))
        stopped = [routine["name"] for routine in check["routines"] if routine["verdict"] == "not settled"][0]
        cases.case("what would narrow it is named: of the routine at which it stopped", same(named and named.group(1), stopped))
        cases.case("stopped, nothing is left to be stopped", same(bench.post("/stop", {"number": first["number"]})[0], 422))
        cases.case("gone on with, it runs again", same([bench.post("/go-on", {})[0], waited(bench, lambda state: state["progress"]).get("report", 0)], [200, None]))
        status, content = bench.post("/edit", {"number": state["number"], "edits": [{"path": f"routines[{i}]", "value": None} for i in (3, 2, 1)]})
        state = bench.checked()
        cases.case("an edit overtakes it, and without those routines all is proven", same(
            [status, state["report"]["check"]["counts"]["not_settled"], state["report"]["given_up"]], [200, 0, False]))
cases.end()
