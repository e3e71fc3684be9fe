#!/usr/bin/env python3
"""`lintel accept` and `lintel rehearse` against `lintel listen`: a rehearsal of each demo site ticks off the whole list; a
panel that is keyed in wrong is caught, and told why."""

import json
import os
import re
import subprocess
import tempfile
import time

from panels import KEY, Listener, ack, event
from program import LINTEL, run, tap

HAND = ("on test", "station", "off test")


def listed(site, archive, *more):
    ran = run("accept", site, "--archive", archive, "--json", *more)
    return ran.returncode, json.loads(ran.stdout) if ran.stdout else ran.stderr


def by_hand(site, archive, *tests):
    for test in tests:
        listed(site, archive, "--hand", test, "--by", "N. Tester (invented)")


def states(answer):
    return {test["name"]: test["state"] for test in answer["tests"]}


def account_of(site):
    with open(os.path.join(tap.SOURCE, site)) as file:
        return re.search(r'account: "(\w+)"', file.read()).group(1)


def rehearsed(folder, panel, site=None, options=(), keys=None, before=("on test",)):
    """A rehearsal of one site's panel against another's list: exit and answer of accept, and what rehearse said."""
    site = site or panel
    account = account_of(site)
    listener = Listener(folder, "--rate", "0", keys=keys or f"account {account} clear\n")
    try:
        listed(site, listener.archive)
        by_hand(site, listener.archive, *before)
        words = ["--to", f"127.0.0.1:{listener.port}", "--speed", "0", *options]
        if keys is not None:
            words += ["--keys", os.path.join(folder, "keys")]
        ran = run("rehearse", panel, *words)
        status, answer = listed(site, listener.archive)
    finally:
        listener.end()
    return status, answer, ran, listener.archive


def twin(folder, pattern, becomes):
    """The bakery's panel, keyed in otherwise than the file says."""
    with open(os.path.join(tap.SOURCE, "demo/quayside.yaml")) as file:
        text = file.read()
    changed, count = re.subn(pattern, becomes, text)
    assert count > 0, pattern
    path = os.path.join(folder, "twin.yaml")
    with open(path, "w") as file:
        file.write(changed)
    return path


cases = tap.Cases()
for demo, options, keys in [("quayside", (), None), ("ropewalk", ("--udp",), "key"), ("surgery", ("--sia",), None)]:
    site = f"demo/{demo}.yaml"
    with tempfile.TemporaryDirectory() as folder:
        keys = keys and f"account {account_of(site)} key {KEY}\n"
        status, answer, ran, archive = rehearsed(folder, site, options=options, keys=keys)
        wrong = [] if ran.returncode == 0 else [ran.stdout[-500:] + ran.stderr]
        left = [name for name, state in states(answer).items() if state not in ("done", "by hand") and name not in HAND]
        wrong += [f"left open: {left}", *answer["explained"]] if left or answer["explained"] else []
        wrong += [] if status == 1 and answer["open"] == 2 else [f"exit {status}, {answer['open']} open"]
        by_hand(site, archive, "station")
        status, answer = listed(site, archive)
        wrong += [] if status == 1 and not answer["accepted"] else ["accepted while on test"]
        by_hand(site, archive, "off test")
        status, answer = listed(site, archive)
        wrong += [] if status == 0 and answer["accepted"] else [f"not accepted: exit {status}"]
        bare = [test["name"] for test in answer["tests"] if test["state"] == "done" and
                not all("frame" in signal for signal in test["signals"])]
        wrong += [f"without their frame: {bare}"] if bare else []
        cases.case(f"a rehearsal ticks off the whole list: {demo} {' '.join(options)} {'encrypted' if keys else ''}", wrong)

