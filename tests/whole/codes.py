#!/usr/bin/env python3
"""Codes from outside: a code of the codes file stands in no output of any command, neither when all is well nor when
something is wrong with it. The codes here are digits that nothing else in the demo has; the words are searched in what
stands on stdout and on stderr."""

import json
import os
import re
import tempfile

from program import run, tap

DEMO = tap.read("demo/quayside.yaml")
NAMED = DEMO.replace("rules: [cp01-2019, house]}", "rules: [cp01-2019, house], codes: house.codes}")
CODES = {"baker": "604817", "partner": "731904", "apprentice": "850263", "driver": "927351", "lodger": "416098",
         "cleaner": "580472", "duress": "263849", "installer": "198463"}
ROUTINE = "first batch"
COMMANDS = (["check"], ["check", "--json"], ["check", "--waivers"], ["check", "--no-usual"],
            ["check", "--against", "SITE"], ["sheet"], ["sheet", "--csv"], ["sheet", "--json"],
            ["sheet", "--against", "SITE"], ["tell", "SITE", ROUTINE], ["tell", "--json", "SITE", ROUTINE],
            ["why", "SITE", "siren, 03:10, zone 6"], ["why", "--json", "SITE", "siren, 03:10, zone 6"])


def written(codes):
    lines = ["people:"] + [f"  {name}: \"{code}\"" for name, code in codes.items() if name not in ("duress", "installer")]
    return "\n".join(lines + [f"{name}: \"{codes[name]}\"" for name in ("duress", "installer") if name in codes]) + "\n"


class Site:
    """A site in a folder of its own, with its codes file beside it."""

    def __init__(self, text=NAMED, codes=None, mode=0o600):
        self.folder = tempfile.TemporaryDirectory()
        self.path = os.path.join(self.folder.name, "site.yaml")
        with open(self.path, "w", encoding="utf-8") as file:
            file.write(text)
        if codes is not None:
            path = os.path.join(self.folder.name, "house.codes")
            with open(path, "w", encoding="utf-8") as file:
                file.write(codes)
            os.chmod(path, mode)

    def run(self, *command):
        given = [self.path if word == "SITE" else word for word in command]
        return run(*given, *([] if self.path in given and command[1] != "--against" else [self.path]))

    def findings(self):
        ran = self.run("check", "--json", "--no-remedy", "--no-usual")
        return [(finding["id"], finding["weight"]) for finding in json.loads(ran.stdout)["findings"]
                if finding["id"].startswith("codes.")]


def leaks(ran, codes):
    return [f"{code} stands in the output" for code in codes if code in ran.stdout + ran.stderr]


def expect(holds, what):
    return [] if holds else [str(what)[:400]]


cases = tap.Cases()
good = Site(codes=written(CODES))
cases.case("good codes: nothing is said of them", expect(good.findings() == [], good.findings()))
for command in COMMANDS:
    ran = good.run(*command)
    cases.case(" ".join(command) + ": works, and holds no code",
               leaks(ran, CODES.values()) + expect(ran.returncode == 0 and ran.stdout, ran.stderr))
planted = run("check", "-", text=NAMED.replace("Quayside bakery", "Quayside 604817"))
cases.finds("a code that is printed is seen", leaks(planted, CODES.values()), "604817")

# Everything wrong at once: each finding speaks of a code, none holds one.
bad = dict(CODES, partner=CODES["baker"], cleaner="1357", duress="604818", installer="9753", gardener="384756")
bad.pop("apprentice")
twin = Site(NAMED.replace("{name: driver,", "{name: driver, left: 2024-02-29,"), written(bad) + "\n")
wanted = {"codes.same", "codes.factory", "codes.duress-near", "codes.for-nobody", "codes.leaver", "codes.none"}
cases.case("bad codes: each is found", expect({identity for identity, _ in twin.findings()} == wanted, twin.findings()))
for command in COMMANDS:
    ran = twin.run(*command)
    cases.case(" ".join(command) + ": works with bad codes, and holds none",
               leaks(ran, bad.values()) + expect(ran.returncode in (0, 1, 3) and ran.stdout, ran.stderr))

absent = Site()
cases.case("no codes file: not computed", expect(absent.findings() == [("codes.not-computed", "note")], absent.findings()))
cases.case("no codes file: so it reads", expect("the checks of the codes: not computed" in absent.run("check").stdout,
                                                absent.run("check").stdout))
cases.case("a site that names none says nothing of it", expect(Site(DEMO).findings() == [], Site(DEMO).findings()))
for mode in (0o640, 0o604, 0o660, 0o644):
    ran = Site(codes=written(CODES), mode=mode).run("check")
    cases.case(f"mode {mode:04o}: refused, and says what to do", leaks(ran, CODES.values()) + expect(
        ran.returncode == 2 and not ran.stdout and re.search(r"site\.yaml:\d+:\d+: site\.codes: .*chmod 600 ", ran.stderr),
        ran.stderr))

# Files that cannot be read: by hand, and one byte of a good one changed at every place.
broken = ["people:\n  baker: 604817x\n", "people:\n  604817: baker\n  604817: baker\n", "604817: 604817\n", "604817\n",
          "people: [604817]\n", "people:\n  baker: as 604817\n", "people: {baker: \"604817\n", "people: {baker: *604817}\n",
          "people:\n  baker: !604817 604817\n", "people:\n\tbaker: 604817\n", "people: {baker: 604817: 604817}\n",
          "duress: [604817, 604817]\n", "people:\n  baker: {604817: 604817}\n", "people: 604817 604817\n"]
for text in broken:
    site = Site(codes=text)
    wrong = []
    for command in (["check"], ["check", "--json"], ["sheet"], ["tell", "SITE", ROUTINE],
                    ["why", "SITE", "siren, 03:10, zone 6"]):
        ran = site.run(*command)
        wrong += leaks(ran, ["604817", "60481"]) + expect(ran.returncode == 2 and ran.stderr, f"{ran.returncode} {ran.stderr}")
    cases.case("refused, and not shown: " + text.replace("\n", "⏎"), wrong)
short = "people:\n  baker: \"604817\"\n  lodger: as baker\nduress: \"263849\"\n"
wrong = []
for at in range(len(short)):
    byte = "\"'{[:#&*!|%@\t-"[at % 14]
    ran = Site(codes=short[:at] + byte + short[at + 1:]).run("sheet")
    wrong += leaks(ran, ["604817", "263849", "04817", "60481", "63849", "26384"])
cases.case("one byte changed at every place: nothing is shown", wrong)
for text in (DEMO.replace("{name: baker,", "{name: baker, code: \"604817\","), DEMO.replace("words: uk,", "words: uk, codes: \"604817\",")):
    ran = Site(text).run("check")
    cases.case("a code in the site file is not shown", leaks(ran, ["604817"]) + expect(ran.returncode == 2, ran.stderr))
cases.end()
