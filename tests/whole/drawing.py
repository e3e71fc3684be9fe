#!/usr/bin/env python3
"""What is wrong with a drawing is told with the point where it shows: a house of ten lines is good, and each way to
spoil it brings its own finding, there and no other. Figures are worked out by hand: a hall of 1.8 x 6 m at the origin,
inner walls of 120 mm, outer ones of 300 mm."""

import json

from program import run, tap

TOP = """site: {name: a, invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: house}]
keypads: [{name: pad}]
doors: [{name: front door, outside: yes}, {name: back door, outside: yes}]
devices: [{name: eye, profile: quarter-motion}]
zones: [{number: 1, says: [eye], device: eye, behaviour: interior}]
"""
HOUSE = """building:
  storeys: [{name: ground}, {name: upper}]
  rooms:
    - {name: hall, size: 1.8 x 6 m}
    - {name: living room, size: 4.2 x 3.6 m, right-of: hall}
    - {name: kitchen, size: 4.2 x 2.28 m, behind: living room}
    - {name: landing, above: hall}
  openings:
    - {door: front door, room: hall, wall: front}
    - {door: back door, room: kitchen, wall: back}
    - {room: hall, to: living room}
    - {room: hall, to: kitchen}
    - {is: window, room: living room, wall: front, width: 1.8 m}
  stairs: [{room: hall, to: landing, at: 0 x 2 m, size: 0.9 x 3 m, up: back}]
  furniture: [{name: wardrobe, room: living room, at: 0 x 0 m, size: 0.6 x 1 m}]
  places:
    - {device: eye, room: hall, corner: back right}
    - {keypad: pad, room: hall, wall: right, from-left: 0.5 m}
"""

# (what is spoiled: from, to), id, what the finding must say, which line of the file
SPOILED = [
    ("size: 1.8 x 6 m", "outline: [0 x 0 m, 1.8 x 6 m, 0 x 6 m, 1.8 x 0 m]", "drawing.crossing", "the outline of the hall crosses itself at 0 x 6 m"),
    ("size: 1.8 x 6 m", "size: 1.8 x 6 mm", None, "finer than a millimetre"),
    ("{name: kitchen, size: 4.2 x 2.28 m", "{name: kitchen, size: 4.2 m x 3 mm", "drawing.units", "the kitchen has a side of 3 mm at 1.92 x 3.72 m on storey ground"),
    ("size: 1.8 x 6 m", "size: 1.8 x 3000 m", "drawing.units", "the hall has a side of 3000 m"),
    ("behind: living room", "right-of: hall, shift: 1 m", "drawing.overlap", "the living room and the kitchen share floor at"),
    ("    - {room: hall, to: kitchen}\n", "    - {is: window, room: hall, to: kitchen}\n", "drawing.apart", "one goes in from outside alone"),
    ("    - {door: back door, room: kitchen, wall: back}\n    - {room: hall, to: living room}\n    - {room: hall, to: kitchen}\n",
     "    - {room: hall, to: living room}\n    - {is: window, room: kitchen, wall: back}\n", "drawing.unreached", "no way leads into the kitchen at"),
    ("    - {room: hall, to: kitchen}\n", "", "drawing.apart", "indoors no way leads from the kitchen to the rest of the house: is a door missing at 1.92 x 4.86 m on storey ground?"),
    ("    - {room: hall, to: living room}\n", "", "drawing.unreached", "no way leads into the living room at 1.92 x 1.8 m on storey ground"),
    ("{room: hall, to: living room}", "{room: landing, to: kitchen}", "drawing.no-wall", "is in no wall at 0.9 x 3 m on storey upper"),
    ("width: 1.8 m", "width: 4.3 m", "drawing.too-wide", "the living room front window does not fit its wall at 4.02 x 0 m on storey ground"),
    ("wall: front, width", "wall: front, from-left: 2.5 m, width", "drawing.too-wide", "there are 4.2 m of wall"),
    ("width: 1.8 m", "height: 1.6 m", "drawing.too-high", "ends 100 mm above the ceiling"),
    ("room: living room, wall: front, width", "room: living room, wall: left, width", "drawing.into-room", "leads into the hall"),
    ("room: living room, wall: front, width: 1.8 m", "room: hall, wall: front, width: 1.2 m", "drawing.openings-meet", "the front door and the hall front window are in one place at"),
    ("at: 0 x 2 m", "at: 0 x 3.5 m", "drawing.stairs-out", "the stairs hall to landing reach out of the room"),
    ("{name: landing, above: hall}", "{name: landing, size: 4.2 x 6 m, above: living room}", "drawing.stairs-nowhere", "end nowhere at 0.45 x 5 m on storey upper"),
    ("at: 0 x 0 m, size: 0.6", "at: 3.7 x 0 m, size: 0.6", "drawing.furniture-out", "the wardrobe stands outside its room at 5.62 x 0 m"),
    ("corner: back right", "at: 2 x 1 m", "drawing.place-out", "the eye is outside its room at 2 x 1 m on storey ground"),
    ("{name: back door, outside: yes}", "{name: back door}", "drawing.door-outside", "the back door leads outside by the drawing or by doors, not by both"),
    ("{room: hall, to: living room}", "{door: back door, room: living room, wall: right}", "drawing.door-twice", "are one door"),
    ("    - {device: eye, room: hall, corner: back right}\n", "", "drawing.missing", "not in the drawing: eye"),
]

