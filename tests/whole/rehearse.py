#!/usr/bin/env python3
"""`lintel rehearse` against `lintel listen`: a routine, a break-in, a listener that goes away and comes back. What is sent
is held against the site file's own figures, worked out by hand beside each case."""

import concurrent.futures
import contextlib
import os
import re
import signal
import socket
import subprocess
import tempfile
import threading
import time

from panels import KEY, Listener, ack, exchange, frame, openssl, stamp
from program import LINTEL, run, tap

BAKERY = "demo/quayside.yaml"
AS_FOUND = "demo/quayside-as-found.yaml"
CLEAR = "account 4021 clear\n"


def rehearsed(site, *words, speed="0", text=None):
    """What it said and its exit, and what came: the data of each signal that is stored."""
    with tempfile.TemporaryDirectory() as folder:
        listener = Listener(folder, "--rate", "0", keys=CLEAR)
        try:
            ran = run("rehearse", site, *words, "--to", f"127.0.0.1:{listener.port}", "--speed", speed, text=text)
        finally:
            listener.end()
        return ran, [row["data"] for row in listener.stored()]


def clock(said, words):
    """The instant that stands before the words, or on the last line before them that has one."""
    at = None
    for line in said.splitlines():
        found = re.match(r" *((?:\d+:)?\d+:\d\d)  ", line)
        at = found.group(1) if found else at
        if words in line:
            return at
    return None


cases = tap.Cases()

# Zone 6 is perimeter in the file as found: the siren at once, the signal after the abort window of 45 s.
ran, came = rehearsed(AS_FOUND, "apprentice opens")
cases.case("the course of a finding: its alarm is sent", [] if ran.returncode == 0 and came == ["#4021|1131 01 006"] and
           clock(ran.stdout, "siren (shop)") == "04:30:00" and clock(ran.stdout, "sent:") == "04:30:45" else [ran.stdout, ran.stderr, str(came)])

# All goes well as it should be: the code of the first comes before the entry time ends.
ran, came = rehearsed(BAKERY, "apprentice opens")
cases.case("a routine that goes well sends no alarm", [] if ran.returncode == 0 and came and
           all(data.split("|")[1][:4] in ("1401", "3401") for data in came) else [ran.stdout, ran.stderr, str(came)])

slow = rehearsed(BAKERY, "first batch", "--pace", "slow")[0].stdout
quick = rehearsed(BAKERY, "first batch", "--pace", "quick")[0].stdout
cases.case("a pace is heeded", [] if clock(quick, "opens the yard door") < clock(slow, "opens the yard door") else [quick, slow])

# The very figures of `tell`: heard at 2:10, 2 s before he has smashed the panel; a siren of 15 min is not told to its end.
told = run("tell", BAKERY, "panel").stdout
ran, came = rehearsed(BAKERY, "panel", "--sia")
wrong = [] if ran.returncode == 0 and came == ["#4021|Nri1/BA006"] else [str(came)]
wrong += [f"{words}: {clock(ran.stdout, words)}, told {clock(told, words)}" for words in
          ("is in the office", "siren (shop)", "sent: \"intrusion, zone 6\"", "has smashed the panel")
          if clock(ran.stdout, words) is None or clock(ran.stdout, words) != clock(told, words)]
wrong += ["it went on after the panel was smashed"] if "the siren stops" in ran.stdout else []
cases.case("a break-in: what is heard when, and nothing once the panel is smashed", wrong and [*wrong, ran.stdout, ran.stderr, told])

# Typed: entry delay of the yard door 45 s, abort window 15 s (demo/quayside.yaml), its radio contact a second late.
TYPED = """shop begins full
yard door opens
wait 10 s
baker keys in passage
yard dor closes
wait 30 s
baker sets full at passage keypad
baker goes through yard door
wait 3 min
bakehouse window opens"""
ran, came = rehearsed(BAKERY, "--lines", "-", text=TYPED)
wrong = [] if came == ["#4021|1401 01 001", "#4021|3401 01 001", "#4021|1131 01 007"] else [str(came)]
wrong += [] if ran.returncode == 2 and 'line 5, "yard dor closes"' in ran.stderr and "doors: yard door" in ran.stderr else [f"exit {ran.returncode}"]
wrong += [] if clock(ran.stdout, "opens the yard door") == "0:01" and clock(ran.stdout, "shop is unset") == "0:11" else ["other times"]
cases.case("lines typed by hand: what they bring, and what is said of one that is not understood", wrong and [*wrong, ran.stdout, ran.stderr])

