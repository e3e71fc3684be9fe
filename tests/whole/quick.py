#!/usr/bin/env python3
"""Quick sums (`lintel radio ...`) from outside: figures worked out here apart from the program, exit status, help, columns."""

import cmath
import datetime
import json
import math
import os
import random
import re
import tempfile
import xml.etree.ElementTree as xml

from program import run, tap

SUMS = [("radio", "wall", ["brick:100mm", "--mhz", "433.92"]),
        ("radio", "link", "--mhz 433.92 --distance 20m --power -14.4dBm --sensitivity -105dBm --wall brick:100mm".split()),
        ("radio", "supervise", "--check-in 70min --window 12h --lost 30%".split()),
        ("radio", "traffic", "--devices 32 --airtime 20ms --copies 3 --every 70min --most-an-hour 2s".split()),
        ("power", "standby", "--standby 180mA --alarm 1.1A --hours 24h --battery 7Ah".split()),
        ("power", "wire", "--gauge 22awg --length 45m --current 250mA --supply 12V".split()),
        ("power", "tree", "keypad:supply:22awg:12m:80mA siren:keypad:18awg:20m:1A --supply 12V".split()),
        ("power", "loop", "--wiring triple --resistor 4.7kohm --mask-resistor 2.2kohm --length 30m --leak 1000kohm".split()),
        ("power", "battery", "--cell cr2032 --quiet 2..4uA --events 30 --check-in 70min".split()),
        ("power", "magnet", "--diameter 6mm --length 25mm --gap 10mm".split())]


def worked_out(*words):
    ran = run(*words, "--json")
    return ran.returncode, json.loads(ran.stdout) if ran.stdout else ran.stderr


def wide(text):
    return [line for line in text.splitlines() if len(line) > 80]


def slab_db(layers, ghz, angle):
    """Loss of layers (permittivity, conductivity, metres) by waves to and fro in each: not by chain matrices. Mean power of
    both polarisations."""
    k0 = 2 * math.pi * ghz * 1e9 / 299792458
    sine2 = math.sin(angle) ** 2
    power = 0
    for te in (True, False):
        media = [(1 + 0j, 0.0)] + [(e - 1j * s / (2 * math.pi * ghz * 1e9 * 8.8541878128e-12), d) for e, s, d in layers] + [(1 + 0j, 0.0)]
        waves = [cmath.sqrt(eta - sine2) for eta, _ in media]
        slopes = [w if te else w / eta for w, (eta, _) in zip(waves, media)]
        there, back = 1 + 0j, 0j  # in the last medium; walk to the front
        for i in range(len(media) - 2, -1, -1):
            near, far = slopes[i], slopes[i + 1]
            # the field along the wall (electric in TE, magnetic in TM) and its slope go on smoothly
            there, back = ((1 + far / near) * there + (1 - far / near) * back) / 2, ((1 - far / near) * there + (1 + far / near) * back) / 2
            turn = cmath.exp(1j * k0 * waves[i] * media[i][1])
            there, back = there * turn, back / turn
        power += abs(1 / there) ** 2 / 2
    return -10 * math.log10(power)


cases = tap.Cases()
rows = {}
for line in tap.read("data/radio/materials.tsv").splitlines():
    cells = line.split("\t")
    if not line.startswith("#") and cells[2] == "2021":
        rows[cells[1]] = [float(cell) for cell in cells[5:9]]

dice = random.Random(20400)
wrong = []
for _ in range(40):
    mhz = round(dice.uniform(300, 2500), 2)
    angle = dice.randrange(0, 80)
    layers, words = [], []
    for _ in range(dice.randrange(1, 5)):
        name = dice.choice(["brick", "concrete", "plasterboard", "wood", "glass", "air", "chipboard"])
        a, b, c, d = rows[name]
        mm = dice.randrange(4, 200)
        layers.append((a * (mhz / 1000) ** b, c * (mhz / 1000) ** d, mm / 1000))
        words.append(f"{name}:{mm}mm")
    status, answer = worked_out("radio", "wall", *words, "--mhz", str(mhz), "--angle", str(angle))
    expected = slab_db(layers, mhz / 1000, math.radians(angle))
    if status != 0 or abs(answer["loss_db"] - expected) > 0.0051 or \
            abs(answer["passes_percent"] + answer["back_percent"] + answer["stays_percent"] - 100) > 0.16:
        wrong.append(f"{words} at {mhz} MHz, {angle} degrees: {answer} instead of {expected:.4f} dB")
