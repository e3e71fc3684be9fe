#!/usr/bin/env python3
"""Several listeners write into one archive on a server; any of them is killed, and the server is stopped, without warning
too: every signal that was acknowledged is in the archive, once; while nothing can be stored nothing is acknowledged, and
once it can be again it is, without a restart.

office.py [KILLS]: how often a listener is killed (24)."""

import os
import random
import select
import signal
import sys
import tempfile
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
import server as servers  # noqa: E402
from panels import Listener, ack, event  # noqa: E402
from program import tap  # noqa: E402
from stubborn import Panel, judge  # noqa: E402

KILLS = int(sys.argv[1]) if len(sys.argv) > 1 else 24
SEED = int(os.environ.get("LINTEL_SEED", "20261126"))
PANELS = 6
LISTENERS = 3
KEYS = "".join(f"account 77{panel} clear\n" for panel in range(PANELS))
cases = tap.Cases()
print(f"# seed {SEED}", flush=True)
chance = random.Random(SEED)


def listener(folder, number, address):
    os.makedirs(os.path.join(folder, str(number)), exist_ok=True)
    return Listener(os.path.join(folder, str(number)), keys=KEYS, archive=address)


def under_load(folder, address, work):
    """Panels report to several listeners while work goes on; what is wrong afterwards."""
    listeners = [listener(folder, number, address) for number in range(LISTENERS)]
    where = [one.port for one in listeners]
    panels = [Panel(number, where) for number in range(PANELS)]
    for panel in panels:
        panel.start()
    wrong = work(listeners, where, panels) or []
    time.sleep(0.5)
    for panel in panels:
        panel.over.set()
    for panel in panels:
        panel.join()
    wrong += [f"a listener ends with {status}" for status in (one.end() for one in listeners) if status != 0]
    acknowledged = [data for panel in panels for data in panel.acknowledged]
    stored = listeners[0].stored()
    wrong += judge(acknowledged, sum(panel.count for panel in panels), stored)
    numbers = [line["id"] for line in stored]
    wrong += [] if numbers == sorted(set(numbers)) else ["numbers do not ascend"]
    print(f"# {len(acknowledged)} acknowledged, {len(stored)} stored", flush=True)
    return wrong + ([] if len(acknowledged) > 100 else ["hardly any was acknowledged: nothing was tried"])


def kill_at_random(folder, address):
    def work(listeners, where, panels):
        for _ in range(KILLS):
            time.sleep(chance.uniform(0, 0.15))
            number = chance.randrange(LISTENERS)
            listeners[number].end(signal.SIGKILL)
            listeners[number] = listener(folder, number, address)
            where[number] = listeners[number].port or 9
    return work


def stop_and_start(server, how):
    """While it is stopped nobody is told anything; afterwards everybody is, by the same listeners."""
    def work(listeners, where, panels):
        time.sleep(0.3)
        server.stop(how)
        time.sleep(0.3)
        before = [len(panel.acknowledged) for panel in panels]
        time.sleep(0.7)
        during = [len(panel.acknowledged) for panel in panels]
        told = all(one.said("nothing is acknowledged") and one.said("cannot be") for one in listeners)
        server.start()
        end = time.monotonic() + 20
        while time.monotonic() < end and any(len(panel.acknowledged) < count + 5 for panel, count in zip(panels, during)):
            time.sleep(0.05)
        after = [len(panel.acknowledged) for panel in panels]
        mended = all(one.said("stored again") for one in listeners)
        return ([] if before == during else [f"acknowledged while the server was stopped: {before}, {during}"]) + \
            ([] if told and mended else [f"told {told}, mended {mended}: {open(listeners[0].errors.name).read()}"]) + \
            ([] if all(late > count for late, count in zip(after, during)) else [f"no more afterwards: {during}, {after}"])
    return work


def silent_while_held(server, address):
    """Somebody else holds the archive: as with a file, silence and a word."""
    with tempfile.TemporaryDirectory() as folder:
        one = listener(folder, 0, address)
        holder = servers.Session(server)
        holder.say("BEGIN; UPDATE lintel.writing SET turns = turns; SELECT 'held'")
        with one.udp() as panel:
            panel.send(event(1, "770"))
            quiet = not select.select([panel], [], [], 1.5)[0]
            told = one.said("another program holds it", 8)
            holder.end()
            answered = b""
            for _ in range(20):
                panel.send(event(1, "770"))
                if select.select([panel], [], [], 0.5)[0]:
                    answered = panel.recv(1000)
                    break
        status = one.end()
    return [] if quiet and told and answered == ack(1, "770") and status == 0 else [f"{quiet} {told} {answered} {status}"]


if servers.programs() is None:
    cases.case("a PostgreSQL server is here", ["it is not: tools/need test"])
    cases.end()
    sys.exit(0)
with servers.running("wal_writer_delay=5000ms") as server:
    # the second is one that would rather refuse than wait: what it refuses is done again
    for database, isolation in (("held", "read committed"), ("strict", "serializable")):
        server.sql(f"CREATE DATABASE {database}")
        server.sql(f"ALTER DATABASE {database} SET default_transaction_isolation = '{isolation}'")
        with tempfile.TemporaryDirectory() as folder:
            address = server.address(database)
            cases.case(f"{LISTENERS} listeners, killed {KILLS} times at random under load ({isolation}): all is there, once",
                       under_load(folder, address, kill_at_random(folder, address)))
    for database, how, name in (("orderly", signal.SIGINT, "stopped"), ("power", signal.SIGQUIT, "torn away")):
        server.sql(f"CREATE DATABASE {database}")
        # its own way would be to answer first and write later
        server.sql(f"ALTER DATABASE {database} SET synchronous_commit = off")
        with tempfile.TemporaryDirectory() as folder:
            cases.case(f"the server is {name} and started: silence, a word, and they go on by themselves",
                       under_load(folder, server.address(database), stop_and_start(server, how)))
    server.sql("CREATE DATABASE locked")
    cases.case("somebody else holds the archive", silent_while_held(server, server.address("locked")))
cases.end()
