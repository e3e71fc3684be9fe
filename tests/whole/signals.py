#!/usr/bin/env python3
"""`lintel signals` from outside. Frames are made here by other means: the sum by long division over the
bits, Contact ID's check digit by its rule."""

import json
import os
import re
import subprocess
import tempfile
import time

from program import run, tap

FRAME = 'F030003D"ADM-CID"0001R1L0#1234[#1234|1130 01 015]_10:15:30,03-07-2024'
VALUE = {c: i + 1 for i, c in enumerate("1234567890BCDEF")}


def crc(text):
    """The polynomial x^16 + x^15 + x^2 + 1 by long division over the bits, least significant first (DC-09, 5.5.1.2)."""
    remainder = 0
    for bit in (byte >> i & 1 for byte in text.encode() for i in range(8)):
        remainder = (remainder >> 1) ^ (0xA001 if (remainder ^ bit) & 1 else 0)
    return remainder


def frame(body):
    return f"{crc(body):04X}{len(body):04X}{body}"


def decoded(*words, text=None):
    ran = run("signals", "decode", "--json", *words, text=text)
    return ran.returncode, json.loads(ran.stdout)["signals"]


cases = tap.Cases()

status, (signal,) = decoded(FRAME)
cases.case("a frame is taken apart", [] if status == 0 and signal["good"] and signal["frame"]["account"] == "1234" and
           signal["contact_id"]["code"] == 130 and signal["contact_id"]["number"] == 15 and
           signal["contact_id"]["kind"] == "intrusion" and signal["frame"]["sent_s"] == 1709806530 else [str(signal)])
as_hex = ("\n" + FRAME + "\r").encode().hex()
cases.case("so are its bytes in hex, in either case", [] if decoded(as_hex)[1] == decoded(as_hex.upper())[1] ==
           [dict(signal)] else [str(decoded(as_hex))])

wrong = []
for body in ['"NULL"0000R0L0#1234[]', '"ADM-CID"0002L0#BEEF[#BEEF|3401 02 003]', '"SIA-DCS"0003R1LA5#1234AB[|Nri1/BA015]',
             '"ACK"0001R1L0#1234[]', '"NAK"0000R0L0A0[]_10:15:30,03-07-2024', '"XYZ-1"0001L0#123[whatever it says]']:
    status, (signal,) = decoded(frame(body))
    if status != 0 or not signal["good"]:
        wrong.append(f"{body}: {signal}")
cases.case("frames made elsewhere are read", wrong)

wrong = []
for place in range(len(FRAME)):
    other = FRAME[:place] + ("8" if FRAME[place] != "8" else "9") + FRAME[place + 1:]
    status, (signal,) = decoded("--", other)
    if status != 1 or signal["good"] or "wrong" not in signal:
        wrong.append(f"{other}: {signal}")
cases.case(f"each of {len(FRAME)} single garbled bytes is noticed", wrong)

wrong = []
for event, kind, end in [("1130 01 015", "intrusion", False), ("3130 01 015", "intrusion", True),
                         ("3401 02 003", "set", False), ("1401 02 003", "unset", False), ("1602 00 000", None, None),
                         ("1999 00 000", None, None)]:
    digits = "1234" + "18" + event.replace(" ", "")
    total = sum(VALUE[c] for c in digits)
    check = next(c for c in VALUE if (total + VALUE[c]) % 15 == 0)
    status, (message,) = decoded(digits + check)
    status2, (bare,) = decoded(event)
    for signal in (message, bare):
        said = signal["contact_id"]
        if status or status2 or said["kind"] != kind or said.get("end") != end:
            wrong.append(f"{event}: {signal}")
cases.case("messages with their check digit, and bare events", wrong)

ran = run("signals", "decode", "-", text=f"1130 01 015\n\nNri1/BA015\n{FRAME}\n2130 01 015\n")
cases.case("standard input: one a line, the wrong one said with its byte",
           [] if ran.returncode == 1 and ran.stdout.count("Lintel calls it: intrusion") == 3 and
           "(byte 1 of 11)" in ran.stdout else [ran.stdout])
ran = run("signals", "decode", "6130 01 015")
cases.case("what is only reported again is called so", [] if "Lintel calls it: intrusion, still present" in ran.stdout else [ran.stdout])
with tempfile.TemporaryDirectory() as folder:
    capture = os.path.join(folder, "capture")
    with open(capture, "wb") as file:
        file.write(b"noise" + b"".join(b"\n" + frame(f'"NULL"{i:04}L0#1234[]').encode() + b"\r" for i in range(40)) + b"\n0")
    ran = run("signals", "decode", "--json", "--file", capture)
    signals = json.loads(ran.stdout)["signals"]
    good = [s["frame"]["sequence"] for s in signals if s["good"]]
    cases.case("a capture with noise before and a torn frame at its end",
               [] if good == list(range(40)) and ran.returncode == 1 and len(signals) == 42 else [str(len(signals))])

wrong = []
for event, option in [("1130 01 015", []), ("Nri1/BA015", ["--at", "10:15:30,03-07-2024"]), ("test", ["--receiver", "A1"]),
                      ("3401 02 003", ["--sequence", "9999", "--prefix", "FFFFFF"])]:
    line = run("signals", "encode", event, "--account", "12AB", *option).stdout.strip()
    body = line[8:]
    status, (signal,) = decoded(line)
    in_hex = run("signals", "encode", event, "--account", "12AB", "--hex", *option).stdout.strip()
    if line != frame(body) or status or signal["frame"]["account"] != "12AB" or \
            bytes.fromhex(in_hex) != b"\n" + line.encode() + b"\r":
        wrong.append(f"{event}: {line}: {signal}")
cases.case("what is encoded has the sum and length worked out here, and is read back", wrong)