cases.case("40 random walls lose what waves to and fro in the layers lose", wrong)

status, answer = worked_out(*"radio link --mhz 868.3 --distance 10m --power 14dBm --sensitivity -100dBm".split())
free = 20 * math.log10(4 * math.pi * 10 * 868.3e6 / 299792458)
cases.case("a link without walls is free space", [] if status == 0 and abs(answer["free_space_db"] - free) < 0.0051 and
           abs(answer["margin_db"]["low"] - (114 - free)) < 0.051 and answer["good"] else [str(answer)])
status, answer = worked_out(*"radio link --mhz 868.3 --distance 90000m --power -40dBm --sensitivity -100dBm".split())
cases.case("what does not reach: exit 1, good is false", [] if status == 1 and not answer["good"] else [str(answer)])

for command, name, words in SUMS:
    page = run(command, name, "--help")
    text = run(command, name, *words)
    explained = run(command, name, *words, "--explain")
    cases.case(f"{command} {name}: help, answer and explanation in 80 columns",
               ([] if page.returncode == 0 and page.stdout.startswith(f"usage: lintel {command} {name} ") else [page.stderr]) +
               wide(page.stdout) + wide(text.stdout) + wide(explained.stdout))
    plain, (_, said) = worked_out(command, name, *words)[1], worked_out(command, name, *words, "--explain")
    figures = [key for key in plain if key not in ("format", "sum", "title", "good", "notes", "verdict")]
    missing = [key for key in figures if not isinstance(plain[key], list) and
               not any(one["figure"] == key and one["how"] and one["source"] for one in said["explained"])]
    cases.case(f"{command} {name}: every figure is explained", missing + ([] if figures else ["no figure"]))
    cases.case(f"{command} --help lists {name}", [] if f"\n  {name} " in run(command, "--help").stdout else ["it does not"])

RADIO = "--mhz 433.92 --power -14.4dBm --sensitivity -105dBm".split()
status, site = worked_out("radio", "demo/ropewalk.yaml", *RADIO)
links = {link["item"]: link for link in site["devices"]}
wrong = [] if status == 0 and len(links) == 11 else [str(site)]
for name, link in links.items():  # 5 dB are lost at best, 15 at worst; free space by the distance, which is rounded to 0.1 m
    best = 105 - 14.4 - 5 - 20 * math.log10(4 * math.pi * link["distance_m"] * 433.92e6 / 299792458)
    near = 20 * math.log10((link["distance_m"] + 0.05) / link["distance_m"]) + 0.1
    free = link["through"] == "nothing"
    if link["margin_db"]["high"] > best + near or (free and abs(link["margin_db"]["high"] - best) > near) or \
            (free and abs(link["margin_db"]["low"] + 10 - link["margin_db"]["high"]) > 0.11):
        wrong.append(f"{name}: {link} instead of {best} dB at best")
cases.case("the links of a drawing: no better than free space, and as that where nothing is in the way", wrong)
margins = [link["margin_db"]["low"] for link in site["devices"]]
cases.case("weakest first", [] if margins == sorted(margins) else [str(margins)])
status, heavy = worked_out("radio", "demo/ropewalk.yaml", *RADIO, "--floor", "concrete:250mm")
after = {link["item"]: link["margin_db"] for link in heavy["devices"]}
cases.case("a floor of concrete lowers the links that cross it alone", [
    f"{name}: {link['margin_db']} then {after[name]}" for name, link in links.items()
    if (after[name]["high"] < link["margin_db"]["high"] - 1) != ("floor" in link["through"])])
# What is typed under links is worked out as by hand: ropewalk's panel hears down to -104 dBm.
TYPED = """site: {{name: a, invented: yes}}
panel: {{profile: dinghy-16, entry-delays: {{front: 30 s}}{panel}}}
areas: [{{name: b}}]
devices: [{{name: far, profile: smoke-watch{device}}}]
zones: [{{number: 1, says: [front], device: far, behaviour: fire}}]
links: [{{device: far, distance: 20 m, through: [{through}]}}]
"""


