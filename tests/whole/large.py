#!/usr/bin/env python3
"""A large site, by rule: the harbour of 8 areas and 128 zones. For each of many mistakes, planted at some zone or at every
zone that can have it, the findings name just those zones; the order in which things are written and the numbers that
zones have change no verdict; a hundred zones are touched by routines. What is expected comes from the rule by which the
site is made (tools/harbour), not from the program."""

import importlib.machinery
import importlib.util
import json
import os
import random
import re

from program import run, tap

SITE = "demo/harbour.yaml"
LOADER = importlib.machinery.SourceFileLoader("harbour", os.path.join(tap.SOURCE, "tools", "harbour"))
harbour = importlib.util.module_from_spec(importlib.util.spec_from_loader("harbour", LOADER))
LOADER.exec_module(harbour)
AREAS = range(len(harbour.AREAS))
DOOR, CORRIDOR, ROOMS, WINDOWS, PANE, SHOCK, EXIT, SMOKE = (1,), (2,), range(3, 7), range(7, 13), (13,), (14,), (15,), (16,)
ALL = range(1, 17)

# A mistake: at which places of an area, what is replaced in the lines of the zone (what: None is at the end of it), by what, and
# the id of the finding that names the zone.
MISTAKES = (
    ("no device", ALL, r" device: [^,]+,", "", "zones.no-device"),
    ("does not report", range(2, 17), None, "reports: no", "zones.not-reporting"),  # where none does it is a decision
    ("not supervised", SMOKE, None, "supervised: no", "zones.not-supervised"),
    ("smoke detector bypassable", SMOKE, None, "bypassable: yes", "life-safety.bypassable"),
    ("smoke detector counts", SMOKE, None, "pulse-count: 2", "life-safety.pulses"),
    ("smoke detector as a burglary", SMOKE, "behaviour: fire", "behaviour: perimeter", "life-safety.behaviour"),
    ("smoke detector left out after some alarms", SMOKE, None, "swinger: yes", "life-safety.swinger"),
    ("an input that the device does not have", ALL, None, "input: 3", "zones.no-such-input"),
    ("a window left out when set", WINDOWS[1:], None, "in: {full: out}", "doors.left-out"),
    ("watched never", ROOMS, None, "in: {full: out, part: out, night: out}", "zones.never-watched"),
    ("chime on a motion detector", (*CORRIDOR, *ROOMS), None, "chime: yes", "zones.chime-each-step"),
    ("two zones with one name", WINDOWS, r"says: \[[^]]+\]", "says: [{area}, door]", "zones.name-twice"),
    ("a pane listener as hold-up", PANE, "behaviour: perimeter", "behaviour: hold-up", "zones.device-for-behaviour"),
    ("a shock detector as entry", SHOCK, "behaviour: perimeter", "behaviour: entry, delay: {area}", "zones.device-for-behaviour"),
    ("a contact as carbon monoxide alarm crossed", EXIT, "behaviour: 24-hour", "behaviour: co, pulse-count: 2", "life-safety.pulses"),
    ("the way in is perimeter", DOOR, "behaviour: entry, delay: [a-z]+", "behaviour: perimeter", "routine.false-alarm"),
    ("the corridor is interior", CORRIDOR, r"behaviour: follower, follows: \[[a-z]+\], hold: 5 s", "behaviour: interior",
     "routine.false-alarm"),
)


def zone_at(area, place):
    return harbour.number(area, place)


def planted(text, places, what, instead):
    """The site with the mistake at these (area, place)."""
    for area, place in places:
        start = text.index(f"  - {{number: {zone_at(area, place)},")
        end = text.index("}\n", start)
        while text.count("{", start, end) > text.count("}", start, end) + 1:
            end = text.index("}\n", end + 1)
        line = text[start:end]
        new = instead.replace("{area}", harbour.AREAS[area][0])
        line = f"{line}, {new}" if what is None else re.sub(what, new, line, count=1)
        text = text[:start] + line + text[end:]
    return text


def report_of(text, *options):
    ran = run("check", "--json", "--no-remedy", "--no-usual", *options, "-", text=text)
    return json.loads(ran.stdout) if ran.returncode in (0, 1, 3) else {"findings": [], "routines": [], "error": ran.stderr}


def named(report, identity):
    """The zone numbers that findings of this id are about."""
    return sorted(int(re.match(r"zone (\d+)", finding["about"]).group(1)) for finding in report["findings"]
                  if finding["id"] == identity)


def wrong_with(text, places, mistake, clean):
    name, _, what, instead, identity = mistake
    report = report_of(planted(text, places, what, instead))
    wanted = sorted(zone_at(area, place) for area, place in places)
    got = named(report, identity)
    wrong = [] if got == wanted else [f"{name}: named {got}, planted at {wanted} {report.get('error', '')[:200]}"]
    return wrong + [f"{name}: {identity} is there without it"] * (identity in clean)


