#!/usr/bin/env python3
"""names_expected.py LINTEL DATA SITE: what each thing of a site's drawing should be called by whoever reads it out, storey by storey, as JSON.

From the site file by PyYAML, the corners that `lintel plan --json` prints, and the findings of `lintel check --json`: with nothing of
the page's own code. The grammar is that of docs/serving.md ("What is heard")."""

import datetime
import json
import pathlib
import subprocess
import sys

import yaml

LINTEL, DATA, SITE = sys.argv[1:4]


class Plain(yaml.SafeLoader):
    """`on` is a key of devices, not a yes: the bench reads YAML 1.2."""


Plain.yaml_implicit_resolvers = {first: [one for one in all_ if not one[0].endswith(":bool")] for first, all_ in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def asked(*words):
    done = subprocess.run([LINTEL, *words, SITE, "--json"], capture_output=True, text=True, env={"LINTEL_DATA": DATA, "LC_ALL": "C.UTF-8"}, check=False)
    return json.loads(done.stdout)


FILE = yaml.load(pathlib.Path(SITE).read_text(encoding="utf-8"), Plain)
PLAN, CHECK = asked("plan"), asked("check")
BUILDING = FILE["building"]
ROOMS = {room["name"]: {**room, "storey": storey["name"]} for storey in PLAN["storeys"] for room in storey["rooms"]}
DEVICES = {device["name"]: device for device in FILE.get("devices", [])}
HIGH_CM = 150  # furniture as high as that cuts sight: docs/drawing.md


def metres(mm):
    return f"{round(mm) / 1000:.2f}".rstrip("0").rstrip(".")


def length_mm(text):
    number, unit = text.split(" ")
    return round(float(number) * {"m": 1000, "cm": 10, "mm": 1}[unit])


def pair_mm(text):
    return [length_mm(f"{one} m") for one in text.removesuffix(" m").split(" x ")]


def middle(corners, at):
    low = [min(corner[axis] for corner in corners) for axis in (0, 1)]
    return f"{metres(at[0] - low[0])} m from the left wall, {metres(at[1] - low[1])} m from the front wall"


def walls(corners):
    """Each wall: its side, and its two ends: on the left and right walls the upper and the lower one, else the left and the right one."""
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1]):
        if ay == by:
            yield ("front" if bx > ax else "back"), {"left": (min(ax, bx), ay), "right": (max(ax, bx), ay)}
        else:
            yield ("right" if by > ay else "left"), {"upper": (ax, max(ay, by)), "lower": (ax, min(ay, by))}


def along(ends, points):
    """How far the nearer end of a wall is from points on it; None: they are not on it."""
    (name, a), (other, b) = ends.items()
    axis = 1 if a[0] == b[0] else 0
    if any(point[1 - axis] != a[1 - axis] or not min(a[axis], b[axis]) <= point[axis] <= max(a[axis], b[axis]) for point in points):
        return None
    far = {end: min(abs(point[axis] - at[axis]) for point in points) for end, at in ends.items()}
    nearer = name if far[name] <= far[other] else other
    return f"{metres(far[nearer])} m from the {nearer} corner"


def hangs(corners, at):
    box = [[pick(corner[axis] for corner in corners) for pick in (min, max)] for axis in (0, 1)]
    for name, x, y in (("front left", 0, 0), ("front right", 1, 0), ("back right", 1, 1), ("back left", 0, 1)):
        wanted = (box[0][x], box[1][y])
        named = min(corners, key=lambda corner, to=wanted: (corner[0] - to[0]) ** 2 + (corner[1] - to[1]) ** 2)
        if tuple(named) == tuple(at):
            return f"{name} corner"
    for side, ends in walls(corners):
        far = along(ends, [at])
        if far:
            return f"{side} wall, {far}"
    return middle(corners, at)


