#!/usr/bin/env python3
"""`lintel archive` from outside: lines go in and come out as they were; what a line says is held against its frame; the
file is looked at by SQLite's own library as Python brings it."""

import json
import os
import sqlite3
import tempfile

from program import run, tap


def crc(text):
    """DC-09, 5.5.1.2, by long division."""
    remainder = 0
    for bit in (byte >> i & 1 for byte in text for i in range(8)):
        remainder = (remainder >> 1) ^ (0xA001 if (remainder ^ bit) & 1 else 0)
    return remainder


def frame(body):
    body = body if isinstance(body, bytes) else body.encode()
    return b"\n%04X%04X" % (crc(body), len(body)) + body + b"\r"


def fnv(data):
    """FNV-1a of 64 bits, by its definition."""
    value = 0xCBF29CE484222325
    for byte in data:
        value = (value ^ byte) * 0x100000001B3 & 0xFFFFFFFFFFFFFFFF
    return value


def line(number, **other):
    data = f"#1234|1130 01 {number:03}"
    digest = fnv(b"ADM-CID]" + b"A5]" + b"1234]" + bytes([number // 256, number % 256]) + data.encode() + b"]")
    said = {"received_ms": 1700000000000 + number, "prefix": "A5", "account": "1234", "sequence": number, "sent_s": 1709806530,
            "encrypted": False, "token": "ADM-CID", "data": data, "digest": f"{digest:016X}", "peer": "tcp 127.0.0.1:5000",
            "frame_hex": frame(f'"ADM-CID"{number:04}LA5#1234[{data}]_10:15:30,03-07-2024').hex().upper()}
    said.update(other)
    return {key: value for key, value in said.items() if value is not None}


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    archive = os.path.join(folder, "signals.db")
    lines = [line(i) for i in range(1, 300)]
    ran = run("archive", "import", archive, "-", text="\n".join(map(json.dumps, lines)) + "\n")
    again = run("archive", "import", archive, "-", text="\n".join(map(json.dumps, lines[100:])))
    cases.case("lines come in, and nothing twice",
               [] if ran.returncode == 0 and "299 of them new" in ran.stdout and "199 signals read, 0 of them" in again.stdout
               else [ran.stdout + ran.stderr + again.stdout + again.stderr])
    out = run("archive", "export", archive)
    got = [json.loads(text) for text in out.stdout.splitlines()]
    cases.case("and out as they came in, numbered in order",
               [] if [dict(said, id=i + 1) for i, said in enumerate(lines)] == got else [out.stdout[:500] + out.stderr])
    second = os.path.join(folder, "second.db")
    run("archive", "import", second, "-", text=out.stdout)
    cases.case("an export brought in elsewhere is the same archive",
               [] if run("archive", "export", second).stdout == out.stdout else ["?"])
    ran = run("archive", "verify", archive)
    cases.case("all are as their frames say", [] if ran.returncode == 0 and "299 signals, 0 not" in ran.stdout else [ran.stdout])

    odd = b"\xff\x00\"\\|\xc3"
    body = b'"XYZ"0007L0#777[' + odd + b"]"
    said = {"received_ms": 5, "prefix": "0", "account": "777", "sequence": 7, "encrypted": False, "token": "XYZ",
            "data_hex": odd.hex().upper(), "digest": f"{fnv(b'XYZ]0]777]' + bytes([0, 7]) + odd + b']'):016X}",
            "peer": "pasted", "frame_hex": frame(body).hex().upper()}
    other = os.path.join(folder, "odd.db")
    run("archive", "import", other, "-", text=json.dumps(said))
    out = run("archive", "export", other)
    cases.case("bytes that are no text pass as they are", [] if json.loads(out.stdout) == dict(said, id=1) else [out.stdout + out.stderr])

    wrong = []
    for fault, says in [({"sequence": 10000}, "sequence"), ({"sequence": 5}, "sequence"), ({"account": "1235"}, "account"),
                        ({"data": "#1234|1130 01 009"}, "data"), ({"prefix": "A6"}, "prefix"), ({"sent_s": None}, "time"),
                        ({"digest": "0" * 16}, "digest"), ({"digest": "X"}, "digest"), ({"token": "SIA-DCS"}, "token"),
                        ({"encrypted": True}, "encryption"), ({"frame_hex": "0A"}, "frame is none"), ({"peer": None}, "peer"),
                        ({"frame_hex": lines[1]["frame_hex"][:-4] + "000D"}, "frame is none"), ({"received_ms": -1}, "received_ms"),
                        ({"frame_hex": "0"}, "frame")]:
        text = json.dumps(lines[5]) + "\n" + json.dumps(line(2, **fault)) + "\n"
        fresh = os.path.join(folder, "fresh.db")
        ran = run("archive", "import", fresh, "-", text=text)
        if ran.returncode != 2 or says not in ran.stderr or ":2: " not in ran.stderr or os.path.exists(fresh):
            wrong.append(f"{fault}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
    for text in ["{", "[]", "7", "{}", '{"sequence": 1, "sequence": 2}', "\x00"]:
        ran = run("archive", "import", fresh, "-", text=text)
        if ran.returncode != 2 or ":1: " not in ran.stderr:
            wrong.append(f"{text}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
    cases.case("a line that is none, or not what its frame says, brings in nothing", wrong)

    copy = os.path.join(folder, "copy.db")
    ran = run("archive", "backup", archive, copy)
    again = run("archive", "backup", archive, copy)
    cases.case("a copy is whole, and never written over another file",
               [] if ran.returncode == 0 and again.returncode == 2 and "there already" in again.stderr and
               run("archive", "export", copy).stdout == run("archive", "export", archive).stdout and
               oct(os.stat(copy).st_mode)[-3:] == "600" else [ran.stderr + again.stderr])
    with sqlite3.connect(copy) as database:
        database.execute("UPDATE signals SET data = CAST('#1234|1130 01 999' AS BLOB) WHERE id = 7")
        database.execute("UPDATE signals SET frame = CAST('x' AS BLOB) WHERE id = 9")
        count, kept = database.execute("SELECT COUNT(*), MAX(CAST(data AS TEXT)) FROM signals").fetchone()
    database.close()
    ran = run("archive", "verify", copy)
    cases.case("signals changed behind its back are named",
               [] if count == 299 and kept.endswith("999") and ran.returncode == 1 and "signal 7: its data" in ran.stdout and
               "signal 9: its frame is none" in ran.stdout and "299 signals, 2 not" in ran.stdout else [ran.stdout + ran.stderr])
    with open(copy, "r+b") as file:
        file.seek(8192)
        file.write(bytes(4096))
    ran = run("archive", "verify", copy)
    cases.case("so is a damaged file", [] if ran.returncode == 2 and "damaged" in ran.stderr else [ran.stdout + ran.stderr])

    wrong = []
    for words, says in [([], "export, import"), (["exprot", archive], "none of"), (["export"], "takes the archive"),
                        (["export", archive + "x"], "no such archive"), (["verify", folder], "is no file"),
                        (["export", __file__], "no archive"), (["backup", archive], "name of the copy"),
                        (["import", archive], "standard input"), (["import", archive, archive + "y"], "cannot be read")]:
        ran = run("archive", *words)
        if ran.returncode != 2 or says not in ran.stderr or ran.stdout:
            wrong.append(f"{words}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
    cases.case("what cannot be done is said", wrong)
cases.end()