def touched(text):
    """Zones that a routine passes, or whose door it opens."""
    return {int(number) for number, says, device in re.findall(r"number: (\d+), says: \[([^]]+)\], device: ([^,]+),", text)
            for watched in [re.search(rf"\{{name: {device}, [^}}]*\bon: ([^,}}]+)", text)]
            if re.search(rf"pass: ({says.replace(',', '')}|{number})\b", text)
            or (watched and re.search(rf"(open|door): {watched.group(1)}\b", text[text.index("\nways:"):]))}


def blocks_of(text):
    """(head, the blocks of its list) of each part whose entries begin with "  - "."""
    parts = re.split(r"(?m)^(?=[a-z-]+:)", text)
    return [(part[:part.index("  - ")], re.split(r"(?m)^(?=  - )", part[part.index("  - "):])) if "\n  - " in part
            else (part, []) for part in parts]


def shuffled(text, seed):
    mix = random.Random(seed)
    lines = [line for line in text.splitlines(keepends=True) if line.strip() and not line.lstrip().startswith("#")]
    out = ""
    for head, blocks in blocks_of("".join(lines)):
        mix.shuffle(blocks)
        out += head + "".join(blocks)
    return out


def verdicts(report):
    """Of each routine how it goes and by how much; of every finding what it is about and which routines it concerns, but
    not on which line it stands, nor which of its routines came first and tells the story."""
    return (sorted((routine["name"], routine["verdict"], routine["always"], json.dumps(routine["margin"]))
                   for routine in report["routines"]),
            sorted((finding["id"], finding["weight"], finding["about"], sorted(finding["also"] + [finding["routine"] or ""]))
                   for finding in report["findings"]))


def renumbered(text, seed):
    """The wired zones with other numbers: 1 to 128 without those of the radio devices, mixed."""
    mix = random.Random(seed)
    wired = [zone_at(area, place) for area in AREAS for place in range(1, 16)]
    numbers = dict(zip(wired, mix.sample(wired, len(wired))))
    return numbers, re.sub(r"number: (\d+)", lambda match: f"number: {numbers.get(int(match[1]), int(match[1]))}", text)


cases = tap.Cases()
site = tap.read(SITE)
cases.case("the file is what tools/harbour prints", [] if site == harbour.site() else ["tools/harbour > demo/harbour.yaml"])
everything = json.loads(run("check", "--json", "--no-remedy", SITE).stdout)
cases.case("clean: no fault, no risk, all goes well", [
    finding["headline"] for finding in everything["findings"] if finding["weight"] != "note"] + [
    f"{key}: {everything['counts'][key]}" for key in ("go_wrong", "not_settled") if everything["counts"][key]])
cases.case("8 areas, 128 zones", [] if (len(AREAS), sorted(zone_at(area, place) for area in AREAS for place in ALL))
           == (8, list(range(1, 129))) else ["the rule gives others"])
cases.case("a hundred zones are touched by routines", [] if len(touched(site)) >= 100 else [f"{len(touched(site))}"])

ids = {finding["id"] for finding in everything["findings"]}
for index, mistake in enumerate(MISTAKES):
    every = [(area, place) for area in AREAS for place in mistake[1]]
    for step in (3 * index + 1, 7 * index + 4):
        one = every[step * 11 % len(every)]
        cases.case(f"{mistake[0]}: at zone {zone_at(*one)} alone", wrong_with(site, [one], mistake, ids))
    cases.case(f"{mistake[0]}: at {len(every)} zones", wrong_with(site, every, mistake, ids))
cases.finds("a mistake at another zone is found out", [
    str(named(report_of(planted(site, [(2, 9)], None, "reports: no")), "zones.not-reporting"))], str([zone_at(2, 9)]))

# Some mistakes at once, so that there is something to keep.
wrong = site
for index, mistake in enumerate(MISTAKES):
    wrong = planted(wrong, [(index % 8, mistake[1][index % len(mistake[1])])] if index != 11 else [], *mistake[2:4])
before = verdicts(report_of(wrong))
cases.case("many mistakes: many findings, and routines that go wrong", [] if len(before[1]) > 12 and any(
    routine[1] == "goes wrong" for routine in before[0]) else [str(before)[:400]])
for seed in (1, 2, 3):
    after = verdicts(report_of(shuffled(wrong, seed)))
    cases.case(f"written in another order ({seed}): the same verdicts and findings", [
        f"{old} | {new}" for part in (0, 1) for old, new in zip(before[part], after[part]) if old != new]
        + ([] if [len(part) for part in before] == [len(part) for part in after] else ["more or fewer"]))
cases.case("the order is another one", [] if shuffled(wrong, 1).splitlines()[40:60] != shuffled(wrong, 2).splitlines()[40:60] else ["no"])
numbers, other = renumbered(wrong, 4)
report = report_of(other)
after = verdicts(report)
cases.case("other zone numbers: the same verdicts", [] if before[0] == after[0] else [
    f"{old} | {new}" for old, new in zip(before[0], after[0]) if old != new])
cases.case("other zone numbers: the findings move with them", [] if sorted(
    (row[0], re.sub(r"zone (\d+)", lambda match: f"zone {numbers.get(int(match[1]), int(match[1]))}", row[2])) for row in before[1])
    == sorted((row[0], row[2]) for row in after[1]) else [str(after[1])[:600]])
cases.end()
