#!/usr/bin/env python3
"""The archive on a server: the same answers as from a file, the archive's own tests against a server that waits and one that
refuses, and what cannot be, said without telling a secret."""

import json
import os
import socket
import subprocess
import sys
import tempfile
import time

import server as servers
from panels import Listener, ack, event
from program import LINTEL, run, tap

ARCHIVE_TEST = os.path.join(tap.BUILD, "shell", "archive-archive-test")
cases = tap.Cases()
if servers.programs() is None:
    cases.case("a PostgreSQL server is here", ["it is not: tools/need test"])
    cases.end()
    sys.exit(0)


def fnv(data):
    """FNV-1a of 64 bits, by its definition."""
    value = 0xCBF29CE484222325
    for byte in data:
        value = (value ^ byte) * 0x100000001B3 & 0xFFFFFFFFFFFFFFFF
    return value


def line(number, at=None, account=None):
    account = account or f"77{number % 7}"
    data = f"#{account}|1130 01 015"
    digest = fnv(f"ADM-CID]0]{account}]".encode() + bytes([number // 256, number % 256]) + data.encode() + b"]")
    return json.dumps({"received_ms": at or 1700000000000 + number // 3, "prefix": "0", "account": account, "sequence": number,
                       "encrypted": False, "token": "ADM-CID", "data": data, "digest": f"{digest:016X}", "peer": "tcp 127.0.0.1:1",
                       "frame_hex": event(number, account).hex().upper()})


def flood(address, folder, count):
    """So many signals of one account, within seconds; whether each was acknowledged."""
    listener = Listener(folder, "--account", "777", "--rate", "0", archive=address)
    heard = b""
    with socket.create_connection(("127.0.0.1", listener.port), timeout=60) as panel:
        for first in range(0, count, 100):
            panel.sendall(b"".join(event(number) for number in range(first, first + 100)))
            while len(heard) < (first + 100) * len(ack(0)):
                got = panel.recv(65536)
                if not got:
                    break
                heard += got
    listener.end()
    return heard == b"".join(ack(number) for number in range(count))


def looked_at(database):
    """Rows of signals and entries of their indexes that were read so far."""
    time.sleep(0.3)  # a connection that ended tells what it has read
    return int(server.sql("SELECT (SELECT SUM(seq_tup_read) FROM pg_stat_user_tables WHERE relname = 'signals')"
                          " + (SELECT SUM(idx_tup_read) FROM pg_stat_user_indexes WHERE relname = 'signals')", database))


def refused(words, says, secret=None):
    ran = run("archive", *words)
    good = ran.returncode == 2 and says in ran.stderr and (secret is None or secret not in ran.stderr + ran.stdout)
    return [] if good else [f"{words}: exit {ran.returncode}: {ran.stderr}"]


with servers.running() as server, tempfile.TemporaryDirectory() as folder:
    for database, isolation in (("waits", "read committed"), ("refuses", "serializable")):
        server.sql(f"CREATE DATABASE {database}")
        server.sql(f"ALTER DATABASE {database} SET default_transaction_isolation = '{isolation}'")
        ran = subprocess.run([ARCHIVE_TEST], env=dict(os.environ, LINTEL_ARCHIVE=server.address(database)), capture_output=True,
                             text=True, timeout=120, check=False)
        cases.case(f"the archive's own tests, {isolation}",
                   [] if ran.returncode == 0 else [(ran.stdout + ran.stderr)[-3000:]])

    server.sql("CREATE DATABASE office")
    address = server.address("office")
    there = os.path.join(folder, "signals.db")
    lines = "\n".join(map(line, range(1, 2500))) + "\n"
    wrong = []
    for words in (("import", "-"), ("import", "-"), ("export",), ("verify",)):
        file, office = (run("archive", words[0], archive, *words[1:], text=lines) for archive in (there, address))
        if (file.returncode, file.stdout) != (office.returncode, office.stdout):
            wrong.append(f"{words}: {office.returncode} {office.stdout[:300]} {office.stderr}")
    cases.case("a file and a server give the same answers", wrong if "2499 signals, 0 not" in file.stdout else [file.stdout])

    # who sends for one account in clear, or has a file of one instant, must not hold up all others
    server.sql("CREATE DATABASE crowd")
    address = server.address("crowd")
    wrong = [] if flood(address, folder, 2000) else ["not all of the flood were acknowledged"]
    instant = "\n".join(line(number * 7, 1700000009000) for number in range(1, 1400))
    ran = run("archive", "import", address, "-", text=instant)
    wrong += [] if "1399 of them new" in ran.stdout else [ran.stdout + ran.stderr]
    looks = looked_at("crowd")
    cases.case("a signal is looked for by what it says, not among all of its account",
               wrong + ([] if looks < 20 * 3399 else [f"{looks} rows were looked at for 3399 signals"]))

    # nothing of the last day: what was before is not gone through
    server.sql("ANALYZE", "office")
    before = looked_at("office")
    Listener(folder, "--account", "777", archive=server.address("office")).end()
    looks = looked_at("office") - before
    cases.case("a start looks at what came in the last day", [] if looks < 100 else [f"{looks} rows were looked at for none"])

    # nor because a clock that was far ahead stored one before all of it
    server.sql("UPDATE lintel.signals SET received_ms = 4000000000000, imported = 0 WHERE id = 1", "office")
    server.sql("VACUUM ANALYZE lintel.signals", "office")
    before = looked_at("office")
    Listener(folder, "--account", "777", archive=server.address("office")).end()
    looks = looked_at("office") - before
    cases.case("also after one that a clock stored which was far ahead", [] if looks < 100 else [f"{looks} rows were looked at"])

    # of a large archive that is brought up to a newer version, with all others kept out
    server.sql("ALTER TABLE lintel.signals DROP COLUMN imported", "office")
    server.sql("UPDATE lintel.writing SET version = 5", "office")
    before = looked_at("office")
    Listener(folder, "--account", "777", archive=server.address("office")).end()
    looks = looked_at("office") - before
    added = server.sql("SELECT COUNT(*) FROM lintel.signals WHERE imported = 0", "office")
    cases.case("a newer version is there without going through what was stored before",
               [] if looks < 100 and int(added) == 2499 else [f"{looks} rows were looked at; {added} have the column"])

    # who watches the tests of one house, while others report
    server.sql("CREATE DATABASE watched")
    words = [LINTEL, "accept", "demo/quayside.yaml", "--archive", server.address("watched")]
    wrong = [] if run("archive", "import", words[-1], "-", text=line(1, account="4021")).returncode == 0 else ["no first one"]
    wrong += [] if run(*words[1:], "--json").returncode == 1 else ["it does not begin"]
    wrong += [] if run("archive", "import", words[-1], "-", text=lines).returncode == 0 else ["nothing was brought in"]
    before = looked_at("watched")
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=tap.SOURCE) as watching:
        time.sleep(3)
        watching.communicate(timeout=20)
    looks = looked_at("watched") - before
    cases.case("what others report is gone through once, not at each look",
               wrong + ([] if 0 < looks < 3 * 2499 else [f"{looks} rows were looked at for 2499 signals"]))

    server.sql("CREATE DATABASE reads")
    server.sql("ALTER DATABASE reads SET default_transaction_read_only = on")
    wrong = refused(["verify", server.address("nowhere")], "with this database and user")
    wrong += refused(["export", server.address("reads")], "there is none")
    wrong += refused(["import", server.address("reads"), "-"], "name the server that takes what is written")
    wrong += refused(["verify", f"postgresql://a:hushed@{folder}/x"], "~/.pgpass", "hushed")
    for option in ("password", "sslpassword"):  # of the server, and of the key of a certificate
        wrong += refused(["verify", f"postgresql://a@{folder}/x?{option}=hushed"], "~/.pgpass", "hushed")
        wrong += refused(["verify", f"postgresql://a@{folder}/x?sslmode=wrong&{option}=hushed"], "~/.pgpass", "hushed")
    wrong += refused(["verify", "postgresql://a:hushed@[x/y"], "postgresql://USER@HOST/DATABASE", "hushed")
    wrong += refused(["backup", address, os.path.join(folder, "copy")], "pg_dump")
    wrong += refused(["verify", f"postgresql:///x?host={folder}"], "look whether the server runs")
    cases.case("what cannot be is said, and no password", wrong)

    server.stop()
    server.settings = (*server.settings, "fsync=off")
    server.start()
    cases.case("a server that brings nothing to the disk is not written to; it may be read",
               refused(["import", address, "-"], "turn it on") +
               ([] if run("archive", "verify", address).returncode == 0 else ["it cannot be read"]))
cases.end()