def typed(panel="", device="", through='"brick:100mm", "concrete:200mm"'):
    ran = run("radio", "-", "--json", text=TYPED.format(panel=panel, device=device, through=through))
    return json.loads(ran.stdout)["devices"][0] if ran.returncode in (0, 1) else {"refused": ran.stderr}


by_hand = worked_out(*"radio link --mhz 868.3 --distance 20m --power 5dBm --sensitivity -104dBm --loss 5..15dB "
                     "--wall brick:100mm --wall concrete:200mm".split())[1]
plain = typed()
# Back: 8 dBm from the panel and -100 dBm at the device, instead of 5 and -104: one dB less.
cases.case("a link typed by hand is the quick sum's, and the way back has the same losses", [
    f"{plain}, by hand {by_hand}" for one in [0] if plain.get("margin_db") != by_hand["margin_db"] or
    abs(plain["back_margin_db"]["low"] - plain["margin_db"]["low"] + 1) > 0.051])
behind = typed(panel=", behind: cupboard", device=", behind: steel")  # 20 to 40 dB and 3 to 10 dB
cases.case("what is close to both antennas is taken off", [
    f"{behind} instead of {plain}" for one in [0] if
    abs(behind["margin_db"]["low"] - plain["margin_db"]["low"] + 50) > 0.051 or
    abs(behind["margin_db"]["high"] - plain["margin_db"]["high"] + 23) > 0.051])
gained = typed(panel=", antenna-gain: 3 dB")
cases.case("an antenna fitted instead of the panel's own gains there and back", [
    f"{gained} instead of {plain}" for one in [0] if any(abs(gained[key][end] - plain[key][end] - 3) > 0.051
                                                        for key in ("margin_db", "back_margin_db") for end in ("low", "high"))])
cases.finds("a wall of no name is told with what to write", [typed(through="cheese")["refused"]], "no wall is called \"cheese\"; write brick")
# Profiles that say nothing of radio: all that is wanted is told at once, each with where it goes, and only that.
MUTE = """site: {name: a, invented: yes}
panel: {profile: panel.yaml}
areas: [{name: b}]
devices: [{name: d, profile: contact.yaml}]
zones: [{number: 1, says: [front], device: d, behaviour: perimeter}]
links: [{device: d, distance: 5 m}]
"""
with tempfile.TemporaryDirectory() as folder:
    for name, text in (("site", MUTE), ("contact", "name: contact\nsenses: contact\nradio: yes\n"),
                       ("panel", "name: p\nzones: 9\nareas: 1\nexit-delay: 0..90 s\nentry-delay: 0..90 s\n"
                                 "abort-window: 0..60 s\nbehaviours: [perimeter]\n")):
        with open(os.path.join(folder, f"{name}.yaml"), "w", encoding="utf-8") as file:
            file.write(text)
    told = run("radio", os.path.join(folder, "site.yaml")).stderr
    partly = run("radio", os.path.join(folder, "site.yaml"), "--mhz", "868.3", "--power", "-14.4dBm").stderr
WANTED = ["--mhz 868.3 (or frequency: 868.3 MHz", "--power -14.4dBm (or radiates: -14.4 dBm", "--sensitivity -105dBm (or receives: -105 dBm"]
cases.case("the three figures that are wanted are told at once", [told for words in WANTED if words not in told])
cases.case("... and of some given only the others", [
    partly for words, there in zip(WANTED, (False, False, True)) if (words in partly) != there])
# Three measurements, each 6 dB weaker than the middle of what is computed: 6 x 3/64 / (3/64 + 1/36) = 3.77 dB.
MEASURED = """site: {{name: a, invented: yes}}
panel: {{profile: dinghy-16, entry-delays: {{front: 30 s}}}}
areas: [{{name: b}}]
devices: [{devices}]
zones: [{{number: 1, says: [front], device: d0, behaviour: fire}}]
links: [{links}]
"""


