#!/usr/bin/env python3
"""lintel check of several sites: which files count, one line each, the worst first, broken ones stop nothing."""

import json
import os
import shutil
import tempfile

from program import run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


def put(folder, name, text):
    path = os.path.join(folder, name)
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)


def checked(*arguments):
    ran = run("check", "--json", "--no-usual", *arguments)
    return json.loads(ran.stdout) if ran.stdout else {"error": ran.stderr, "sites": []}, ran.returncode


cases = tap.Cases()
one = json.loads(run("check", "--json", "--no-usual", FOUND).stdout)
pair, status = checked(CLEAN, FOUND)
cases.case("two files: the worst first, its exit status", expect(
    [site["file"] for site in pair["sites"]] == [FOUND, CLEAN] and status == 1 == pair["exit"], pair))
cases.case("the same counts as alone", expect(
    [pair["sites"][0][key] for key in ("faults", "risks", "notes", "go_wrong", "routines")]
    == [one["counts"][key] for key in ("faults", "risks", "notes", "go_wrong", "routines")], pair["sites"][0]))

with tempfile.TemporaryDirectory() as folder:
    parts = {"areas": [{"name": "house"}], "panel": {"profile": "dinghy-16"}, "people": [{"name": "owner"}, {"name": "sitter"}],
             "devices": [{"name": "contact", "profile": "slim-contact"}],
             "zones": [{"number": 1, "says": "window", "device": "contact", "behaviour": "perimeter"}],
             "routines": [{"name": "sits", "who": "owner", "steps": [{"wait": True, "in": "1 s"}]}]}
    small = ("site: {name: Small, invented: yes}\npanel: {profile: dinghy-16}\nareas: [{name: house}]\n"
             + "".join(f"{key}: {json.dumps(parts[key])}\n" for key in ("people", "devices", "zones", "routines")))
    put(folder, "a.yaml", small)
    put(folder, "deep/er/b.yml", "# first a comment\n" + small)
    put(folder, "c.json", json.dumps(dict(parts, site={"name": "Json"})))
    put(folder, "broken.yaml", small + "zoness: []\nareass: []\n")
    put(folder, "unclosed.yaml", "site: {name: [\n")
    for name in ("notes.txt", "panels/p.yaml", "deep/devices/d.yaml", "standards/s.yaml", "rules/r.yaml", ".hidden.yaml",
                 ".git/g.yaml"):
        put(folder, name, small)
    put(folder, "other.yaml", "mysite: {name: x}\n  # no site:\n")
    os.symlink(folder, os.path.join(folder, "again"))
    whole, status = checked(folder)
    names = [os.path.relpath(site["file"], folder) for site in whole["sites"]]
    cases.case("which files of a folder count", expect(
        sorted(names) == ["a.yaml", "broken.yaml", "c.json", "deep/er/b.yml", "unclosed.yaml"], names))
    cases.case("those that cannot be read come first and stop nothing", expect(
        names[:2] == ["broken.yaml", "unclosed.yaml"] and status == 2
        and whole["counts"]["cannot_be_read"] == 2 and whole["counts"]["sites"] == 5, whole["counts"]))
    ran = run("check", folder)
    cases.case("text: a line each, the line of the first problem, a total", expect(
        "broken.yaml  cannot be read: line 8:" in ran.stdout and "(and 1 more)" in ran.stdout.replace("\n   ", "")
        and "5 sites: 3 without fault or risk, 2 cannot be read · exit 2" in ran.stdout.replace("\n  ", " ")
        and not ran.stderr, ran.stdout + ran.stderr))
    cases.case("one worker and five say the same", expect(
        checked("--jobs", "1", folder)[0] == checked("--jobs", "5", folder)[0], "they differ"))
    named, status = checked(os.path.join(folder, "a.yaml"), os.path.join(folder, "nowhere.yaml"))
    cases.case("a file named that is not there has its line", expect(
        status == 2 and "no such file" in named["sites"][0]["problem"], named))
    os.mkdir(os.path.join(folder, "empty"))
    ran = run("check", os.path.join(folder, "empty"))
    cases.case("a folder without a site: exit 2, said", expect(
        ran.returncode == 2 and "no site file" in ran.stderr and not ran.stdout, ran.stderr))
    shutil.copy(os.path.join(tap.SOURCE, CLEAN), folder)
    waived = small + ("waived: [{finding: routines.removed, reason: r, by: b, until: 2027-01-01}]\n"
                      "temporary: [{guest: sitter, from: 2027-01-01, until: 2027-01-02, by: b, why: w}]\n")
    put(folder, "a.yaml", waived)
    cases.case("temporary changes as on the day", expect(
        [[site["risks"] for site in checked("--today", today, folder)[0]["sites"] if site["file"].endswith("/a.yaml")]
         for today in ("2027-01-02", "2027-01-03")] == [[0], [1]], "no"))
for option in (("--margins",), ("--waivers",), ("--against", CLEAN)):
    ran = run("check", CLEAN, FOUND, *option)
    cases.case(f"refused for several: {option[0]}", expect(ran.returncode == 2 and "one site" in ran.stderr, ran.stderr))
cases.end()
