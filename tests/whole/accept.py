#!/usr/bin/env python3
"""`lintel accept` and `lintel rehearse` against `lintel listen`: a rehearsal of each demo site ticks off the whole list; a
panel that is keyed in wrong is caught, and told why."""

import contextlib
import json
import os
import re
import sqlite3
import subprocess
import tempfile
import time
import urllib.request

from panels import KEY, Listener, ack, event, frame
from program import LINTEL, run, tap
from served import Bench

HAND = ("on test", "station", "off test")
HEARD = {"quayside": ["heard in bedroom"], "ropewalk": ["heard in bedroom", "heard in daughter's room", "heard in lodger's room"],
         "surgery": ["heard gable siren in yard"]}  # what only a person can say; the order of the file


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
        wrong += [] if left == HEARD[demo] else [f"left to a person: {left}"]
        by_hand(site, archive, *HEARD[demo])
        status, answer = listed(site, archive)
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
        ("two numbers exchanged", r"\{number: (1|6), ", lambda m: "{number: %d, " % (7 - int(m.group(1))), "zone 6", "are exchanged"),
        ("another area", r"window contact, area: shop", "window contact, area: flat",
         "zone 7", "wrong area: zone 7"),
        ("another code", r'  account: "4021"', '  account: "4021"\n  events: {perimeter: "133"}', "zone 7", "came as 133")]:
    with tempfile.TemporaryDirectory() as folder:
        status, answer, ran, archive = rehearsed(folder, twin(folder, pattern, becomes), "demo/quayside.yaml")
        told = [text for text in answer["explained"] if says in text]
        good = status == 1 and states(answer)[zone] not in ("done", "by hand") and told
        good = good and (name != "two numbers exchanged" or states(answer)["zone 1"] == "next")
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
    site = "demo/quayside.yaml"
    listener = Listener(folder, keys="account 4021 prefix 1A clear\naccount 4021 clear\n")
    none = listed(site, listener.archive)[1]
    by_hand(site, listener.archive, "on test")
    with listener.udp() as panel:
        for number, prefix, text in [(1, "1A", "1301 00 000"), (2, "0", "3301 00 000"), (3, "0", "3301 00 000")]:
            panel.send(frame(f'"ADM-CID"{number:04}L{prefix}#4021[#4021|{text}]'))
            assert b"ACK" in panel.recv(1000)
    mixed = listed(site, listener.archive)[1]
    with listener.udp() as panel:
        panel.send(frame('"ADM-CID"0004L1A#4021[#4021|3301 00 000]'))
        assert b"ACK" in panel.recv(1000)
    ended = listed(site, listener.archive)[1]
    shown = run("accept", site, "--archive", listener.archive, "--once").stdout
    listener.end()
    cases.case("a panel that sends under a prefix is heard; another prefix of the account is told and counts for nothing",
               [] if none["prefix"] is None and mixed["prefix"] == "1A" and states(mixed)["mains"] == "waits" and
               ["under prefix 0" in text for text in mixed["explained"]] == [True] and states(ended)["mains"] == "done" and
               "account 4021, prefix 1A" in shown else [str(mixed["explained"]), states(mixed)["mains"], states(ended)["mains"], shown[:80]])