def measured(levels):
    devices = ", ".join(f"{{name: d{i}, profile: smoke-watch}}" for i in range(len(levels)))
    links = ", ".join(f"{{device: d{i}, distance: 20 m{level}}}" for i, level in enumerate(levels))
    ran = run("radio", "-", "--json", text=MEASURED.format(devices=devices, links=links))
    return json.loads(ran.stdout)


bare = measured([""])["devices"][0]["margin_db"]  # over -104 dBm
middle = (bare["low"] + bare["high"]) / 2 - 104 - 6
fitted = measured([f", measured: {middle:.1f} dBm"] * 3 + [""])
spared = [device["margin_db"]["low"] for device in fitted["devices"] if device["item"] == "d3"][0]
cases.case("measured links improve the rest, as by hand", [
    str(fitted) for one in [0] if abs(fitted["shift_db"] - 3.77) > 0.1 or abs(bare["low"] - spared - 3.77) > 0.15])
wild = measured([f", measured: {middle - 40:.1f} dBm", ""])
cases.case("a measurement that is off says nothing of the building", [
    str(wild) for one in [0] if abs(wild["shift_db"] if "shift_db" in wild else 0) > 0])

# A house of three rooms in a row, walls of brick; the panel at one end, the weakest device at the other.
ROW = """site: {{name: a, invented: yes}}
panel: {{profile: halyard-28, entry-delays: {{front: 30 s}}}}
areas: [{{name: b}}]
devices: [{{name: near, profile: pet-motion}}, {{name: far, profile: hold-up-button}}]
zones: [{{number: 1, says: [near], device: near, behaviour: interior}}]
building:
  inner-walls: brick
  inner-thickness: 100 mm
  rooms: [{{name: one, size: 6 x 4 m}}, {{name: two, size: 6 x 4 m, right-of: one}},
    {{name: three, size: 6 x 4 m, right-of: two}}]
  places:
    - {{is: panel, room: {room}, at: {x:.1f} x {y:.1f} m, height: 1.5 m}}
    - {{device: near, room: one, at: 1 x 1 m}}
    - {{device: far, room: three, at: 5 x 3 m}}
"""


def weakest(x, y, *words):
    """x, y: in the drawing; each room begins 6.1 m right of the one before."""
    which = min(2, int(x / 6.1))
    text = ROW.format(room=("one", "two", "three")[which], x=min(6, x - 6.1 * which), y=y)
    ran = run("radio", "-", "--json", *words, text=text)
    answer = json.loads(ran.stdout)
    return answer, min(device["margin_db"]["low"] for device in answer["devices"])


sought, before = weakest(0.1, 3.9, "--place", "panel")
spot = re.search(r"at ([0-9.]+) x ([0-9.]+) m", sought["best_place"])
_, after = weakest(float(spot[1]), float(spot[2]))  # told to 0.1 m
cases.case("a panel in the best place gains what was said, and no place tried by hand gains more", [
    f"{sought}: {before} dB, there {after} dB" for one in [0] if abs(sought["gain_db"] - (after - before)) > 0.4 or
    sought["gain_db"] < 5 or
    any(weakest(x, 3.9)[1] > after + 0.4 for x in (0.5, 3, 6, 7, 9, 11, 13, 17))])
# The same with more devices, thrown at random: places are ruled out by the first link that is no better, and what is
# left over at the best is what the weakest of all has there.
dice = random.Random(11)
wrong = []
PLAIN_ROW = ROW
for _ in range(6):
    names = [f"d{i}" for i in range(dice.randrange(4, 9))]
    ROW = PLAIN_ROW.replace("{{name: far, profile: hold-up-button}}", "{{name: far, profile: hold-up-button}}, " + ", ".join(
        "{{" + f"name: {name}, profile: {dice.choice(('pet-motion', 'smoke-watch', 'slim-contact', 'hold-up-button'))}" + "}}" for name in names))
    ROW += "".join("    - {{" + f"device: {name}, room: {dice.choice(('one', 'two', 'three'))}, at: "
                   f"{dice.uniform(0.2, 5.8):.1f} x {dice.uniform(0.2, 3.8):.1f} m" + "}}\n" for name in names)
    x, y = dice.uniform(0.1, 18), dice.uniform(0.1, 3.9)
    sought, before = weakest(x, y, "--place", "panel")
    spot = re.search(r"at ([0-9.]+) x ([0-9.]+) m", sought["best_place"]) if "best_place" in sought else None
    after = weakest(float(spot[1]), float(spot[2]))[1] if spot else before
    tried = [weakest(dice.uniform(0.1, 18), dice.choice((0.1, 3.9)))[1] for _ in range(8)]
    if abs(sought.get("gain_db", 0) - (after - before)) > 0.4 or max(tried) > after + 0.4 or len(sought["devices"]) < 6:
        wrong.append(f"{len(names)} more from {x:.1f} x {y:.1f}: {sought.get('gain_db')} dB said, {after - before:.1f} found, "
                     f"by hand {max(tried) - before:.1f}")
