#!/usr/bin/env python3
"""The first afternoon of somebody who has a manual and the README: a profile of an invented panel and of an invented
contact written from it, a site by hand and one by `lintel new` with them. Every slip that was really made on the way is
told with what to write instead; what is wrong with a file is told from top to bottom."""

import os
import re
import tempfile

from program import run, tap

PANEL = """# From an imagined installation guide. Invented.
name: wherry-28
zones: 28
areas: 2
exit-delay: 10..250 s
entry-delay: 10..250 s
abort-window: 0..40 s
behaviours: [entry, perimeter, follower, interior, 24-hour, fire, hold-up, medical]
numbers: [1..8, 11..18, 21..28]
wired: 1..8
hears: [lapwing, skerry]
steps: {exit-delay: 10 s, entry-delay: 10 s}
offers:
  siren-time: [1 min, 3 min, 5 min, 10 min, 15 min]
  supervision-window: [1 h, 2 h, 4 h, 12 h, 24 h]
  completion: [time, lock]
delivered: {exit-delay: 50 s, entry-delay: 30 s, siren-time: 3 min}
code-lengths: 4..6
current: 95..410 mA
built-in: [siren]
"""

CONTACT = """# From the same imagined guide. Invented.
name: lapwing-reed
senses: contact
radio: yes
family: lapwing
latency: 0..1 s
gap: 18 mm
marked: right
works-at: -10..55 °C
enrols: serial
serial-format: "## ## ##"
"""

SITE = """site: {name: Lock cabin, invented: yes}
panel:
  profile: wherry-28
  exit-delay: 60 s
  entry-delays: {porch: 50 s}
areas: [{name: cabin}]
keypads: [{name: porch pad}]
doors:
  - {name: porch door, outside: yes}
devices:
  - {name: porch contact, profile: lapwing-reed, on: porch door}
  - {name: hall motion, profile: quarter-motion}
zones:
  - {number: 11, says: porch door, device: porch contact, behaviour: entry}
  - {number: 12, says: hall, device: hall motion, behaviour: interior}
people: [{name: keeper, codes-in: 4..8 s}]
ways:
  - {name: porch way, door: porch door, keypad: porch pad, last: 4..6 s}
routines:
  - name: evening round
    who: keeper
    steps:
      - {at: "21:00", set: full, keypad: porch pad}
      - {go: porch way}
      - {in: 10..20 min, come: porch way}
      - {unset: porch pad}
"""

# Which file, what should stand there, what was written instead, what is told of it.
SLIPS = (
    ("panel", "zones: 28", "zones: 24", "28 is above zones: 24; zones is the highest number, not how many there are"),
    ("panel", "wired: 1..8", "wired: 1-8", '"1-8": a from-to is written with two points, as 1..6'),
    ("panel", "code-lengths: 4..6", "code-lengths: 4 - 6", '"4 - 6": a from-to is written with two points, as 1..6'),
    ("panel", "exit-delay: 10..250 s\n", "exit-delay: 10 to 250 s\n", "two points: 10..250 s"),
    ("panel", "current: 95..410 mA", "current: 95 mA - 410 mA", "two points: 95 mA..410 mA"),
    ("panel", "completion: [time, lock]", "completion: [time, keyswitch]", "expected time, final-door, button, lock, fob or station"),
    ("panel", "supervision-window: [1 h, 2 h, 4 h, 12 h, 24 h]", "supervision-window: [1, 2, 4, 12, 24 h]", '"12" has no unit'),
    ("panel", "[entry, perimeter,", "[entry, instant,", '"instant" is called perimeter here; expected entry, perimeter'),
    ("panel", "steps: {exit-delay: 10 s, entry-delay: 10 s}", "steps: exit-delay 10 s", "such as {siren-time: 60 s}"),
    ("contact", "works-at: -10..55 °C", "works-at: -10 to 55 °C", "two points: -10..55 °C"),
    ("contact", 'serial-format: "## ## ##"', "serial-format: ## ## ##", "one that begins with # stands in quotes"),
    ("contact", "marked: right", "marked: right side", "expected left, right, either, end or facing"),
    ("site", "in: 10..20 min", "in: 10-20 min", "two points: 10..20 min"),
    ("site", "on: porch door", "on: porch dor", 'did you mean "porch door"?'),
    ("site", "exit-delay: 60 s", "exit-delay: 60", "for example 60 s"),
    ("site", "areas: [{name: cabin}]", "areas: cabin", 'lines that begin with "- "'),
)


def expect(holds, what):
    return [] if holds else [str(what)]


