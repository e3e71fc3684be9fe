#!/usr/bin/env python3
"""`lintel plan`: what it prints in words, as JSON and as a drawing is one building. Areas, of rooms and of what detectors
see and do not see, are worked out again from the corners by the surveyor's formula, and from the polygons of the drawing
at its scale; the SVG is read by Python's parser."""

import glob
import json
import os
import re
import xml.etree.ElementTree as xml

from program import run, tap

SVG = "{http://www.w3.org/2000/svg}"
FLOOR = "#ffffff"
ROUNDING_MM2 = 0.02  # of paper, for each millimetre round a room: points are written to hundredths
HOUSE = """site: {name: 'A <b> & "c"', invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: house}]
building: {rooms: [{name: 'x < y & z', size: 4 x 3 m}], openings: [{room: 'x < y & z', wall: left}]}
"""


def area(corners):
    pairs = zip(corners, corners[1:] + corners[:1])
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)) / 2


def around(corners):
    return sum(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in zip(corners, corners[1:] + corners[:1]))


def wrong_areas(path):
    """Each printed area is that of the corners that are printed."""
    storeys = json.loads(run("plan", "--json", path).stdout)["storeys"]
    words = run("plan", path).stdout
    rooms = [room for storey in storeys for room in storey["rooms"]]
    wrong = [f"{r['name']}: {r['floor_mm2']}, not {area(r['corners_mm'])}" for r in rooms
             if r["floor_mm2"] != int(area(r["corners_mm"]))]
    wrong += [f"{r['name']}: not in words" for r in rooms
              if not re.search(rf"^  {re.escape(r['name'])} +{r['floor_mm2'] / 1e6:.1f} m²", words, re.MULTILINE)]
    return wrong if rooms else ["no room"]


def polygons(svg):
    """(fill, corners) of every area of the drawing, in millimetres of paper."""
    return [(shape.get("fill"), [tuple(map(float, point.split(","))) for point in shape.get("points").split()])
            for shape in xml.fromstring(svg).iter(SVG + "polygon")]


def wrong_drawing(path):
    """Every room is drawn once, as large as it is, at the scale that the sheet names."""
    svg = run("plan", "--svg", path).stdout
    scales = set(re.findall(r"1:(\d+) on A4", svg))
    if len(scales) != 1:
        return [f"scales: {scales}"]
    scale = int(scales.pop())
    drawn = [(area(corners), len(corners), around(corners)) for fill, corners in polygons(svg) if fill == FLOOR]
    storeys = json.loads(run("plan", "--json", path).stdout)["storeys"]
    wrong = []
    for room in (r for storey in storeys for r in storey["rooms"] if r["is"] == "room"):
        wanted = room["floor_mm2"] / scale ** 2
        fits = [d for d in drawn if d[1] == len(room["corners_mm"]) and abs(d[0] - wanted) < ROUNDING_MM2 * d[2]]
        wrong += [] if fits else [f"{room['name']}: {wanted:.2f} mm² of paper are not drawn"]
    return wrong


def near(a, b, edge, grain=1.0):
    """Two areas, of an outline whose corners were rounded to a grain: each side may be off by it."""
    return abs(a - b) <= grain * edge + grain


def wrong_sight(path):
    """What each detector sees, and each room's blind floor: in words, by its corners and by its polygon one area."""
    storeys = json.loads(run("plan", "--json", path).stdout)["storeys"]
    words = run("plan", path).stdout
    svg = run("plan", "--svg", "--sight", path).stdout
    scale = int(re.search(r"1:(\d+) on A4", svg).group(1))
    drawn = [(area(corners) * scale ** 2, around(corners) * scale) for fill, corners in polygons(svg) if fill == "url(#seen)"]
    dotted = [rings(shape.get("d")) for shape in xml.fromstring(svg).iter(SVG + "path")]
    wrong = []
    for place in (p for storey in storeys for p in storey["places"] if p["sight"] and "sees_mm2" in p["sight"]):
        seen = place["sight"]
        by_corners = area(seen["corners_mm"])
        wrong += [] if near(by_corners, seen["sees_mm2"], around(seen["corners_mm"])) else [f"{place['name']}: {by_corners}"]
        wrong += [] if any(near(a, seen["sees_mm2"], edge, 0.02 * scale) for a, edge in drawn) else [place["name"] + ": not drawn"]
        wrong += [] if f"sees {seen['sees_mm2'] / 1e6:.1f} m² of floor" in words else [place["name"] + ": not in words"]
        wrong += [] if seen["of_room_mm2"] <= seen["sees_mm2"] + 1e4 else [place["name"] + ": sees more of its room than at all"]
    for room in (r for storey in storeys for r in storey["rooms"] if r["blind"]):
        blind = room["blind"]["blind_mm2"]
        outlines = [([-1, 1][not ring["hole"]], ring["corners_mm"]) for ring in room["blind"]["rings"]]
        edge = sum(around(corners) for _, corners in outlines)
        by_corners = sum(sign * area(corners) for sign, corners in outlines)
        wrong += [] if near(by_corners, blind, edge) else [f"{room['name']}: {by_corners}, not {blind}"]
        wrong += [] if blind == 0 or any(near(a * scale ** 2, blind, e * scale, 0.02 * scale) for a, e in dotted) else [
            room["name"] + ": not dotted"]
        part = f"blind floor: {blind / 1e6:.1f} m², {room['blind']['percent']} %"
        wrong += [] if part in words or room["blind"]["percent"] in (0, 100) else [part]
    return wrong if drawn and dotted else ["no sight"]