ROW = PLAIN_ROW
cases.case("with up to ten devices at random too", wrong)
low = weakest(0.1, 3.9)[0]["devices"]
ROW = ROW.replace("{front: 30 s}}}", "{front: 30 s}}, antenna-height: 2.4 m}")
high = {link["item"]: link for link in weakest(0.1, 3.9)[0]["devices"]}
ROW = ROW.replace(", antenna-height: 2.4 m", "")
# Devices hang 2.2 m (motion) and 1.0 m or so high, the panel 1.5 m: the antenna is nearer to the one, farther from the other.
cases.case("an antenna that hangs higher", [] if all(abs(link["distance_m"] - high[link["item"]]["distance_m"]) > 0.001 or
           link["distance_m"] > 5 for link in low) else [f"{low} {high}"])
helped, _ = weakest(0.1, 3.9, "--place", "repeater")
cases.case("a repeater helps the far device", [] if helped["gain_db"] > 5 else [str(helped)])

# Batteries: each as the quick sum; those due within half a year of the first share its visit.
CELLS = """site: {name: a, invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}, battery: 7 Ah, battery-since: 2026-01-01}
areas: [{name: b}]
devices:
  - {name: first, profile: slim-contact, trips-a-day: 30, battery-since: 2026-03-02}
  - {name: second, profile: slim-contact, trips-a-day: 30, battery-since: 2026-08-01}
  - {name: third, profile: slim-contact, trips-a-day: 30, battery-since: 2026-12-01}
zones: [{number: 1, says: [front], device: first, behaviour: perimeter}]
"""
ran = run("power", "-", "--json", text=CELLS)
powered = json.loads(ran.stdout) if ran.returncode in (0, 1) else {"cells": [], "visits": [], "refused": ran.stderr}
# slim-contact: 22 mA for 90 ms are 0.55 uAh, for 30 ms 0.18333 uAh (0.183 as one can write it).
alone = worked_out(*"power battery --cell cr2450 --quiet 6uA --events 30 --event-charge 0.55uAh --check-in 1h "
                   "--check-in-charge 0.183uAh".split())[1]
cells = {cell["item"]: cell for cell in powered["cells"]}
cases.case("a device's battery is as the quick sum has it", [
    f"{powered} instead of {alone['years']}" for one in [0] if not cells or
    any(abs(cells["first"]["years"][end] - alone["years"][end]) > 0.051 for end in ("low", "high"))])



def changed(year, month, day, years):
    return str(datetime.date(year, month, day) + datetime.timedelta(days=int(years * 365.25)))


lasts = alone["change_after_years"]
cases.case("the days to change, and who shares a visit", [
    str(powered["visits"]) for one in [0] if [(visit["item"], visit["change"]) for visit in powered["visits"]] !=
    [(changed(2026, 1, 1, 3), "the panel's battery"), (changed(2026, 3, 2, lasts), "first, second"),
     (changed(2026, 12, 1, lasts), "third")]])
# The map: one picture for each storey. A panel in a steel cupboard leaves most of the floor dark, a free one none.
DARK, LIGHT = "#6f8492", "#f1f4f6"
drawn = {name: run("radio", f"demo/{name}.yaml", "--svg") for name in ("quayside", "quayside-as-found")}
floor = {}
for name, ran in drawn.items():
    root = xml.fromstring(ran.stdout)
    floor[name] = {fill: 0.0 for fill in (DARK, LIGHT)}
    for shape in root.iter("{http://www.w3.org/2000/svg}polygon"):
        corners = [tuple(map(float, pair.split(","))) for pair in shape.get("points").split()]
        area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1]))) / 2
        if shape.get("fill") in floor[name]:
            floor[name][shape.get("fill")] += area / 100  # 1:100: square metres