with tempfile.TemporaryDirectory() as folder:
    site = "demo/quayside.yaml"
    archive = os.path.join(folder, "a.db")
    words = [LINTEL, "accept", site, "--archive", archive]
    told = subprocess.run(words, input="ok N. Tester\nlater\nok N. Tester\nback tamper 11\nback tamper 99\nquit\n", capture_output=True,
                          cwd=tap.SOURCE, text=True)
    answer = listed(site, archive)[1]
    order = [test["name"] for test in answer["tests"]]
    now = time.time()
    rows = [f"{time.strftime('%d.%m.%Y %H:%M:%S', time.localtime(now + at))};{words};{zone}" for at, words, zone in
            [(5, "Tamper restored", 11), (4, "Tamper", 11), (-90000, "Burglary alarm", 11), (3, "hello", "")]]
    listing = os.path.join(folder, "list.csv")
    with open(listing, "w") as file:
        file.write("\n".join(["Received;Event;Zone", *rows]) + "\n")
    shown = run("accept", site, "--archive", archive, "--paste", listing)
    before = listed(site, archive)[1]
    taken = [run("accept", site, "--archive", archive, "--paste", listing, "--by", "N. Tester").stdout for _ in range(2)]
    after = listed(site, archive)[1]
    tamper = next(test for test in after["tests"] if test["name"] == "tamper 11")
    verified = run("archive", "export", archive).stdout
    cases.case("a station's list, newest first: shown, then taken once; each tick's record is its line",
               [] if "2 of 4 lines understood; nothing is stored yet" in shown.stdout and states(before)["tamper 11"] == "next" and
               "from before this acceptance began" in shown.stdout and '"hello" says nothing here' in shown.stdout and
               "2 of them new" in taken[0] and "0 of them new" in taken[1] and tamper["state"] == "done" and
               [signal["frame"] for signal in tamper["signals"]] == [rows[1], rows[0]] and "log pasted by N. Tester" in verified
               else [shown.stdout[:600], *taken, str(tamper)])
    cases.case("lines: a test is put off to the end, a tick by hand taken back, what is no test says what can be typed",
               [] if order.index("zone 11") == order.index("station") - 1 and states(answer)["on test"] == "by hand" and
               states(answer)["tamper 11"] == "next" and told.stdout.count("back TEST") == 2 else [told.stdout[-800:], str(states(answer))])


def told(link):
    """The next list that the bench tells, from a stream of server-sent events."""
    for line in link:
        value = json.loads(line[6:]) if line.startswith(b"data: ") else {"beat": True}
        if "beat" not in value:
            return value
    return None