def sense(zone):
    device = DEVICES.get(zone.get("device"))
    if device is None:
        return "device"
    profile = yaml.load((pathlib.Path(DATA) / "devices" / f"{device['profile']}.yaml").read_text(encoding="utf-8"), Plain)
    inputs = profile.get("inputs", [profile])
    return inputs[zone.get("input", 1) - 1]["senses"]


def says(zone):
    return zone["says"] if isinstance(zone["says"], str) else " ".join(zone["says"])


def day(until):
    """12 March; with its year where that is not within the twelve months to come."""
    then, now = (datetime.date.fromisoformat(one) for one in (until, CHECK["today"]))
    near = now <= then and (then.year, then.month, then.day) < (now.year + 1, now.month, now.day)
    return f"{then.day} {then:%B}{'' if near else f' {then.year}'}"


def wrong(*paths):
    """The worst of what is found about any of these, the first of its weight."""
    def about(finding):
        path = (finding["place"] or {}).get("path", "")
        return any(path == one or path.startswith((f"{one}.", f"{one}[")) for one in paths)

    def open_(finding):
        return finding["id"].endswith("not-settled") or finding["id"] == "check.stopped"

    found = [finding for finding in CHECK["findings"] if about(finding) and finding["weight"] != "note"]
    for weight in ("fault", "risk", "undecided"):
        for finding in found:
            if ("undecided" if open_(finding) else finding["weight"]) == weight:
                return f"; {weight}: {finding['headline']}"
    for finding in CHECK["waived"]:
        if about(finding) and finding["weight"] != "note":
            return f"; waived until {day(finding['waiver']['until'])}: {finding['headline']}"
    return ""


def paths(name, items, wanted):
    return [f"{name}[{i}]" for i, item in enumerate(items) if wanted(item)]


def called(name, kind, mark=""):
    """A kitchen door is not called a door once more."""
    return f"{name}{mark}" if name.endswith(kind) else f"{name}, {kind}{mark}"


def said(text):
    return f"{text[0].upper()}{text[1:]}."


def rooms():
    for i, room in enumerate(BUILDING["rooms"]):
        drawn = ROOMS[room["name"]]
        corners = drawn["corners_mm"]
        sides = [max(corner[axis] for corner in corners) - min(corner[axis] for corner in corners) for axis in (0, 1)]
        shape = f"{metres(sides[0])} x {metres(sides[1])} m" if len(corners) == 4 else f"{len(corners)} corners"
        yield [drawn["storey"]], said(f"{called(room['name'], room.get('is', 'room'))}, {shape}, {drawn['floor_mm2'] / 1e6:.1f} m²{wrong(f'building.rooms[{i}]')}")


def openings():
    drawn = {storey["name"]: iter(storey["openings"]) for storey in PLAN["storeys"]}
    for i, opening in enumerate(BUILDING["openings"]):
        storey = ROOMS[opening["room"]]["storey"]
        at = next(drawn[storey])
        corners = ROOMS[at["room"]]["corners_mm"]
        name, kind, to = at["name"], opening.get("is", "door"), opening.get("to")
        inner = to is not None and ROOMS[to]["is"] == "room"
        leads = "" if to is None or name.endswith(f" to {to}") else f" to the {to}"
        if kind in ("roof light", "hatch"):
            where = f"ceiling, {middle(corners, at['from_mm'])}"
        else:
            where = next(f"{side} wall, {far}" for side, ends in walls(corners) if (far := along(ends, [at["from_mm"], at["to_mm"]])))
        on = [device["name"] for device in DEVICES.values() if opening.get("door") and device.get("on") == opening["door"]]
        zones = [zone for zone in FILE["zones"] if zone.get("device") in on]
        told = [f"building.openings[{i}]", *paths("zones", FILE["zones"], lambda one, on=on: one.get("device") in on), *paths("devices", DEVICES.values(), lambda one, on=on: one["name"] in on),
                *paths("doors", FILE["doors"], lambda one, door=opening.get("door"): one["name"] == door)]
        watched = "".join(f"; zone {zone['number']}, {sense(zone)}" for zone in zones)
        yield [storey], said(f"{name}, {'inner' if inner else 'outer'} {kind}{leads}, {at['room']}, {where}{watched}{wrong(*told)}")
        for zone in zones:
            about = [f"zones[{FILE['zones'].index(zone)}]", *paths("devices", DEVICES.values(), lambda one, name=zone["device"]: one["name"] == name)]
            yield [storey], said(f"zone {zone['number']}, {says(zone)}, {sense(zone)} on the {opening['door']}, {at['room']}, {where}{wrong(*about)}")


