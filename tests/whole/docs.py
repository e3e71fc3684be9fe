#!/usr/bin/env python3
"""What the documents show is what the program prints: every `$ lintel ...` in a console block is run from the
repository's folder, and what stands below it must be its output, line by line. A line `...` stands for any lines left
out. `docs.py --write` puts the present output into the documents instead; read it before it is committed."""

import glob
import os
import re
import shlex
import sys
import tempfile

from program import run, tap

BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def shown_in(text):
    """(command, expected lines) of every command shown."""
    shown = []
    for block in BLOCK.findall(text):
        for line in block.splitlines():
            if line.startswith("$ "):
                shown.append((line[2:], []))
            elif shown:
                shown[-1][1].append(line)
    return [(command, lines) for command, lines in shown if command.startswith("lintel ")]


def matches(expected, got):
    """Whether the lines are those expected; `...` takes any number of lines."""
    if not expected:
        return not got
    if expected[0] == "...":
        return any(matches(expected[1:], got[i:]) for i in range(len(got) + 1))
    return bool(got) and expected[0] == got[0] and matches(expected[1:], got[1:])


def first_difference(expected, got):
    for i, line in enumerate(expected):
        if line == "...":
            break
        if i >= len(got) or got[i] != line:
            return [f"shown:   {line}", f"printed: {got[i] if i < len(got) else '(nothing more)'}"]
    return ["what stands after a `...` is not printed, or more is"]


def wrong_with(command, expected):
    ran = run(*shlex.split(command)[1:])
    got = [line.rstrip() for line in (ran.stdout + ran.stderr).splitlines()]
    while expected and not expected[-1]:
        expected = expected[:-1]
    if ran.returncode not in (0, 1, 3):
        return [f"exit {ran.returncode}: {got[:3]}"]
    if not expected or matches(expected, got):
        return []
    return first_difference(expected, got)


def paragraph_from(got, first):
    """The lines from the one that reads like `first` to the next empty one."""
    if first not in got:
        return [first]
    start = got.index(first)
    end = got.index("", start) if "" in got[start:] else len(got)
    return got[start:end]


def shortened(expected, got):
    """The output with what the document leaves out left out again: each part shown is a paragraph, known by its first
    line; the last one is as many lines of the end."""
    parts = "\n".join(expected).split("\n...\n")
    if len(parts) == 1:
        return ["..."] if expected == ["..."] else got
    new = [paragraph_from(got, got[0])]
    new += [paragraph_from(got, part.splitlines()[0]) for part in parts[1:-1]]
    new.append(got[-len(parts[-1].splitlines()):])
    return "\n...\n".join("\n".join(part) for part in new).splitlines()


def written_afresh(text):
    """The text with the output of today."""

    def block(match):
        lines = []
        for command, expected in shown_in(match.group(0)):
            ran = run(*shlex.split(command)[1:])
            got = [line.rstrip() for line in (ran.stdout + ran.stderr).splitlines()]
            lines += ["$ " + command] + shortened(expected, got)
        return "```console\n" + "".join(line + "\n" for line in lines) + "```" if lines else match.group(0)

    return BLOCK.sub(block, text)


def wrong_with_profile(text):
    """The device of docs/adding.md, saved as the page says, beside a copy of the demo that uses it."""
    profile = re.search(r"^```yaml\n(name: ([a-z-]+)\n.*?)^```$", text, re.MULTILINE | re.DOTALL)
    if profile is None:
        return ["no profile is shown"]
    site = tap.read("demo/quayside.yaml").replace("profile: wired-motion", "profile: " + profile.group(2))
    with tempfile.TemporaryDirectory() as folder:
        os.mkdir(os.path.join(folder, "devices"))
        for name, content in (("site.yaml", site), (f"devices/{profile.group(2)}.yaml", profile.group(1))):
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(content)
        ran = run("check", os.path.join(folder, "site.yaml"))
    return [] if ran.returncode == 0 else [f"exit {ran.returncode}"] + ran.stderr.splitlines()[:5]


