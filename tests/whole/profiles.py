#!/usr/bin/env python3
"""Every profile of data/ can be named by a site, says that it is invented, and stands under its own name."""

import glob
import os
import re

from program import run, tap

SITE = """site: {{name: One zone, invented: yes}}
panel: {{profile: {panel}, exit-delay: 60 s, entry-delays: {{front: 30 s}}, abort-window: 30 s}}
areas: [{{name: house}}]
keypads: [{{name: pad}}]
doors: [{{name: front, outside: yes}}]
devices: [{{name: thing, profile: {device}}}]
zones: [{{number: 1, says: [front], device: thing, behaviour: perimeter}}]
"""

BUILDING = "building: {{materials: {name}, outer-walls: brick, rooms: [{{name: hall, size: 2 x 3 m}}]}}\n"


def wrong_with(kind, path):
    text = tap.read(path)
    name = os.path.basename(path)[:-len(".yaml")]
    names = {"panel": "halyard-28", "device": "slim-contact", kind: name}
    ran = run("sheet", "-", text=SITE.format(**names))
    wrong = [] if ran.returncode == 0 else ran.stderr.splitlines()[:3]
    wrong += [] if re.search(r"^# .*\binvented\b", text, re.IGNORECASE) else ["it does not say that it is invented"]
    wrong += [] if re.search(rf"^name: {re.escape(name)}$", text, re.MULTILINE) else ["its name is not its file's"]
    wrong += [] if name in ran.stdout else ["the sheet does not name it"]
    return wrong


cases = tap.Cases()
cases.finds("a profile that is not there is found", run("sheet", "-", text=SITE.format(
    panel="no-such", device="slim-contact")).stderr.splitlines()[:1], "no-such")
for kind, least in (("panel", 3), ("device", 14)):
    paths = sorted(os.path.relpath(path, tap.SOURCE) for path in glob.glob(f"{tap.SOURCE}/data/{kind}s/*.yaml"))
    cases.case(f"{least} {kind}s at least", [] if len(paths) >= least else [f"{len(paths)} only"])
    for path in paths:
        cases.case(path, wrong_with(kind, path))
for path in sorted(os.path.relpath(path, tap.SOURCE) for path in glob.glob(f"{tap.SOURCE}/data/materials/*.yaml")):
    name = os.path.basename(path)[:-len(".yaml")]
    ran = run("sheet", "-", text=SITE.format(panel="halyard-28", device="slim-contact") + BUILDING.format(name=name))
    cases.case(path, [] if ran.returncode == 0 else ran.stderr.splitlines()[:3])
ran = run("sheet", "-", text=SITE.format(panel="halyard-28", device="slim-contact") + BUILDING.format(name="no-such"))
cases.finds("a table of materials that is not there is found", ran.stderr.splitlines()[:1], "no-such")
cases.end()