# 119 m2 of rooms; the flat's and the shop's 22.5 m2 are dark behind a cupboard's 40 dB.
cases.case("radio SITE --svg", [
    str(floor) for one in [0] if floor["quayside"][DARK] > 0 or floor["quayside"][LIGHT] < 100 or
    floor["quayside-as-found"][DARK] < 60])
cases.case("... which says whose map it is", [] if re.search("Radio: [a-z-]+ .the weakest sender: -?[0-9.]+ dBm at 868.3 MHz.", drawn["quayside"].stdout) else ["it does not"])
# The calendar: a dark bar for each battery, as long as its years; a line for each visit.
calendar = xml.fromstring(run("power", "demo/quayside.yaml", "--svg").stdout)
SVG = "{http://www.w3.org/2000/svg}"
said = worked_out("power", "demo/quayside.yaml", "--rules", "house")[1]
ends = {cell["item"]: cell["change_by"] for cell in said["cells"] if "change_by" in cell}
bars = [bar for bar in calendar.iter(SVG + "rect") if bar.get("fill") == "#6f8492"]
years = sorted((int(mark.text), float(mark.get("x"))) for mark in calendar.iter(SVG + "text") if re.fullmatch("[0-9]{4}", mark.text))
a_day = (years[-1][1] - years[0][1]) / (datetime.date(years[-1][0], 1, 1) - datetime.date(years[0][0], 1, 1)).days
right = sorted(float(bar.get("x")) + float(bar.get("width")) for bar in bars)
days = sorted(years[0][1] + a_day * (datetime.date.fromisoformat(day) - datetime.date(years[0][0], 1, 1)).days for day in ends.values())
labels = [mark.text for mark in calendar.iter(SVG + "text")]
cases.case("power SITE --svg: bars end on the days to change, visits with their day", [
    f"{right} {days} {labels}" for one in [0] if len(right) != len(days) or any(abs(a - b) > 0.05 for a, b in zip(right, days)) or
    any(f"{visit['item']}: {len(visit['change'].split(', '))} {'battery' if ', ' not in visit['change'] else 'batteries'}" not in labels
        for visit in said["visits"])])
cases.case("a calendar without days: exit 2, with what to write", [] if run("power", "demo/harbour.yaml", "--svg").returncode == 2 and
           "battery-since" in run("power", "demo/harbour.yaml", "--svg").stderr else ["it is"])
cases.case("a map without a drawing: exit 2", [] if run("radio", "demo/harbour.yaml", "--svg").returncode == 2 else ["it is"])
cases.case("a site without drawing and links: exit 2", [] if run("radio", "demo/harbour.yaml").returncode == 2 else ["it has"])
page = run("radio", "demo/ropewalk.yaml", "--help")
cases.case("radio SITE --help, 80 columns", wide(page.stdout) + ([] if "--floor LAYERS" in page.stdout else [page.stderr]))
wide_lines = wide(run("radio", "demo/quayside.yaml", *RADIO, "--explain").stdout)
cases.case("radio SITE in 80 columns", wide_lines)

deaf = [*RADIO[:-1], "-85dBm"]
status, weak = worked_out("radio", "demo/quayside.yaml", *deaf)
devices = [link for link in weak["devices"] if "troubles" in link]
asked = {said["item"]: [int(number) for number in re.findall(r"every (\d+) s, missing after (\d+) s", said["how"])[0]]
         for said in worked_out("radio", "demo/quayside.yaml", *deaf, "--explain")[1]["explained"] if said["figure"] == "troubles"}


