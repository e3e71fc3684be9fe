#!/usr/bin/env python3
"""`lintel serve FOLDER` from outside: the list with its verdicts and what falls due, a site from four answers, an example,
each site by its own address; and that nobody who should not gets any of it, by whatever name or path."""

import json
import os
import re
import shutil
import socket
import subprocess
import tempfile
import time

from program import LINTEL, tap
from served import Bench, PATIENCE_S

DATA = os.path.join(tap.SOURCE, "data")
DEMO = os.path.join(tap.SOURCE, "demo")
EVIL = "<script>alert(1)</script>\"><img src=x onerror=alert(2)>"
CODES = "people:\n  owner: \"482913\"\n"


def checked(bench, count):
    """The list once every site of it is checked."""
    for _ in range(PATIENCE_S * 10):
        told = json.loads(bench.ask("GET", "/sites")[1])
        if len(told["sites"]) == count and all(site["checked"] for site in told["sites"]):
            return told["sites"]
        time.sleep(0.1)
    raise TimeoutError(str(told))


def exit_of(path):
    return subprocess.run([LINTEL, "check", path], env=dict(os.environ, LINTEL_DATA=DATA), capture_output=True, text=True,
                          timeout=PATIENCE_S).returncode


def due_site(folder):
    """Something ends on three days to come; a waiver that ended long ago is not due."""
    with open(os.path.join(DATA, "samples", "flat.yaml"), encoding="utf-8") as file:
        text = file.read()
    waivers = "waived:\n" + "".join(
        f"  - {{finding: routine.false-alarm, about: zone {zone} behaviour, weight: fault, reason: {reason}, by: owner, until: {day}}}\n"
        for zone, reason, day in [(3, "new door in May", "2131-05-31"), (1, "long over", "2001-01-01")])
    temporary = "temporary:\n  - {bypass: living room, from: 2120-03-01, until: 2130-03-12, by: technician, why: builders in the room}\n"
    with open(os.path.join(folder, "due.yaml"), "w", encoding="utf-8") as file:
        file.write(text + waivers + temporary)


def wrong_list(bench, folder):
    sites = {site["file"]: site for site in checked(bench, 5)}
    wrong = [] if sorted(sites) == ["broken.yaml", "due.yaml", "evil.yaml", "quayside-as-found.yaml", "quayside.yaml"] else [str(sorted(sites))]
    if wrong:
        return wrong
    for name in ("quayside.yaml", "quayside-as-found.yaml", "due.yaml"):
        faults = any(finding["weight"] == "fault" for finding in sites[name]["report"]["findings"])
        wrong += [] if faults == (exit_of(os.path.join(folder, name)) == 1) else [f"{name}: lintel check says otherwise"]
    wrong += [] if sites["broken.yaml"]["problems"] > 0 and "report" not in sites["broken.yaml"] else [str(sites["broken.yaml"])]
    wrong += [] if sites["quayside.yaml"]["zones"] == 13 and len(sites["quayside.yaml"]["report"]["routines"]) == 46 else ["quayside is another"]
    due = sites["due.yaml"]["due"]
    wrong += [] if due == {"day": "2130-03-12", "says": "a temporary change ends: builders in the room"} else [str(due)]
    # As lintel power has it: on this day five of its batteries are to be changed.
    due = sites["quayside.yaml"]["due"]
    return wrong + ([] if due == {"day": "2032-03-01", "says": 'the batteries of "yard contact" and of 4 others are to be changed'} else [str(due)])


def refusals(bench, path, body):
    """The same for every way to change something: what a stranger's page or program would send."""
    rows = [(403, {"Origin": None}), (403, {"Origin": "http://evil.example"}), (403, {"Origin": "null"}), (415, {"Content_Type": "text/plain"}),
            (415, {"Content_Type": None}), (421, {"Host": "evil.example"}), (403, {"Cookie": f"lintel-{bench.port}=" + "0" * 32}), (403, {"Cookie": ""})]
    return [f"{path} {headers}: {got}" for wanted, headers in rows if (got := bench.post(path, body, **headers)[0]) != wanted]


def left(folder):
    return sorted(os.listdir(folder))


