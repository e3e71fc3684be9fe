#!/usr/bin/env python3
"""Drawings made at random, sensible and not: `lintel check` and `lintel plan` read or refuse each, say of each room no more
blind floor than it has floor, and draw what they say. Seeded, so that a drawing that fails can be made again."""

import json
import random

from program import run, tap

SEED = 20270301
DRAWINGS = 12
TOP = """site: {name: a, invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: house}]
doors: [{name: front door, outside: yes}]
devices:
  - {name: eye, profile: quarter-motion}
  - {name: curtain, profile: curtain-motion}
  - {name: listener, profile: pane-listener}
building:
  storeys: [{name: ground}, {name: upper}]
"""
SIDES = ("front", "right", "back", "left")
CORNERS = ("front left", "front right", "back left", "back right")


def length(chance, low, high):
    """A length; now and then one that is beyond all reason."""
    wild = (0, 1, -high, 1000 * high, low / 1000)
    return f"{chance.choice(wild) if chance.random() < 0.005 else round(chance.uniform(low, high), 2)} m"


def pair(chance, low, high):
    return f"{length(chance, low, high)[:-2]} x {length(chance, low, high)}"


def rooms_of(chance, count):
    names = [f"r{i}" for i in range(count)]
    lines = []
    for i, name in enumerate(names):
        shape = f"size: {pair(chance, 1, 8)}"
        if chance.random() < 0.2:
            shape = "outline: [" + ", ".join(pair(chance, 0, 6) for _ in range(chance.randint(3, 6))) + "]"
        beside = f"{chance.choice(('right-of', 'left-of', 'behind', 'in-front-of', 'above'))}: {chance.choice(names[:i])}" if i else ""
        lines.append(f"    - {{name: {name}, {shape}{', ' + beside if beside else ''}}}")
    return names, lines


def drawing(chance):
    names, rooms = rooms_of(chance, chance.randint(1, 6))
    openings = ["    - {door: front door, room: r0, wall: front}"]
    for _ in range(chance.randint(0, 8)):
        kind = chance.choice(("door", "window", "gap", "sliding door", "garage door"))
        room, other = chance.choice(names), chance.choice(names)
        where = f"to: {other}" if other != room and chance.random() < 0.5 else f"wall: {chance.choice(SIDES)}"
        openings.append(f"    - {{is: {kind}, room: {room}, {where}, width: {length(chance, 0.5, 2)}}}")
    furniture = [f"    - {{name: piece {i}, room: {chance.choice(names)}, at: {pair(chance, 0, 4)}, size: {pair(chance, 0.1, 2)}, "
                 f"height: {length(chance, 0.3, 2.6)}}}" for i in range(chance.randint(1, 6))]
    places = []
    for device in ("eye", "curtain", "listener"):
        where = chance.choice((f"corner: {chance.choice(CORNERS)}", f"wall: {chance.choice(SIDES)}", f"at: {pair(chance, 0, 4)}"))
        looks = chance.choice(("", f", faces: {chance.choice(SIDES)}", f", towards: {pair(chance, 0, 4)}"))
        places.append(f"    - {{device: {device}, room: {chance.choice(names)}, {where}{looks}}}")
    return TOP + "\n".join(["  rooms:", *rooms, "  openings:", *openings, "  furniture:", *furniture, "  places:", *places]) + "\n"


def wrong_with(text):
    planned = run("plan", "--json", "-", text=text)
    if planned.returncode == 2 and planned.stderr and not planned.stdout:
        return None
    drawn = run("plan", "--svg", "--sight", "-", text=text)
    checked = run("check", "--json", "-", text=text)
    wrong = [f"plan: exit {planned.returncode}"] if planned.returncode else []
    wrong += [f"plan --svg: exit {drawn.returncode}: {drawn.stderr[:200]}"] if drawn.returncode else []
    wrong += [f"check: exit {checked.returncode}: {checked.stderr[:200]}"] if checked.returncode not in (0, 1, 3) else []
    report = json.loads(planned.stdout)
    wrong += [report["sight_not_computed"]] if report["sight_not_computed"] else []
    for room in (r for storey in report["storeys"] for r in storey["rooms"] if r["blind"]):
        blind = room["blind"]
        wrong += [f"{room['name']}: {blind}"] if not 0 <= blind["blind_mm2"] <= blind["of_mm2"] + 1000 else []
    for place in (p for storey in report["storeys"] for p in storey["places"] if p["sight"] and "sees_mm2" in p["sight"]):
        seen = place["sight"]
        wrong += [f"{place['name']}: {seen}"] if seen["of_room_mm2"] > seen["sees_mm2"] + 1000 else []
        wrong += [f"{place['name']}: {seen['hidden_percent']} %"] if not 0 <= seen["hidden_percent"] <= 100 else []
    return wrong


cases = tap.Cases()
chance = random.Random(SEED)
read = 0
for number in range(DRAWINGS):
    text = drawing(chance)
    wrong = wrong_with(text)
    read += wrong is not None
    cases.case(f"drawing {number} of seed {SEED}", wrong + text.splitlines() if wrong else [])
cases.case("half of them at least are read", [] if 2 * read >= DRAWINGS else [f"{read}"])
cases.end()