HOUSE = """site: {name: Cottage, invented: yes}
panel: {profile: halyard-28, entry-delays: {front: 30 s}}
areas: [{name: house}]
doors: [{name: front door, outside: yes}]
devices: [{name: front contact, profile: slim-contact, on: front door}]
zones: [{number: 1, says: [front], device: front contact, behaviour: entry}]
"""


def wrong_with_house(text):
    """The house in ten lines of docs/drawing.md has no fault, and `lintel plan` says of it what the page shows."""
    block = re.search(r"^```yaml\n(building:\n.*?)^```$.*?^```text\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    if block is None:
        return ["no house is shown"]
    lines = block.group(1).splitlines()
    ran = run("check", "--json", "-", text=HOUSE + block.group(1))
    drawn = run("plan", "-", text=HOUSE + block.group(1))
    wrong = [f"{len(lines)} lines"] if len(lines) > 10 else []
    wrong += ran.stderr.splitlines()[:3] + drawn.stderr.splitlines()[:3]
    wrong += ["a finding: drawing"] if '"drawing.' in ran.stdout else []
    got = [line.rstrip() for line in drawn.stdout.splitlines()]
    return wrong + ([] if got == block.group(2).splitlines() else first_difference(block.group(2).splitlines(), got))


SECTION = re.compile(r"\]\(\.\./(data/[a-z0-9/-]+\.yaml)\):\n\n((?:\|.*\n)+)")


def not_in_profiles(text, read=tap.read):
    """Lines of a profile that a table of docs/profiles.md shows and the profile below data/ has not."""
    wrong = []
    for path, table in SECTION.findall(text):
        lines = [line.strip().split(" #")[0].strip() for line in read(path).splitlines()]
        wrong += [f"{path}: {shown}" for shown in re.findall(r"\| `([^`]*)` \|$", table, re.MULTILINE) if shown not in lines]
    return wrong if SECTION.search(text) else ["no table with its profile"]


documents = ["README.md"] + sorted(os.path.relpath(path, tap.SOURCE) for path in glob.glob(tap.SOURCE + "/docs/*.md"))
if sys.argv[1:] == ["--write"]:
    for document in documents:
        before = tap.read(document)
        after = written_afresh(before)
        if after != before:
            with open(os.path.join(tap.SOURCE, document), "w", encoding="utf-8") as file:
                file.write(after)
    sys.exit(0)

cases = tap.Cases()
planted = shown_in("```console\n$ lintel --help\nplanted line\n```\n")
cases.finds("a planted line is found", [line for shown in planted for line in wrong_with(*shown)][:1], "planted line")
count = 0
for document in documents:
    for command, expected in shown_in(tap.read(document)):
        count += 1
        cases.case(f"{document}: {command}", wrong_with(command, expected))
cases.case("the profile of docs/adding.md can be used as it says", wrong_with_profile(tap.read("docs/adding.md")))
cases.case("the profile test can fail", [] if wrong_with_profile("```yaml\nname: no-sense\n```\n") else ["it cannot"])
cases.case("the house of docs/drawing.md stands in ten lines", wrong_with_house(tap.read("docs/drawing.md")))
cases.case("the house test can fail", [] if wrong_with_house("```yaml\nbuilding:\n  rooms: []\n```\n```text\n```\n") else ["it cannot"])
cases.case("the profiles of docs/profiles.md are those of data/", not_in_profiles(tap.read("docs/profiles.md")))
cases.finds("a line that the profile has not is found", not_in_profiles(
    "[p](../data/p.yaml):\n\n| a | b |\n| --- | --- |\n| x | `zones: 9` |\n", lambda path: "zones: 8  # eight\n"), "zones: 9")
cases.case("a line that the profile has is not", not_in_profiles(
    "[p](../data/p.yaml):\n\n| x | `zones: 8` |\n", lambda path: "zones: 8  # eight\n"))
cases.case("commands are shown", [] if count >= 2 else [f"only {count}"])
cases.end()
