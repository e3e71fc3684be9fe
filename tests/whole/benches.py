#!/usr/bin/env python3
"""The benches that speak to a running program still run: each in its quick mode, to its end, with a figure in every row. No figure
is judged. (`bench/run` is not here: it is compiled with the rest and takes minutes; what it calls are functions of the core.)"""

import os
import re
import shutil
import subprocess
import sys

from program import tap

BENCHES = {
    ("node", "bench/page.mjs"): ["a detector dragged to its new sight", "13 zones: a value changed to its verdict", "128 zones: and to remedies and all"],
    ("node", "bench/sites.mjs"): ["an empty request", "open the site of 128 zones", "edits: the server holds", "the page:"],
    (sys.executable, "bench/signals", tap.BUILD): ["1  TCP ", "10  UDP AES ", "an event, AES-128", "with 1,800 more, in clear"],
}


def quick(words):
    """How it ended, and all that it printed. It serves what was built in LINTEL_BUILD."""
    ran = subprocess.run([*words, "--quick"], cwd=tap.SOURCE, env=dict(os.environ, LINTEL_BUILD=tap.BUILD), capture_output=True,
                         text=True, timeout=240, check=False)
    return ran.returncode, ran.stdout + ran.stderr


def wrong_rows(code, printed, rows):
    """Rows without a figure after their name."""
    missing = [row for row in rows if not re.search(re.escape(row) + r".*?\d", printed)]
    return [f"no figure: {row}" for row in missing] + ([f"it ended with {code}"] if code != 0 else []) + \
        (printed.strip().splitlines()[-6:] if missing or code != 0 else [])


cases = tap.Cases()
cases.finds("a row without a figure is found", wrong_rows(0, "one row  12 ms\nanother row  -\n", ["one row", "another row"])[:1], "another row")
for words, rows in BENCHES.items():
    name = f"{words[1]} runs to its end"
    code, printed = quick(words) if shutil.which(words[0]) else (0, "not measured: node is not here")
    if "not measured" in printed:
        cases.case(f"{name} # SKIP {printed.strip().splitlines()[-1]}", [])
    else:
        cases.case(name, wrong_rows(code, printed, rows))
cases.end()