# In time, three hundred times as fast, lines and timers in the same order.
ran, came = rehearsed(BAKERY, "--lines", "-", speed="300", text="shop begins full\nbakehouse window opens\nwait 60 s\nbaker keys in passage\n")
kinds = [data.split("|")[1] for data in came]
cases.case("typed and played in time", [] if ran.returncode == 0 and kinds[0] == "1131 01 007" and "1401 01 001" in kinds else [ran.stdout, ran.stderr, str(came)])

ran = run("rehearse", BAKERY, "aprentice opens", "--to", "127.0.0.1:9")
cases.case("a name that is not there is told, with the one that is near", [] if ran.returncode == 2 and
           'did you mean "apprentice opens"' in ran.stderr else [ran.stderr])

with tempfile.TemporaryDirectory() as folder:
    listener = Listener(folder, keys=f"account 4021 key {KEY}\n")
    other = os.path.join(folder, "other")
    with open(os.open(other, os.O_WRONLY | os.O_CREAT, 0o600), "w") as file:
        file.write(f"account 4021 key {KEY[::-1]}\n")
    ran = run("rehearse", AS_FOUND, "apprentice opens", "--to", f"127.0.0.1:{listener.port}", "--speed", "0", "--keys", other)
    listener.end()
    cases.case("another key than the receiver's is told", [] if ran.returncode == 2 and "has it the same key" in ran.stderr and
               not listener.stored() else [ran.stdout, ran.stderr])


def speak_tcp(server, said):
    with contextlib.suppress(OSError):
        while True:
            panel = server.accept()[0]
            with panel:
                for got in iter(lambda: panel.recv(5000), b""):
                    for piece in said(got):
                        panel.sendall(piece)


def speak_udp(server, said):
    with contextlib.suppress(OSError):
        for got, panel in iter(lambda: server.recvfrom(5000), None):
            if not got:  # shut down
                break
            for piece in said(got):
                server.sendto(piece, panel)


def number_of(got):
    return re.search(rb'"(\d{4})', got).group(1).decode()


