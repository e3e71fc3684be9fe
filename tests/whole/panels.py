"""Panels and a listener for tests: frames made by other means than the program's (the sum by long division, AES by the
openssl command line), and a listener that is started on a port of the system's choice and always ended."""

import contextlib
import json
import os
import signal
import socket
import subprocess
import time

from program import LINTEL, run, tap

KEY = bytes(range(16)).hex()


def crc(text):
    """The polynomial x^16 + x^15 + x^2 + 1, least significant bit first (DC-09, 5.5.1.2), by long division."""
    remainder = 0
    for bit in (byte >> i & 1 for byte in text for i in range(8)):
        remainder = (remainder >> 1) ^ (0xA001 if (remainder ^ bit) & 1 else 0)
    return remainder


def frame(body):
    body = body if isinstance(body, bytes) else body.encode()
    return b"\n%04X%04X" % (crc(body), len(body)) + body + b"\r"


def event(number, account="777", text="1130 01 015", token="ADM-CID", more=""):
    return frame(f'"{token}"{number:04}L0#{account}[#{account}|{text}]{more}')


def ack(number, account="777"):
    return frame(f'"ACK"{number:04}L0#{account}[]')


def openssl(text, *how, key=KEY):
    return subprocess.run(["openssl", "enc", f"-aes-{len(key) * 4}-cbc", "-K", key, "-iv", "0" * 32, "-nopad", *how],
                          input=text, capture_output=True, check=True).stdout


def stamp(seconds):
    return time.strftime("_%H:%M:%S,%m-%d-%Y", time.gmtime(seconds)).encode()


def secret(number, account="1234", text="1130 01 015", token="ADM-CID", at=None, key=KEY):
    clear = (f"|#{account}|{text}]" if text else "|]").encode() + stamp(time.time() if at is None else at)
    pad = os.urandom(64).translate(None, b"[]|")[:-len(clear) % 16 or 16]
    return frame(f'"*{token}"{number:04}L0#{account}['.encode() + openssl(pad + clear, key=key).hex().upper().encode())


class Listener:
    """A listener of the program. archive: a file in the folder unless said. port: where; lines: what it said, once it has
    ended."""

    def __init__(self, folder, *options, keys=None, environment=None, archive=None, program=LINTEL, **how):
        self.archive = archive or os.path.join(folder, "signals.db")
        self.errors = open(os.path.join(folder, "errors"), "w+")  # noqa: SIM115 (closed in end)
        words = [program, "listen", "--archive", self.archive, "--port", "0", "--json", *options]
        if keys is not None:
            path = os.path.join(folder, "keys")
            with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
                file.write(keys)
            words += ["--keys", path]
        self.out = open(os.path.join(folder, "lines"), "w+")  # noqa: SIM115
        self.process = subprocess.Popen(words, stdout=self.out, stderr=self.errors, cwd=tap.SOURCE,
                                        env=dict(os.environ, LC_ALL="C.UTF-8", **(environment or {})), **how)
        first = self.line(0, 20)
        self.port = json.loads(first)["listening"]["port"] if first else None

    def text(self):
        self.out.flush()
        with open(self.out.name) as file:
            return file.read()

    def line(self, number, seconds=5):
        """The line of this number, once it is there; None after so many seconds, or when the listener has ended."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            lines = self.text().split("\n")
            if len(lines) > number + 1:
                return lines[number]
            if self.process.poll() is not None:
                break
            time.sleep(0.005)
        return None

    def said(self, words, seconds=5):
        """Whether the words come on stderr within so many seconds."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            with open(self.errors.name) as file:
                if words in file.read():
                    return True
            time.sleep(0.02)
        return False

    def tcp(self, address="127.0.0.1"):
        panel = socket.create_connection((address, self.port), timeout=5)
        panel.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return panel

    def udp(self):
        panel = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        panel.connect(("127.0.0.1", self.port))
        panel.settimeout(5)
        return panel

    def end(self, how=signal.SIGTERM, seconds=30):
        """Ends it; its exit status."""
        if self.process.poll() is None:
            self.process.send_signal(how)
        try:
            status = self.process.wait(seconds)
        except subprocess.TimeoutExpired:
            self.process.kill()
            status = self.process.wait()
        self.out.close()
        self.errors.close()
        return status

    def stored(self):
        """What is in the archive, oldest first."""
        ran = run("archive", "export", self.archive)
        assert ran.returncode == 0, ran.stderr
        return [json.loads(line) for line in ran.stdout.splitlines()]


def take(panel, count):
    """So many bytes; fewer when the other side hangs up or says nothing any more."""
    got = b""
    with contextlib.suppress(OSError):
        while len(got) < count:
            more = panel.recv(count - len(got))
            if not more:
                break
            got += more
    return got


def exchange(panel, what, count):
    panel.sendall(what)
    return take(panel, count)


def hung_up(panel, seconds=5):
    """Whether the other side hangs up."""
    panel.settimeout(seconds)
    try:
        return panel.recv(1) == b""
    except ConnectionError:
        return True
    except OSError:
        return False