def rings(path):
    """Area and length of the edge of a path whose inner rings are holes (they turn the other way)."""
    outlines = [[tuple(map(float, point.split())) for point in ring.split("L")] for ring in re.findall(r"M([^Z]*)Z", path)]
    signed = sum(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(o, o[1:] + o[:1])) / 2 for o in outlines)
    return abs(signed), sum(around(o) for o in outlines)


def wrong_names(path):
    """The sheet names each room (whole, or not at all where it has no room), and each zone that it shows once."""
    texts = [text.text for text in xml.fromstring(run("plan", "--svg", path).stdout).iter(SVG + "text")]
    storeys = json.loads(run("plan", "--json", path).stdout)["storeys"]
    zones = [thing["zone"] for storey in storeys for kind in ("openings", "places") for thing in storey[kind]
             if thing["zone"] is not None]
    wrong = [room["name"] for storey in storeys for room in storey["rooms"] if room["name"] not in texts]
    return wrong + [f"zone {zone}" for zone in zones
                    if texts.count(str(zone)) != 2 * zones.count(zone)]  # on the plan, in the legend


cases = tap.Cases()
cases.finds("a false area is found", [] if area([(0, 0), (4, 0), (4, 3), (0, 3)]) == 13 else ["12"], "12")
drawn = [path for path in sorted(glob.glob(os.path.join(tap.SOURCE, "demo", "*.yaml")))
         if re.search(r"^building:", tap.read(path), re.MULTILINE)]
cases.case("a demo is drawn", [] if drawn else ["none"])
for path in drawn:
    name = os.path.basename(path)
    found = json.loads(run("check", "--json", path).stdout)["findings"]
    cases.case(f"{name}: its drawing has no finding", [f["headline"] for f in found if f["id"].startswith("drawing.")]
               if "as-found" not in name else [])
    cases.case(f"{name}: areas", wrong_areas(path))
    cases.case(f"{name}: the drawing is to scale", wrong_drawing(path))
    cases.case(f"{name}: rooms and zones are named", wrong_names(path))
    cases.case(f"{name}: what detectors see", wrong_sight(path))
    cases.case(f"{name}: 80 columns", [line for line in run("plan", path).stdout.splitlines() if len(line) > 80])
ran = run("plan", "--svg", "-", text=HOUSE)
title = xml.fromstring(ran.stdout).find(SVG + "title").text
cases.case("names are escaped", [] if title == 'A <b> & "c"' else [title])
cases.case("names are escaped on the sheet", [] if "x &lt; y &amp; z" in ran.stdout else [ran.stdout[:300]])
ran = run("plan", "demo/ropewalk.yaml" if "demo/ropewalk.yaml" not in " ".join(drawn) else "-", text=HOUSE.split("building:")[0])
cases.case("without a drawing: exit 2, and where to read", [] if ran.returncode == 2 and "docs/drawing.md" in ran.stderr
           and not ran.stdout else [str(ran.returncode), ran.stderr])
ran = run("plan", "-", text=HOUSE.replace("4 x 3 m", "4 x 3"))
cases.case("a file that cannot be read is not printed: exit 2",
           [] if ran.returncode == 2 and not ran.stdout and "no unit" in ran.stderr else [str(ran.returncode), ran.stdout[:200], ran.stderr])
ran = run("plan", "demo/quayside.yaml", "--storey", "attic")
cases.case("a storey that is not there: exit 2, and which there are",
           [] if ran.returncode == 2 and "ground, flat" in ran.stderr else [ran.stderr])
one = json.loads(run("plan", "demo/quayside.yaml", "--json", "--storey", "flat").stdout)["storeys"]
cases.case("one storey alone", [] if [storey["name"] for storey in one] == ["flat"] else [str(one)[:200]])
ran = run("plan", "demo/quayside.yaml", "--sight")
cases.case("a layer without a drawing: exit 2, and what to add",
           [] if ran.returncode == 2 and "add --svg" in ran.stderr else [ran.stderr])
cases.case("without the layer nothing is hatched", [] if "url(#" not in run("plan", "--svg", "demo/quayside.yaml").stdout else ["hatch"])
cases.end()