@contextlib.contextmanager
def receiver(said, udp=False):
    """One at 127.0.0.1 that answers each frame with the pieces `said` makes of it; its port."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM if udp else socket.SOCK_STREAM) as server:
        server.bind(("127.0.0.1", 0))
        if not udp:
            server.listen()
        thread = threading.Thread(target=speak_udp if udp else speak_tcp, args=(server, said))
        thread.start()
        yield server.getsockname()[1]
        with contextlib.suppress(OSError):
            server.shutdown(socket.SHUT_RDWR)
        thread.join()


def answered_by(answer, *words, of=number_of):
    """What the panel says, and how many frames it sent, where each is answered with what `answer` makes of its number."""
    count = 0

    def said(got):
        nonlocal count
        count += 1
        made = answer(of(got))
        return [made] if isinstance(made, bytes) else made

    with receiver(said, "--udp" in words) as port:
        ran = run("rehearse", BAKERY, "--only", "zone 6", "--to", f"127.0.0.1:{port}", "--speed", "0", *words)
    return ran, count


def each(judge, cases_of):
    """What is wrong with any of them; side by side, as most of it is waiting."""
    with concurrent.futures.ThreadPoolExecutor(8) as pool:
        return [wrong for wrong in pool.map(lambda case: judge(*case), cases_of) if wrong]


def closed(at, pad=None, more=b"]"):
    clear = b"|" + more + stamp(at)
    most = -len(clear) % 16 or 16
    return openssl((pad or os.urandom(64).translate(None, b"[]|"))[:most] + clear).hex().upper().encode()


def sealed(number, at, account="4021", within=None):
    return frame(f'"*ACK"{number}L0#{account}['.encode() + (within or closed(at)))


def as_answer(got):
    """The frame sent back as an acknowledgement: the token stands outside of what is encrypted."""
    return frame(re.sub(rb'^"\*[A-Z-]+"', b'"*ACK"', got[9:-1]))


def first_from(port):
    """Answers: the first one from the listener there, later ones from somebody who has the key and marks none."""
    left = [True]

    def answer(got):
        if left and left.pop():
            with socket.create_connection(("127.0.0.1", port), timeout=5) as listener:
                return exchange(listener, got, len(sealed("0000", 0)))
        return sealed(number_of(got), time.time())

    return answer


def link_tests(keys):
    """What a rehearsal says whose signals nobody answers and whose link tests come back as acknowledgements; and how many."""
    count = 0

    def said(got):
        nonlocal count
        count += b"NULL" in got
        return [as_answer(got)] if b"NULL" in got else []

    with receiver(said) as port:
        process = subprocess.Popen([LINTEL, "rehearse", BAKERY, "--lines", "-", "--to", f"127.0.0.1:{port}", "--speed", "6000", "--keys", keys],
                                   stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=tap.SOURCE)
        process.stdin.write("shop begins full\nbakehouse window opens\nwait 60 s\n")
        process.stdin.close()
        process.stdin = None
        for _ in range(600):
            if count >= 2:
                break
            time.sleep(0.1)
        process.kill()
        return process.communicate()[0], count


# An acknowledgement anybody could have made, or somebody recorded, is none; DC-09, 5.5.3.1: encrypted as the frame was.
with tempfile.TemporaryDirectory() as folder:
    keys = os.path.join(folder, "keys")
    with open(os.open(keys, os.O_WRONLY | os.O_CREAT, 0o600), "w") as file:
        file.write(f"account 4021 key {KEY}\n")
    secretly = ("--keys", keys)

    def judge_taken(what, words, answer, taken):
        ran, count = answered_by(answer, *words)
        good = ran.returncode == 0 if taken else ran.returncode == 2 and count == 3 and "does not acknowledge" in ran.stderr
        return "" if good else f"{what}: exit {ran.returncode} after {count}: {ran.stderr}"

    wrong = each(judge_taken, [
            ("in clear", (), lambda number: frame(f'"ACK"{number}L0#4021[]'), True),
            ("in clear, of another account", (), lambda number: frame(f'"ACK"{number}L0#4022[]'), False),
            ("in clear, encrypted", (), lambda number: sealed(number, time.time()), False),
            ("in clear, told the time", (), lambda _: frame(b'"NAK"0000R0L0A0[]' + stamp(time.time())), False),
            ("encrypted", secretly, lambda number: sealed(number, time.time()), True),
            ("encrypted, with its pad the same each time", secretly,
             lambda number: sealed(number, 0, within=closed(time.time(), b"p" * 16)), True),
            ("encrypted, one that says something", secretly, lambda number: sealed(number, 0, within=closed(time.time(), more=b"#4021|]")), False),
            ("encrypted, one with more", secretly, lambda number: sealed(number, 0, within=closed(time.time(), more=b"][Vhere]")), False),
            ("encrypted, in clear", secretly, lambda number: frame(f'"ACK"{number}L0#4021[]'), False),
            ("encrypted, an old one", secretly, lambda number: sealed(number, time.time() - 600), False),
            ("encrypted, another key", secretly, lambda number: sealed(number, time.time()).replace(b"[", b"[" + b"0" * 32, 1), False)])
    cases.case("only an acknowledgement encrypted as the frame was, and made just now, is one", wrong)

    # Token, number and account stand outside of what is encrypted: whoever has no key can put others before it.
    def judge_forged(what, answer, of, frames):
        ran, count = answered_by(answer, *secretly, of=of)
        good = ran.returncode == 2 and count == frames and "does not acknowledge" in ran.stderr
        return "" if good else f"{what}: exit {ran.returncode} after {count}: {ran.stdout} {ran.stderr}"

    recorded = closed(time.time())
    with tempfile.TemporaryDirectory() as other:
        listener = Listener(other, "--rate", "0", keys=f"account 4021 key {KEY}\n")
        with concurrent.futures.ThreadPoolExecutor() as pool:
            linked = pool.submit(link_tests, keys)
            wrong = each(judge_forged, [
                ("its own frame sent back", as_answer, bytes, 3),
                ("one that was recorded, for a second message", lambda number: sealed(number, 0, within=recorded), number_of, 4),
                ("one without the mark of the receiver that was there", first_from(listener.port), bytes, 4)])
            said, count = linked.result()
        listener.end()
    wrong += [] if count >= 2 and "no answer" in said and "answers again" not in said else [f"{count} link tests sent back: {said}"]
    cases.case("what somebody without the key can send for an acknowledgement is none", wrong)


def nak(off=0.0, fields=b"0000R0L0A0"):
    return frame(b'"NAK"' + fields + b"[]" + stamp(time.time() + off))


def in_turn(*firsts, then):
    """Answers: the first ones as they stand, or made of a number, all later ones by what makes them of one."""
    left = list(firsts)

    def answer(number):
        made = left.pop(0) if left else then
        return made(number) if callable(made) else made

    return answer


# A NAK has no seal: DC-09, 5.5.3.2. What anybody may have made puts the clock right once a message, by a day at most.
with tempfile.TemporaryDirectory() as folder:
    keys = os.path.join(folder, "keys")
    with open(os.open(keys, os.O_WRONLY | os.O_CREAT, 0o600), "w") as file:
        file.write(f"account 4021 key {KEY}\n")

    def judge_told(what, answer, status, says, *words):
        ran, _ = answered_by(answer, "--keys", keys, *words)
        good = ran.returncode == status and says in ran.stdout + ran.stderr
        return "" if good else f"{what}: exit {ran.returncode}: {ran.stdout[-300:]} {ran.stderr}"

    wrong = each(judge_told, [
            ("ten minutes ahead", in_turn(nak(600), then=lambda number: sealed(number, time.time() + 600)), 0, "s ahead of this machine's"),
            ("an hour behind", in_turn(nak(-3600), then=lambda number: sealed(number, time.time() - 3600)), 0, "s behind this machine's"),
            ("right, after a while", in_turn(nak(1), then=lambda number: sealed(number, time.time())), 0, "acknowledged"),
            ("half a minute ahead, without a word", lambda number: sealed(number, time.time() + 33), 0, "acknowledged"),
            ("a minute ahead, without a word", lambda number: sealed(number, time.time() + 60), 2, "does not acknowledge"),
            ("two days ahead", lambda _: nak(2 * 86400), 2, "more than a day off"),
            ("two days ahead, then an acknowledgement of that time",
             in_turn(nak(2 * 86400), then=lambda number: sealed(number, time.time() + 2 * 86400)), 2, "does not acknowledge"),
            ("another time each time", in_turn(nak(600), nak(1200), then=lambda number: sealed(number, time.time() + 1200)), 2,
             "does not agree about the clock"),
            ("another time each time, with noise between",
             in_turn(nak(600), ack(1), nak(1200), then=lambda number: sealed(number, time.time() + 1200)), 2,
             "does not agree about the clock"),
            ("told a wrong time by somebody, then the right one", in_turn(nak(600), then=lambda _: nak()), 2,
             "does not agree about the clock"),
            ("the frame's own time again", in_turn(nak(600), then=lambda _: nak(600)), 2, "has it the same key"),
            ("a NAK to the first try that comes with the one to the second",
             in_turn(b"", [nak(60), nak(60)], then=lambda number: sealed(number, time.time() + 60)), 0, "s ahead of this machine's", "--udp"),
            ("a wrong time, and an acknowledgement all the same",
             in_turn(nak(600), lambda number: [nak(), sealed(number, time.time() + 600)], then=lambda number: sealed(number, time.time() + 600)), 0, "s ahead of this machine's"),
            ("to another number and account", lambda _: nak(600, b"0000R0L0#9999"), 2, "does not acknowledge")])
    cases.case("told the time: once a message, by a day at most, and it is said", wrong)


def in_clear(number):
    return frame(f'"ACK"{number}L0#4021[]')


def with_stale(number):
    """Before what answers this frame, what answers three earlier ones."""
    return [*(in_clear(f"{(int(number) + 9998 - back) % 9999 + 1:04}") for back in (3, 2, 1)), in_clear(number)]


def judge_stale(what, answer, *words):
    ran, count = answered_by(answer, *words)
    sent = re.search(r"(\d+) signals sent", ran.stdout)
    return "" if ran.returncode == 0 and sent and int(sent.group(1)) == count else f"{what}: exit {ran.returncode} after {count}: {ran.stdout} {ran.stderr}"


# After a receiver that was slow for a while, its answers to earlier tries come first; they must not count as this one's.
cases.case("answers to earlier frames are passed over, and what waits is no answer to what is sent then", each(judge_stale, [
    ("datagrams", with_stale, "--udp"),
    ("a datagram that holds nothing, and one that ends early", lambda number: [b"", in_clear(number)[:-3], in_clear(number)], "--udp"),
    ("in one piece", lambda number: b"".join(with_stale(number))),
    ("in pieces, with noise", lambda number: [b"x\r\n", b"".join(with_stale(number))[:-9], in_clear(number)[-9:]]),
    ("more of them than tries wait behind it", lambda number: [in_clear(number), *with_stale(number)], "--udp")]))

# A receiver that says a byte now and then is waited for as long as one that says nothing.
began = time.monotonic()
ran, _ = answered_by(lambda _: (time.sleep(0.5) or b"." for _ in range(70)))
took = time.monotonic() - began
cases.case("an answer that never ends is none", [] if ran.returncode == 2 and "does not acknowledge" in ran.stderr and took < 30 else
           [f"exit {ran.returncode} after {took} s: {ran.stderr}"])

with tempfile.TemporaryDirectory() as folder:
    # "leaves and returns": a set, then, minutes later, an unset; the listener is killed after the one, and another comes
    # to the same port once the panel has learned that nobody answers.
    first = Listener(folder, "--rate", "0", keys=CLEAR)
    port = str(first.port)
    process = subprocess.Popen([LINTEL, "rehearse", BAKERY, "leaves and returns by yard way", "--to", f"127.0.0.1:{port}", "--speed", "6000"],
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=tap.SOURCE)
    lines = []
    for line in process.stdout:
        lines.append(line)
        if "acknowledged" in line:
            break
    first.end(signal.SIGKILL)
    for line in process.stdout:
        lines.append(line)
        if "no answer" in line:
            break
    time.sleep(1)
    second = Listener(folder, "--rate", "0", "--port", port, keys=CLEAR)
    try:
        out, errors = process.communicate(timeout=60)
    finally:
        process.kill()
        second.end()
    said = "".join(lines) + out
    came = [row["data"] for row in second.stored()]
    kinds = [data.split("|")[1][:4] for data in came]
    wrong = [] if process.returncode == 0 else [f"exit {process.returncode}", errors]
    wrong += [] if "no answer" in said and "the receiver answers again" in said else ["the listener's absence was not told"]
    wrong += [] if kinds[:1] == ["3401"] and kinds.count("1401") == 1 else [f"came {came}"]
    wrong += [] if f"{len(came)} signals sent, each acknowledged" in said else [f"{len(came)} stored"]
    cases.case("a listener that goes away: what leaves meanwhile waits, and comes when another is there", wrong and [*wrong, said])

def late_by_udp(host="127.0.0.1", late_s=2):
    """A receiver at 127.0.0.1 that is not there yet when the first frame is sent to that name of it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as place:
        place.bind(("127.0.0.1", 0))
        port = place.getsockname()[1]
    process = subprocess.Popen([LINTEL, "rehearse", BAKERY, "--only", "zone 6", "--to", f"{host}:{port}", "--speed", "0", "--udp"],
                               stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=tap.SOURCE)
    time.sleep(late_s)
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as place:
        place.bind(("127.0.0.1", port))
        place.settimeout(1)
        while process.poll() is None:
            with contextlib.suppress(TimeoutError):
                got, whom = place.recvfrom(4096)
                place.sendto(in_clear(number_of(got)), whom)
    return [] if process.returncode == 0 else [process.stdout.read()]


cases.case("over UDP a receiver that is away for a moment is waited for", late_by_udp())
cases.case("over UDP the addresses of a name are gone through", late_by_udp("localhost", 0))  # ::1 comes first where it is known
with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as nobody:
    nobody.bind(("127.0.0.1", 0))
    nowhere = nobody.getsockname()[1]
ran = run("rehearse", BAKERY, "--only", "zone 6", "--to", f"127.0.0.1:{nowhere}", "--speed", "0", "--udp")
cases.case("over UDP too it is told that nobody listens there", [] if ran.returncode == 2 and "nobody listens there by UDP" in ran.stderr else [ran.stdout, ran.stderr])
cases.end()
