#!/usr/bin/env python3
"""Sites in Greek, Polish and Japanese: every output stays within 80 columns and its columns stay aligned, JSON and CSV
read back as what was written, a name that is slightly wrong is told with the nearest one, letter by letter, and a panel
whose voice speaks Greek is checked against its own words. Widths are those of Python's unicodedata (Unicode UAX 11:
wide and full-width characters take two columns, combining marks none), CSV and JSON those of Python's modules."""

import csv
import io
import json
import os
import re
import shutil
import tempfile
import unicodedata

from program import HERE, run, tap

# Each site: what is put wrong (from, to), a zone's name, a routine's name.
SITES = {
    "greek": (("behaviour: entry, delay: αυλή", "behaviour: perimeter"), "πόρτα αυλής", "πρωινή αγορά"),
    "polish": (("behaviour: entry, delay: tył", "behaviour: perimeter"), "tylne drzwi", "ranek w żaglowni"),
    "japanese": (("behaviour: entry, delay: 玄関", "behaviour: perimeter"), "玄関の引き戸", "朝の仕込み"),
}

# A word of the site, what somebody types instead, and what is offered. The Japanese one and its slip are the same
# number of bytes away from several names; only one of them is one letter away.
SLIPS = (
    ("greek", "device: επαφή αυλής", "device: επαφή αυλίς", "did you mean επαφή αυλής?"),
    ("greek", "device: επαφή κουζίνας", "device: Επαφη Κουζινας", "did you mean επαφή κουζίνας?"),
    ("greek", "pass: διάδρομος", "pass: διάδρομς", "did you mean διάδρομος?"),
    ("polish", "area: piętro, behaviour: interior", "area: pietro, behaviour: interior", "did you mean piętro?"),
    ("polish", "who: żaglomistrz", "who: żaglomstrz", "did you mean żaglomistrz?"),
    ("japanese", "come: 玄関から操作盤まで", "come: 玄間から操作盤まで", "did you mean 玄関から操作盤まで?"),
    ("japanese", "device: 窓の接点", "device: 窓の節点", "did you mean 窓の接点?"),
    ("japanese", "area: 住まい, behaviour", "area: 住居い, behaviour", "did you mean 住まい?"),
)

# No slip, but another word: its only letter differs, by one byte of three.
STRANGER = ("japanese", "area: 庭, behaviour", "area: 座, behaviour", "did you mean")


def cells(line):
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)


def expect(holds, what):
    return [] if holds else [str(what)]


def too_wide(ran):
    wrong = [f"{cells(line)}: {line}" for line in (ran.stdout + ran.stderr).splitlines() if cells(line) > 80]
    return wrong if ran.stdout else ["nothing came: " + ran.stderr[:300]]


def columns_of(lines, pattern):
    """In which column the part named `at` of each line that fits the pattern begins."""
    found = [re.match(pattern, line) for line in lines]
    return {cells(match.string[:match.start("at")]) for match in found if match}


def aligned(ran, pattern, what):
    columns = columns_of(ran.stdout.splitlines(), pattern)
    return expect(len(columns) == 1, f"{what} begins in columns {sorted(columns)}")


def strings_of(value):
    if isinstance(value, str):
        return [value]
    parts = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return [string for part in parts for string in strings_of(part)]


def names_of(text):
    """Of what is keyed in: neither the site's name nor the ways'."""
    return [name for line in text.splitlines() if "site:" not in line and "legs:" not in line
            for name in re.findall(r"\{name: ([^,}]+)", line)]


cases = tap.Cases()
cases.finds("a line of 41 wide letters is found", too_wide(type("Ran", (), {"stdout": "扉" * 41, "stderr": ""})), "82")
cases.finds("a column that moves is found", aligned(
    type("Ran", (), {"stdout": "扉 x\nab  x\n"}), r"\S+ +(?P<at>x)", "x"), "begins in columns [3, 4]")