def missing_by_hand(margin_db, check_in_s, window_s):
    """Percent of the time, by a chain of (weather, misses so far) walked until it is steady. Bad hours: 2 %, 2 h, 20 dB."""
    missed = [1 - math.exp(-10 ** (-at / 10)) for at in (margin_db, margin_db - 20)]
    forgets = 1 - math.exp(-check_in_s / (7200 * 0.98))
    turns = (0.02 * forgets, 0.98 * forgets)
    most = window_s // check_in_s + 1
    now = [[0.0] * (most + 1) for _ in range(2)]
    now[0][0] = 1.0
    for _ in range(3000):
        then = [[0.0] * (most + 1) for _ in range(2)]
        for weather in range(2):
            for run_length, here in enumerate(now[weather]):
                for after, part in ((weather, 1 - turns[weather]), (1 - weather, turns[weather])):
                    then[after][0] += here * part * (1 - missed[after])
                    then[after][min(most, run_length + 1)] += here * part * missed[after]
        now = then
    return 100 * sum(now[i][most] + now[i][most - 1] * (most - window_s / check_in_s) for i in range(2))


def differs(link):
    ends = [missing_by_hand(link["margin_db"]["low"] + off, *asked[link["item"]]) for off in (0.051, -0.051)]
    said = link["missing_percent"]["high"]
    off = 0.51 if said >= 10 else 0.051  # told in two digits
    return not ends[0] - off <= said <= ends[1] + off


cases.case("missing for as long as a chain walked by hand says, whatever calls how often", [str(link) for link in devices if differs(link)])
often = max(set(map(tuple, asked.values())), key=[tuple(pair) for pair in asked.values()].count)
alike = [link["missing_percent"]["high"] for link in devices if tuple(asked[link["item"]]) == often]
cases.case("a deaf receiver: it may not reach; of those that call alike the weaker is missing longer",
           [] if status == 1 and len(alike) > 3 and alike == sorted(alike, reverse=True) and alike[0] > 50
           else [str(weak)])
calm = worked_out("radio", "demo/quayside.yaml", *deaf, "--bad-share", "0%")[1]["devices"]
cases.case("without bad hours nothing is missing longer, and what is mostly heard is called missing less often", [
    link["item"] for link, before in zip(calm, weak["devices"]) if "troubles" in link and (
        link["missing_percent"]["high"] > before["missing_percent"]["high"] or
        before["missing_percent"]["high"] < 50 and link["troubles"]["high"] > before["troubles"]["high"])])
cases.case("... and bad hours are felt", [] if sum(link["missing_percent"]["high"] for link in calm if "troubles" in link) <
           sum(link["missing_percent"]["high"] for link in devices) - 0.1 else [str(calm)])

status, power = worked_out("power", "demo/quayside.yaml", "--rules", "en50131-grade-2")
rest = sum(load["rest_ma"] for load in power["loads"])
alarm = sum(load["alarm_ma"] for load in power["loads"])
cases.case("the standby of a site: its loads for 12 h", [] if status == 0 and len(power["loads"]) > 1 and
           abs(power["need_ah"] - rest * 12 / 1000) < 0.0006 and alarm > rest else [str(power)])
panel = [load for load in power["loads"] if load["item"] == "halyard-28"]
cases.case("the panel draws what its profile says", [] if len(panel) == 1 and panel[0]["rest_ma"] == 140 and
           panel[0]["alarm_ma"] == 650 else [str(panel)])
by_hand = worked_out("power", "standby", "--standby", f"{rest}mA", "--alarm", f"{alarm}mA", "--rules", "nfpa72-2022")[1]
of_site = worked_out("power", "demo/quayside.yaml", "--rules", "nfpa72-2022")[1]
cases.case("the same as by hand", [key for key in ("need_ah", "required_ah", "next_size_ah", "used_percent")
                                   if by_hand[key] != of_site[key]])
cases.case("too small a battery: exit 1", [] if worked_out("power", "demo/quayside.yaml", "--hours", "72h", "--battery", "2Ah")[0] == 1
           else ["it will do"])
cases.case("power SITE in 80 columns", wide(run("power", "demo/harbour.yaml", "--explain").stdout) + wide(run("power", "SITE", "--help").stdout))

refused = run("radio", "wall", "brick:100mm", "--mhz", "nonsense")
cases.case("nonsense: exit 2, on stderr, with an example", [] if refused.returncode == 2 and not refused.stdout and
           "write for example 433.92 MHz" in refused.stderr else [refused.stdout + refused.stderr])
cases.case("an unknown sum: exit 2", [] if run("radio", "gingerbread").returncode == 2 else ["it is known"])
cases.end()
