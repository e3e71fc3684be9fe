#!/usr/bin/env python3
"""The listener dies, or its disk fails: every signal that was acknowledged is in the archive, once; where nothing can be
stored nothing is acknowledged, and once it can be again it is, without a restart.

listen.py [KILLS [SHIM]]: KILLS how often the listener is killed (25); SHIM the library that makes syncs fail."""

import os
import random
import resource
import select
import signal
import socket
import sqlite3
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
from panels import Listener, ack, event, hung_up  # noqa: E402
from program import run, tap  # noqa: E402
from stubborn import Panel, judge  # noqa: E402

KILLS = int(sys.argv[1]) if len(sys.argv) > 1 else 25
SHIM = os.path.abspath(sys.argv[2]) if len(sys.argv) > 2 else None
SEED = int(os.environ.get("LINTEL_SEED", "20261126"))
PANELS = 6
KEYS = "".join(f"account 77{panel} clear\n" for panel in range(PANELS))


cases = tap.Cases()
print(f"# seed {SEED}", flush=True)
chance = random.Random(SEED)

good = [{"data": "a"}, {"data": "b"}]
cases.case("the judge sees what is lost, twice, or from nowhere",
           [] if not judge(["a"], 2, good) and judge(["c"], 3, good) and judge(["a"], 3, [*good, {"data": "a"}]) and
           judge([], 1, good) else ["it is blind"])

with tempfile.TemporaryDirectory() as folder:
    where = [9]
    panels = [Panel(number, where) for number in range(PANELS)]
    wrong = []
    for panel in panels:
        panel.start()
    for kill in range(KILLS):
        listener = Listener(folder, keys=KEYS)
        where[0] = listener.port
        if listener.port is None:
            wrong.append(f"start {kill}: {open(listener.errors.name).read()}")
            break
        time.sleep(chance.uniform(0, 0.25))
        listener.end(signal.SIGKILL)
    listener = Listener(folder, keys=KEYS)
    where[0] = listener.port
    time.sleep(0.5)
    for panel in panels:
        panel.over.set()
    for panel in panels:
        panel.join()
    listener.end()
    acknowledged = [data for panel in panels for data in panel.acknowledged]
    stored = listener.stored()
    wrong += judge(acknowledged, sum(panel.count for panel in panels), stored)
    wrong += [] if len(acknowledged) > KILLS else [f"only {len(acknowledged)} were acknowledged: nothing was tried"]
    wrong += [] if run("archive", "verify", listener.archive).returncode == 0 else ["the archive is damaged"]
    cases.case(f"killed {KILLS} times at random under load: all that was acknowledged is there, once", wrong)
    print(f"# {len(acknowledged)} acknowledged, {len(stored)} stored", flush=True)


def silent(panel, what, seconds=0.4):
    """Whether nothing is answered for a while."""
    panel.send(what)
    return not select.select([panel], [], [], seconds)[0]


def answered(panel, what, want, seconds=10):
    """Whether it is acknowledged in the end, sent over and over as a panel does."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        panel.send(what)
        if select.select([panel], [], [], 0.5)[0]:
            return panel.recv(1000) == want
    return False


def let_go(listener):
    """Whether who sends and ends his side is hung up on without an answer, once nothing could be stored."""
    with listener.tcp() as half:
        os.kill(listener.process.pid, signal.SIGSTOP)  # so that both are read before it tries to store
        half.sendall(event(9, "771"))
        half.shutdown(socket.SHUT_WR)
        time.sleep(0.1)
        os.kill(listener.process.pid, signal.SIGCONT)
        return hung_up(half, 10)


def one_fault(name, begin, end, says):
    """A fault begins while the listener runs, and ends: silence while it lasts."""
    with tempfile.TemporaryDirectory() as folder:
        listener = Listener(folder, keys=KEYS, environment=FAULTS)
        wrong = []
        try:
            with listener.udp() as panel:
                first = answered(panel, event(1, "770"), ack(1, "770"))
                fault = begin(listener)
                quiet = silent(panel, event(2, "770"), 1.5) and silent(panel, event(2, "770"), 1.5)
                gone = let_go(listener)
                said = listener.said(says)
                end(listener, fault)
                again = answered(panel, event(2, "770"), ack(2, "770"))
                third = answered(panel, event(3, "770"), ack(3, "770"))
                mended = listener.said("stored again")
                if not (first and quiet and gone and said and again and third and mended):
                    wrong.append(f"first {first}, quiet {quiet}, gone {gone}, said {said}, again {again}, third {third}, mended {mended}: "
                                 f"{open(listener.errors.name).read()}")
        finally:
            status = listener.end()
        numbers = [line["sequence"] for line in listener.stored()]
        wrong += [] if status == 0 and numbers == [1, 2, 3] else [f"exit {status}, {numbers}"]
        cases.case(name, wrong)


FAULTS = {}
READERS = []  # who stay


def lock(listener):
    other = sqlite3.connect(listener.archive, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    return other


def unlock(listener, other):
    other.execute("ROLLBACK")
    other.close()


def lock_while_read(listener):
    """Somebody reads as well, and stays: nothing can leave the log any more."""
    reader = sqlite3.connect(listener.archive, isolation_level=None)
    reader.execute("BEGIN")
    reader.execute("SELECT * FROM signals").fetchone()
    return lock(listener), reader


def unlock_while_read(listener, others):
    unlock(listener, others[0])
    READERS.append(others[1])


def fill(listener):
    """The archive may not grow any more, as on a full disk; what the listener says is shorter than a page."""
    limit = resource.prlimit(listener.process.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(listener.process.pid, resource.RLIMIT_FSIZE, (4096, limit[1]))
    return limit


def empty(listener, limit):
    resource.prlimit(listener.process.pid, resource.RLIMIT_FSIZE, limit)


one_fault("another program holds the archive", lock, unlock, "another program holds it")
one_fault("another program holds the archive, a third reads and stays", lock_while_read, unlock_while_read, "another program holds it")
one_fault("the disk is full", fill, empty, "cannot be written")
if SHIM is not None:
    with tempfile.TemporaryDirectory() as folder:
        flag = os.path.join(folder, "fails")
        FAULTS = {"LD_PRELOAD": SHIM, "SYNC_FAILS": flag}
        one_fault("the disk writes, but does not bring it to safety", lambda listener: open(flag, "w").close(),
                  lambda listener, fault: os.unlink(flag), "cannot be written")
        FAULTS = {}
cases.end()