for name, pattern, becomes, zone, says in [
        ("two numbers exchanged", r"\{number: (1|6), ", lambda m: "{number: %d, " % (7 - int(m.group(1))), "zone 6", "wrong zone"),
        ("another area", r"window contact, area: shop", "window contact, area: flat",
         "zone 7", "wrong area: zone 7"),
        ("another code", r'  account: "4021"', '  account: "4021"\n  events: {perimeter: "133"}', "zone 7", "came as 133")]:
    with tempfile.TemporaryDirectory() as folder:
        status, answer, ran, archive = rehearsed(folder, twin(folder, pattern, becomes), "demo/quayside.yaml")
        told = [text for text in answer["explained"] if says in text]
        good = status == 1 and states(answer)[zone] not in ("done", "by hand") and told
        cases.case(f"a panel keyed in wrong is caught: {name}",
                   [] if good else [f"{zone}: {states(answer)[zone]}", *answer["explained"], ran.stderr])

with tempfile.TemporaryDirectory() as folder:
    site = "demo/quayside.yaml"
    listener = Listener(folder, keys="account 4021 clear\n")
    words = [LINTEL, "accept", site, "--archive", listener.archive]
    first = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=tap.SOURCE, text=True)
    time.sleep(1)
    first.stdin.write("ok N. Tester\n\n")
    first.stdin.flush()
    time.sleep(1)
    with listener.udp() as panel:
        def sends(number, text):
            panel.send(event(number, "4021", text))
            return panel.recv(1000) == ack(number, "4021")
        sends(1, "1132 02 011")  # at once, though delay and abort window take longer
        time.sleep(0.6)
        first.kill()
        out = first.communicate()[0]
        early = listed(site, listener.archive)[1]
        sends(2, "1132 02 011")
        waits = listed(site, listener.archive)[1]
        sends(3, "3132 02 011")
        done = listed(site, listener.archive)[1]
        # of the next test the end comes first
        sends(4, "3137 02 011")
        ends = listed(site, listener.archive)[1]
    again = listed(site, listener.archive, "--begin")[1]
    listener.end()
    cases.case("what comes too early after \"now\" is told, and ticks nothing off",
               [] if "zone 11 came after" in out and states(early)["zone 11"] == "next" and states(early)["on test"] == "by hand"
               else [out, str(states(early))])
    cases.case("interrupted, it goes on; an alarm without its end waits",
               [] if states(waits)["zone 11"] == "waits" and states(done)["zone 11"] == "done" and
               states(done)["tamper 11"] == "next" else [str(states(waits)), str(states(done))])
    cases.case("an end without its beginning is told", [] if "the end came without the beginning" in ends["explained"][-1] else ends["explained"])
    cases.case("--begin forgets", [] if again["open"] == early["open"] + 1 and not again["explained"] else [str(states(again))])

with tempfile.TemporaryDirectory() as folder:
    archive = os.path.join(folder, "a.db")
    site = "demo/quayside.yaml"
    ran = run("accept", site, "--archive", archive, "--once")
    wide = [line for line in ran.stdout.splitlines() if len(line) > 80]
    cases.case("the list fits 80 columns, the order ends where the next begins", wide + ([] if ran.returncode == 1 and
               "not accepted: 36 required" in ran.stdout else [ran.stdout[-300:] + ran.stderr]))
    wrong = []
    for words, said in [(["accept", site], "--archive"), (["accept", "--archive", archive], "which site"),
                        (["accept", site, "--archive", archive, "--hand", "zone 99", "--by", "x"], "no test"),
                        (["accept", site, "--archive", archive, "--hand", "zone 1"], "--by"),
                        (["accept", site, "--archive", folder], "is no file"), (["rehearse", site], "--to"),
                        (["rehearse", site, "--to", "nowhere"], "ADDRESS:PORT"),
                        (["rehearse", site, "--to", "127.0.0.1:1"], "does lintel listen run there"),
                        (["rehearse", site, "--to", "127.0.0.1:1", "--speed", "x"], "whole number")]:
        ran = run(*words)
        if ran.returncode != 2 or said not in ran.stderr:
            wrong.append(f"{words}: exit {ran.returncode}: {ran.stderr}")
    cases.case("what cannot be done is said", wrong)
cases.end()
