#!/usr/bin/env python3
"""The demos: the clean sites have no fault, and every mistake that was put into their as-found twins is found."""

import json
import os

from program import HERE, run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"

# Each demo, how many mistakes its twin has at least, and mistakes that are told together with another one of the same cause.
DEMOS = (("quayside", 25, ("met on the stairs",)), ("ropewalk", 15, ("glass of water at three",)), ("surgery", 15, ()))


def checked(name):
    ran = run("check", "--json", name)
    try:
        return ran.returncode, json.loads(ran.stdout), ran.stderr
    except json.JSONDecodeError:
        return ran.returncode, None, ran.stdout[:400] + ran.stderr[:400]


def wrong_with_clean(status, report):
    if report is None:
        return ["no JSON came"]
    counts = report["counts"]
    wrong = [] if status == 0 else [f"exit {status}"]
    wrong += [f"{finding['weight']}: {finding['headline']}" for finding in report["findings"]
              if finding["weight"] != "note"]
    wrong += [f"{counts[key]} {key}" for key in ("go_wrong", "not_settled", "faults", "risks") if counts[key] != 0]
    if counts["described"] < 7 or counts["go_well"] != counts["routines"]:
        wrong.append(f"{counts['described']} routines described, {counts['go_well']} of {counts['routines']} go well")
    return wrong


def seeded(name):
    rows = []
    with open(os.path.join(HERE, f"as_found_{name}.txt"), encoding="utf-8") as file:
        for line in file:
            if not line.startswith("#"):
                rows.append([part.strip() for part in line.split("|")])
    return rows


def line_of(lines, finding):
    place = finding["place"] or {}
    number = place.get("line")
    return lines[number - 1] if number else ""


def wrong_with_seed(row, report, lines):
    _, identity, routine, words = row
    seen = []
    for finding in report["findings"]:
        told = routine == "-" or routine == finding["routine"] or routine in finding["also"]
        if finding["id"] == identity and told:
            text = line_of(lines, finding)
            if words in text:
                return []
            seen.append(f"{finding['headline']}: names the line \"{text.strip()}\"")
    return seen or [f"no {identity} of {routine}"]


def told_by_itself(rows, report, together):
    """A mistake that only ever shows under another one's name would be lost on the reader."""
    heads = {finding["routine"] for finding in report["findings"]}
    return [f"{row[2]} is told under another routine only" for row in rows
            if row[2] != "-" and row[2] not in together and row[2] not in heads]


def without_remedy(report, clean):
    """What a routine is mended with always costs something; a number keyed twice is mended for nothing. A usual routine may
    be beyond one or two changes, since several mistakes meet in it: it then says so, and the clean twin shows the way out."""
    usual = {routine["name"] for routine in clean["routines"] if routine["usual"] and routine["verdict"] == "goes well"}
    several = [finding for finding in report["findings"] if finding["remedy"].startswith("none of the changes tried") and
               finding["routine"] in usual]
    return [finding["headline"] for finding in report["findings"] if finding["weight"] == "fault" and finding not in several[:1] and
            (not finding["remedy"] or (finding["routine"] and not finding["price"]))]


def same_people(clean, found):
    """The twin is the same house: only what is keyed in differs."""
    names = [[routine["name"] for routine in report["routines"] if not routine["usual"]] for report in (clean, found)]
    return [] if names[0] == names[1] else ["the twins describe different routines"]


def wrong_with_restart():
    """Every output names its cause: the story says why the exit time starts afresh, and when."""
    ran = run("tell", "--json", CLEAN, "keys on the table")
    lines = json.loads(ran.stdout)["story"] if ran.returncode == 0 else []
    afresh = [line for line in lines if "opened again" in line["because"]]
    return [] if len(afresh) == 1 and afresh[0]["what"].startswith("60 s") else [f"told {len(afresh)} times"]


def told(name, routine):
    return json.loads(run("tell", "--json", name, routine).stdout)


def wrong_with_noise():
    """Nobody passes a detector that listens."""
    lines = told(FOUND, "midnight snack")["story"]
    return [] if any("makes a noise at" in line["what"] for line in lines) else [line["what"] for line in lines]


def wrong_with_when():
    """An exit time that ended in the morning has nothing to do with a door in the evening: no range is claimed."""
    answer = told(FOUND, "leaves and returns by yard way")["routine"]
    late = told(FOUND, "keys on the table")["routine"]
    return ([] if answer["range"] is None else ["a range of the wrong interval"]) + (
        [] if late["range"] is not None else ["no range where one belongs"])


def try_demo(cases, name, least, together):
    clean_status, clean, errors = checked(f"demo/{name}.yaml")
    cases.case(f"{name}: the clean demo has no fault", wrong_with_clean(clean_status, clean) + errors.splitlines()[:5])
    found_status, found, errors = checked(f"demo/{name}-as-found.yaml")
    cases.case(f"{name}: the as-found demo has faults", ([] if found_status == 1 else [f"exit {found_status}"]) +
               ([] if found is not None else [errors]))
    rows = seeded(name)
    cases.case(f"{name}: at least {least} mistakes were put in", [] if len(rows) >= least else [f"{len(rows)}"])
    if clean is None or found is None:
        return
    lines = tap.read(f"demo/{name}-as-found.yaml").splitlines()
    for row in rows:
        cases.case(f"{name}: found: " + row[0], wrong_with_seed(row, found, lines))
        clean_lines = tap.read(f"demo/{name}.yaml").splitlines()
        cases.case(f"{name}: not in the clean demo: " + row[0],
                   [] if wrong_with_seed(row[:3] + [""], clean, clean_lines) else ["it is"])
    cases.case(f"{name}: each mistake is told by itself", told_by_itself(rows, found, together))
    cases.case(f"{name}: each fault has a remedy with its price", without_remedy(found, clean))
    cases.case(f"{name}: the twins are one house", same_people(clean, found))


cases = tap.Cases()
for demo in DEMOS:
    try_demo(cases, *demo)
cases.case("the exit restart is told once, with its reason", wrong_with_restart())
cases.case("a detector that listens is not passed", wrong_with_noise())
cases.case("a range is claimed only of what was under way", wrong_with_when())
cases.end()
