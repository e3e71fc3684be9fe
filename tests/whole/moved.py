#!/usr/bin/env python3
"""Random drawings and what may be done to them without changing an answer, or only for the better: seen in a mirror or
turned by quarters every area, way and break-in comes to the same; a tall cupboard more never shows a detector more, nor
lets anybody come sooner; one more detector without delay never helps an intruder. All houses are invented."""

import json
import os
import random

from program import run, tap

SEEDS = [int(seed) for seed in os.environ.get("SEED", "1 7").split()]
DRAWINGS = 10  # of each seed
GRAIN_MM2 = 2000  # rounding of the corners of arcs
WALL_MM = 100
SIDES = {"front": (0, -1), "back": (0, 1), "left": (-1, 0), "right": (1, 0)}
BADNESS = ("no way there", "heard in time", "not settled", "heard too late", "unheard")

TOP = """site: {name: House, invented: yes}
panel: {profile: spinnaker-128, entry-delays: {front: 30 s}, abort-window: 15 s}
areas: [{name: house}]
keypads: [{name: pad}]
doors: [{name: front door, outside: yes}]
devices:
  - {name: front contact, profile: recessed-contact, on: front door}
%s
zones:
  - {number: 1, says: front door, device: front contact, behaviour: entry, delay: front}
%s
people: [{name: guest, codes-in: 5..9 s}]
ways: [{name: way in, door: front door, keypad: pad}]
routines: [{name: comes, who: guest, starts: {house: full}, steps: [{come: way in}, {unset: pad}]}]
break-ins: {help-after: 1 min}
building:
  inner-thickness: 100 mm
"""


def m(x_mm, y_mm):
    return f"{x_mm / 1000:.3f} x {y_mm / 1000:.3f} m"