with tempfile.TemporaryDirectory() as folder:
    site = os.path.join(tap.SOURCE, "demo/quayside.yaml")
    listener = Listener(folder, keys="account 4021 clear\n")
    with listener.udp() as panel, Bench(site, ("--archive", listener.archive)) as bench:
        def sends(number, text):
            panel.send(event(number, "4021", text))
            return panel.recv(1000) == ack(number, "4021")
        stream = urllib.request.urlopen(urllib.request.Request(f"{bench.origin}/acceptance", headers={"Cookie": bench.cookie}), timeout=20)
        first = told(stream)
        bench.post("/acceptance", {"act": "begin"})
        bench.post("/acceptance", {"act": "hand", "test": "on test", "by": "N. Tester"})
        begun = told(stream)
        while states(begun)["on test"] != "by hand":
            begun = told(stream)
        at_ms = int(time.time() * 1000)
        time.sleep(0.05)
        sends(1, "1137 02 011")
        sends(2, "3137 02 011")
        early = told(stream)
        while not early["explained"]:
            early = told(stream)
        noted = {"act": "hand", "test": "zone 11", "by": "N. Tester, noted", "at_ms": at_ms}
        twice = [bench.post("/acceptance", noted)[0] for _ in range(2)]
        late = told(stream)
        refused = [bench.post("/acceptance", {"act": "hand", **more}) for more in
                   ({"test": "zone 99", "by": "x"}, {"test": "zone 1", "by": ""}, {"test": "zone 1", "by": "x", "at_ms": at_ms + 10 ** 7})]
        asked = next(test["name"] for test in late["tests"] if test["name"].startswith("heard"))
        earlier = int(time.time() * 1000)
        time.sleep(0.05)
        no = bench.post("/acceptance", {"act": "no", "test": asked, "by": "N. Tester"})[0]
        overtaken = bench.post("/acceptance", {"act": "hand", "test": asked, "by": "N. Tester, noted before", "at_ms": earlier})[0]
        former = bench.post("/acceptance", {"act": "hand", "test": "zone 1", "by": "x", "at_ms": first["now_ms"] - 10 ** 7 if "now_ms" in first else at_ms - 10 ** 7})
        brought = os.path.join(folder, "capture.txt")
        with open(brought, "w") as file:
            file.write("2026-01-05T10:00:00Z " + event(77, "4021", "1130 02 003").hex(" ") + "\n")
        imported = run("archive", "import", "--frames", "--keys", os.path.join(folder, "keys"), listener.archive, brought)
        with open(brought, "w") as file:
            file.write("2026-01-05T10:00:00Z " + event(78, "4021", "1130 02 004").hex(" ") + "\n")
        run("archive", "import", "--frames", os.path.join(folder, "other.db"), brought)
        line = run("archive", "export", os.path.join(folder, "other.db")).stdout.replace('"capture capture.txt, line 1"', '"tcp 127.0.0.1:5000"')
        copied = run("archive", "import", listener.archive, "-", text=line)
        time.sleep(0.5)
        cut = bench.post("/acceptance", {"act": "hand", "test": "a" + "é" * 150, "by": "x"})  # 200 bytes of it are repeated
        stranger = bench.post("/acceptance", {"act": "begin"}, Origin="http://127.0.0.1:1")[0]
        stream.close()
    listener.end()
    command = listed(site, listener.archive)[1]
    cases.case("the bench tells the list as it comes, from the beginning on",
               [] if not first["begun"] and begun["begun"] and states(begun)["zone 11"] == "next" else [str(states(begun))])
    cases.case("a no is not undone by a yes that was noted before it and came later",
               [] if (no, overtaken) == (200, 200) and states(command)[asked] == "said no" else [str((no, overtaken)), str(states(command)[asked])])
    cases.case("what was noted before the beginning is refused, and what an old capture says is no test of this acceptance",
               [] if former[0] == 422 and "before this acceptance" in str(former[1]) and "1 " in imported.stdout and
               "1 of them new" in copied.stdout and not any(zone in words for zone in ("zone 3", "zone 4") for words in command["explained"]) and
               not any(signal["id"] > 0 and zone in signal["frame"] for zone in ("02 003", "02 004") for test in command["tests"] for signal in test["signals"])
               else [str(former), imported.stdout + imported.stderr + copied.stdout + copied.stderr, str([test for test in command["tests"] if test["name"] == "zone 3"])])
    cases.case("a refusal that quotes half a letter is heard", [] if cut[0] == 422 and "there is no test" in str(cut[1]) else [str(cut)])
    cases.case("what was noted without a connection counts where its time puts it, once, and what came after it counts",
               [] if early["explained"] and twice == [200, 200] and states(late)["zone 11"] == "by hand" and states(late)["tamper 11"] == "done" and
               not late["explained"] and {**states(command), asked: states(late)[asked]} == states(late) else [str(twice), str(states(late)), *late["explained"]])
    cases.case("no such test, no name, a time to come are refused; a stranger does nothing",
               [] if [status for status, _ in refused] == [422] * 3 and stranger == 403 else [str(refused), str(stranger)])

