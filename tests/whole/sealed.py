#!/usr/bin/env python3
"""`lintel serve` for other machines: by TLS, with a certificate that openssl makes here and the client alone trusts. The
client is OpenSSL's (Python's ssl), the server GnuTLS. Sources: RFC 9110, 4.3.4 (whom a certificate must name), RFC 6265,
8.5 (cookies know no ports) and 5.2.5 (Secure)."""

import json
import os
import shutil
import socket
import ssl
import subprocess
import tempfile
import warnings

from program import LINTEL, tap
from served import Bench, PATIENCE_S

SITE = os.path.join(tap.SOURCE, "demo", "quayside.yaml")


def made(folder, name, names):
    """A certificate and its key, as a user has them made: {name}.crt, {name}.key."""
    certificate, key = (os.path.join(folder, f"{name}.{end}") for end in ("crt", "key"))
    alternative = ["-addext", f"subjectAltName={names}"] if names else []
    subprocess.run(["openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-keyout", key,
                    "-out", certificate, "-days", "2", "-subj", "/CN=bench", *alternative], check=True, capture_output=True, timeout=PATIENCE_S)
    os.chmod(key, 0o600)
    return certificate, key


def past(folder):
    """One that ended a day ago."""
    certificate, key = made(folder, "past", "DNS:bench.test")
    subprocess.run(["openssl", "x509", "-in", certificate, "-signkey", key, "-days", "-1", "-out", certificate + ".old"], check=True, capture_output=True, timeout=PATIENCE_S)
    return certificate + ".old", key


def options_of(certificate, key):
    return ["--certificate", certificate, "--private-key", key]


def refused(*options):
    """What it says instead of serving; nothing where it serves or ends otherwise than as misused."""
    ran = subprocess.run([LINTEL, "serve", SITE, "--port", "0", *options], env=dict(os.environ, LINTEL_DATA=os.path.join(tap.SOURCE, "data")),
                         capture_output=True, text=True, timeout=PATIENCE_S)
    return ran.stderr if ran.returncode == 2 and ran.stdout == "" else ""


def wrong_words(folder, good):
    certificate, key = good
    other = made(folder, "other", "DNS:bench.test")
    open_key = shutil.copy(key, os.path.join(folder, "open.key"))
    os.chmod(open_key, 0o644)
    junk = os.path.join(folder, "junk.pem")
    with open(junk, "w", encoding="utf-8") as file:
        file.write("-----BEGIN CERTIFICATE-----\nnonsense\n")
    cases_of = [
        (["--bind", "0.0.0.0"], "read along"), (["--bind", "192.168.1.20", "--certificate", certificate], "go together"),
        (["--private-key", key], "go together"), (["--bind", "bench.test"], "an address of this machine"),
        (["--bind", "300.1.1.1", *options_of(*good)], "an address of this machine"), (["--bind", "[::1]"], "an address of this machine"),
        (["--bind", "::"], "read along"), (["--bind", "::ffff:127.0.0.1"], "read along"), (["--bind", "fd00::20", "--certificate", certificate], "go together"),
        (options_of(certificate, open_key), "chmod"), (options_of(certificate, other[1]), "is not the private key of"),
        (options_of(junk, key), "no certificate in PEM"), (options_of(certificate, junk), "junk.pem"), (options_of(os.path.join(folder, "none.crt"), key), "none.crt"),
        (options_of(*made(folder, "nameless", None)), "names no machine"), (options_of(*made(folder, "pattern", "DNS:*.bench.test")), "names no machine"),
        (options_of(*past(folder)), "was valid up to"),
    ]
    return [f"{options}: {said}" for options, words in cases_of if words not in (said := refused(*options))]


def wrong_talk(bench):
    wrong = [] if bench.address.startswith("https://bench.test:") else [bench.address]
    # By a name that is in the certificate, and by no other.
    wanted = {f"bench.test:{bench.port}": 200, f"127.0.0.1:{bench.port}": 200, f"localhost:{bench.port}": 421, "bench.test": 421, f"evil.example:{bench.port}": 421}
    wrong += [f"Host {host}: {got}" for host, status in wanted.items() if (got := bench.ask("GET", "/state", Host=host)[0].status) != status]
    answer, _ = bench.ask("GET", f"/?key={bench.key}", cookie=False, Host=f"bench.test:{bench.port}")
    cookie = answer.getheader("Set-Cookie") or ""
    wrong += [] if answer.status == 303 and all(word in cookie for word in ("HttpOnly", "SameSite=Strict", "Secure", f"lintel-{bench.port}=")) else [cookie]
    wrong += [] if bench.ask("GET", "/state", cookie=False, Host=f"bench.test:{bench.port}")[0].status == 403 else ["read without the key"]
    return wrong