with tempfile.TemporaryDirectory() as folder:
    shutil.copytree(os.path.join(HERE, "scripts"), folder, dirs_exist_ok=True)

    def path(name):
        return os.path.join(folder, name)

    def write(name, text):
        with open(path(name), "w", encoding="utf-8") as file:
            file.write(text)
        return path(name)

    for name, ((good, bad), zone, routine) in SITES.items():
        text = tap.read(f"tests/whole/scripts/{name}.yaml")
        clean = path(name + ".yaml")
        wrong = write(name + "-wrong.yaml", text.replace(good, bad))
        ran = run("check", clean)
        cases.case(f"{name}: goes well", expect(ran.returncode == 0 and " go well" in ran.stdout, ran.stdout + ran.stderr))
        ran = run("check", wrong)
        cases.case(f"{name}: with a mistake it has a fault", expect(
            ran.returncode == 1 and f'"{routine}" goes wrong' in " ".join(ran.stdout.split()), ran.stdout + ran.stderr))
        for words in (("check", clean), ("check", wrong), ("check", wrong, "--margins"), ("check", "--waivers", wrong),
                      ("check", "--against", clean, wrong), ("tell", wrong, routine), ("tell", wrong), ("sheet", clean),
                      ("sheet", "--schedule", clean), ("sheet", "--against", clean, wrong),
                      ("why", wrong, f"siren, zone {zone}")):
            ran = run(*words)
            shown = " ".join(os.path.basename(word) for word in words)
            if "--waivers" not in words:  # lines to paste: one finding a line
                cases.case(f"{shown}: 80 columns at most", too_wide(ran))
            cases.case(f"{shown}: nothing is torn", expect("\ufffd" not in ran.stdout + ran.stderr, ran.stdout))
        cases.case(f"{name}: the sheet's values stand in one column", aligned(
            run("sheet", clean), r"\[ \] .*?\S {2,}(?P<at>\S)", "a value"))
        cases.case(f"{name}: the places stand at the right edge", [
            line for line in run("check", wrong).stdout.splitlines()
            if re.search(r"  \S+-wrong\.yaml:\d+$", line) and cells(line) != 80])
        cases.case(f"{name}: the routines' names stand in one column", aligned(
            run("check", clean, "--margins", "--no-usual"), r" +\d+ s +.*?\S {2,}(?P<at>\S)", "a name"))

        told = json.loads(run("check", "--json", wrong).stdout)
        cases.case(f"{name}: JSON has the site's and the routine's names letter by letter", expect(
            {re.search(r"name: ([^,]+(?:、[^,]+)?), invented", text).group(1), routine} <= set(strings_of(told)), told.get("name")))
        raw = run("check", "--json", wrong).stdout
        cases.case(f"{name}: JSON is plain UTF-8, not escapes", expect(routine in raw and "\\u" not in raw, raw[:200]))
        rows = list(csv.DictReader(io.StringIO(run("sheet", "--csv", clean).stdout, newline=""), strict=True))
        things = {row["thing"] for row in rows} | {row["value"] for row in rows}
        cases.case(f"{name}: CSV has every name of a thing that is keyed in", [
            thing for thing in names_of(text) if not any(thing in said for said in things)])
        as_json = json.loads(run("sheet", "--json", clean).stdout)["lines"]
        cases.case(f"{name}: CSV and JSON say the same", expect(
            [row["value"] for row in rows] == [row["value"] for row in as_json], "they differ"))
        ran = run("why", wrong, f"siren, zone {zone}")
        cases.case(f"{name}: a zone is known by its spoken name", expect(ran.returncode == 0 and zone in ran.stdout, ran.stdout + ran.stderr))
        slip = routine[:-1]
        ran = run("tell", wrong, slip)
        cases.case(f"{name}: tell offers the nearest routine", expect(f'"{routine}"' in ran.stderr, ran.stderr))

    ran = run("check", folder)
    cases.case("a folder: 80 columns at most", too_wide(ran))
    cases.case("a folder: one line each and a total", expect("6 sites" in ran.stdout, ran.stdout))

    for name, good, bad, said in SLIPS:
        text = tap.read(f"tests/whole/scripts/{name}.yaml")
        ran = run("check", write("slip.yaml", text.replace(good, bad)))
        cases.case(f"{name}: \"{bad}\": {said}", expect(
            ran.returncode == 2 and said.replace('"', "") in ran.stderr.replace('"', ""), ran.stderr))
        column = text.replace(good, bad).splitlines()
        line, place = next((i + 1, row.index(bad)) for i, row in enumerate(column) if bad in row)
        place += bad.index(": ") + 3
        cases.case(f"{name}: \"{bad}\": its line and column, in characters", expect(
            f"slip.yaml:{line}:{place}:" in ran.stderr, ran.stderr))
    name, good, bad, said = STRANGER
    garden = tap.read(f"tests/whole/scripts/{name}.yaml").replace("住まい", "庭")
    ran = run("check", write("slip.yaml", garden.replace(good, bad)))
    cases.case("a name of which every letter differs is no slip", expect(ran.returncode == 2 and said not in ran.stderr, ran.stderr))

    greek = tap.read("tests/whole/scripts/greek.yaml")
    for says, wanted in (("[σαλόνι]", None), ("[ΣΑΛΌΝΙ]", None), ("[πόρτα, ΚΉΠΟΥ]", None),
                         ("[σαλονι]", 'cannot say "σαλονι"'), ("[θάλασσα]", 'cannot say "θάλασσα"'),
                         ("[πίσω, πόρτα, κήπου, αυλής]", "4 words")):
        ran = run("check", write("words.yaml", greek.replace("says: [σαλόνι]", f"says: {says}")), "--no-usual")
        findings = " ".join(ran.stdout.split())
        ids = [line for line in ("cannot say", "cut short") if line in findings]
        cases.case(f"the Greek word list: {says}", expect(
            (wanted is None and not ids) or (wanted is not None and wanted in findings), ran.stdout + ran.stderr))
    ran = run("check", write("words.yaml", greek.replace("says: [σαλόνι]", "says: [σαλονι]")), "--no-usual")
    cases.case("the Greek word list: the nearest word is offered", expect('"σαλόνι", or another word' in ran.stdout, ran.stdout))
    ran = run("check", write("words.yaml", greek.replace("says: [σαλόνι]", "says: [θάλασσα]")), "--no-usual")
    cases.case("the Greek word list: no word is near", expect("a word that is on the panel's list" in ran.stdout, ran.stdout))
cases.end()