# Whoever sends for the account, for weeks, must not fill the memory of who looks on: what is shown and what ticked is kept.
FEW, MANY = 2000, 100000
with tempfile.TemporaryDirectory() as folder:
    archive = os.path.join(folder, "a.db")
    site = "demo/quayside.yaml"
    listed(site, archive)
    by_hand(site, archive, "on test")
    frame = event(1, "4021") + bytes(900)
    rows = [(number, 1792000000000 + 1000 * number, number % 9999 + 1, f"#4021|{'13'[number // 14 % 2]}13{number // 28 % 3} 01 {number % 14 + 1:03}".encode(),
             frame) for number in range(1, MANY + 1)]

    def fed(count):
        """What accept says once it was fed so many, and the most memory that it took, in MB."""
        with contextlib.closing(sqlite3.connect(archive)) as database, database:
            database.execute("INSERT OR IGNORE INTO accounts (id, digits, prefix) VALUES (1, '4021', 0)")
            database.executemany("INSERT OR IGNORE INTO signals (id, account_id, received_ms, sequence, encrypted, token, data, digest, frame, peer)"
                                 " VALUES (?, 1, ?, ?, 0, 'ADM-CID', ?, 0, ?, 'tcp 127.0.0.1:1')", rows[:count])
        around = dict(os.environ, ASAN_OPTIONS=os.environ.get("ASAN_OPTIONS", "") + ":quarantine_size_mb=1:thread_local_quarantine_size_kb=64")
        with subprocess.Popen([LINTEL, "accept", site, "--archive", archive, "--any-order", "--json"], cwd=tap.SOURCE, stdout=subprocess.PIPE, env=around) as told_it:
            answer = json.loads(told_it.stdout.read())
            usage = os.wait4(told_it.pid, 0)[2]
            told_it.returncode = 0
        return answer, usage.ru_maxrss / 1024

    few, least = fed(FEW)
    many, most = fed(MANY)
    kept = [signal for test in many["tests"] for signal in test["signals"] if signal["id"] > 0]
    wrong = [] if [signal["id"] for signal in many["came"]] == list(range(MANY, MANY - 200, -1)) and many["came"][0]["says"] else [str(many["came"][:2])]
    wrong += [] if kept and all(bytes(signal["frame"], "latin-1")[:1] == b"\n" and signal["received_ms"] == 1792000000000 + 1000 * signal["id"]
                                for signal in kept) else [str(kept[:2])]
    wrong += [] if most < least + 8 else [f"{most} MB for {MANY} signals, {least} for {FEW}"]
    cases.case("a hundred thousand signals take no more memory than two thousand; the last and what ticked are shown", wrong)

with tempfile.TemporaryDirectory() as folder:
    site, asked, archive = "demo/quayside.yaml", "heard in bedroom", os.path.join(folder, "a.db")
    who = ("--by", "N. Tester (invented)")
    first = listed(site, archive)[1]
    question = next(test for test in first["tests"] if test["name"] == asked)
    by_hand(site, archive, *(test["name"] for test in first["tests"] if test["required"] and test["name"] != asked))
    turns = [listed(site, archive)]
    shown = []
    for words in ("--no", "--no", "--hand"):
        listed(site, archive, words, asked, *who)
        turns.append(listed(site, archive))
        shown.append(" ".join(run("accept", site, "--archive", archive, "--once").stdout.split()))
    told = subprocess.run([LINTEL, "accept", site, "--archive", archive, "--begin"], input="ok N.\nno N.\nquit\n", capture_output=True, cwd=tap.SOURCE, text=True)
    refused = [run("accept", site, "--archive", archive, "--no", test, *by) for test, by in [("mains", who), (asked, ())]]
    cases.case("whether the siren is heard is asked of a person: not accepted while that is open or answered with no",
               [] if question["says"] == "Is the siren heard in the bedroom?" and question["answers"] == ["heard", "not heard"] and question["required"] and
               [(status, states(answer)[asked], answer["accepted"]) for status, answer in turns] ==
               [(1, "next", False), (1, "said no", False), (1, "said no", False), (0, "by hand", True)] and
               "(not heard: N. Tester (invented))" in shown[0] and "not accepted: 1 required test is open" in shown[0] and
               "(heard: N. Tester (invented))" in shown[2] else [str(question), str([(status, states(answer)[asked]) for status, answer in turns]), *shown])
    cases.case("only a question is answered with no, and with a name",
               [] if [ran.returncode for ran in refused] == [2, 2] and "only a question" in refused[0].stderr and "--by" in refused[1].stderr and
               "only a question" in told.stderr else [ran.stderr for ran in refused] + [told.stdout[-300:] + told.stderr])

with tempfile.TemporaryDirectory() as folder:
    archive = os.path.join(folder, "a.db")
    site = "demo/quayside.yaml"
    ran = run("accept", site, "--archive", archive, "--once")
    wide = [line for line in ran.stdout.splitlines() if len(line) > 80]
    cases.case("the list fits 80 columns, the order ends where the next begins", wide + ([] if ran.returncode == 1 and
               "not accepted: 37 required" in ran.stdout else [ran.stdout[-300:] + ran.stderr]))
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