def wrong_client(bench, certificate):
    """Who trusts another, who wants an old protocol or speaks without TLS gets nothing."""
    def shakes(context, name):
        try:
            with socket.create_connection(("127.0.0.1", bench.port), timeout=PATIENCE_S) as link, context.wrap_socket(link, server_hostname=name) as safe:
                return safe.version()
        except (ssl.SSLError, OSError) as error:
            return type(error).__name__
    trusting = ssl.create_default_context(cafile=certificate)
    old = ssl.create_default_context(cafile=certificate)
    old.set_ciphers("ALL:@SECLEVEL=0")  # the client itself would speak it
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        old.minimum_version, old.maximum_version = ssl.TLSVersion.TLSv1, ssl.TLSVersion.TLSv1_1
    wrong = [] if shakes(trusting, "bench.test") == "TLSv1.3" else [shakes(trusting, "bench.test")]
    wrong += [] if shakes(ssl.create_default_context(), "bench.test") == "SSLCertVerificationError" else ["a stranger's certificate is taken"]
    wrong += [] if not shakes(old, "bench.test").startswith("TLSv") else ["TLS 1.1 is spoken"]
    return wrong + ([] if b"200 OK" not in bench.raw(f"GET /state HTTP/1.1\r\nHost: bench.test:{bench.port}\r\nCookie: {bench.cookie}\r\n\r\n".encode()) else ["it answers without TLS"])


def wrong_edits(bench):
    host = {"Host": f"bench.test:{bench.port}"}
    edit = {"number": json.loads(bench.ask("GET", "/state", **host)[1])["number"], "edits": [{"path": "site.name", "value": "Bench (invented)"}]}
    tried = {origin: bench.post("/edit", edit, Origin=origin, **host)[0] for origin in
             (f"http://bench.test:{bench.port}", "https://evil.example", f"https://bench.test:{bench.port}")}
    return [] if list(tried.values()) == [403, 403, 200] else [str(tried)]


def wrong_jar():
    """Two benches on one machine: a browser sends the cookies of both to each of them."""
    with Bench(SITE) as one, Bench(os.path.join(tap.SOURCE, "demo", "surgery.yaml")) as other:
        both = f"{one.cookie}; {other.cookie}"
        crossed = f"lintel-{one.port}={other.key}"
        return [f"{bench.port}" for bench in (one, other) if bench.ask("GET", "/state", Cookie=both)[0].status != 200] + (
            [] if one.ask("GET", "/state", Cookie=crossed)[0].status == 403 else ["a key of another bench fits"])


def has_six():
    try:
        with socket.socket(socket.AF_INET6, socket.SOCK_STREAM) as tried:
            tried.bind(("::1", 0))
        return True
    except OSError:
        return False


def wrong_six(bench):
    """The address in brackets (RFC 3986, 3.2.2), as it is printed, as Host and as Origin; by IPv4 nobody answers."""
    port = bench.port
    wrong = [] if bench.host == "[::1]" else [bench.address]
    answer, _ = bench.ask("GET", f"/?key={bench.key}", cookie=False)
    wrong += [] if answer.status == 303 else [f"the address that it prints: {answer.status}"]
    wanted = {f"[::1]:{port}": 200, f"::1:{port}": 421, "[::1]": 421, f"127.0.0.1:{port}": 421, f"[::2]:{port}": 421}
    wrong += [f"Host {host}: {got}" for host, status in wanted.items() if (got := bench.ask("GET", "/state", Host=host)[0].status) != status]
    edit = {"number": bench.checked()["number"], "edits": [{"path": "site.name", "value": "Bench (invented)"}]}
    tried = [bench.post("/edit", edit, Origin=origin)[0] for origin in (f"{bench.scheme}://127.0.0.1:{port}", f"{bench.scheme}://::1:{port}", f"{bench.scheme}://[::1]:{port}")]
    wrong += [] if tried == [403, 403, 200] else [str(tried)]
    with socket.socket() as four:
        return wrong + ([] if four.connect_ex(("127.0.0.1", port)) != 0 else ["it answers by IPv4"])


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    good = made(folder, "bench", "DNS:Bench.Test,IP:127.0.0.1")
    site = shutil.copy(SITE, os.path.join(folder, "site.yaml"))
    cases.case("what cannot be served so is told in one sentence, before anybody listens", wrong_words(folder, good))
    with Bench(site, ["--bind", "0.0.0.0", *options_of(*good)], trusts=good[0]) as bench:
        said = bench.process.stdout.readline()
        cases.case("other machines: the address is of the certificate, the cookie goes by TLS alone", wrong_talk(bench))
        cases.case("who may change the site is said", [] if "any machine that reaches" in said else [said])
        cases.case("TLS 1.2 or newer, with the certificate that was given, and nothing without", wrong_client(bench, good[0]))
        cases.case("edits by the page of its own address alone", wrong_edits(bench))
    if has_six():
        six = made(folder, "six", "IP:::1,DNS:bench.test")
        with Bench(shutil.copy(SITE, os.path.join(folder, "six.yaml")), ["--bind", "::1"]) as bench:
            said = bench.process.stdout.readline()
            cases.case("by IPv6: its address in brackets, and this machine alone", wrong_six(bench) + ([] if "on this machine" in said else [said]))
        with Bench(shutil.copy(SITE, os.path.join(folder, "six-sealed.yaml")), ["--bind", "::1", *options_of(*six)], trusts=six[0]) as bench:
            cases.case("by IPv6 and TLS, with a certificate that has the address", wrong_six(bench))
    else:
        cases.case("by IPv6 # SKIP this machine has none", [])
    with Bench(site, ["--bind", "127.0.0.7"]) as bench:
        cases.case("what is printed is where it listens", [] if bench.host == "127.0.0.7" else [bench.address])
    cases.case("two benches on one machine do not throw each other out", wrong_jar())
cases.end()
