#!/usr/bin/env python3
"""A folder into which nobody may write, before the listener starts and while it runs. Root may write anywhere, so the
listener is somebody else's, who gets a copy of the program."""

import contextlib
import os
import pwd
import shutil
import sys
import tempfile

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
from panels import Listener, ack, event  # noqa: E402
from program import LINTEL, tap  # noqa: E402

KEYS = "account 777 clear\n"
cases = tap.Cases()
nobody = pwd.getpwnam("nobody")
as_nobody = {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []} if os.getuid() == 0 else {}

with tempfile.TemporaryDirectory() as folder:
    os.chmod(folder, 0o755)
    program = shutil.copy(LINTEL, os.path.join(folder, "lintel"))
    where = os.path.join(folder, "of-nobody")
    said_in = os.path.join(folder, "said")
    for made in (where, said_in):
        os.mkdir(made)
    archive = os.path.join(where, "signals.db")

    def own(path):
        if as_nobody:
            os.chown(path, nobody.pw_uid, nobody.pw_gid)

    def listener():
        keys = os.path.join(said_in, "keys")
        if os.path.exists(keys):
            os.unlink(keys)
        with open(os.open(keys, os.O_WRONLY | os.O_CREAT, 0o600), "w") as file:
            file.write(KEYS)
        own(keys)
        own(where)
        return Listener(said_in, "--keys", keys, archive=archive, program=program, **as_nobody)

    def refused(says):
        one = listener()
        status = one.end()
        with open(one.errors.name) as file:
            words = file.read()
        return [] if one.port is None and status == 2 and says in words and "signals.db" in words else [f"exit {status}: {words}"]

    os.chmod(where, 0o555)
    cases.case("no archive can be made there: it says so and ends", refused("cannot be made"))

    os.chmod(where, 0o755)
    wrong = []
    one = listener()
    with one.udp() as panel:
        for number in range(1, 50):
            if number == 10:
                os.chmod(where, 0o555)
            panel.send(event(number))
            wrong += [] if panel.recv(1000) == ack(number) else [f"{number} is not acknowledged"]
    status = one.end()
    os.chmod(where, 0o755)
    cases.case("made so while it runs: what is open stays open, nothing is lost",
               wrong + ([] if status == 0 and [line["sequence"] for line in one.stored()] == list(range(1, 50)) else [
                   f"exit {status}, {len(one.stored())} stored"]))

    for companion in ("-wal", "-shm"):  # it could not take them away itself
        with contextlib.suppress(FileNotFoundError):
            os.unlink(archive + companion)
    os.chmod(archive, 0o400)
    os.chmod(where, 0o555)
    wrong = refused("look at its rights")
    os.chmod(archive, 0o600)
    wrong += refused("look at its rights")
    cases.case("an archive that cannot be written: it says so and ends", wrong)

    os.chmod(where, 0o755)
    one = listener()
    wrong = []
    with one.udp() as panel:
        panel.send(event(50))
        wrong += [] if panel.recv(1000) == ack(50) else ["50 is not acknowledged"]
    status = one.end()
    cases.case("and with its rights back it goes on",
               wrong + ([] if status == 0 and len(one.stored()) == 50 else [f"exit {status}, {len(one.stored())} stored"]))
cases.end()