def letter(place):
    """What its sign bears (docs/drawing.md), with a number where there are several."""
    of = {"keypad": "K", "protects": "W", "panel": "P", "router": "R", "mains": "M", "line": "L"}
    watched = any(zone.get("device") == place.get("device") for zone in FILE["zones"])
    return next((of[key] for key in (*place, place.get("is")) if key in of), "" if watched else "S")


def numbered(place):
    same = [one for one in BUILDING["places"] if letter(one) == letter(place)]
    return f" {letter(place)}{same.index(place) + 1}" if len(same) > 1 else ""


def places():
    drawn = {storey["name"]: iter(storey["places"]) for storey in PLAN["storeys"]}
    for i, place in enumerate(BUILDING["places"]):
        storey = ROOMS[place["room"]]["storey"]
        at = next(drawn[storey])
        where = f"{at['room']}, {hangs(ROOMS[at['room']]['corners_mm'], at['at_mm'])}"
        zone = next((zone for zone in FILE["zones"] if "device" in place and zone.get("device") == place["device"]), None)
        devices = paths("devices", DEVICES.values(), lambda one, name=place.get("device"): one["name"] == name)
        told = [f"building.places[{i}]", *devices, *paths("keypads", FILE["keypads"], lambda one, name=place.get("keypad"): one["name"] == name)]
        if zone:
            what = called(f"zone {zone['number']}, {says(zone)}", sense(zone))
            told.append(f"zones[{FILE['zones'].index(zone)}]")
        elif "protects" in place:
            what = called(place["protects"], "worth protecting", numbered(place))
        else:
            name = place.get("keypad") or place.get("device") or place["is"]
            kind = "keypad" if "keypad" in place else at["is"] if "device" in place else place["is"]
            what = called(name, kind, numbered(place))
        yield [storey], said(f"{what}, {where}{wrong(*told)}")


def blocks():
    for i, one in enumerate(BUILDING.get("furniture", [])):
        x, y = pair_mm(one["at"])
        size = " x ".join(metres(side) for side in pair_mm(one["size"]))
        tall = ", cuts sight" if length_mm(one.get("height", "0.8 m")) >= HIGH_CM * 10 else ""
        yield [ROOMS[one["room"]]["storey"]], said(f"{one['name']}, furniture, {one['room']}, {metres(x)} m from the left wall, {metres(y)} m from the front wall, {size} m{tall}{wrong(f'building.furniture[{i}]')}")
    for i, one in enumerate(BUILDING.get("stairs", [])):
        x, y = pair_mm(one.get("at", "0 x 0 m"))
        size = " x ".join(metres(side) for side in pair_mm(one["size"]))
        name = one.get("name", f"stairs {one['room']} to {one['to']}")
        yield [ROOMS[one["room"]]["storey"], ROOMS[one["to"]]["storey"]], said(f"{name}, up towards the {one.get('up', 'back')}, {one['room']}, {metres(x)} m from the left wall, {metres(y)} m from the front wall, {size} m{wrong(f'building.stairs[{i}]')}")


answer = {storey["name"]: [] for storey in PLAN["storeys"]}
for make in (rooms, openings, places, blocks):
    for storeys, text in make():
        for storey in storeys:
            answer[storey].append(text)
print(json.dumps(answer, ensure_ascii=False))
