#!/usr/bin/env python3
"""`lintel archive import` of event logs and captures: what is in them is stored, once however often it is brought in, what
cannot be taken is told with its line. Times are worked out by Python's own calendar, frames encrypted by openssl."""

import calendar
import contextlib
import json
import os
import sqlite3
import tempfile
import time

from panels import KEY, ack, event, frame, secret, stamp
from program import run, tap

os.environ["TZ"] = "XXX-2"  # two hours ahead of UTC
SITE = "demo/quayside.yaml"
HEAD = "Event log\nNo;Day;Time;Event;Number;Area\n"
ROWS = ["5;24.10.2026;17:30:02;Unset;3;1", "4;24.10.2026;07:59:58;Burglary end;2;1", "3;24.10.2026;07:59:51;Burglary;2;1",
        "2;24.10.2026;07:59:51;\"Burglary\";2;1", "1;23.10.2026;23:00:00;BA;12;", "0;23.10.2026;22:59:59;E301;;"]
cases = tap.Cases()


def utc_ms(text):
    return calendar.timegm(time.strptime(text, "%d.%m.%Y %H:%M:%S")) * 1000


def unlike(got, want):
    return [] if got == want else [f"{got}, not {want}"]


def exported(archive):
    return [json.loads(line) for line in run("archive", "export", archive).stdout.splitlines()]


def said(ran, status, *words):
    whole = ran.stdout + ran.stderr
    return [] if ran.returncode == status and all(word in whole for word in words) else [f"exit {ran.returncode}: {whole}"]


