#!/usr/bin/env python3
"""The ways of `lintel plan`: seconds are lengths over speeds, lengths those of the corners, in words, as JSON and on the
sheet. A house of straight ways, worked out by hand: a hall of 2 x 8 m, front door in the middle of its front, a keypad in
the middle of its back; a detector in the middle of the left wall sees a quarter of a circle, so at the hall's middle from
3 to 5 m. Demos: every way that is drawn."""

import glob
import json
import os
import re
import xml.etree.ElementTree as xml

from program import run, tap

SVG = "{http://www.w3.org/2000/svg}"
TOP = """site: {name: a, invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: house}]
keypads: [{name: pad}]
doors: [{name: front door, outside: yes}, {name: side door, outside: yes}, {name: hatch}]
devices: [{name: eye, profile: quarter-motion}]
zones: [{number: 1, says: [eye], device: eye, behaviour: interior}]
people: [{name: ann}, {name: bob, walks: with a stick}, {name: cat, animal: yes}]
ways: [{name: front way, door: front door, closes: 1..3 s, legs: [{pass: eye, in: 2..4 s}], keypad: pad, last: 3..5 s}]
routines:
  - {name: home, starts: {house: full}, steps: [{who: ann, at: "17:00..18:00", come: front way}, {who: ann, unset: pad}]}
  - {name: out, steps: [{who: ann, at: "08:00..09:00", open: side door}, {who: ann, in: 1..2 s, close: side door}]}
building:
  rooms: [{name: hall, size: 2 x 8 m}, {name: shed, size: 2 x 2 m, right-of: hall}]
  openings:
    - {door: front door, room: hall, wall: front}
    - {door: side door, room: hall, wall: left, from-left: 3.55 m}
    - {room: hall, to: shed, from-left: 6.5 m}
  places:
    - {keypad: pad, room: hall, wall: back}
    - {device: eye, room: hall, wall: left}
"""


def ways_of(*arguments, text=None):
    return json.loads(run("plan", "--json", *arguments, text=text).stdout)["ways"]


def corners_mm(way):
    """The length of its corners' lines; where the storey changes, what the way says of its stairs."""
    pairs = zip(way["corners"], way["corners"][1:])
    level = sum(((a["at_mm"][0] - b["at_mm"][0]) ** 2 + (a["at_mm"][1] - b["at_mm"][1]) ** 2) ** 0.5
                for a, b in pairs if a["storey"] == b["storey"])
    return level + way["stairs_mm"]


def wrong_sums(way):
    """Lengths and seconds of one way. Half a millimetre of rounding for each; the ends of stairs add their reach."""
    name = f"{way['door']} to {way['to']}"
    level = way["length_mm"] - way["stairs_mm"]
    wanted = [level / way["level_mm_s"][i] + way["stairs_mm"] / way["stairs_mm_s"][i] for i in (1, 0)]
    wrong = [f"{name}: {is_ms} ms, not {s * 1000:.0f}" for is_ms, s in zip(way["takes_ms"], wanted) if abs(is_ms - s * 1000) > 4]
    wrong += [] if abs(corners_mm(way) - way["length_mm"]) < 2 else [f"{name}: corners make {corners_mm(way):.0f} mm"]
    afters = [corner["after_mm"] for corner in way["corners"]]
    wrong += [] if afters == sorted(afters) and afters[0] == 0 and afters[-1] == way["length_mm"] else [f"{name}: {afters}"]
    return wrong + [f"{name}: seen from {seen['first_mm']} to {seen['last_mm']}" for seen in way["seen_by"]
                    if not 0 <= seen["first_mm"] < seen["last_mm"] <= way["length_mm"]]


def figures(way):
    low, high = (ms / 1000 for ms in way["takes_ms"])
    return f"{way['length_mm'] / 1000:.1f} m", f"{low:.1f} to {high:.1f} s"


def wrong_words(path, ways):
    """Words and sheet say what the JSON does. The sheet may set the figures in two lines."""
    words = re.sub(r"\s+", " ", run("plan", path).stdout)
    texts = [text.text for text in xml.fromstring(run("plan", "--svg", "--ways", path).stdout).iter(SVG + "text")]
    wrong = []
    for way in ways:
        length, seconds = figures(way)
        wrong += [] if f"{way['door']} to {way['to']}: {length}, {seconds}" in words else [f"{way['door']}: not in words"]
        drawn = f"{length}, {seconds}" in texts or (length in texts and seconds in texts)
        wrong += [] if drawn else [f"{way['door']}: {length}, {seconds} is not on the sheet"]
    return wrong


cases = tap.Cases()
front, side = ways_of("-", text=TOP)
cases.finds("a false sum is found", wrong_sums({**front, "takes_ms": [5714, 9889]}), "9889")
cases.case("straight on", [] if front["length_mm"] == 8000 and front["takes_ms"] == [5714, 8889] else [str(front)])
seen = front["seen_by"][0]
cases.case("seen where the sector lies across", [] if abs(seen["first_mm"] - 3000) <= 2 and abs(seen["last_mm"] - 5000) <= 2
           and seen["first_ms"][1] == round(seen["first_mm"] / 0.9) else [str(seen)])
cases.case("a door that is opened without a typed way leads to the nearest keypad",
           [] if side["door"] == "side door" and side["to"] == "pad" and side["walkers"] == ["ann"] else [str(side)])
slow = ways_of("-", text=TOP.replace("who: ann", "who: bob"))[0]
cases.case("with a stick: 8 m at 0.3 to 0.9 m/s", [] if slow["takes_ms"] == [8889, 26667] else [str(slow["takes_ms"])])
own = ways_of("-", text=TOP.replace("{name: ann}", "{name: ann, walks: 0.5..2 m/s}"))[0]
cases.case("at a measured pace", [] if own["takes_ms"] == [4000, 16000] else [str(own["takes_ms"])])
both = ways_of("-", text=TOP.replace("{who: ann, unset: pad}]}", "{who: ann, unset: pad}, {who: bob, in: 1..2 s, go: front way}]}"))[0]
cases.case("two walkers: from the slowest to the fastest",
           [] if both["walkers"] == ["ann", "bob"] and both["takes_ms"] == [5714, 26667] else [str(both)])
gone = ways_of("-", text=TOP.replace("{door: front door, room: hall", "{door: front door, room: shed").replace(
    "    - {room: hall, to: shed, from-left: 6.5 m}\n", ""))[0]
cases.case("no way within the building", [] if gone["drawn"] and not gone["there"] else [str(gone)])
said = re.sub(r"\s+", " ", run("plan", "-", text=TOP.replace("    - {keypad: pad, room: hall, wall: back}\n", "")).stdout)
cases.case("an end that is not drawn", [] if "front door to pad: not computed: one of them is not drawn" in said else [said])
ran = run("plan", "-", text=TOP.split("ways:")[0] + "building:" + TOP.split("building:")[1])
cases.case("nobody comes: no ways are told", [] if "ways from" not in ran.stdout and ran.returncode == 0 else [ran.stdout])
for path in sorted(glob.glob(os.path.join(tap.SOURCE, "demo", "*.yaml"))):
    if re.search(r"^building:", tap.read(path), re.MULTILINE):
        name, ways = os.path.basename(path), ways_of(path)
        cases.case(f"{name}: there are ways", [] if ways and all(way["there"] for way in ways) else [str(ways)[:200]])
        cases.case(f"{name}: sums", sum((wrong_sums(way) for way in ways), []))
        cases.case(f"{name}: words and sheet", wrong_words(path, ways))
cases.end()
