#!/usr/bin/env python3
"""Every figure of a finding is the one in --json: of each house, as found and as it should be, what `lintel check` says in words holds,
word by word, what its JSON does; and what the bench sends to its page is that JSON (that the page shows it:
tests/page/browser/page_test.mjs). Areas against their polygons: plan.py; seconds of drawn ways against length over speed: ways.py; both on the same houses."""

import glob
import json
import os
import shutil
import tempfile

from program import run, tap
from served import Bench

DEMOS = sorted(glob.glob(os.path.join(tap.SOURCE, "demo", "*.yaml")))
PARTS = ("headline", "why", "when", "remedy", "price")


def plain(text):
    return " ".join(text.split())


def wrong_words(findings, words):
    text = plain(words)
    return [f"{finding['id']}: not in words: {finding[part]}" for finding in findings for part in PARTS
            if plain(finding[part] or "") not in text]


cases = tap.Cases()
for path in DEMOS:
    name = os.path.basename(path).removesuffix(".yaml")
    told = json.loads(run("check", "--json", path).stdout)
    words = run("check", path).stdout
    findings = told["findings"]
    spoiled = [{**findings[0], "headline": findings[0]["headline"] + " 7.35 s"}] if findings else []
    cases.case(f"{name}: {len(findings)} findings, in words as in JSON",
               wrong_words(findings, words) + ([] if not spoiled or wrong_words(spoiled, words) else ["a false figure is not found"]))
with tempfile.TemporaryDirectory() as folder:
    for name in ("quayside-as-found", "ropewalk-as-found", "surgery-as-found"):
        path = os.path.join(folder, name + ".yaml")
        shutil.copy(os.path.join(tap.SOURCE, "demo", name + ".yaml"), path)
        told = json.loads(run("check", "--json", path).stdout)["findings"]
        with Bench(path) as bench:
            shown = bench.checked()["report"]["check"]["findings"]
        differs = [f"{a['headline']} | {b['headline']}" for a, b in zip(told, shown)
                   if any(a[part] != b[part] for part in (*PARTS, "also", "story", "bars"))]
        cases.case(f"{name}: the page is sent what --json says", differs + ([] if len(told) == len(shown) > 0 else [f"{len(told)}, {len(shown)}"]))
cases.end()
