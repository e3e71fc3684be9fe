#!/usr/bin/env python3
"""`lintel listen` from outside, over TCP and UDP on loopback: panels that behave, and panels that do not."""

import contextlib
import json
import os
import resource
import signal
import socket
import sqlite3
import subprocess
import tempfile
import threading
import time

from panels import KEY, Listener, ack, crc, event, exchange, frame, hung_up, openssl, secret, take
from program import LINTEL, run, tap

KEYS = f"account 777 clear\naccount 1234 key {KEY}\naccount 12AB prefix A5 clear\n"


@contextlib.contextmanager
def listening(*options, keys=KEYS):
    with tempfile.TemporaryDirectory() as folder:
        listener = Listener(folder, *options, keys=keys)
        try:
            yield listener
        finally:
            listener.end()


def unlike(got, expected):
    return [] if got == expected else [f"{got!r} instead of {expected!r}"]


cases = tap.Cases()

with listening() as listener:
    with open(f"/proc/{listener.process.pid}/limits") as file:
        cores = [line.split()[4:6] for line in file if line.startswith("Max core file size")]
    cases.case("who has read keys leaves no core file", unlike(cores, [["0", "0"]]))
    with listener.tcp() as tcp, listener.udp() as udp:
        wrong = unlike(exchange(tcp, event(1), len(ack(1))), ack(1))
        udp.send(event(2))
        wrong += unlike(udp.recv(1000), ack(2))
        cases.case("an event is acknowledged, over TCP and UDP", wrong)

        udp.send(frame('"SIA-DCS"0003RA1LA5#12AB[|Nri1/BA015][IHALL][VHTTP]_10:15:30,03-07-2024'))
        wrong = unlike(udp.recv(1000), frame('"ACK"0003RA1LA5#12AB[]'))
        udp.send(frame('"NULL"0000L0#777[]'))
        wrong += unlike(udp.recv(1000), frame('"ACK"0000L0#777[]'))
        cases.case("header fields come back; a link test is acknowledged", wrong)

        wrong = []
        for number in (4, 5):
            udp.send(secret(number))
            answer = udp.recv(1000)
            head, cipher = answer.split(b"[")
            clear = openssl(bytes.fromhex(cipher[:-1].decode()), "-d")
            pad, rest = clear.split(b"|", 1)
            then = time.mktime(time.strptime(rest[2:].decode(), "%H:%M:%S,%m-%d-%Y")) - time.timezone
            if not head.endswith(b'"*ACK"%04dL0#1234' % number) or not rest.startswith(b"]_") or not 1 <= len(pad) <= 16 or \
                    abs(then - time.time()) > 5 or answer != frame(answer[9:-1]):
                wrong.append(f"{answer} {clear}")
        cases.case("frames encrypted by openssl are opened; openssl opens the acknowledgement", wrong)

        udp.send(event(2))
        wrong = unlike(udp.recv(1000), ack(2))
        wrong += unlike(exchange(tcp, event(2) + event(1), 2 * len(ack(1))), ack(2) + ack(1))
        cases.case("a repeat is acknowledged again, wherever it comes from", wrong)

        many = b"".join(event(number) for number in range(10, 60))
        want = b"".join(ack(number) for number in range(10, 60))
        wrong = unlike(exchange(tcp, many, len(want)), want)
        udp.send(event(60) + event(61))
        wrong += unlike({udp.recv(1000), udp.recv(1000)}, {ack(60), ack(61)})
        cases.case("fifty frames in one packet, each acknowledged", wrong)

        wrong = []
        whole = event(70)
        for cut in range(1, len(whole)):
            numbered = event(100 + cut)
            tcp.sendall(numbered[:cut])
            time.sleep(0.002)
            wrong += unlike(exchange(tcp, numbered[cut:], len(ack(1))), ack(100 + cut))
        for byte in whole:
            tcp.sendall(bytes([byte]))
            time.sleep(0.001)
        wrong += unlike(take(tcp, len(ack(70))), ack(70))
        cases.case("frames split at every byte, and one byte at a time", wrong)

        wrong = []
        for what in [event(80)[:-2] + b"X\r", b"\n0000" + event(80)[5:], event(80)[:5] + b"0028" + event(80)[9:], b"noise" * 50,
                     b"\n" * 500, b"\r\n\r\n", event(80)[:20], b"\n" + b"x" * 9000, bytes(range(256)), ack(80),
                     frame('"NAK"0000R0L0A0[]_10:15:30,03-07-2024')]:
            tcp.sendall(what)
            udp.send(what)
        udp.send(event(81))
        wrong += unlike(udp.recv(1000), ack(81))
        wrong += unlike(exchange(tcp, event(82), len(ack(82))), ack(82))
        cases.case("garbage, wrong sums and lengths, answers: silence, and the next good frame is heard", wrong)

        wrong = []
        for what, answer in [(event(90, "888"), frame('"DUH"0090L0#888[]')), (event(91, "1234"), frame('"DUH"0091L0#1234[]')),
                             (secret(92, "777"), frame('"DUH"0092L0#777[]')),
                             (frame('"ADM-CID"0093L0#777[#778|1130 01 015]'), frame('"DUH"0093L0#777[]')),
                             (event(94, text="2130 01 015"), frame('"DUH"0094L0#777[]')),
                             (event(95, token="SIA-PUL"), frame('"DUH"0095L0#777[]'))]:
            udp.send(what)
            wrong += unlike(udp.recv(1000), answer)
        once = secret(97)
        again = frame(once[9:-1].replace(b'"0097', b'"0098'))  # as somebody would who recorded it
        for what, begins in [(once, b'"*ACK"0097'), (again, b'"NAK"0000R0L0A0[]_'), (once, b'"*ACK"0097')]:
            udp.send(what)
            got = udp.recv(1000)
            wrong += [] if got[9:].startswith(begins) else [f"{got}"]
        for what in [secret(96, at=time.time() + off) for off in (-86400, -60, 60, 86400)] + [secret(96, key="00" * 16)]:
            udp.send(what)
            answer = udp.recv(1000)
            if not answer[9:].startswith(b'"NAK"0000R0L0A0[]_') or answer != frame(answer[9:-1]):
                wrong.append(f"{what}: {answer}")
        cases.case("strangers, clear for encrypted and the reverse: DUH; replays, a clock off by a day, another key: NAK", wrong)
    status = listener.end()
    closed = not os.path.exists(listener.archive + "-wal")
    stored = listener.stored()
    numbers = [signal["sequence"] for signal in stored]
    expected = [1, 2, 3, 4, 5, *range(10, 62), *(100 + cut for cut in range(1, len(whole))), 70, 81, 82, 97]
    cases.case("SIGTERM ends it well; every acknowledged signal is there, once, in order, and nothing else",
               unlike(status, 0) + unlike(numbers, expected) + unlike(run("archive", "verify", listener.archive).returncode, 0) +
               ([] if closed else ["the archive was not closed"]))
    told = [json.loads(line) for line in open(os.path.join(os.path.dirname(listener.archive), "lines"))]
    signals = [line for line in told if "sequence" in line]
    reasons = {line["refused"] for line in told if "refused" in line}
    cases.case("each is printed as it is exported; what is refused is told with its reason",
               unlike(signals, stored) + ([] if len(reasons) == 11 and any("clock" in reason for reason in reasons) else [str(reasons)]))
    with sqlite3.connect(listener.archive) as database:
        rows = database.execute("SELECT reason, SUM(count), MIN(account) FROM refusals GROUP BY reason").fetchall()
    database.close()
    cases.case("and recorded", [] if len(rows) == 11 and dict((r[0], r[1]) for r in rows)["its clock is out of the window"] == 4
               else [str(rows)])
    cipher = KEY.encode()
    told = open(os.path.join(os.path.dirname(listener.archive), "lines"), "rb").read()
    with open(listener.archive, "rb") as file:
        kept = file.read()
    cases.case("no key is printed or kept", [] if cipher not in told and cipher not in kept and cipher.upper() not in told + kept and
               bytes.fromhex(KEY) not in kept else ["a key"])