def even(chance, low_mm, high_mm):
    return 200 * chance.randint(low_mm // 200, high_mm // 200)


class House:
    """Rooms as boxes (x, y, width, depth) in millimetres, and what is in them at points of the house."""

    def __init__(self, chance):
        widths = [even(chance, 3000, 5000) for _ in range(2)]
        depths = [even(chance, 3000, 6000) for _ in range(2)]
        self.rooms = [(column * (widths[0] + WALL_MM), row * (depths[0] + WALL_MM), widths[column], depths[row])
                      for row in range(2) for column in range(2)]
        inner = [pair for pair in ((0, 1), (2, 3), (0, 2), (1, 3)) if pair == (0, 1) or chance.random() < 0.8]
        self.inner = [(a, b, chance.choice(("door", "gap"))) for a, b in inner]
        self.windows = [(room, side) for room, side in ((1, "front"), (1, "right"), (2, "left"), (3, "back"), (3, "right"))
                        if chance.random() < 0.6]
        self.door = (0, "front")
        self.corners = [(room, chance.choice((-1, 1)), chance.choice((-1, 1))) for room in range(4) if chance.random() < 0.6]
        self.blocks = [self.box_in(chance, room, 400, 1200, chance.choice((800, 2000))) for room in range(4)
                       if chance.random() < 0.7]
        self.goal = self.point_in(chance, 3)
        self.panel = self.point_in(chance, chance.choice((0, 1)))
        self.pad = self.point_in(chance, 0)
        self.takes_s = chance.choice((20, 60, 240))

    def point_in(self, chance, room):
        x, y, wide, deep = self.rooms[room]
        return room, x + even(chance, 400, wide - 400), y + even(chance, 400, deep - 400)

    def box_in(self, chance, room, low_mm, high_mm, height_mm):
        x, y, wide, deep = self.rooms[room]
        size = even(chance, low_mm, high_mm), even(chance, low_mm, high_mm)
        at = x + even(chance, 0, wide - size[0]), y + even(chance, 0, deep - size[1])
        return room, (*at, *size), height_mm

    def text(self, move):
        """The site file of the house as `move` turns it: a function of points about the origin, linear."""
        rooms = [moved_box(move, room) for room in self.rooms]
        names = {vector: name for name, vector in SIDES.items()}

        def side(name):
            return names[move(*SIDES[name])]

        def corner(x, y):
            x, y = move(x, y)
            return f"{names[0, y]} {names[x, 0]}"

        def inside(room, x, y):
            x, y = move(x, y)
            return m(x - rooms[room][0], y - rooms[room][1])

        lines = ["  rooms:"]
        lines += [f"    - {{name: r{i}, at: {m(*box[:2])}, size: {m(*box[2:])}}}" for i, box in enumerate(rooms)]
        lines += ["  openings:", f"    - {{door: front door, room: r{self.door[0]}, wall: {side(self.door[1])}, of: wood}}"]
        lines += [f"    - {{is: {kind}, room: r{a}, to: r{b}}}" for a, b, kind in self.inner]
        lines += [f"    - {{is: window, name: w{i}, room: r{room}, wall: {side(at)}}}" for i, (room, at) in enumerate(self.windows)]
        lines += ["  furniture:"] if self.blocks else []
        for i, (room, box, height) in enumerate(self.blocks):
            x, y, wide, deep = moved_box(move, box)
            at = m(x - rooms[room][0], y - rooms[room][1])
            lines += [f"    - {{name: b{i}, room: r{room}, at: {at}, size: {m(wide, deep)}, height: {height} mm}}"]
        lines += ["  places:"]
        lines += [f"    - {{device: motion {i}, room: r{room}, corner: {corner(x, y)}}}"
                  for i, (room, x, y) in enumerate(self.corners)]
        lines += [f"    - {{protects: safe, room: r{self.goal[0]}, at: {inside(*self.goal)}, takes: {self.takes_s} s}}",
                  f"    - {{is: panel, room: r{self.panel[0]}, at: {inside(*self.panel)}}}",
                  f"    - {{keypad: pad, room: r{self.pad[0]}, at: {inside(*self.pad)}}}"]
        devices = [f"  - {{name: motion {i}, profile: wired-motion}}" for i in range(len(self.corners))]
        zones = [f"  - {{number: {i + 2}, says: zone {i}, device: motion {i}, behaviour: perimeter}}"
                 for i in range(len(self.corners))]
        return TOP % ("\n".join(devices), "\n".join(zones)) + "\n".join(lines) + "\n"


def moved_box(move, box):
    x, y, wide, deep = box
    ends = [move(x, y), move(x + wide, y + deep)]
    low = [min(a, b) for a, b in zip(*ends)]
    high = [max(a, b) for a, b in zip(*ends)]
    return (*low, high[0] - low[0], high[1] - low[1])


MOVES = {"as it is": lambda x, y: (x, y), "in a mirror": lambda x, y: (-x, y), "turned": lambda x, y: (-y, x),
         "turned half": lambda x, y: (-x, -y)}


def answers(text):
    """Blind floor by room, what each detector sees, the length of each way, and (verdict, seconds) of each break-in; or
    what went wrong."""
    planned = run("plan", "--json", "-", text=text)
    broken = run("plan", "--json", "--break-ins", "-", text=text)
    if planned.returncode or broken.returncode:
        return planned.stderr + broken.stderr
    storeys = json.loads(planned.stdout)["storeys"]
    rooms = {r["name"]: r["blind"]["blind_mm2"] for s in storeys for r in s["rooms"] if r["blind"]}
    sees = {p["name"]: p["sight"]["sees_mm2"] for s in storeys for p in s["places"] if p["sight"]}
    ways = {w["to"]: w["length_mm"] if w["there"] else 1e9 for w in json.loads(planned.stdout)["ways"]}
    ins = {b["name"]: (b["verdict"], b["seconds"], b["says"]) for b in json.loads(broken.stdout)["break_ins"]}
    return rooms, sees, ways, ins


def wrong_moved(one, other):
    if isinstance(other, str):
        return [other]
    wrong = [f"{name}: {a} and {b}" for name, a, b in both(one[0], other[0]) + both(one[1], other[1]) if abs(a - b) > GRAIN_MM2]
    wrong += [f"way to {name}: {a} and {b}" for name, a, b in both(one[2], other[2]) if abs(a - b) > 1]
    return wrong + [f"{name}: {a} and {b}" for name, a, b in both(one[3], other[3]) if a != b]


def both(one, other):
    return [(name, one[name], other.get(name, -1e12)) for name in one] if one.keys() == other.keys() else [("names", 0, 1e12)]


def wrong_blocked(one, other):
    """A cupboard more; where it bars the way altogether the file is told so."""
    if isinstance(other, str):
        return [] if "no way leads there" in other else [other]
    wrong = [f"{name}: sees {b}, not {a}" for name, a, b in both(one[1], other[1]) if b > a + GRAIN_MM2]
    return wrong + [f"way to {name}: {b}, not {a}" for name, a, b in both(one[2], other[2]) if b < a - 1]


def wrong_watched(one, other):
    """A detector more."""
    if isinstance(other, str):
        return [other]
    order = {name: i for i, name in enumerate(BADNESS)} | {"panel first": 1}
    wrong = [f"{name}: {b} for {a}" for name, a, b in both(one[3], other[3]) if order[b[0]] > order[a[0]]]
    return wrong + [f"{name}: {b} blind, not {a}" for name, a, b in both(one[0], other[0]) if b > a + GRAIN_MM2]


def try_drawing(cases, chance, title):
    """The verdicts that are met."""
    house, plain = None, ""
    while isinstance(plain, str):  # a drawing whose furniture bars the way in is no drawing for this
        house = House(chance)
        plain = answers(house.text(MOVES["as it is"]))

    def case(what, wrong, move="as it is"):
        cases.case(f"{title} {what}", wrong + house.text(MOVES[move]).splitlines() if wrong else [])

    for name in list(MOVES)[1:]:
        case(name, wrong_moved(plain, answers(house.text(MOVES[name]))), name)
    house.blocks.append(house.box_in(chance, chance.randrange(4), 400, 1200, 2000))
    case("with a cupboard more", wrong_blocked(plain, answers(house.text(MOVES["as it is"]))))
    house.blocks.pop()
    house.corners.append((chance.randrange(4), chance.choice((-1, 1)), chance.choice((-1, 1))))
    case("with a detector more", wrong_watched(plain, answers(house.text(MOVES["as it is"]))))
    return {verdict for verdict, _, _ in plain[3].values()}


cases = tap.Cases()
verdicts = set()
for seed in SEEDS:
    chance = random.Random(seed)
    for number in range(DRAWINGS):
        verdicts |= try_drawing(cases, chance, f"drawing {number} of seed {seed}")
cases.case("more than one verdict is met", [] if len(verdicts) > 1 else [str(verdicts)])
cases.end()
