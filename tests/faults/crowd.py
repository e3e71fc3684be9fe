#!/usr/bin/env python3
"""Ten thousand accounts in one key file, all of which report at once; connections that are never finished, or bring one byte
a second; and those who are in earnest among them. Bounded in number and time, on this machine alone.

crowd.py [ACCOUNTS]"""

import contextlib
import os
import resource
import select
import socket
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
from panels import KEY, Listener, ack, event, secret, take  # noqa: E402
from program import run, tap  # noqa: E402

ACCOUNTS = int(sys.argv[1]) if len(sys.argv) > 1 else 10000
AT_ONCE = 200  # events under way; a burst is as many as the system's buffer may lose
cases = tap.Cases()
soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
resource.setrlimit(resource.RLIMIT_NOFILE, (min(8192, hard), hard))
CROWD = min(1000, (min(8192, hard) - 200) // 3)


def account_of(number):
    return f"{0xA0000 + number:X}"


def has_key(number):
    return number % 100 == 0


def memory_kb(process):
    with open(f"/proc/{process.pid}/status") as file:
        return int(next(line for line in file if line.startswith("VmRSS")).split()[1])


def report_all(panel, numbers, sequence):
    """Each account's event, sent again while nothing is heard, as panels do; how many were never acknowledged."""
    waiting = {}
    todo = list(numbers)
    end = time.monotonic() + 60
    while (todo or waiting) and time.monotonic() < end:
        while todo and len(waiting) < AT_ONCE:
            account = account_of(todo.pop())
            waiting[ack(sequence, account)] = event(sequence, account)
            panel.send(event(sequence, account))
        if not select.select([panel], [], [], 1)[0]:
            for what in waiting.values():
                panel.send(what)
            continue
        waiting.pop(panel.recv(1000), None)
    return len(todo) + len(waiting)


keys = "".join(f"account {account_of(number)} {'key ' + KEY if has_key(number) else 'clear'}\n" for number in range(ACCOUNTS))
clear = [number for number in range(ACCOUNTS) if not has_key(number)]
hidden = [number for number in range(ACCOUNTS) if has_key(number)]
with tempfile.TemporaryDirectory() as folder, contextlib.ExitStack() as open_files:
    started = time.monotonic()
    listener = Listener(folder, "--rate", "0", keys=keys)
    took = time.monotonic() - started
    cases.case(f"{ACCOUNTS} accounts are read", [] if listener.port is not None and took < 10 else [f"{took:.1f} s"])
    small = memory_kb(listener.process)
    udp = open_files.enter_context(listener.udp())
    left = report_all(udp, clear, 1)
    cases.case(f"{len(clear)} accounts report in bursts of {AT_ONCE}: each is acknowledged", [] if left == 0 else [f"{left} never were"])

    wrong = []
    for number in hidden:
        udp.send(secret(1, account_of(number)))
        got = udp.recv(1000)
        wrong += [] if b'"*ACK"0001L0#' + account_of(number).encode() in got else [f"{number}: {got}"]
    cases.case(f"{len(hidden)} of them encrypted, each by its own key", wrong[:5])

    half_open = [open_files.enter_context(listener.tcp()) for _ in range(CROWD)]
    for number, panel in enumerate(half_open):
        if number % 2 == 0:
            panel.sendall(event(2, account_of(clear[number]))[:number % 25])
    slow = [open_files.enter_context(listener.tcp()) for _ in range(CROWD)]
    whole = [event(3, account_of(clear[number])) for number in range(CROWD)]
    earnest = [open_files.enter_context(listener.tcp()) for _ in range(CROWD)]
    wrong = []
    for beat in range(4):
        beats = time.monotonic()
        for panel, bytes_of in zip(slow, whole):
            panel.sendall(bytes_of[beat:beat + 1])
        for number, panel in enumerate(earnest):
            panel.sendall(event(4 + beat, account_of(clear[number])))
        for number, panel in enumerate(earnest):
            want = ack(4 + beat, account_of(clear[number]))
            got = take(panel, len(want))
            wrong += [] if got == want else [f"beat {beat}, {number}: {got}"]
        time.sleep(max(0.0, beats + 1 - time.monotonic()))
    cases.case(f"{CROWD} connections never finished, {CROWD} with a byte a second: {CROWD} others are acknowledged, beat by beat", wrong[:5])

    deadline = time.monotonic() + 20
    gone = set()
    ready = select.poll()
    by_number = {panel.fileno(): panel for panel in slow}
    for number in by_number:
        ready.register(number, select.POLLIN)
    while len(gone) < len(slow) and time.monotonic() < deadline:
        for number, _ in ready.poll(1000):
            with contextlib.suppress(OSError):
                if by_number[number].recv(100) == b"":
                    gone.add(number)
                    ready.unregister(number)
    cases.case("who begins a frame and does not end it within 10 s is dropped", [] if len(gone) == len(slow) else [
        f"{len(slow) - len(gone)} of {len(slow)} are still there"])

    udp.send(event(9, account_of(clear[0])))
    alive = udp.recv(1000) == ack(9, account_of(clear[0]))
    grown = memory_kb(listener.process) - small
    cases.case("and its memory is what it was, but for the system's buffers", [] if alive and grown < 64 * 1024 else [f"{alive}, {grown} kB more"])
    print(f"# {small} kB at the start, {grown} kB more at the end", flush=True)
    status = listener.end()
    stored = listener.stored()
    seen = [(line["account"], line["sequence"]) for line in stored]
    expected = {(account_of(number), 1) for number in range(ACCOUNTS)} | {(account_of(clear[0]), 9)} | \
        {(account_of(clear[number]), 4 + beat) for number in range(CROWD) for beat in range(4)}
    cases.case("all that was acknowledged is there, once, and nothing else", [] if status == 0 and len(seen) == len(set(seen)) and
               set(seen) == expected else [f"exit {status}, {len(seen)} stored, {len(set(seen))} of them different, {len(expected)} expected"])
    cases.case("and whole", [] if run("archive", "verify", listener.archive).returncode == 0 else ["damaged"])
cases.end()
