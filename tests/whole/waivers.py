#!/usr/bin/env python3
"""Waivers from outside: the line that check prints can be pasted and takes the finding out of the count; one that has
ended, whose finding is gone or has changed is said; text and JSON show them apart."""

import json
import re

from program import run, tap

FOUND = "demo/quayside-as-found.yaml"
PLAIN = tap.read(FOUND)
SIDE = '"zone 6 behaviour"'


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


def line_of(lines, about):
    """The line that names this, filled in as a technician would."""
    found = [line for line in lines.splitlines() if about in line and line.startswith("  - {")]
    return found[0].replace('reason: ""', 'reason: "the new door comes in May"').replace(
        'by: ""', "by: the owner").replace("YYYY-MM-DD", "2027-05-31") if found else ""


def check(waived, *options, text=PLAIN, today="2027-01-01"):
    whole = text + ("\nwaived:\n" + waived + "\n" if waived else "")
    return json.loads(run("check", "-", "--json", "--no-remedy", "--today", today, *options, text=whole).stdout)


def ids(findings):
    return [(finding["id"], finding["about"]) for finding in findings]


def said(report):
    return [finding for finding in report["findings"] if finding["id"].startswith("waiver.")]


cases = tap.Cases()
lines = run("check", FOUND, "--waivers").stdout
before = check("")
cases.case("a line for every finding", expect(lines.count("  - {") == len(before["findings"]), lines[:300]))
cases.case("the same line is in the JSON", expect(
    all("  - " + finding["waiver"] in lines for finding in before["findings"]), before["findings"][0]["waiver"]))
ran = run("check", "-", text=PLAIN + "\n" + lines)
cases.case("pasted as it is printed it is refused: it wants reason, name and day", expect(
    ran.returncode == 2 and "YYYY-MM-DD" in ran.stderr and "1 to 300" in ran.stderr, ran.stderr))
everything = lines.replace('reason: ""', 'reason: "as it is"').replace('by: ""', "by: us").replace("YYYY-MM-DD", "2027-05-31")
ran = run("check", "-", "--today", "2027-05-31", text=PLAIN + "\n" + everything)
cases.case("all of it waived, on the last day: exit 0, listed apart", expect(
    ran.returncode == 0 and "waived, not counted" in ran.stdout and f" · {len(before['findings'])} waived · exit 0" in ran.stdout.replace("\n  ", " "),
    ran.stdout[-300:]))
cases.case("who, why and until when are said", expect(
    re.search(r"waived +until 2027-05-31, by us: as it is", ran.stdout), ran.stdout[-300:]))
cases.case("80 columns at most", [line for line in ran.stdout.splitlines() if len(line) > 80])
link = line_of(lines, '"window contact" may not reach'.replace('"', chr(92) + '"'))
alone = check(link)
cases.case("one of several about the same is waived: the others count, and the waiver is as it was", expect(
    alone["counts"]["waived"] == 1 and not said(alone) and len([one for one in ids(alone["findings"]) if one == ("radio.may-not-reach", "panel behind")]) == 2,
    [alone["counts"], said(alone)]))
side = line_of(lines, SIDE)
one = check(side)
cases.case("one waived: one fault less, the rest as before", expect(
    one["counts"]["faults"] == before["counts"]["faults"] - 1 and one["counts"]["waived"] == 1
    and ids(one["waived"]) == [("routine.false-alarm", "zone 6 behaviour")] and not said(one)
    and one["waived"][0]["waiver"] == {"reason": "the new door comes in May", "by": "the owner", "until": "2027-05-31"}
    and one["exit"] == 1, one["counts"]))
late = check(side, today="2027-06-01")
cases.case("the day after its last it has ended, and the fault counts", expect(
    late["counts"]["faults"] == before["counts"]["faults"] and [f["id"] for f in said(late)] == ["waiver.ended"]
    and "2027-05-31" in said(late)[0]["why"] and late["exit"] == 1, said(late)))
gone = check(side, text=PLAIN.replace("device: side contact, area: shop, behaviour: perimeter",
                                      "device: side contact, area: shop, behaviour: entry, delay: side"))
cases.case("its finding mended: it waives nothing", expect([f["id"] for f in said(gone)] == ["waiver.vanished"], said(gone)))
wrong = check(side.replace("zone 6", "zone 66"))
cases.case("a slip in the name waives nothing and says what there is", expect(
    [f["id"] for f in said(wrong)] == ["waiver.vanished"] and SIDE in said(wrong)[0]["why"], said(wrong)))
fewer = check(re.sub(r"routines: \[[^]]*\]", 'routines: ["apprentice opens"]', side))
cases.case("a routine that it does not name: it no longer covers", expect(
    [f["id"] for f in said(fewer)] == ["waiver.changed"] and not fewer["waived"]
    and "leaves and returns by side way" in said(fewer)[0]["why"], said(fewer)))
lighter = check(side.replace("weight: fault", "weight: risk"))
cases.case("heavier than it was waived: it no longer covers", expect(
    [f["id"] for f in said(lighter)] == ["waiver.changed"] and "risk" in said(lighter)[0]["why"], said(lighter)))
abort = line_of(lines, '"panel abort-window"')
cases.case("a note waived as it reads", expect(ids(check(abort)["waived"]) == [
    ("settings.entry-plus-abort", "panel abort-window")], abort))
other = check(abort, text=PLAIN.replace("abort-window: 45 s", "abort-window: 44 s"))
cases.case("a note that says another figure: it no longer covers", expect(
    [f["id"] for f in said(other)] == ["waiver.changed"] and "90 s" in said(other)[0]["why"], said(other)))
part = check(side.replace(SIDE, '"zone 4 behaviour"').replace("apprentice opens", "x"), "--no-usual")
cases.case("where not every routine was looked at nothing is called gone", expect(
    not [f for f in said(check(line_of(lines, "panel exit-delay, zone 9"), "--no-usual")) if f["id"] == "waiver.vanished"],
    said(part)))
itself = check("  - {finding: waiver.vanished, about: nothing, reason: r, by: b, until: 2027-05-31}")
cases.case("a waiver's own finding cannot be waived", expect(
    [f["id"] for f in said(itself)] == ["waiver.vanished"] and said(itself)[0]["waiver"] is None, said(itself)))
ran = run("tell", "-", "apprentice opens", "--today", "2027-01-01", text=PLAIN + "\nwaived:\n" + side + "\n")
cases.case("told, it still goes wrong, and who answers for it is said", expect(
    ran.returncode == 1 and "by the owner: the new door" in ran.stdout, ran.stdout[-300:]))
for options in (("--today", "2027-13-01"), ("--today", "tomorrow"), ("--waivers", "--json"), ("--waivers", "--no-usual")):
    ran = run("check", FOUND, *options)
    cases.case(f"refused: {' '.join(options)}", expect(ran.returncode == 2 and not ran.stdout and ran.stderr, ran.stdout))
cases.end()
