#!/usr/bin/env python3
"""Allocations refused in a child, those of its libraries too, once and for ever: all is said, or there is no memory, exit
2, and nothing on stdout. Every one of a small site, a sample of the demo's (stride a prime).

Known: without memory libfyaml 0.7.12 itself crashes where it takes in a text (fy_parser_set_string). Those are counted
and shown; a crash anywhere else fails. Nothing is written by a check, so nothing can be half-written."""

import os
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(os.path.dirname(HERE), "architecture"))

import tap  # noqa: E402

LINTEL = os.path.join(tap.BUILD, "shell", "cli", "lintel")
SHIM = os.path.abspath(sys.argv[1])
TOO_LONG_S = 20


def run(arguments, at, for_ever, count=None):
    values = dict(os.environ, LC_ALL="C", LD_PRELOAD=SHIM, FAULTS_AT=str(at))
    values.pop("LINTEL_DATA", None)
    if for_ever:
        values["FAULTS_FOR_EVER"] = "yes"
    if count:
        values["FAULTS_COUNT"] = count
    return subprocess.run([LINTEL, *arguments], cwd=tap.SOURCE, env=values, capture_output=True, text=True,
                          timeout=TOO_LONG_S, check=False)


def wrong_with(ran, good):
    if ran.returncode < 0 and "crashed in" in ran.stderr and "libfyaml" in ran.stderr:
        return "known"
    if ran.returncode == good.returncode and ran.stdout == good.stdout and ran.stderr == "":
        return ""
    if ran.returncode == 2 and ran.stdout == "" and ran.stderr.count("\n") == 1 and "memory" in ran.stderr:
        return ""
    return f"exit {ran.returncode}: {ran.stderr[:200]}{ran.stdout[:100]}"


def sample(cases, name, arguments, exact, stride):
    with tempfile.NamedTemporaryFile() as file:
        good = run(arguments, 0, False, file.name)
        allocations = int(file.read())
    wrong = []
    known = refused = tried = 0
    at = 1
    while at <= allocations:
        for for_ever in (False, True):
            try:
                ran = run(arguments, at, for_ever)
                told = wrong_with(ran, good)
                refused += ran.returncode == 2
            except subprocess.TimeoutExpired:
                told = f"not finished after {TOO_LONG_S} s"
            known += told == "known"
            tried += 1
            if told not in ("", "known"):
                wrong.append(f"allocation {at} of {allocations}{', all after it' if for_ever else ''}: {told}")
        at += 1 if at < exact else stride
    if refused * 2 < tried:
        wrong.append(f"only {refused} of {tried} gave up: is anything refused at all?")
    if known * 10 > tried and exact >= allocations:
        wrong.append(f"{known} of {tried} crashed in libfyaml: more than the known place")
    cases.case(name, wrong)
    print(f"# {name}: {tried} tried of 2 x {allocations}; {refused} gave up, {known} crashed in libfyaml (known)")


tally = tap.Cases()
sample(tally, "check of a small site", ["check", "--jobs", "1", "tests/faults/boathouse.yaml"], 10**6, 1)
sample(tally, "tell of a small site", ["tell", "tests/faults/boathouse.yaml", "keeper comes"], 1, 7)
sample(tally, "check of the demo", ["check", "--jobs", "1", "demo/quayside-as-found.yaml"], 1, 211)
tally.end()
