#!/usr/bin/env python3
"""planted.py PROGRAM... : each is a test program of this build with one fault planted in the core (meson.build of this
folder), named NAME-planted, with the words it is run with after a colon. It must fail, and name what it found not so:
a claim of which nothing was asked is no finding."""

import os
import subprocess
import sys

MOST_S = 240

failed = 0
programs = sys.argv[1:]
print(f"1..{len(programs)}")
for number, program in enumerate(programs, 1):
    path, words = program.split(":", 1)
    name = os.path.basename(path).removesuffix("-planted")
    run = subprocess.run([path, *words.split()], capture_output=True, text=True, timeout=MOST_S)
    told = run.returncode == 1 and "not so" in run.stdout
    failed += not told
    print(f"{'ok' if told else 'not ok'} {number} - {name} is told")
    if not told:
        print(f"# status {run.returncode}")
        for line in (run.stdout + run.stderr).splitlines()[-8:]:
            print(f"# {line}")
sys.exit(1 if failed else 0)
