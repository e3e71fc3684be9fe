#!/usr/bin/env python3
"""The one that counts the tests is tested: a crash, a hang, a test that ran nothing, a case that never came, a bad exit are
failures, and no tests at all are one. (A stand-in for Meson lists small shell programs.)"""

import json
import os
import subprocess
import tempfile

import tap

PROGRAMS = {
    "good": "echo 1..2; echo 'ok 1 - a'; echo 'ok 2 - b'",
    "bad": "echo 1..2; echo 'ok 1 - a'; echo 'not ok 2 - b'; exit 1",
    "bad-exit-0": "echo 1..1; echo 'not ok 1 - b'",
    "crash": "echo 1..2; echo 'ok 1 - a'; kill -ABRT $$",
    "exit": "echo 1..1; echo 'ok 1 - a'; exit 3",
    "empty": "echo 1..0",
    "silent": "true",
    "short": "echo 1..3; echo 'ok 1 - a'",
    "hang": "echo 1..1; echo 'ok 1 - a'; sleep 60",
    "in-build": "test -f here; echo ok 1 - a; test -f here || exit 1",
    "skip": "echo 'ok 1 - a # SKIP no referee here'; echo 1..1",
}


def run(folder, names, *options, suites=("unit",), build="tested"):
    """Last line and exit of tools/run-tests over these programs of one build; the other, "plain", has none."""
    listed = os.path.join(folder, "listed.json")
    tests = [{"name": name, "cmd": ["sh", "-c", PROGRAMS[name]], "env": {}, "suite": ["lintel:" + suite for suite in suites],
              "timeout": 1 if name == "hang" else 20, "workdir": None} for name in names]
    with open(listed, "w", encoding="utf-8") as file:
        json.dump(tests, file)
    stand_in = os.path.join(folder, "meson")
    with open(stand_in, "w", encoding="utf-8") as file:
        file.write(f'#!/bin/sh\ncase "$*" in *{build}) cat "{listed}";; *) echo "[]";; esac\n')
    os.chmod(stand_in, 0o755)
    os.makedirs(os.path.join(folder, build), exist_ok=True)
    with open(os.path.join(folder, build, "here"), "w", encoding="utf-8"):
        pass
    result = subprocess.run([os.path.join(tap.SOURCE, "tools", "run-tests"), *options, "tested", "plain"], check=False,
                            cwd=folder, capture_output=True, text=True, env=dict(os.environ, PATH=folder + ":" + os.environ["PATH"]))
    return (result.stdout.splitlines() or [result.stderr])[-1], result.returncode


EXPECTED = [
    (["good"], "2 passed, 0 failed", 0),
    (["good", "bad"], "3 passed, 1 failed", 1),
    (["bad-exit-0"], "0 passed, 1 failed", 1),
    (["crash"], "1 passed, 1 failed", 1),
    (["exit"], "1 passed, 1 failed", 1),
    (["empty"], "0 passed, 1 failed", 1),
    (["silent"], "0 passed, 1 failed", 1),
    (["short"], "1 passed, 1 failed", 1),
    (["hang"], "1 passed, 1 failed", 1),
    (["in-build"], "1 passed, 0 failed", 0),
    (["good", "skip"], "2 passed, 0 failed", 0),
    (["skip"], "0 passed, 0 failed", 1),
    ([], "0 passed, 0 failed", 1),
]

cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    for names, line, code in EXPECTED:
        said = run(folder, names)
        cases.case(f"{' and '.join(names) or 'nothing'}: {line}", [] if said == (line, code) else [str(said)])
    said = run(folder, ["good"], suites=("long",), build="plain")
    cases.case("a long test waits for --long", [] if said == ("0 passed, 0 failed", 1) else [str(said)])
    said = run(folder, ["good"], "--long", suites=("long",), build="plain")
    cases.case("and runs with it", [] if said == ("2 passed, 0 failed", 0) else [str(said)])
    said = run(folder, ["good"], "--long", suites=("long",), build="tested")
    cases.case("but not under sanitizers", [] if said == ("0 passed, 0 failed", 1) else [str(said)])
cases.end()
