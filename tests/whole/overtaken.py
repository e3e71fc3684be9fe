#!/usr/bin/env python3
"""What a page asked for and no longer waits for is not worked out to its end: it hung up, or the file was changed
meanwhile. Told by the time that the bench's processor spends (proc(5), /proc/PID/stat: utime and stime), as a ratio to
the same questions answered."""

import json
import os
import shutil
import socket
import tempfile
import time

from program import tap
from served import PATIENCE_S, Bench

QUESTIONS = {"/try": 12, "/compare": 3}
EDITS = 10


def spent(bench):
    with open(f"/proc/{bench.process.pid}/stat", encoding="utf-8") as file:
        fields = file.read().rpartition(")")[2].split()
    return int(fields[11]) + int(fields[12])


def send(bench, path, value):
    body = json.dumps(value).encode()
    link = socket.create_connection(("127.0.0.1", bench.port), timeout=PATIENCE_S)
    link.sendall(f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{bench.port}\r\nOrigin: {bench.origin}\r\nCookie: {bench.cookie}\r\n"
                 f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\nConnection: close\r\n\r\n".encode() + body)
    return link


def received(link):
    got = b""
    while piece := link.recv(1 << 20):
        got += piece
    link.close()
    return got


def until_quiet(bench):
    before = -1
    while (now := spent(bench)) != before:
        before = now
        time.sleep(0.3)
    return now


def wrong_hanging_up(path, where):
    """Those who hang up cost less than half of those who wait."""
    with Bench(shutil.copy(os.path.join(tap.SOURCE, "demo", "surgery.yaml"), path)) as bench:
        number = bench.checked()["number"]
        revision = json.loads(bench.post("/revise", {"name": "as found"})[1])["revisions"][0]["id"]
        value = {"number": number, "edits": []} if where == "/try" else {"revision": revision}
        begun = until_quiet(bench)
        answers = [received(send(bench, where, value)) for _ in range(QUESTIONS[where])]
        waited = until_quiet(bench) - begun
        begun = until_quiet(bench)
        for _ in range(QUESTIONS[where]):
            send(bench, where, value).close()
        left = until_quiet(bench) - begun
    wrong = [answer[:200] for answer in answers if b" 200 " not in answer.split(b"\r\n")[0]]
    return wrong + ([] if left * 2 < waited else [f"{left} ticks of {waited}"])


def wrong_overtaking(path):
    """A change of the file ends what is about the file as it was; it says so, and the change is made."""
    with Bench(shutil.copy(os.path.join(tap.SOURCE, "demo", "surgery.yaml"), path)) as bench:
        number = bench.checked()["number"]
        for i in range(EDITS):
            link = send(bench, "/try", {"number": number, "edits": []})
            status, content = bench.post("/edit", {"number": number, "edits": [{"path": "zones[0].chime", "value": ("yes", "no")[i % 2]}]})
            answer = received(link)
            if status != 200:
                return [content.decode()]
            number += 1
            if b'"overtaken"' in answer:
                return [] if b" 409 " in answer.split(b"\r\n")[0] else [repr(answer[:200])]
    return [f"none of {EDITS} was overtaken"]


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    cases.case("a try whose page hangs up is not worked out to its end", wrong_hanging_up(os.path.join(folder, "tried.yaml"), "/try"))
    cases.case("nor is a comparison", wrong_hanging_up(os.path.join(folder, "compared.yaml"), "/compare"))
    cases.case("a try that the next edit overtakes says so", wrong_overtaking(os.path.join(folder, "edited.yaml")))
cases.end()
