#!/usr/bin/env python3
"""Every call that the program makes of the system refused in turn, once and for ever (all of its name), over `check`,
`tell` and `sheet` of the demo, and `sheet` with a codes file (and each sync of `archive backup`): all is said as ever, or it is said what failed, exit 2. On
stdout stands all of the work or none of it, and no code anywhere."""

import collections
import concurrent.futures
import os
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(os.path.dirname(HERE), "architecture"))

import tap  # noqa: E402

LINTEL = os.path.join(tap.BUILD, "shell", "cli", "lintel")
SHIM = os.path.abspath(sys.argv[1])
DEMO = "demo/quayside.yaml"
CODES = ("604817", "731904")  # nowhere else in the demo
TOO_LONG_S = 20
# Made by each command, or the shim has missed them; refused once, each leaves work undone and must be told.
NEEDED = {"open64", "read", "fstat64", "fwrite", "fflush"}
# Whoever asks for these does without the answer.
DONE_WITHOUT = {"close", "pthread_create", "clock_gettime", "sysconf", "sigaction", "isatty"}


def run(arguments, name, at, for_ever, listed=None):
    values = dict(os.environ, LC_ALL="C", LD_PRELOAD=SHIM, FAULTS_NAME=name, FAULTS_AT=str(at))
    values.pop("LINTEL_DATA", None)
    if for_ever:
        values["FAULTS_FOR_EVER"] = "yes"
    if listed:
        values["FAULTS_LIST"] = listed
    return subprocess.run([LINTEL, *arguments], cwd=tap.SOURCE, env=values, capture_output=True, text=True,
                          timeout=TOO_LONG_S, check=False)


def wrong_with(ran, good, name, for_ever):
    if (ran.returncode, ran.stdout, ran.stderr) == (good.returncode, good.stdout, good.stderr):
        return "nobody noticed" if name in NEEDED else ""
    if any(code in ran.stdout + ran.stderr for code in CODES):
        return f"a code is told: {ran.stderr[:200]!r}"
    if ran.returncode != 2 or not ran.stderr.endswith("\n") or ran.stdout not in ("", good.stdout):
        return f"exit {ran.returncode}: {ran.stderr[:200]!r} {ran.stdout[:100]!r}"
    return "is not done without" if name in DONE_WITHOUT and not for_ever else ""


def try_call(arguments, good, at, name, for_ever):
    try:
        told = wrong_with(run(arguments, name, at, for_ever), good, name, for_ever)
    except subprocess.TimeoutExpired:
        told = f"not finished after {TOO_LONG_S} s"
    return [f"{name} number {at}{' and all after it' if for_ever else ''}: {told}"] if told else []


def every_call(cases, arguments):
    with tempfile.NamedTemporaryFile("r") as file:
        good = run(arguments, "", 0, False, file.name)
        names = file.read().split()
    counts = collections.Counter(names)
    wrong = [] if good.returncode == 0 else [f"exit {good.returncode} with nothing refused: {good.stderr[:200]}"]
    wrong += [f"{name} is never called" for name in sorted(NEEDED - counts.keys())]
    files = sorted(os.listdir(os.path.join(tap.SOURCE, "demo")))
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        tries = [pool.submit(try_call, arguments, good, at, name, for_ever)
                 for name, count in counts.items() for at in range(1, count + 1) for for_ever in (False, True)]
        wrong += [line for one in tries for line in one.result()]
    if files != sorted(os.listdir(os.path.join(tap.SOURCE, "demo"))):
        wrong.append("files were left beside the demo")
    cases.case(" ".join(arguments), wrong)
    print("# " + ", ".join(f"{name} {count}" for name, count in sorted(counts.items())))


def every_sync_of_a_copy(cases):
    """A copy is said to be made only once it, and its name in the folder, have been brought to the disk."""
    with tempfile.TemporaryDirectory() as folder:
        archive, copy = (os.path.join(folder, name) for name in ("signals.db", "copy.db"))
        subprocess.run([LINTEL, "archive", "import", archive, "-"], input="", cwd=tap.SOURCE, capture_output=True, text=True, check=True)
        words = ["archive", "backup", archive, copy]
        with tempfile.NamedTemporaryFile("r") as file:
            good = run(words, "", 0, False, file.name)
            count = file.read().split().count("fsync")
        wrong = [] if good.returncode == 0 and os.path.exists(copy) and count >= 2 else [f"exit {good.returncode}, {count} syncs"]
        for at in range(1, count + 1):
            if os.path.exists(copy):
                os.remove(copy)
            ran = run(words, "fsync", at, False)
            last = at == count
            told = "may not be on the disk yet" if last else "cannot be"
            if ran.returncode != 2 or told not in ran.stderr or os.path.exists(copy) != last or os.path.exists(copy + ".part"):
                wrong.append(f"sync {at} of {count}: exit {ran.returncode}: {ran.stderr} {os.listdir(folder)}")
    cases.case("archive backup, each sync refused", wrong)


tally = tap.Cases()
every_sync_of_a_copy(tally)
every_call(tally, ["check", "--jobs", "2", DEMO])
every_call(tally, ["tell", DEMO, "home in the rain"])
every_call(tally, ["sheet", DEMO])
with tempfile.TemporaryDirectory() as folder:
    site = os.path.join(folder, "site.yaml")
    codes = os.path.join(folder, "house.codes")
    with open(site, "w", encoding="utf-8") as file:
        file.write(tap.read(DEMO).replace("invented: yes,", "invented: yes, codes: house.codes,"))
    with open(codes, "w", encoding="utf-8") as file:
        file.write("people:\n" + "".join(f"  {who}: \"{code}\"\n" for who, code in zip(("baker", "lodger"), CODES)))
    os.chmod(codes, 0o600)
    every_call(tally, ["sheet", site])
tally.end()