cases = tap.Cases()
with tempfile.TemporaryDirectory() as parent:
    folder = os.path.join(parent, "round")
    os.mkdir(folder)
    for name in ("quayside", "quayside-as-found"):
        shutil.copy(os.path.join(DEMO, name + ".yaml"), folder)
    due_site(folder)
    shutil.copy(os.path.join(DEMO, "ropewalk.yaml"), os.path.join(parent, "outside.yaml"))
    shutil.copy(os.path.join(DEMO, "ropewalk.yaml"), os.path.join(folder, ".hidden.yaml"))
    os.mkdir(os.path.join(folder, "site.yaml"))
    for name, text in (("broken.yaml", "site: {name: Half\nzones: [{number: one}]\n"), ("codes.yaml", CODES), ("notes.txt", "site: {name: no}"),
                       ("evil.yaml", "site: {name: " + json.dumps(EVIL) + "}\npanel: {profile: halyard-28}\nareas: [{name: x}]\n")):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text)
    with Bench(folder) as bench:
        cases.case("each site with its verdict as lintel check has it, and what falls due next; no codes file, nothing hidden", wrong_list(bench, folder))
        page = bench.ask("GET", "/")[1].decode()
        cases.case("the list is the first page; nothing in it is inline or from elsewhere",
                   ([] if "sites.js" in page else ["another page"]) + re.findall(r"<script(?![^>]*\bsrc=)[^>]*>|\bstyle=|\bon\w+=|https?://\S+", page))

        answer, content = bench.ask("GET", "/site/quayside.yaml/")
        state = json.loads(bench.ask("GET", "/site/quayside.yaml/state")[1])
        other = json.loads(bench.ask("GET", "/site/quayside-as-found.yaml/state")[1])
        cases.case("each site has the bench at its own address", [] if answer.status == 200 and b"main.js" in content and
                   state["file"] == "quayside.yaml" and other["file"] == "quayside-as-found.yaml" else [str(answer.status)])
        tricks = ["/site/../outside.yaml/state", "/site/..%2foutside.yaml/state", "/site/%2e%2e%2foutside.yaml/state", "/site/.hidden.yaml/state",
                  "/site/%2ehidden.yaml/state", "/site/codes.yaml/state", "/site/codes.yaml/site.yaml", "/site/notes.txt/state", "/site/site.yaml/state",
                  "/site//state", "/site/quayside.yaml", "/site/quayside.yaml%00/state", "/site/quayside.yaml%00.yaml/state", "/site/quayside.yaml%/state",
                  "/site/quayside.yaml%2/state", "/site/" + "a" * 5000 + ".yaml/state", "/site/%ff%fe.yaml/state", "/site/QUAYSIDE.yaml/state",
                  "/site/quayside.yaml/../evil.yaml/state", "/site/quayside.yaml//state", "/state", "/news", "/site.yaml", "/keyed", "/edit"]
        cases.case("paths lead to the sites of this folder and nowhere else",
                   [f"{p[:60]}: {got}" for p in tricks if (got := bench.ask("GET", p)[0].status) != 404])
        keyless = ["/", "/sites", "/panels", "/standards", "/site/quayside.yaml/", "/site/quayside.yaml/state", "/site/nothing.yaml/", "/sites.js"]
        cases.case("without the key nothing is shown, not even which sites there are",
                   [p for p in keyless if bench.ask("GET", p, cookie=False)[0].status != 403] +
                   [p for p in keyless if bench.ask("GET", p, Host="evil.example")[0].status != 421] +
                   [p for p in keyless if bench.ask("GET", p, Origin="http://evil.example")[0].status != 403])

        before = left(folder)
        wrong = refusals(bench, "/new", {"name": "Mill"}) + refusals(bench, "/example", {"name": "quayside"})
        edit = {"number": state["number"], "edits": [{"path": "zones[0].chime", "value": "no"}]}
        wrong += refusals(bench, "/site/quayside.yaml/edit", edit)
        bad = [("/new", body) for body in (b"", b"[]", b"{", b'{"name": 1}', b'{"adults": -1}', b'{"adults": 10}', b'{"adults": "2"}', b'{"panel": []}',
                                           b'{"name": "a", "name": "b"}')]
        bad += [("/example", body) for body in (b"", b"{}", b'{"name": "main.js"}', b'{"name": "../demo/quayside"}', b'{"name": ""}', b'{"name": "harbour"}')]
        wrong += [f"{p} {body!r}: {got}" for p, body in bad if (got := bench.post(p, body)[0]) != 400]
        wrong += [f"{body}: {got}" for body in ({"panel": "../panels/halyard-28"}, {"panel": "no-such"}, {"standard": "no-such"}, {"ground": "9 by 7"}, {"ground": "9 x 7 m}\nzones: ["},
                                                {"name": "x" * 61}, {"name": "two\nlines"}) if (got := bench.post("/new", body)[0]) != 422]
        wrong += [] if bench.post("/new", b"x" * (300 * 1024))[0] == 413 else ["a body that is too long is taken"]
        wrong += [] if left(folder) == before else [str(left(folder))]
        cases.case("what is no answer, or comes from elsewhere, makes no file", wrong)

        status, content = bench.post("/new", {"name": "The Old Mill, 3", "panel": "dinghy-16", "ground": "9 x 7 m", "adults": 2, "children": 1})
        made = os.path.join(folder, "the-old-mill-3.yaml")
        wrong = [] if status == 200 and json.loads(content)["file"] == "the-old-mill-3.yaml" else [content.decode()]
        wrong += [] if exit_of(made) == 1 else ["lintel check cannot read it, or finds nothing missing"]
        cases.case("four answers make a site file that lintel check reads", wrong)
        names = [json.loads(bench.post("/new", {"name": name})[1])["file"] for name in ("The old mill 3", EVIL, "../../etc/passwd", "..", "", "\u6c34\u8eca")]
        wanted = ["the-old-mill-3-2.yaml", "script-alert-1-script-img-src-x-onerror-alert-2.yaml", "etc-passwd.yaml",
                  "site-2.yaml", "site-3.yaml", "site-4.yaml"]  # a folder is called site.yaml
        names += [json.loads(bench.post("/example", {"name": "quayside"})[1])["file"]]
        wrong = [] if names == wanted + ["quayside-2.yaml"] else [str(names)]
        wrong += [] if left(parent) == ["outside.yaml", "round"] else [str(left(parent))]
        with open(os.path.join(folder, "quayside-2.yaml"), "rb") as copy, open(os.path.join(DEMO, "quayside.yaml"), "rb") as original:
            wrong += [] if copy.read() == original.read() else ["the example is another"]
        cases.case("a name makes a plain file name of this folder, and no file is written over", wrong)
        status, _ = bench.post("/site/quayside-2.yaml/edit", {"number": 1, "edits": [{"path": "zones[0].chime", "value": "no"}]})
        with open(os.path.join(folder, "quayside.yaml"), "rb") as file, open(os.path.join(DEMO, "quayside.yaml"), "rb") as original:
            cases.case("an edit is about the site of its address", [] if status in (200, 409) and file.read() == original.read() else [str(status)])

        with open(os.path.join(DEMO, "surgery.yaml"), encoding="utf-8") as file:
            surgery = file.read()
        before = left(folder)
        wrong = refusals(bench, "/import", {"file": "a.yaml", "text": surgery}) + refusals(bench, "/site/evil.yaml/import", {"number": 1, "text": surgery})
        wrong += [f"{p} {body!r}: {got}" for p in ("/import", "/site/evil.yaml/import") for body in
                  (b"", b"[]", b"{}", b'{"file": 1, "text": "site: {}"}', b'{"file": "a", "text": 7}', b'{"number": "1", "text": "site: {}"}', b'{"number": -1, "text": "a"}')
                  if (got := bench.post(p, body)[0]) != 400]
        broken = "site: {name: Half}\npanel: {profile: halyard-28}\nareas: [{name: x}]\nzones:\n  - {number: one}\n"
        status, content = bench.post("/import", {"file": "a.yaml", "text": broken})
        told = [f"{p['line']}:{p['column']}: {p['path'] + ': ' if p['path'] else ''}{p['what']}" for p in json.loads(content)["problems"]]
        said = subprocess.run([LINTEL, "check", "-"], input=broken, env=dict(os.environ, LINTEL_DATA=DATA), capture_output=True, text=True, timeout=PATIENCE_S).stderr
        wrong += [] if status == 422 and told and all(f"standard input:{one}" in said for one in told) else [str(told), said]
        wrong += [f"{text[:20]!r} is taken" for text in (CODES, "", "zones: []", "\x00") if bench.post("/import", {"file": "a.yaml", "text": text, "keep": True})[0] not in (400, 422)]
        wrong += [] if left(folder) == before else ["something was written"]
        cases.case("a file brought from elsewhere: what cannot be read is told as lintel check tells it, and nothing is written", wrong)
        names = [json.loads(bench.post("/import", {"file": name, "text": surgery})[1])["file"] for name in ("Surgery.yaml", "../../surgery.yaml", "quayside.yaml")]
        kept = json.loads(bench.post("/import", {"file": "half.yaml", "text": broken, "keep": True})[1])["file"]
        with open(os.path.join(folder, "surgery.yaml"), encoding="utf-8") as file, open(os.path.join(folder, kept), encoding="utf-8") as half:
            wrong = [] if file.read() == surgery and half.read() == broken else ["it is not as it was sent"]
        wrong += [] if names == ["surgery.yaml", "surgery-2.yaml", "quayside-3.yaml"] and left(parent) == ["outside.yaml", "round"] else [str(names)]
        cases.case("a good one is copied byte for byte, a bad one where one says so, and none is written over", wrong)
        address = "/site/surgery.yaml"
        number = json.loads(bench.ask("GET", address + "/state")[1])["number"]
        ropewalk = open(os.path.join(DEMO, "ropewalk.yaml"), encoding="utf-8").read()
        wrong = [] if bench.post(address + "/import", {"number": number, "text": broken})[0] == 422 else ["a broken one is taken"]
        wrong += [] if bench.post(address + "/import", {"number": number, "text": ropewalk})[0] == 200 else ["a good one is refused"]
        wrong += [] if bench.post(address + "/import", {"number": number, "text": surgery})[0] == 409 else ["the later is not told of the earlier"]
        wrong += [] if bench.ask("GET", address + "/site.yaml")[1].decode() == ropewalk else ["it is not what was sent"]
        wrong += [] if bench.post(address + "/undo", {})[0] == 200 and bench.ask("GET", address + "/site.yaml")[1].decode() == surgery else ["undo does not bring it back"]
        large = surgery + "# " + "x" * 3_000_000 + "\n"
        wrong += [] if bench.post("/import", {"file": "large.yaml", "text": large})[0] == 200 else ["a large one is refused"]
        wrong += [] if bench.post("/import", b"x" * (7 * 1024 * 1024))[0] == 413 else ["one too large is taken"]
        wrong += [] if bench.post("/import", b"x" * (300 * 1024), Cookie="")[0] == 403 else ["a stranger may send much"]
        cases.case("brought into an open site it is one step of undo, and told of what came in between", wrong)

        slow = [socket.create_connection(("127.0.0.1", bench.port), timeout=5) for _ in range(60)]
        for link in slow:
            try:
                link.sendall(f"POST /new HTTP/1.1\r\nHost: 127.0.0.1:{bench.port}\r\nContent-Length: 200000\r\nContent-Type: application/json\r\n\r\n{{".encode())
            except OSError:
                pass
        for link in slow:
            link.close()
        time.sleep(0.5)
        cases.case("bodies that never end do not end it", [] if bench.ask("GET", "/sites")[0].status == 200 else ["it no longer answers"])
    cases.case("SIGTERM ends it cleanly, with benches open", [] if bench.status == 0 and bench.complaints == "" else [f"{bench.status}: {bench.complaints}"])

    crowd = os.path.join(parent, "crowd")
    os.mkdir(crowd)
    with open(os.path.join(DATA, "samples", "flat.yaml"), encoding="utf-8") as file:
        flat = file.read()
    for i in range(34):
        with open(os.path.join(crowd, f"{i:03}.yaml"), "w", encoding="utf-8") as file:
            file.write(flat)
    with Bench(crowd) as bench:
        opened = [bench.ask("GET", f"/site/{i:03}.yaml/")[0].status for i in range(34)]
        cases.case("of more sites than can be open at once the rest is refused, and the list goes on",
                   [] if opened == [200] * 32 + [404] * 2 and len(checked(bench, 34)) == 34 else [str(opened)])
cases.end()