with tempfile.TemporaryDirectory() as folder:
    first = Listener(folder, keys=KEYS)
    with first.udp() as udp:
        udp.send(event(7))
        got = udp.recv(1000)
    first.end()
    second = Listener(folder, keys=KEYS)
    with second.udp() as udp:
        udp.send(event(7))
        again = udp.recv(1000)
        udp.send(event(8))
        udp.recv(1000)
    second.end()
    cases.case("a repeat is known after a restart", unlike([got, again, len(second.stored())], [ack(7), ack(7), 2]))

with listening(keys=KEYS + f"account 4444 key {KEY}\n") as listener:
    cases.case("two accounts with one key: told, and neither the key", [] if listener.said("1 account has the key of another (4444 that of 1234)") and
               KEY not in open(listener.errors.name).read() else [open(listener.errors.name).read()])

with tempfile.TemporaryDirectory() as folder:
    words = [LINTEL, "listen", "--archive", os.path.join(folder, "a.db"), "--port", "0", "--account", "777"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as people, socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as udp:
        udp.connect(("127.0.0.1", int(people.stdout.readline().split("port ")[1].split(",")[0])))
        wrong = []
        for number, (token, text, said) in enumerate([
                ("ADM-CID", "1130 01 015", "intrusion  zone 15  area 1"), ("ADM-CID", "3130 01 015", "intrusion, its end  zone 15  area 1"),
                ("ADM-CID", "6130 01 015", "intrusion, still present  zone 15  area 1"),
                ("ADM-CID", "1333 00 003", "expansion module failed  zone 3"), ("ADM-CID", "3333 00 003", "expansion module failed, its end  zone 3"),
                ("ADM-CID", "6321 00 001", "sounder 1, still present  number 1"), ("ADM-CID", "3404 01 002", "late open/close (superseded: use 453/454), a closing  user 2  area 1"),
                ("SIA-DCS", "Nri1/BA015", "intrusion  zone 015"), ("SIA-DCS", "Nri1/BR015", "intrusion, its end  zone 015"),
                ("SIA-DCS", "Ori1/BA015", "intrusion, old  zone 015")], 1):
            udp.send(event(number, token=token, text=text))
            wrong += unlike(people.stdout.readline().split("  ", 2)[2], f"{said}  ({text})\n")
        people.send_signal(signal.SIGTERM)
    cases.case("for people: what happened, what ended, what is only reported again, what is old", wrong)

with listening("--rate", "5", "--idle", "1", "--peers", "3") as listener:
    with listener.tcp() as tcp:
        tcp.sendall(b"".join(event(number) for number in range(1, 101)))
        tcp.settimeout(0.7)
        got = take(tcp, 100 * len(ack(1)))
        cases.case("over its rate a peer is not answered, nor stored", [] if 5 <= len(got) // len(ack(1)) <= 10 else [str(got)])
        start = time.monotonic()
        gone = hung_up(tcp)
        cases.case("who says nothing for too long is dropped", [] if gone and time.monotonic() - start < 3 else ["still there"])
    with listener.tcp() as busy, listener.tcp() as panel:
        wrong = unlike(exchange(panel, event(101), len(ack(101))), ack(101))
        time.sleep(0.3)
        held = sqlite3.connect(listener.archive, isolation_level=None)
        held.execute("BEGIN IMMEDIATE")  # whoever wants to store waits for a second
        busy.sendall(event(102))
        time.sleep(0.2)
        panel.sendall(event(103))
        time.sleep(0.7)
        held.execute("ROLLBACK")
        held.close()
        wrong += unlike(take(panel, len(ack(103))), ack(103))
    cases.case("what came while the listener was busy is read before anybody is dropped for his silence", wrong)
    time.sleep(0.3)
    friends = [listener.tcp() for _ in range(2)]
    for number, friend in enumerate(friends):
        exchange(friend, event(200 + number), len(ack(1)))
    stranger = listener.tcp()
    exchange(stranger, b"", 0)
    time.sleep(0.1)
    fourth = listener.tcp()
    wrong = [] if hung_up(stranger) else ["nobody was put out"]
    fifth = listener.tcp()
    wrong += unlike(exchange(fifth, event(300), len(ack(300))), ack(300))
    wrong += unlike(exchange(friends[0], event(301), len(ack(301))), ack(301))
    cases.case("with all places taken strangers go, and friends stay", wrong)
    crowd = [listener.tcp() for _ in range(60)]
    time.sleep(0.3)
    for panel in crowd:
        panel.close()
    wrong = ["nobody is let in any more"]
    for _ in range(20):
        with contextlib.suppress(OSError), listener.tcp() as late:
            if exchange(late, event(302), len(ack(302))) == ack(302):
                wrong = []
                break
        time.sleep(0.1)
    cases.case("a crowd at the door is turned away, and the next one is let in", wrong)
    for panel in [*friends, stranger, fourth, fifth]:
        panel.close()

with listening() as listener:
    with listener.udp() as udp, listener.tcp() as tcp:
        udp.send(b"\n\r" * 32000)
        tcp.settimeout(5)
        with contextlib.suppress(OSError):
            for _ in range(100):  # the smallest that may be frames: none is worth a look beyond the rate
                tcp.sendall(b"\n\r" * 5000)
        gone = hung_up(tcp)
        udp.send(event(1))
        time.sleep(1.2)
        udp.send(event(2))
        heard = udp.recv(1000)
    listener.end()
    with open(listener.out.name) as file:
        lines = [json.loads(line) for line in file]
    counts = [line["count"] for line in lines if "refused" in line and line["peer"].startswith("udp") and "more a second" in line["refused"]]
    cases.case("a flood of tiny frames: a packet is left at the first above its rate, a connection is dropped",
               [] if gone and heard in (ack(1), ack(2)) and counts and sum(counts) <= 2 else [f"{gone} {heard} {counts}"])



def while_it_waits(listener, act):
    """What is done while the listener stands still comes to it all at once: it reads it all before it stores."""
    os.kill(listener.process.pid, signal.SIGSTOP)
    act()
    time.sleep(0.1)
    os.kill(listener.process.pid, signal.SIGCONT)


with listening() as listener, contextlib.ExitStack() as places:
    panels = []

    def half_close():
        for number in range(1, 21):
            panel = places.enter_context(listener.tcp())
            panel.sendall(event(number))
            panel.shutdown(socket.SHUT_WR)
            panels.append(panel)

    while_it_waits(listener, half_close)
    wrong = [fault for number, panel in enumerate(panels, 1) for fault in unlike(take(panel, len(ack(1))), ack(number))]
    wrong += [] if all(hung_up(panel) for panel in panels) else ["they are not hung up on"]
    cases.case("twenty who send their event and end what they say: each is acknowledged, then it is over", wrong[:5])

    burst = places.enter_context(listener.tcp())
    wrong = unlike(exchange(burst, event(100), len(ack(100))), ack(100))
    time.sleep(1.1)  # its rate is whole again
    while_it_waits(listener, lambda: burst.sendall(b"".join(event(number) for number in range(1000, 3000))))
    wrong += unlike(take(burst, 200 * len(ack(1))), b"".join(ack(number) for number in range(1000, 1200)))
    wrong += [] if hung_up(burst) else ["it is not dropped"]
    cases.case("who is dropped for his noise hears first what was taken of it", wrong)

with listening("--peers", "3") as listener, contextlib.ExitStack() as places:
    held = [places.enter_context(listener.tcp()) for _ in range(3)]
    wrong = [fault for number, panel in enumerate(held, 1) for fault in unlike(exchange(panel, event(number), len(ack(1))), ack(number))]

    def speak_and_crowd():
        for number, panel in enumerate(held, 11):
            panel.sendall(event(number))
        for _ in range(40):  # more than there are places to spare
            places.enter_context(listener.tcp())

    while_it_waits(listener, speak_and_crowd)
    wrong += [fault for number, panel in enumerate(held, 11) for fault in unlike(take(panel, len(ack(1))), ack(number))]
    wrong += [] if any(hung_up(panel, 0.5) for panel in held) else ["nobody was put out"]
    with listener.tcp() as late:
        wrong += unlike(exchange(late, event(20), len(ack(20))), ack(20))
    cases.case("who is put out of a full table hears first what was taken", wrong)

with listening("--peers", "3") as listener, contextlib.ExitStack() as places:
    held = [places.enter_context(listener.tcp()) for _ in range(3)]
    known = [exchange(panel, event(number), len(ack(number))) == ack(number) for number, panel in enumerate(held, 1)]
    time.sleep(0.1)  # the clock by which silence is measured has milliseconds
    exchange(held[0], event(4), len(ack(4)))  # so that the second has been silent the longest
    heard = []
    for number in range(5, 9):
        with contextlib.suppress(OSError), listener.tcp() as panel:
            heard.append(exchange(panel, event(number), len(ack(number))) == ack(number))
        if any(heard):  # one place is enough: who comes after a close that is not noticed yet would want another
            break
        time.sleep(0.2)
    cases.case("those who were heard once do not keep all places; who has been silent the longest goes",
               [] if all(known) and any(heard) and hung_up(held[1], 1) and not hung_up(held[0], 0.2) else [f"{known} {heard}"])

def knock(port, stop):
    """A stranger who comes and goes as fast as he can, and keeps the last hundred."""
    kept = []
    while not stop.is_set():
        with contextlib.suppress(OSError):
            kept.append(socket.create_connection(("127.0.0.1", port), timeout=5, source_address=("127.0.0.2", 0)))
        for old in kept[:-100]:
            old.close()
        del kept[:-100]


with listening("--peers", "24") as listener, contextlib.ExitStack() as places:
    held = [places.enter_context(socket.create_connection(("127.0.0.1", listener.port), timeout=5,
                                                          source_address=(f"127.0.1.{number}", 0))) for number in range(1, 25)]
    wrong = [] if all(exchange(panel, event(number), len(ack(number))) == ack(number) for number, panel in enumerate(held, 1)) else ["no friends"]
    stop = threading.Event()
    knocking = threading.Thread(target=knock, args=(listener.port, stop))
    knocking.start()
    time.sleep(0.3)
    for number in range(100, 105):
        with contextlib.suppress(OSError), listener.tcp() as panel:
            time.sleep(0.4)  # as over a slow network
            got = exchange(panel, event(number), len(ack(number)))
            wrong += unlike(got, ack(number))
    left = sum(not hung_up(panel, 0.01) for panel in held)
    stop.set()
    knocking.join()
    cases.case("with all places taken by silent friends, and a stranger who knocks without end: who opens a connection for each "
               "message is heard, and most friends stay", wrong + ([] if left >= 24 - 24 // 8 - 6 else [f"{left} of 24 friends are left"]))
with listening("--peers", "300") as listener:
    silent = [listener.tcp() for _ in range(200)]
    for panel in silent[::2]:
        panel.sendall(event(1)[:15])
    with listener.tcp() as tcp:
        got = exchange(tcp, event(5), len(ack(5)))
    cases.case("two hundred half-open connections hinder nobody", unlike(got, ack(5)))
    for panel in silent:
        panel.close()

others = [a[4][0] for a in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET) if not a[4][0].startswith("127.")]
with listening() as listener:
    wrong = []
    for other in others[:1]:
        with contextlib.suppress(OSError):
            socket.create_connection((other, listener.port), timeout=1).close()
            wrong.append(f"{other} is heard")
    cases.case(f"others than this machine are not heard unless asked for ({len(others)} address tried)", wrong)
    with tempfile.TemporaryDirectory() as folder:
        ran = run("listen", "--archive", os.path.join(folder, "a.db"), "--account", "777", "--port", str(listener.port))
        cases.case("a port that is taken", [] if ran.returncode == 2 and f"port {listener.port}" in ran.stderr else [ran.stderr])

with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "a.db")
    open_keys = os.path.join(folder, "open")
    with open(open_keys, "w") as file:
        file.write(KEYS)
    os.chmod(open_keys, 0o644)
    usual = ["--archive", path, "--port", "0"]
    wrong = []
    for words, said in [([], "--archive"), (usual, "--keys"), ([*usual, "--keys", open_keys], "chmod 600"),
                        ([*usual, "--account", "77"], "3 to 16"), ([*usual, "--account", "777", "--keys", open_keys], "--keys"),
                        (["--archive", path, "--port", "66000", "--account", "777"], "65535"),
                        ([*usual, "--account", "777", "--no-tcp", "--no-udp"], "nothing can be heard"),
                        ([*usual, "--account", "777", "--bind", "here"], "no address"),
                        ([*usual, "--account", "777", "--bind", "192.0.2.1"], "192.0.2.1"),
                        ([*usual, "--account", "777", "more"], "options only"),
                        (["--archive", "/proc/none.db", "--port", "0", "--account", "777"], "cannot be made"),
                        (["--archive", folder, "--port", "0", "--account", "777"], "is no file"),
                        ([*usual, "--account", "777", "--rate", "many"], "whole number")]:
        ran = run("listen", *words)
        if ran.returncode != 2 or said not in ran.stderr or KEY in ran.stderr + ran.stdout:
            wrong.append(f"{words}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
    cases.case("what cannot be done is said", wrong)
with tempfile.TemporaryDirectory() as folder:
    listener = Listener(folder, keys="account 777 clear\n", preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (100, 100)))
    crowd = [listener.tcp() for _ in range(120)]
    heard = []
    for number in range(1, 5):  # whoever is turned away has made room for the next
        with contextlib.suppress(OSError), listener.tcp() as panel:
            heard.append(exchange(panel, event(number), len(ack(number))) == ack(number))
        time.sleep(0.2)
    said = listener.said("open files")
    for panel in crowd:
        panel.close()
    status = listener.end()
    cases.case("with fewer files than peers: a crowd of strangers keeps no panel out",
               [] if any(heard) and said and status == 0 else [f"heard {heard}, said {said}, exit {status}"])

# Frames nearly as long as they may be, in clear, so that their data is nearly as long again; with the name of the peer 8,085
# bytes for each, of which 518 fill what is kept for one commit but for less than one more.
HEAD = '"ADM-CID"%04dL0#1234['
SUMS = [crc(bytes([byte])) for byte in range(256)]  # of three megabytes bit by bit there would be no end


def long_frame(number, size=4049):
    head = HEAD % number
    body = f"{head}#{'0' * (size - 10 - len(head) - 18)}1234|1130 01 015]".encode()
    remainder = 0
    for byte in body:
        remainder = remainder >> 8 ^ SUMS[(remainder ^ byte) & 0xFF]
    return b"\n%04X%04X" % (remainder, len(body)) + body + b"\r"


frames = [b"".join(long_frame(100 * k + number + 1) for number in range(100)) for k in range(8)]
with listening(keys="account 1234 clear\n") as listener:
    with contextlib.ExitStack() as held:
        lines = [held.enter_context(listener.tcp()) for _ in range(8)]
        senders = [threading.Thread(target=line.sendall, args=(sent,)) for line, sent in zip(lines, frames)]
        os.kill(listener.process.pid, signal.SIGSTOP)  # as a slow disk would: what comes meanwhile waits
        for sender in senders:
            sender.start()
        time.sleep(0.5)
        os.kill(listener.process.pid, signal.SIGCONT)
        for sender in senders:
            sender.join()
        counts = []
        for k, line in enumerate(lines):
            line.settimeout(30)
            want = b"".join(ack(100 * k + number + 1, account="1234") for number in range(100))
            counts.append(take(line, len(want)) == want)
        stored = listener.stored()
    cases.case("800 frames of full length at once: each is stored as it came, and acknowledged",
               [] if all(counts) and len(stored) == 800 and all(len(one["frame_hex"]) == 2 * 4049 for one in stored) and
               {one["sequence"] for one in stored} == set(range(1, 801)) else [f"{counts} {len(stored)}"])

try:
    with socket.socket(socket.AF_INET6, socket.SOCK_STREAM) as tried:
        tried.bind(("::1", 0))
    with listening("--bind", "::1") as listener, listener.tcp("::1") as tcp, socket.socket(socket.AF_INET6, socket.SOCK_DGRAM) as udp:
        udp.connect(("::1", listener.port))
        udp.settimeout(5)
        wrong = unlike(exchange(tcp, event(1), len(ack(1))), ack(1))
        udp.send(event(2))
        wrong += unlike(udp.recv(1000), ack(2))
        cases.case("by IPv6 as by IPv4, over TCP and UDP", wrong)
except OSError:
    cases.case("by IPv6 # SKIP this machine has none", [])
cases.end()
