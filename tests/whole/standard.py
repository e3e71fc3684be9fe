#!/usr/bin/env python3
"""A firm's standard programming from outside: its values stand where the site says nothing, the site's own values win,
and each deviation is a note with its place."""

import json
import os
import tempfile

from program import run, tap

SITE = """site: {name: House, invented: yes, standard: firm}
panel: {profile: halyard-28, entry-delays: {front: 30 s}PANEL}
areas: [{name: house}]
doors: [{name: front door, outside: yes}, {name: back door, outside: yes}]
keypads: [{name: pad}]
devices:
  - {name: front contact, profile: slim-contact, on: front door}
  - {name: back contact, profile: slim-contact, on: back door}
  - {name: smoke, profile: smoke-watch}
zones:
  - {number: 4, says: [front], device: front contact, behaviour: entryZONE}
  - {number: 5, says: [back], device: back contact, behaviour: perimeter}
  - {number: 6, says: [smoke], device: smoke, behaviour: fire}
"""
FIRM = """name: firm
says: invented
panel: {exit-delay: 45 s, abort-window: 20 s, silent-hold-up: yes, off-route: en, tolerance: 20 %}
zones:
  entry: {chime: yes, swinger: no}
  perimeter: {pulse-count: 3, pulse-window: 20 s}
  fire: {bypassable: yes}
"""


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


class Folder:
    def __init__(self, path):
        self.path = path
        os.mkdir(os.path.join(path, "standards"))

    def put(self, name, text):
        with open(os.path.join(self.path, name), "w", encoding="utf-8") as file:
            file.write(text)
        return os.path.join(self.path, name)

    def run(self, command, panel="", zone="", firm=FIRM, *options):
        self.put("standards/firm.yaml", firm)
        path = self.put("house.yaml", SITE.replace("PANEL", panel).replace("ZONE", zone))
        return run(command, path, "--json", *options)


def lines(ran):
    return {(row["number"], row["key"]): row["value"] for row in json.loads(ran.stdout)["lines"]
            if row["part"] in ("panel", "zone")} if ran.stdout else {"error": ran.stderr}


def deviations(ran):
    return [(note["about"], note["headline"].split(" is ")[-1], note["place"]["line"])
            for note in json.loads(ran.stdout)["findings"] if note["id"] == "standard.deviation"] if ran.stdout else ran.stderr


cases = tap.Cases()
with tempfile.TemporaryDirectory() as path:
    folder = Folder(path)
    rows = lines(folder.run("sheet"))
    cases.case("the panel's values come from the standard", expect(
        rows.get((None, "exit-delay.full")) == "45 s" and rows[(None, "abort-window")] == "20 s"
        and rows[(None, "silent-hold-up")] == "yes" and "European" in rows[(None, "off-route")], rows))
    cases.case("what it does not give is as ever", expect(rows.get((None, "siren-time")) == "15 min", rows))
    cases.case("zone options come by behaviour", expect(
        (rows[(4, "chime")], rows[(5, "chime")], rows[(4, "swinger")], rows[(5, "swinger")]) == ("yes", "no", "no", "yes")
        and rows[(5, "pulses")] == "3 pulses within 20 s" and rows[(4, "pulses")] == "1 pulse"
        and rows[(6, "bypassable")] == "yes" and rows[(6, "swinger")] == "no", rows))
    cases.case("nothing deviates", expect(deviations(folder.run("check")) == [], deviations(folder.run("check"))))
    own = folder.run("check", ",\n  exit-delay: 60 s, abort-window: 20 s", ", chime: no")
    cases.case("the site's own values are listed, with their lines; the same value in other words is none", expect(
        deviations(own) == [("panel exit-delay", "60 s; the standard has 45 s", 3),
                            ("zone 4 chime", "no; the standard has yes", 12)], deviations(own)))
    cases.case("60 s and 1 min are one value", expect(
        deviations(folder.run("check", ", exit-delay: 1 min", "", FIRM.replace("45 s", "60 s"))) == [], "no"))
    rows = lines(folder.run("sheet", ", exit-delay: 60 s", ", chime: no, swinger: yes"))
    cases.case("and they win", expect(
        rows[(None, "exit-delay.full")] == "60 s" and rows[(4, "chime")] == "no" and rows[(4, "swinger")] == "yes", rows))
    for firm, word in ((FIRM.replace("45 s", "45"), "firm.yaml:3:"), (FIRM.replace("exit-delay", "exit-dely"), "exit-delay"),
                       (FIRM.replace("chime: yes", "number: 4"), "cannot give"), (FIRM.replace("  entry:", "  entri:"), "entri"),
                       (FIRM.replace("chime: yes", "chime: maybe"), "yes or no"), ("panel: {}\n", "name"),
                       (FIRM + "rules: []\n", "rules"), (FIRM.replace("panel:", "panel: 3 #"), "keys and values"),
                       (FIRM.replace("exit-delay: 45 s", "profile: halyard-28"), "cannot give")):
        ran = folder.run("check", "", "", firm)
        told = [line for line in ran.stderr.splitlines() if word in line]
        cases.case(f"refused: {firm[:40]!r} ... {word}", expect(ran.returncode == 2 and len(told) == 1, ran.stderr))
    os.remove(os.path.join(path, "standards/firm.yaml"))
    ran = run("check", os.path.join(path, "house.yaml"))
    cases.case("a standard that is not there", expect(ran.returncode == 2 and "standards/" in ran.stderr, ran.stderr))
text = tap.read("demo/quayside.yaml").replace("invented: yes,", "invented: yes, standard: plain-house,", 1)
ran = run("check", "-", "--json", "--no-remedy", "--no-usual", text=text)
cases.case("the standard that comes along: what the bakery has otherwise", expect(
    [about for about, _, _ in deviations(ran)] == ["panel abort-window"], deviations(ran)))
cases.end()
