#!/usr/bin/env python3
"""The program attacked from around: streams closed, full or cut off, no threads, no right to read; and sites that are too
large, endless, or made to spoil the terminal. Each time: an answer or words that help, the right exit status, in time, and
nothing written."""

import os
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(os.path.dirname(HERE), "architecture"))

import tap  # noqa: E402

LINTEL = os.path.join(tap.BUILD, "shell", "cli", "lintel")
DEMO = os.path.join(tap.SOURCE, "demo", "quayside-as-found.yaml")
TOO_LONG_S = 60
HEAD = "site: {name: a, invented: yes}\npanel: {profile: %s}\nareas: [{name: b}]\n"


def start(arguments, **more):
    values = dict(os.environ, LC_ALL="C.UTF-8")
    values.pop("LINTEL_DATA", None)
    more.setdefault("stdin", subprocess.DEVNULL)
    more.setdefault("stdout", subprocess.PIPE)
    return subprocess.Popen([LINTEL, *arguments], cwd=more.pop("cwd", tap.SOURCE), env=values, stderr=subprocess.PIPE,
                            **more)


def finished(child, status, told=b"", printed=None):
    """What is wrong with how it ended."""
    try:
        out, err = child.communicate(timeout=TOO_LONG_S)
    except subprocess.TimeoutExpired:
        child.kill()
        child.communicate()
        return [f"not finished after {TOO_LONG_S} s"]
    wrong = [] if child.returncode == status else [f"exit {child.returncode}, not {status}"]
    if told not in err:
        wrong.append(f"wanted: {told!r}; told: {err[:300]!r}")
    if told == b"" and err:
        wrong.append(f"told: {err[:300]!r}")
    if printed is not None and out != printed:
        wrong.append(f"printed: {out[:200]!r}")
    spoils = [byte for byte in (out or b"") + err if byte < 0x20 and byte != 0x0A or byte == 0x7F]
    return wrong + ([f"control characters on a stream: {sorted(set(spoils))}"] if spoils else [])


def streams(cases):
    for command in (["check", DEMO], ["check", "--json", DEMO], ["tell", DEMO], ["keys"], ["panel", "--graph"], ["--help"],
                    ["--version"], ["check", "--help"]):
        name = " ".join("DEMO" if word == DEMO else word for word in command)
        with open("/dev/full", "wb") as full:
            cases.case(f"{name}: stdout is full", finished(start(command, stdout=full), 2, b"could not be written"))
        cases.case(f"{name}: stdout is closed",
                   finished(start(command, preexec_fn=lambda: os.close(1), stdout=None), 2, b"could not be written"))
    with open("/dev/full", "wb") as full:
        child = subprocess.run([LINTEL, "check", "nowhere"], stderr=full, stdout=subprocess.PIPE, check=False)
    cases.case("stderr is full: still exit 2", [] if child.returncode == 2 and child.stdout == b"" else ["exit or output"])
    cases.case("stdin is closed", finished(start(["check", "-"], preexec_fn=lambda: os.close(0), stdin=None), 2,
                                           b"standard input", b""))
    reader, writer = os.pipe()
    os.close(reader)
    child = start(["check", DEMO], stdout=writer)
    os.close(writer)
    child.communicate(timeout=TOO_LONG_S)
    cases.case("nobody reads stdout: ended by SIGPIPE, or exit 2",
               [] if child.returncode in (-signal.SIGPIPE, 2) else [f"exit {child.returncode}"])
    with open("/dev/zero", "rb") as endless:
        cases.case("an endless standard input", finished(start(["check", "-"], stdin=endless), 2, b"standard input", b""))
    cases.case("an endless device", finished(start(["check", "/dev/zero"]), 2, b"/dev/zero", b""))


def limits(cases):
    def few_bytes():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (512, 512))

    with tempfile.TemporaryFile() as file:
        cases.case("the disk is full after 512 bytes",
                   finished(start(["check", DEMO], stdout=file, preexec_fn=few_bytes), 2, b"could not be written"))


def sites(cases):
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(os.path.join(tap.SOURCE, "data", "devices"), os.path.join(folder, "devices"))
        panel = re.sub(r"^wired:.*\n", "", tap.read("data/panels/halyard-28.yaml").replace("zones: 28", "zones: 128")
                       .replace("radio: 1..28", "radio: 1..128"),
                       flags=re.MULTILINE)
        with open(os.path.join(folder, "big.yaml"), "w", encoding="utf-8") as file:
            file.write(panel)

        def attack(name, content, status, told, *options):
            path = os.path.join(folder, "site.yaml")
            with open(path, "w", encoding="utf-8") as file:
                file.write(content)
            before = sorted(os.listdir(folder)), os.stat(path).st_mtime_ns
            wrong = finished(start(["check", *options, "site.yaml"], cwd=folder), status, told)
            after = sorted(os.listdir(folder)), os.stat(path).st_mtime_ns
            cases.case(name, wrong + ([] if before == after else ["something was written"]))

        head = HEAD % "halyard-28"
        attack("a site with only a name", "site: {name: a}\n", 2, b'the key "panel" is missing')
        attack("no areas", head.replace("[{name: b}]", "[]"), 2, b":3:8: areas: an empty list; at least one")
        attack("no zones, no routines", head + "zones: []\nroutines: []\n", 1, b"")
        attack("a name of 1 MB", head.replace("name: a", "name: " + "x" * 10**6), 2, b":1:14: site.name: 1000000 characters")
        attack("a key of 1 MB", head + "x" * 10**6 + ": 1\n", 2, b":4:")
        attack("colours in a name", head.replace("name: a", 'name: "a\\e[31m"'), 2, b":1:14: site.name: line breaks")
        attack("a line break in a name", head.replace("name: a", 'name: "a\\nb"'), 2, b":1:14: site.name: line breaks")
        attack("colours in a key", head + '"z\\e[31m": 1\n', 2, b'"z?[31m"')
        attack("writing turned round in a key", head + '"z\\u202e": 1\n', 2, b'"z?"')
        attack("colours in the name of a delay",
               head.replace("halyard-28", 'halyard-28, entry-delays: {"a\\e[31m": 30 s}'), 2, b":2:")
        attack("colours in a reference", head + 'keypads: [{name: k, areas: ["\\e[2J"]}]\n', 2, b'"?[2J"')
        most = HEAD % "big.yaml" + "keypads: [{name: k}]\ndoors: [{name: d, outside: yes}]\npeople: [{name: p}]\ndevices:\n"
        most += "".join(f"- {{name: c{n}, profile: slim-contact, on: d}}\n" for n in range(128)) + "zones:\n"
        most += "".join(f"- {{number: {n + 1}, says: [z{n}], device: c{n}, behaviour: perimeter}}\n" for n in range(128))
        steps = "  - {in: 1..9 s, open: d}\n  - {in: 1..9 s, close: d}\n" * 32
        crowd = most + "routines:\n" + "".join(f"- name: r{n}\n  who: p\n  steps:\n{steps}" for n in range(256))
        attack("128 zones, 256 routines of 64 steps: in time", crowd, 0, b"")


tally = tap.Cases()
streams(tally)
limits(tally)
sites(tally)
tally.end()