with tempfile.TemporaryDirectory() as folder:
    archive, log, keys, capture = (os.path.join(folder, name) for name in ("signals.db", "log.csv", "keys", "capture"))

    def write(path, content, mode=0o644):
        with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode), "wb") as file:
            file.write(content if isinstance(content, bytes) else content.encode())

    def bring_log(rows, name=None, into=archive):
        write(name or log, HEAD + "".join(row + "\r\n" for row in rows))
        return run("archive", "import", "--log", SITE, into, name or log)

    wrong = said(bring_log(ROWS), 0, "6 signals read, 6 of them new")
    got = exported(archive)
    wrong += unlike([(line["received_ms"], line["data"].split("|")[1], line["sequence"]) for line in got],
                    [(utc_ms("24.10.2026 15:30:02"), "1401 01 003", 1), (utc_ms("24.10.2026 05:59:58"), "3130 01 002", 1),
                     (utc_ms("24.10.2026 05:59:51"), "1130 01 002", 1), (utc_ms("24.10.2026 05:59:51"), "1130 01 002", 2),
                     (utc_ms("23.10.2026 21:00:00"), "NBA012", 1), (utc_ms("23.10.2026 20:59:59"), "1301 00 000", 1)])
    wrong += unlike([line["peer"] for line in got], [f"log log.csv, line {number}" for number in range(3, 9)])
    wrong += unlike(bytes.fromhex(got[0]["frame_hex"]).decode(), ROWS[0])
    wrong += unlike({line["token"] for line in got}, {"ADM-CID", "SIA-DCS"})
    wrong += said(run("archive", "verify", archive), 0, "6 signals, 0 not as their frames say; 6 of logs, which had none")
    cases.case("a log comes in as the panel's profile says, marked, in this machine's time", wrong)

    more = ["6;24.10.2026;18:00:00;Set;3;1", *ROWS]
    wrong = said(bring_log(ROWS), 0, "6 signals read, 0 of them new")
    wrong += said(bring_log(more, os.path.join(folder, "later.csv")), 0, "7 signals read, 1 of them new")
    wrong += unlike(len(exported(archive)), 7)
    cases.case("again, and again with more: nothing twice", wrong)

    # a file of somebody else may have ever so many lines of one second; nobody else is stored until all of it is
    many = [f"{number};24.10.2026;07:59:51;E{100 + number % 600};{number // 600};1" for number in range(40000)]
    crowded = os.path.join(folder, "crowded.db")
    began = time.monotonic()
    wrong = said(bring_log([*many, many[7], many[7]], into=crowded), 0, "40002 signals read, 40002 of them new")
    wrong += said(bring_log([*many, many[7], many[7]], into=crowded), 0, "40002 signals read, 0 of them new")
    took = time.monotonic() - began
    with contextlib.closing(sqlite3.connect(crowded)) as database:
        twice = database.execute("SELECT sequence FROM signals GROUP BY sequence").fetchall()
        indexes = database.execute("SELECT name FROM sqlite_schema WHERE type = 'index' AND name = 'imported'").fetchall()
    cases.case("forty thousand lines of one second do not take forty thousand times as long",
               wrong + unlike((twice, indexes), ([(1,), (2,), (3,)], [])) + ([] if took < 40 else [f"{took} s"]))

    other = os.path.join(folder, "other.db")
    ran = run("archive", "import", other, "-", text=run("archive", "export", archive).stdout)
    cases.case("and so out and into another archive", said(ran, 0, "7 of them new") +
               unlike([line["data"] for line in exported(other)], [line["data"] for line in exported(archive)]))
    with sqlite3.connect(other) as database:
        database.execute("UPDATE signals SET sequence = 9 WHERE id = 3")
    database.close()
    cases.case("a changed one is noticed", said(run("archive", "verify", other), 1, "signal 3", "digest"))

    wrong = said(bring_log(["7;24.10.2026;19:00:00;Windy;3;1", "8;24.13.2026;19:00:00;Set;3;1", "9;24.10.2026;19:00:00;Set;3",
                            "10;24.10.2026;19:00:00;Set;4711;1", "11;24.10.2026;19:00:00;Set;4;1"]), 1,
                 "log.csv:3: \"Windy\" is no event code; say under log-words", "log.csv:4: its time is written DD.MM.YYYY hh:mm:ss",
                 "log.csv:5: it ends after 5 of 6 columns", "log.csv:6: its number is a number up to 999, not \"4711\"", "1 signals read",
                 "4 not taken")
    wrong += said(run("archive", "import", "--log", "demo/surgery.yaml", archive, log), 2, "log-columns")
    wrong += said(run("archive", "import", "--log", "no.yaml", archive, log), 2, "no.yaml")
    wrong += said(run("archive", "import", "--log", SITE, "--frames", archive, log), 2, "not both")
    cases.case("what is no event is told with its line; the others are taken", wrong)

    captured = os.path.join(folder, "captured.db")

    def bring_frames(content, *more, into=captured):
        write(capture, content)
        return run("archive", "import", "--frames", *more, into, capture)

    then = calendar.timegm((2026, 11, 26, 10, 15, 30))
    plain = [event(number, more=stamp(then + number).decode()) for number in range(1, 4)]
    wrong = said(bring_frames(b"".join([plain[0], ack(1), plain[1], plain[1], frame('"NULL"0000L0#777[]'), plain[2]])), 0,
                 "3 signals read, 3 of them new, 1 repeats, 2 answers and link tests left out")
    wrong += said(bring_frames(b"\n".join(part.hex(" ").upper().encode() for part in plain)), 0, "3 signals read, 0 of them new")
    got = exported(captured)
    wrong += unlike([(line["received_ms"], line["sequence"], line["frame_hex"]) for line in got],
                    [((then + number) * 1000, number, plain[number - 1].hex().upper()) for number in range(1, 4)])
    wrong += unlike(got[1]["peer"], f"capture capture, byte {len(plain[0]) + len(ack(1)) + 1}")
    cases.case("frames come in as they are, or as their hex digits: the same", wrong)

    write(keys, f"account 1234 key {KEY}\n", 0o600)
    hidden = secret(9, at=then)
    lines = ["2026-11-26T10:00:00Z " + event(10).hex(), "2026-11-26T10:00:05Z " + event(10).hex(), hidden.hex()]
    wrong = said(bring_frames("\n".join(lines), "--keys", keys), 0, "2 signals read, 2 of them new, 1 repeats")
    got = exported(captured)[3:]
    wrong += unlike([(line["received_ms"], line["encrypted"], line["data"]) for line in got],
                    [(calendar.timegm((2026, 11, 26, 10, 0, 0)) * 1000, False, "#777|1130 01 015"),
                     (then * 1000, True, "#1234|1130 01 015")])
    wrong += said(run("archive", "verify", captured), 0, "5 signals, 0 not")
    cases.case("encrypted ones are opened; a time before the line counts", wrong)

    # a test signal whose further bytes were reckoned so that its digest in the archive is that of the alarm after it
    forged = frame(b'"ADM-CID"0007L0#1234[#1234|1602 00 000][Abbfkif\x02\x06\x05\x07\x07\x03\x0e\x06\x01\x04\x02\x03\x05\x08'
                   b"\x0f\x01\x00\x00?\x0c]")
    alarm = frame('"ADM-CID"0042L0#1234[#1234|1130 01 015]')
    wrong = said(bring_frames("\n".join("2026-11-26T11:00:00Z " + one.hex() for one in (forged, alarm))), 0, "2 signals read, 2 of them new")
    got = exported(captured)[-2:]
    wrong += unlike(got[0]["digest"], got[1]["digest"])  # it is forged well
    cases.case("no message of a capture passes for another", wrong)

    bad = event(11, more=stamp(then).decode())
    lines = [event(12).hex(), hidden.hex(), bad[:-3].hex(), (bad[:20] + b"X" + bad[21:]).hex(), "what?", "0A0", "41" + plain[0].hex()]
    wrong = said(bring_frames("\n".join(lines)), 1, "capture:1: it carries no time", "capture:2: it is encrypted",
                 "capture:3: a frame begins and does not end", "capture:4: ", "capture:5: neither a frame", "capture:6: neither a frame",
                 "capture:7: 1 byte", "7 not taken", "1 signals read, 0 of them new")
    wrong += said(bring_frames(b"noise" + plain[0] + b"\n12"), 1, "capture, byte 1: 5 bytes are no frame",
                  f"capture, byte {6 + len(plain[0])}: a frame begins")
    wrong += said(bring_frames(b""), 0, "0 signals read")
    cases.case("what is no frame is told with its place; the others are taken", wrong)
with tempfile.TemporaryDirectory() as folder:
    name = "x" * 59 + "\N{LATIN SMALL LETTER U WITH DIAERESIS}ber"  # the 60th byte is half a character
    archive, capture = os.path.join(folder, "signals.db"), os.path.join(folder, name)
    with open(capture, "w") as file:
        file.write("2026-11-26T10:15:30Z " + event(1).hex() + "\n")
    wrong = said(run("archive", "import", "--frames", archive, capture), 0, "1 of them new")
    cases.case("a long name is cut between two characters", wrong + unlike([line.get("peer") for line in exported(archive)],
                                                                         [f"capture {'x' * 59}, line 1"]))
cases.end()
