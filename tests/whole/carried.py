#!/usr/bin/env python3
"""What carries a site, in figures, from outside: a link is weak, or does not reach, where a finding says so and nowhere else; the
panel falls short of its time without mains where a finding says so, whatever battery is in it."""

import json
import pathlib
import re

from program import run, tap

PLAIN = tap.read("demo/quayside.yaml")
LINKS = {"radio.out-of-reach": "does not reach", "radio.may-not-reach": "weak", "radio.way-back": "weak", "radio.little-reserve": "weak"}


def check(text):
    ran = run("check", "-", "--json", "--no-remedy", "--no-usual", text=text)
    return json.loads(ran.stdout)


def same(got, wanted):
    return [] if got == wanted else [f"got    {got}", f"wanted {wanted}"]


def told(report):
    """The links of which findings tell, waived or not, each as the worst that is told of it."""
    links = {}
    for finding in report["findings"] + report["waived"]:
        if finding["id"] in LINKS:
            device = re.match('"([^"]*)"', finding["headline"]).group(1)
            links[device] = min(LINKS[finding["id"]], links.get(device, "weak"))
    return links


cases = tap.Cases()
seen = set()
for path in sorted(pathlib.Path(tap.SOURCE).glob("demo/*.yaml")):
    report = json.loads(run("check", str(path), "--json", "--no-remedy", "--no-usual").stdout)
    verdicts = {link["device"]: link["verdict"] for link in report["links"]}
    seen |= set(verdicts.values())
    cases.case(f"{path.stem}: each link is as the findings say", same(
        {device: verdict for device, verdict in verdicts.items() if verdict not in ("holds", "not computed")}, told(report)))
    cases.case(f"{path.stem}: a link has figures where it is computed", [
        link for link in report["links"] if (link["low_db"] is None) != (link["verdict"] == "not computed")])
    short = any(finding["id"] == "power.standby-short" for finding in report["findings"] + report["waived"])
    standby = report["standby"]
    cases.case(f"{path.stem}: standby is told, or why not, and short where the finding is", same(
        [standby is None, standby is not None and standby["lasts_h"] < standby["wanted_h"]],
        [report["standby_not_computed"] is not None, short]))
cases.case("some link is weak and some holds", [] if {"weak", "holds"} <= seen else [str(seen)])

turns = []
for size_mah in [*range(700, 1600, 50), 2100, 7000]:
    report = check(PLAIN.replace("battery: 7 Ah", f"battery: {size_mah} mAh", 1))
    it = report["standby"]
    short = any(finding["id"] == "power.standby-short" for finding in report["findings"])
    turns.append((size_mah, it["lasts_h"], short, it["lasts_h"] < it["wanted_h"]))
cases.case("whatever the battery, it is short by the figure where it is by the rule", [row for row in turns if row[2] != row[3]])
cases.case("both sides of the limit were tried", same({row[2] for row in turns}, {True, False}))
cases.case("a larger battery never lasts shorter", [(a, b) for a, b in zip(turns, turns[1:]) if b[1] < a[1]])
cases.end()
