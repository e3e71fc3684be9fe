#!/usr/bin/env python3
"""The service call from outside: what is typed, what is answered, exit status, JSON, widths, both word sets."""

import json
import os
import re

from program import run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"


def expect(holds, what):
    return [] if holds else [what]


def kinds(site, said):
    return [(e["kind"], e["hour"]) for e in json.loads(run("why", "--json", site, said).stdout)["explanations"]]


cases = tap.Cases()
ran = run("why", FOUND, "siren, 04:35, zone 6")
cases.case("explained: exit 0, nothing on stderr", expect(ran.returncode == 0 and not ran.stderr, ran.stderr[:300]))
cases.case("the routine that does it comes first", expect(' 1  "apprentice opens" as it is' in ran.stdout, ran.stdout[:600]))
cases.case("with the line of the file", expect(re.search(r"perimeter: no delay\s+\(quayside-as-found.yaml:\d+\)", ran.stdout),
                                               ran.stdout[:900]))
cases.case("80 columns at most", [line for line in ran.stdout.splitlines() if len(line) > 80])
for label in ("log", "ask", "test"):
    cases.case(f"how to confirm: {label}", expect(re.search(rf"^    {label} +\S", ran.stdout, re.MULTILINE), "not there"))
cases.case("the caution stands below", expect("put the account on test" in " ".join(ran.stdout.split()), ran.stdout[-400:]))
ran = run("why", FOUND, "--all", "siren, 04:35, zone 6")
cases.case("--all shows more than six", expect(re.search(r"^ 7  ", ran.stdout, re.MULTILINE), ran.stdout[-600:]))
found = kinds(FOUND, "siren, 03:10, zone 6, set")
cases.case("another hour comes after what fits", expect(
    found[0] == ("somebody", "fits") and ("routine", "another hour") in found[1:]
    and found.index(("device", "fits")) < found.index(("routine", "another hour")), str(found)))
ran = run("why", CLEAN, "chime, 03:10, zone 7")
cases.case("nothing explains it: exit 1", expect(ran.returncode == 1 and "Nothing in the file explains it." in ran.stdout,
                                                 f"exit {ran.returncode}: {ran.stdout[:500]}"))
cases.case("nothing explains it: what to ask next", expect("who was there" in ran.stdout, ran.stdout))
told = json.loads(run("why", "--json", FOUND, "siren, 04:35, zone 6").stdout)
cases.case("JSON: as asked", expect(
    told["observed"] == {"said": "siren, 04:35, zone 6", "what": "siren", "from_s": 16500, "to_s": 16559, "zone": 6,
                         "area": None, "stood": "", "mode": None, "who": None, "notes": []}, str(told["observed"])))
first = told["explanations"][0]
cases.case("JSON: the first one", expect(
    (first["kind"], first["routine"], first["accidents"], first["hour"], first["always"], first["begins_s"])
    == ("routine", "apprentice opens", 0, "fits", True, 16200), str(first)[:400]))
cases.case("JSON: its story ends with the siren", expect(first["story"][-1]["bad"] and "siren" in first["story"][-1]["what"],
                                                         str(first["story"][-1:])))
cases.case("JSON: counts", expect(told["counts"]["explanations"] == len(told["explanations"]) and told["exit"] == 0
                                  and told["counts"]["not_settled"] == 0, str(told["counts"])))
cases.case("every accident's story is told by its own panel: order by accidents", expect(
    [e["accidents"] for e in told["explanations"]] == sorted(e["accidents"] for e in told["explanations"]), "not sorted"))
ran = run("why", CLEAN, "chime, 03:10, zone 7")
cases.case("nothing explains it: two at once were tried, and it is said", expect(
    re.search(r"possibilities tried, \d+ of them of two accidents\s+at\s+once", " ".join(ran.stdout.split())), ran.stdout[-300:]))
told = json.loads(run("why", "--json", FOUND, "siren, no signal, 04:35, zone 6").stdout)
kinds_told = [(e["kind"], e["and"], e["accidents"]) for e in told["explanations"]]
cases.case("no signal: a routine's siren, and the path is down", expect(
    told["observed"]["what"] == "no signal" and ("path-down", None, 2) in kinds_told, str(kinds_told)))
cases.case("no signal: a path that is cut before a break-in, below", expect(
    ("somebody", "path-down", 2) in kinds_told and kinds_told[0][2] < 2
    and [bool(k[1]) for k in kinds_told] == sorted(bool(k[1]) for k in kinds_told), str(kinds_told)))
for said, kind in (("jamming, 14:00", "jamming"), ("power cut, 02:00", "mains"), ("path lost", "path-down"),
                   ("device not heard, zone 6", "check-missed"), ("low battery, zone 6", "low-battery")):
    cases.case(f"{said}: {kind}", expect(kind in [of for of, _ in kinds(CLEAN, said)[:2]], str(kinds(CLEAN, said)[:3])))
american = open(os.path.join(tap.SOURCE, FOUND), encoding="utf-8").read().replace("words: uk", "words: us")
for said in ("siren, 04:35, zone 6", "no siren, zone 6, armed", "trouble, 02:00", "not ready", "siren, no signal, 04:35, zone 6",
             "AC lost, 02:00"):
    ran = run("why", "--all", "-", said, text=american)
    lines = [line for line in ran.stdout.splitlines()
             if re.search(r"\b(un)?set(s|ting)?\b|\bmains\b", line)]
    cases.case(f"us: no word of the other set: {said}", lines or expect(ran.stdout, ran.stderr))
ran = run("why", CLEAN)
cases.case("without words: what can be said", expect(ran.returncode == 0 and "bakehouse window" in ran.stdout
                                                     and "fell back to part" in " ".join(ran.stdout.split()),
                                                     ran.stdout + ran.stderr))
ran = run("why", CLEAN, "sirne, 03:10")
cases.case("a word mistyped: exit 2, the nearest, what can be said", expect(
    ran.returncode == 2 and not ran.stdout and 'did you mean "siren"?' in ran.stderr and "exit error" in ran.stderr, ran.stderr))
ran = run("why", CLEAN, "the alarm went off on Tuesday at 3 in the night and nobody was there")
cases.case("everyday words, and a weekday that is not used", expect(
    ran.returncode == 0 and ran.stdout.startswith("siren, 03:00\n") and '"Tuesday" is not used' in ran.stdout,
    ran.stdout[:300] + ran.stderr))
told = json.loads(run("why", "--json", CLEAN, "alarm in the evening, zone 6").stdout)["observed"]
cases.case("a part of the day: the hours it is taken as", expect(
    (told["from_s"], told["to_s"], told["notes"]) == (61200, 82799, ['"in the evening" is taken as 17:00..22:59']), told))
for words, wanted, other in (("uk", "cannot set", "cannot arm"), ("us", "cannot arm", "cannot set")):
    listed = " ".join(run("why", "-", text=american.replace("words: us", f"words: {words}")).stdout.split())
    cases.case(f"{words}: everyday words stand beside the trade's, of its own word set", expect(
        f"not ready ({wanted}" in listed and other not in listed and "siren (went off" in listed, listed[:600]))
for arguments in ((), (CLEAN, "siren", "03:10"), ("nowhere.yaml", "siren"), (CLEAN, "no siren, set"), (CLEAN, "--fast", "siren"),
                  (CLEAN, "")):
    ran = run("why", *arguments)
    cases.case(f"refused: {' '.join(arguments)}", expect(ran.returncode == 2 and not ran.stdout and ran.stderr, ran.stdout[:300]))
cases.end()