wrong = []
for words, said in [(["encode", "1130 01 015"], "--account"), (["encode", "foo", "--account", "1234"], "no event"),
                    (["encode", "test", "--account", "12"], "3 to 16"), (["encode", "test", "--account", '12"]['], "3 to 16"),
                    (["encode", "test", "--account", "1234", "--at", "now"], "HH:MM:SS"),
                    (["encode", "test", "--account", "1234", "--sequence", "10000"], "9999"),
                    (["decode"], "--file"), (["decode", "-"], "no signal"), (["decode", "--file", "/nowhere/at/all"], "nowhere"),
                    (["explain"], "--list"), ([], "decode"), (["decipher"], "none of")]:
    ran = run("signals", *words, text="")
    if ran.returncode != 2 or said not in ran.stderr or ran.stdout:
        wrong.append(f"{words}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
cases.case("what cannot be done is said, with what to write", wrong)



def openssl(key, text, *how):
    """AES by the command line of another program: zero vector, no padding of its own."""
    return subprocess.run(["openssl", "enc", f"-aes-{len(key) * 4}-cbc", "-K", key, "-iv", "0" * 32, "-nopad", *how],
                          input=text, capture_output=True, check=True).stdout


KEYS = {"1234": "".join(f"{i:02X}" for i in range(16)), "12AB": "".join(f"{i * 7 % 256:02x}" for i in range(24)),
        "BEEF01": "".join(f"{255 - i:02X}" for i in range(32))}
with tempfile.TemporaryDirectory() as folder:
    keys = os.path.join(folder, "keys")
    with open(os.open(keys, os.O_WRONLY | os.O_CREAT, 0o600), "w") as file:
        file.write("# made for this test\n" + "".join(f"account {a} key {k}\n" for a, k in KEYS.items()) +
                   "account 777 clear\n")
    wrong = []
    for account, key in KEYS.items():
        for token, event, padding in [("ADM-CID", "1130 01 015", 9), ("SIA-DCS", "Nri1/BA015", 10), ("NULL", "", 2)]:
            text = (f"|#{account}|{event}" if event else "|") + "]_10:15:30,03-07-2024"
            pad = bytes(range(0x80, 0x80 + (-len(text) % 16 or 16)))
            body = f'"*{token}"0042L0#{account}[' + openssl(key, pad + text.encode()).hex().upper()
            status, (signal,) = decoded("--keys", keys, frame(body))
            said = signal["frame"]
            if status or not said["opened"] or said["sent_s"] != 1709806530 or \
                    said["data"] != (f"#{account}|{event}" if event else ""):
                wrong.append(f"{account} {token}: {signal}")
    cases.case("frames encrypted by openssl are opened, keys of all three sizes", wrong)

    wrong = []
    for account, key in KEYS.items():
        line = run("signals", "encode", "3401 02 003", "--account", account, "--keys", keys, "--at", "10:15:30,03-07-2024")
        other = run("signals", "encode", "3401 02 003", "--account", account, "--keys", keys, "--at", "10:15:30,03-07-2024")
        head, cipher = line.stdout.strip().split("[")
        clear = openssl(key, bytes.fromhex(cipher), "-d")
        if clear.split(b"|", 1)[1] != f"#{account}|3401 02 003]_10:15:30,03-07-2024".encode() or \
                line.stdout == other.stdout or frame(line.stdout.strip()[8:]) != line.stdout.strip():
            wrong.append(f"{account}: {line.stdout}{line.stderr}{clear}")
    cases.case("and ours by openssl; no two are padded alike", wrong)

    before = int(time.time())
    line = run("signals", "encode", "test", "--account", "1234", "--keys", keys).stdout.strip()
    (signal,) = decoded("--keys", keys, line)[1]
    clear = run("signals", "encode", "test", "--account", "777", "--keys", keys).stdout.strip()
    cases.case("without --at it says now; an account in clear stays in clear",
               [] if before <= signal["frame"]["sent_s"] <= time.time() and clear == frame('"NULL"0001L0#777[]') else [line, clear])

    wrong = []
    body = '"*NULL"0000L0#1234[' + openssl(KEYS["BEEF01"], b"0123456789|]_10:15:30,03-07-2024").hex().upper()
    for words, status, said in [(["decode", "--keys", keys, frame(body)], 1, "key does not open"),
                                (["decode", "--keys", keys, frame(body.replace("1234", "9999"))], 0, "without the key"),
                                (["decode", "--keys", keys + "x", FRAME], 2, "No such file"),
                                (["encode", "test", "--account", "9999", "--keys", keys], 2, "no line for account 9999")]:
        ran = run("signals", *words)
        if ran.returncode != status or said not in ran.stdout + ran.stderr:
            wrong.append(f"{words}: exit {ran.returncode}: {ran.stderr}{ran.stdout}")
    os.chmod(keys, 0o644)
    ran = run("signals", "decode", "--keys", keys, frame(body))
    if ran.returncode != 2 or "chmod 600" not in ran.stderr:
        wrong.append(f"exit {ran.returncode}: {ran.stderr}")
    cases.case("another key, no key, no file, a file open to others", wrong)

ran = run("signals", "explain", "--list")
codes = [line.split()[0] for line in ran.stdout.splitlines() if not line.startswith(" ")]
wide = [line for line in ran.stdout.splitlines() if len(line) > 80]
cases.case("every code that is listed can be explained, within 80 columns",
           wide + [code for code in codes[::9] if run("signals", "explain", code).returncode != 0] +
           ([] if len(codes) > 400 and all(re.fullmatch(r"\d{3}|[A-Z]{2}", code) for code in codes) else ["too few"]))
cases.case("a code that nobody knows is no crash", [] if run("signals", "explain", "999", "b\xe4").returncode == 1 else ["?"])
cases.end()
