#!/usr/bin/env python3
"""The system's clock jumps while signals come in, forward, back, and between a stop and a start: none is lost, none stored
twice, none out of order, whatever their times say.

clock.py SHIM: the library that makes it jump."""

import os
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
from panels import KEY, Listener, ack, event, frame, openssl, secret  # noqa: E402
from program import run, tap  # noqa: E402

JUMPS = [0, 86400, -86400, 3, -3, 0, 10 * 365 * 86400, -20 * 365 * 86400, 7200]
KEYS = f"account 777 clear\naccount 1234 key {KEY}\n"
cases = tap.Cases()

with tempfile.TemporaryDirectory() as folder:
    off = os.path.join(folder, "off")
    slept = os.path.join(folder, "slept")
    around = {"LD_PRELOAD": os.path.abspath(sys.argv[1]), "CLOCK_OFF": off, "CLOCK_SLEPT": slept}

    def jump(seconds):
        with open(off + ".new", "w") as file:
            file.write(str(seconds))
        os.rename(off + ".new", off)

    wrong = []
    jump(0)
    listener = Listener(folder, keys=KEYS, environment=around)
    number = 0
    with listener.udp() as panel:
        for seconds in JUMPS:
            jump(seconds)
            if number > 0:
                # what came just now is known by the steady clock, whatever the other says
                panel.send(event(number))
                wrong += [] if panel.recv(1000) == ack(number) else [f"{seconds} s off: a repeat is not acknowledged"]
            for _ in range(20):
                number += 1
                panel.send(event(number))
                got = panel.recv(1000)
                wrong += [] if got == ack(number) else [f"{seconds} s off, number {number}: {got}"]
    status = listener.end()
    stored = listener.stored()
    wrong += [] if status == 0 and [line["sequence"] for line in stored] == list(range(1, number + 1)) else [
        f"exit {status}: {[line['sequence'] for line in stored]}"]
    spread = {round((line["received_ms"] / 1000 - time.time()) / 1000) for line in stored}
    wrong += [] if len(spread) >= 5 else [f"the clock did not jump: {spread}"]
    wrong += [] if run("archive", "verify", listener.archive).returncode == 0 else ["the archive is damaged"]
    cases.case(f"{len(JUMPS)} jumps of up to 20 years: all are there, once, in the order in which they came", wrong)

    wrong = []
    for seconds in (-86400, 0):
        jump(seconds)
        again = Listener(folder, keys=KEYS, environment=around)
        with again.udp() as panel:
            number += 1
            panel.send(event(number))
            wrong += [] if panel.recv(1000) == ack(number) else [f"{seconds} s off after a start: {number}"]
        again.end()
    numbers = [line["sequence"] for line in again.stored()]
    wrong += [] if numbers == list(range(1, number + 1)) else [str(numbers[-5:])]
    cases.case("set back between a stop and a start: what comes then stands behind what came before", wrong)

    # an alarm at ten, another at eleven; set back to ten between a stop and a start, the first comes again
    wrong = []
    for seconds, words in ((20 * 86400, number + 1), (20 * 86400 + 3600, number + 2), (20 * 86400, number + 1), (20 * 86400, number + 1)):
        jump(seconds)
        again = Listener(folder, keys=KEYS, environment=around)
        with again.udp() as panel:
            panel.send(event(words))
            wrong += [] if panel.recv(1000) == ack(words) else [f"{seconds} s off, {words}: no acknowledgement"]
        again.end()
    numbers = [line["sequence"] for line in again.stored()][-3:]
    wrong += [] if numbers == [number + 1, number + 2, number + 1] else [str(numbers)]
    number += 3
    cases.case("what shows the same time for the second time is no repeat, and is stored; its repeat is one", wrong)

    # a laptop that is closed for an hour: the same words and number after it are of another event
    wrong = []
    jump(40 * 86400)
    again = Listener(folder, keys=KEYS, environment=around)
    with again.udp() as panel:
        for seconds in (0, 60, 3600):
            jump(40 * 86400 + seconds)
            with open(slept, "w") as file:
                file.write(str(seconds))
            panel.send(event(number + 1))
            wrong += [] if panel.recv(1000) == ack(number + 1) else [f"asleep for {seconds} s: no acknowledgement"]
    again.end()
    os.remove(slept)
    numbers = [line["sequence"] for line in again.stored()][-3:]
    wrong += [] if numbers[1:] == [number + 1, number + 1] and numbers[0] != number + 1 else [str(numbers)]
    number += 2
    cases.case("asleep for a minute it is a repeat, asleep for an hour it is news, and stored", wrong)

    wrong = []
    jump(3600)
    last = Listener(folder, keys=KEYS, environment=around)
    with last.udp() as panel:
        panel.send(secret(1))
        answer = panel.recv(1000)
        right = answer[9:].startswith(b'"NAK"0000R0L0A0[]_') and answer == frame(answer[9:-1])
        told = time.mktime(time.strptime(answer[answer.index(b"_") + 1:-1].decode(), "%H:%M:%S,%m-%d-%Y")) - time.timezone
        wrong += [] if right and abs(told - 3600 - time.time()) < 5 else [str(answer)]
        panel.send(secret(1, at=told))
        head, cipher = panel.recv(1000).split(b"[")
        wrong += [] if head.endswith(b'"*ACK"0001L0#1234') and openssl(bytes.fromhex(cipher[:-1].decode()), "-d") else [str(head)]
    last.end()
    wrong += [] if len(last.stored()) == number + 1 else ["it is not there"]
    cases.case("a panel whose clock is another is told the time, and then taken", wrong)
cases.end()