def write(folder, **changed):
    texts = {"panel": PANEL, "contact": CONTACT, "site": SITE} | changed
    for folder_name, name, text in (("panels", "wherry-28", texts["panel"]), ("devices", "lapwing-reed", texts["contact"]),
                                    ("", "site", texts["site"])):
        os.makedirs(os.path.join(folder, folder_name), exist_ok=True)
        with open(os.path.join(folder, folder_name, name + ".yaml"), "w", encoding="utf-8") as file:
            file.write(text)
    return os.path.join(folder, "site.yaml")


def places(told):
    """File and line of each problem, in the order in which they are told."""
    return [(match[1], int(match[2])) for match in re.finditer(r"^(.*?\.yaml):(\d+):\d+: ", told, re.MULTILINE)]


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    ran = run("check", write(folder))
    cases.case("without slips: checked, and all goes well", expect(
        ran.returncode == 0 and "FAULT" not in ran.stdout, ran.stdout + ran.stderr))
    for which, good, bad, told in SLIPS:
        text = {"panel": PANEL, "contact": CONTACT, "site": SITE}[which]
        if good not in text:
            cases.case(f"{which}: {good}", ["not there"])
        ran = run("check", write(folder, **{which: text.replace(good, bad)}))
        cases.case(f"{which}: \"{bad.strip()}\"", expect(ran.returncode == 2 and told in ran.stderr, ran.stderr))
    texts = {"panel": PANEL, "contact": CONTACT, "site": SITE}
    for which, good, bad, _ in SLIPS:
        texts[which] = texts[which].replace(good, bad)
    ran = run("check", write(folder, **texts))
    told = places(ran.stderr)
    order = {name: told.index(next(place for place in told if place[0] == name)) for name, _ in told}
    cases.case("all slips at once: file after file, from top to bottom", expect(
        len(told) >= 12 and told == sorted(told, key=lambda place: (order[place[0]], place[1])), told))
    cases.finds("another order is found", [str(
        [("a", 2), ("a", 1)] == sorted([("a", 2), ("a", 1)], key=lambda place: place[1]))], "False")

    ran = run(write(folder))
    cases.case("a file where a command belongs", expect(
        ran.returncode == 2 and f"did you mean lintel check {folder}/site.yaml?" in ran.stderr, ran.stderr))
    ran = run("check", os.path.join(folder, "sight.yaml"))
    cases.case("no such file: the keys are not blamed", expect(
        ran.returncode == 2 and "there is no such file" in ran.stderr and "lintel keys" not in ran.stderr, ran.stderr))

    night = SITE.replace("set: full", "set: night").replace("behaviour: interior", "behaviour: interior, in: {night: out}")
    ran = run("check", write(folder, site=night), "--no-usual")
    cases.case("out after setting night: the exit delay of full is offered", expect(
        "exit delay of mode night: 60 s instead of 0 s; then it goes well" in " ".join(ran.stdout.split()), ran.stdout))
    ran = run("check", write(folder, site=SITE.replace("      - {unset: porch pad}\n", "").replace("50 s}", "20 s}")))
    said = " ".join(ran.stdout.split())
    cases.case("nobody keys a code in a routine: told of it alone, and what to write", expect(
        "before a code is keyed, and nobody keys one in it site.yaml:20" in said and "put {unset: porch pad} where" in said and
        "entry delay porch: 30 s instead of 20 s" in said, ran.stdout))
    ran = run("check", write(folder, site=SITE.replace("number: 11", "number: 9")))
    cases.case("a number that is not there: one is offered that takes radio", expect(
        "a number that is free: 11" in ran.stdout, ran.stdout))

    write(folder)
    path = os.path.join(folder, "new.yaml")
    ran = run("new", path, text="\n".join(["", "", "?", "wherry-28", "", "", "", "porch door", "", "", "?", "lapwing-reed"]) + "\n" * 20)
    cases.case("lintel new offers the profiles beside the file", expect(
        ran.returncode == 0 and "wherry-28" in ran.stdout and re.search(r"or none\..*One of: .*lapwing-reed", " ".join(ran.stdout.split())), ran.stdout))
    cases.case("what it explains stays within 80 columns", [line for line in ran.stdout.splitlines()
                                                            if line.startswith("  ") and len(line) > 80 and folder not in line])
    ran = run("check", path)
    cases.case("what it wrote is checked without a fault", expect(ran.returncode == 0 and "FAULT" not in ran.stdout, ran.stdout + ran.stderr))
    with open(path, encoding="utf-8") as file:
        cases.case("its zones have the panel's numbers for radio", expect("number: 11," in file.read(), "they have not"))
cases.end()