# What else one slip spoils.
ALSO = {
    "drawing.overlap": {"drawing.into-room", "drawing.openings-meet", "drawing.door-outside"},
    "drawing.into-room": {"drawing.openings-meet"},
}
FOLLOW = {"drawing.unreached", "drawing.apart", "drawing.missing", "drawing.no-wall"}


def drawing_findings(text):
    ran = run("check", "--json", "-", text=text)
    if ran.returncode not in (0, 1, 3):
        return None, ran.stderr
    found = json.loads(ran.stdout)["findings"]
    return [f for f in found if f["id"].startswith("drawing.")], ""


def wrong_with(change, to, wanted, says):
    text = TOP + HOUSE
    if change not in text:
        return [f"nothing to spoil: {change}"]
    found, errors = drawing_findings(text.replace(change, to, 1))
    if found is None:
        return [] if wanted is None and says in errors else [errors]
    if wanted is None:
        return [f["headline"] for f in found] if says is None else ["it was read"]
    wrong = [f"{f['id']}: {f['headline']}" for f in found
             if f["id"] not in {wanted} | FOLLOW | ALSO.get(wanted, set())]
    told = [f["headline"] + " " + f.get("why", "") for f in found if f["id"] == wanted]
    return wrong + ([] if any(says in line for line in told) else [f"wanted: {wanted}: {says}", f"told: {told}"])


cases = tap.Cases()
found, errors = drawing_findings(TOP + HOUSE)
cases.case("a good house has no finding", [errors] if found is None else [f["headline"] for f in found])
found, errors = drawing_findings(TOP)
cases.case("without a drawing nothing is said of it", [errors] if found is None else [f["headline"] for f in found])
found, errors = drawing_findings((TOP + HOUSE).replace("    - {room: hall, to: kitchen}\n", "").replace("{name: kitchen,", "{name: kitchen, apart: yes,"))
apart = (TOP + HOUSE).replace("    - {room: hall, to: kitchen}\n", "")
cases.case("a room that may be apart is no fault to lintel plan", [] if "fault" not in run("plan", "-", text=apart).stdout and
           "1 fault" in run("plan", "-", text=(TOP + HOUSE).replace("    - {room: hall, to: living room}\n", "")).stdout else ["told otherwise"])
cases.case("a room that is apart on purpose", [errors] if found is None else [f["headline"] for f in found])
for change, to, wanted, says in SPOILED:
    cases.case(f"{wanted}: {to.strip()[:60]}", wrong_with(change, to, wanted, says))
cases.end()
