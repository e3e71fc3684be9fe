#!/usr/bin/env python3
"""`lintel serve` from outside, with a client that is not a browser and so can send what a browser never would. On
loopback, one server at a time, ended by its own process id."""

import gzip
import json
import os
import re
import shutil
import socket
import subprocess
import tempfile
import time
import urllib.request

from program import LINTEL, tap
from served import Bench, PATIENCE_S

SITE = os.path.join(tap.SOURCE, "demo", "quayside-as-found.yaml")
EVIL = "<script>alert(1)</script>\"><img src=x onerror=alert(2)>"


def status_of(bench, *arguments, **keywords):
    return bench.ask(*arguments, **keywords)[0].status


def area(points):
    corners = list(zip(points[::2], points[1::2]))
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(corners, corners[1:] + corners[:1]))) // 2


def wrong_drawing(demo):
    """The page is sent the building that `lintel plan --json` prints: each room's floor as large, each zone, opening and
    place once as what can be chosen, nothing of the sheet of paper."""
    printed = json.loads(subprocess.run([LINTEL, "plan", "--json", demo], env=dict(os.environ, LINTEL_DATA=os.path.join(tap.SOURCE, "data")),
                                        capture_output=True, text=True, check=True, timeout=PATIENCE_S).stdout)["storeys"]
    with Bench(demo) as bench:
        drawing = bench.checked()["site"]["drawing"]
    wrong = [] if [s["name"] for s in drawing["storeys"]] == [s["name"] for s in printed] else ["other storeys"]
    wrong += [] if drawing["layers"][0]["name"] == "building" else ["the building is not the first layer"]
    abouts = []
    for sent, storey in zip(drawing["storeys"], printed):
        floors = sorted(area(shape["points_mm"]) for shape in sent["floors"] if shape["role"] == "floor")
        wanted = sorted(room["floor_mm2"] for room in storey["rooms"] if room["is"] == "room")
        wrong += [] if floors == wanted else [f"{storey['name']}: floors {floors}, not {wanted}"]
        shapes = sent["floors"] + sent["building"] + sent["things"]
        wrong += [f"{storey['name']}: a {shape['role']} about nothing" for shape in sent["things"] if "about" not in shape]
        wrong += [f"{storey['name']}: {shape['role']}" for shape in shapes if shape["role"] in ("title", "dimension")]
        abouts += {shape["about"] for shape in shapes if shape.get("about", "").startswith(("zones[", "building.openings[", "building.places["))}
    zones = {thing["zone"] for storey in printed for kind in ("openings", "places") for thing in storey[kind] if thing["zone"] is not None}
    wrong += [about for about in set(abouts) if abouts.count(about) > 1]
    wrong += [] if sum(about.startswith("zones[") for about in abouts) == len(zones) else [f"{len(zones)} zones are placed"]
    return wrong


def wrong_figures():
    """The figures of the building that the page is sent are those that `lintel plan --json` prints."""
    demo = os.path.join(tap.SOURCE, "demo", "quayside.yaml")
    printed = json.loads(subprocess.run([LINTEL, "plan", "--json", demo], env=dict(os.environ, LINTEL_DATA=os.path.join(tap.SOURCE, "data")),
                                        capture_output=True, text=True, check=True, timeout=PATIENCE_S).stdout)["storeys"]
    with Bench(demo) as bench:
        site = bench.checked()["site"]
    house = site["drawing"]["house"]
    wanted = {room["name"]: sorted(map(tuple, room["corners_mm"])) for storey in printed for room in storey["rooms"]}
    got = {said["name"]: sorted(zip(room["outline_mm"][::2], room["outline_mm"][1::2])) for said, room in zip(site["file"]["building"]["rooms"], house["rooms"])}
    wrong = [f"{name}: {got.get(name)}, not {corners}" for name, corners in wanted.items() if got.get(name) != corners]
    lists = {name: len(house[name]) for name in ("rooms", "openings", "stairs", "furniture", "places")}
    wrong += [f"{count} {name}" for name, count in lists.items() if count != len(site["file"]["building"][name])]
    return wrong + [f"a fault about {fault['about']}" for fault in house["faults"]]


def wrong_tries(folder):
    """What is tried is drawn as it would be once it is written; the file stays as it is."""
    path = shutil.copy(os.path.join(tap.SOURCE, "demo", "quayside.yaml"), os.path.join(folder, "tried.yaml"))
    before = tap.read(path)
    move = [{"path": "building.places[3].corner", "value": None}, {"path": "building.places[3].wall", "value": "front"},
            {"path": "building.places[3].from-left", "value": "3.15 m"}]
    nonsense = [{"path": "building.places[3].room", "value": "nowhere"}]
    with Bench(path) as bench:
        number = bench.checked()["number"]
        status, content = bench.post("/try", {"number": number, "edits": move})
        wrong = [] if status == 200 else [f"{status}: {content[:200]}"]
        wrong += [] if tap.read(path) == before else ["the try has changed the file"]
        refused = bench.post("/try", {"number": number, "edits": nonsense})
        wrong += [] if refused[0] == 422 and b"nowhere" in refused[1] else [str(refused)]
        wrong += [] if bench.post("/try", move)[0] == 400 else ["a list is taken as a try"]
        wrong += [] if bench.post("/try", {"number": number, "edits": move}, Origin="http://elsewhere")[0] == 403 else ["a try from elsewhere"]
        closer = json.loads(bench.post("/try", {"number": number, "edits": [], "zoom": 4, "layer": "sight"})[1])["drawing"]
        whole = bench.checked()["site"]["drawing"]
        wrong += [] if closer["scale"] == whole["scale"] // 4 and closer["house"] == whole["house"] else [f"scale {closer['scale']} of {whole['scale']}"]
        coarser = json.loads(bench.post("/try", {"number": number, "edits": [], "zoom": 0.5})[1])["drawing"]
        wrong += [] if coarser["scale"] == whole["scale"] * 2 and coarser["house"] == whole["house"] else [f"scale {coarser['scale']} for half of {whole['scale']}"]
        drawn = [layer["name"] for layer in closer["layers"] if any(storey["under"] or storey["over"] for storey in layer["storeys"])]
        wrong += [] if drawn == ["sight"] and [layer["name"] for layer in closer["layers"]] == [layer["name"] for layer in whole["layers"]] else [str(drawn)]
        wrong += [f"a zoom of {zoom}" for zoom in (0.2, 9, "2") if bench.post("/try", {"number": number, "edits": [], "zoom": zoom})[0] != 400]
        bench.post("/edit", {"number": number, "edits": move})
        after = bench.checked(lambda state: state["number"] > number)["site"]["drawing"]
        wrong += [] if len(json.loads(content)["carried"]) == len(bench.checked()["site"]["file"]["zones"]) else ["what carries each zone is not told"]
        wrong += [] if json.loads(content)["drawing"] == after else ["it is drawn otherwise once it is written"]
        wanted = before.replace("room: shop, corner: back right, height: 2.3 m}", "room: shop, height: 2.3 m, wall: front, from-left: 3.15 m}")
        wrong += [] if tap.read(path) == wanted != before else ["the file is not as meant"]
    return wrong


def wrong_inks():
    """Every role that the core can send has its ink in the page's drawing.css."""
    names = re.findall(r"\[PICTURE_([A-Z_]+)\] = \"([a-z-]+)\"", tap.read("core/plan/picture.c"))
    roles = [name for role, name in names if role not in ("AREA", "LINE", "RINGS", "TEXT", "MIDDLE", "BEGIN", "END", "TITLE")]
    css = tap.read("page/drawing.css")
    return [name for name in roles if not re.search(rf"\.d-{name}\b", css)] if len(roles) > 20 else ["roles are not found"]


def wrong_news(bench):
    """What comes after an edit: the site once, and last all of the report."""
    stream = urllib.request.urlopen(urllib.request.Request(f"{bench.origin}/news", headers={"Cookie": bench.cookie}), timeout=PATIENCE_S)

    def until_whole(number):
        told = []
        while not told or not told[-1]["report"] or not told[-1]["report"]["whole"] or told[-1]["number"] < number:
            line = stream.readline()
            told += [json.loads(line[6:])] if line.startswith(b"data: ") else []
        return told

    first = until_whole(1)
    number = first[-1]["number"]
    told = []
    for value in ("no", "yes"):
        status, content = bench.post("/edit", {"number": number, "edits": [{"path": "zones[5].chime", "value": value}]})
        if status != 200:
            return [content.decode()]
        number += 1
        told.append(until_whole(number))
    stream.close()
    wrong = [f"{len([one for one in news if 'site' in one])} sites in {len(news)} news" for news in [first, *told] if
             "site" not in news[0] or any("site" in one for one in news[1:])]
    wrong += [f"the site is of {news[0]['site']['number']}" for news in told if news[0]["site"]["number"] != news[0]["number"]]
    for news in told:
        verdicts = [[(one["name"], one["verdict"]) for one in told_once["report"]["check"]["routines"]] for told_once in news if told_once["report"]]
        wrong += [] if all(one == verdicts[-1] for one in verdicts) else ["a verdict is another in the whole report"]
    return wrong


def page_size(bench):
    """What is served of the page, each file compressed."""
    names = [name for name in os.listdir(os.path.join(tap.SOURCE, "page")) if name.endswith((".css", ".html", ".svg"))]
    served = ["main.js", "sites.js", *("" if name == "index.html" else name for name in names)]
    return sum(len(gzip.compress(bench.ask("GET", f"/{name}")[1])) for name in served)


cases = tap.Cases()
cases.case("every role of a drawing has its ink on the page", wrong_inks())
cases.case("the figures of the building are those that the plan prints", wrong_figures())
with tempfile.TemporaryDirectory() as folder:
    cases.case("what is tried is drawn as it would be, and nothing is written", wrong_tries(folder))
for demo in ("quayside", "ropewalk", "surgery"):
    cases.case(f"the drawing that the page is sent is the building of {demo}", wrong_drawing(os.path.join(tap.SOURCE, "demo", demo + ".yaml")))
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "site.yaml")
    shutil.copy(SITE, path)
    with Bench(path) as bench:
        answer, _ = bench.ask("GET", f"/?key={bench.key}", cookie=False)
        cookie = answer.getheader("Set-Cookie") or ""
        cases.case("the first visit turns the key into a strict cookie and leaves the address",
                   [] if answer.status == 303 and answer.getheader("Location") == "/" and "HttpOnly" in cookie and
                   "SameSite=Strict" in cookie else [str(answer.getheaders())])
        size = page_size(bench)
        cases.case("the page is under 150 kB compressed", [] if 50_000 < size < 150_000 else [f"{size} bytes"])
        paths = ["/", "/state", "/news", "/main.js", "/nothing", "/edit"]
        cases.case("without the key nothing is shown", [
            f"{p}: {status_of(bench, 'GET', p, cookie=False)}" for p in paths
            if status_of(bench, "GET", p, cookie=False) != 403])
        bad_keys = ["", bench.key[:-1], bench.key + "0", "0" * 32, bench.key.upper() if bench.key.upper() != bench.key else "1"]
        cases.case("with a wrong key nothing is shown", [
            key for key in bad_keys if status_of(bench, "GET", f"/?key={key}", cookie=False) != 403 or
            status_of(bench, "GET", "/state", cookie=False, Cookie=f"lintel-{bench.port}={key}") != 403])
        hosts = ["evil.example", f"evil.example:{bench.port}", f"127.0.0.1:{bench.port}.evil.example", "127.0.0.1", ""]
        cases.case("by another name it is not reached, key or no key", [
            host for host in hosts if status_of(bench, "GET", "/state", Host=host) not in (400, 421)])
        cases.case("localhost is this machine too",
                   [] if status_of(bench, "GET", "/", Host=f"localhost:{bench.port}") == 200 else ["refused"])
        cases.case("another origin reads nothing", [
            origin for origin in ["http://evil.example", "null", f"https://127.0.0.1:{bench.port}"]
            if status_of(bench, "GET", "/state", Origin=origin) != 403])

        state = bench.checked()
        good_edit = {"number": state["number"], "edits": [{"path": "zones[5].behaviour", "value": "entry"},
                                                          {"path": "zones[5].delay", "value": "side"}]}
        refusals = [(403, {"Origin": None}), (403, {"Origin": "http://evil.example"}), (415, {"Content_Type": "text/plain"}),
                    (415, {"Content_Type": None}), (421, {"Host": "evil.example"}), (403, {"Cookie": f"lintel-{bench.port}=" + "0" * 32})]
        wrong = [f"{headers}: {got}" for wanted, headers in refusals
                 if (got := bench.post("/edit", good_edit, **headers)[0]) != wanted]
        with open(path, encoding="utf-8") as file, open(SITE, encoding="utf-8") as original:
            wrong += [] if file.read() == original.read() else ["the file was changed"]
        cases.case("an edit from elsewhere, or of another kind, changes nothing", wrong)
        bodies = [b"", b"{", b"[]", b"null", b'{"number":1}', b'{"number":1,"edits":[]}', b'{"number":1,"edits":[{}]}',
                  b'{"number":-1,"edits":[{"path":"a","value":"b"}]}', b'{"number":1,"edits":[{"path":1,"value":"b"}]}',
                  b'{"number":1,"number":1,"edits":[{"path":"a","value":"b"}]}', b"\xff\xfe", b"[" * 100000,
                  json.dumps({"number": 1, "edits": [{"path": "a", "value": "b"}] * 2001}).encode()]
        cases.case("what is no edit is refused", [repr(body[:40]) for body in bodies if bench.post("/edit", body)[0] != 400])
        cases.case("a body that is too long is refused, and read to its end",
                   [] if bench.post("/edit", b"x" * (300 * 1024))[0] == 413 else ["taken"])
        tricks = ["/../etc/passwd", "/..%2f..%2fetc/passwd", "//etc/passwd", "/main.js/..", "/%00", "/state%00", "/STATE", "/index.html"]
        cases.case("paths lead to what is built in and nowhere else", [
            f"{p}: {got}" for p in tricks if (got := status_of(bench, "GET", p)) != 404])
        cases.case("other methods are refused", [
            m for m in ["PUT", "DELETE", "PATCH", "OPTIONS"] if status_of(bench, m, "/state") not in (400, 405)])

        wrong = []
        for p in ["/", "/main.js", "/bench.css", "/state", "/nothing"]:
            answer, content = bench.ask("GET", p)
            policy = answer.getheader("Content-Security-Policy") or ""
            if "default-src 'none'" not in policy or "unsafe" in policy or answer.getheader("X-Content-Type-Options") != "nosniff" or \
                    answer.getheader("Cache-Control") != "no-store" or answer.getheader("Referrer-Policy") != "no-referrer":
                wrong.append(f"{p}: {answer.getheaders()}")
        page = bench.ask("GET", "/")[1].decode()
        wrong += re.findall(r"<script(?![^>]*\bsrc=)[^>]*>|\bstyle=|\bon\w+=|https?://\S+", page)
        cases.case("every answer has the strict policy, and the page nothing inline and nothing from elsewhere", wrong)
        modules = {name for name in os.listdir(os.path.join(tap.SOURCE, "page")) if name.endswith(".js")}
        with open(os.path.join(tap.SOURCE, "shell", "web", "meson.build"), encoding="utf-8") as file:
            listed = file.read()
        wrong = [f"{name} is not what the build looks at" for name in sorted(modules) if f"page/{name}'" not in listed]
        for name in modules:
            with open(os.path.join(tap.SOURCE, "page", name), encoding="utf-8") as file:
                source = file.read()
            if name == "noted.js":  # what could not be sent yet is kept, and nothing else
                source = source.replace("localStorage", "")
            wrong += [f"{name}: {word}" for word in re.findall(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|localStorage", source)]
        wrong += [f"{name} is served" for name in ("held.js", "dom.js") if status_of(bench, "GET", "/" + name) != 404]
        wrong += [f"{name} still imports" for name in ("main.js", "sites.js") if re.search(rb'\bfrom"\./', bench.ask("GET", "/" + name)[1])]
        cases.case("every module of the page is within its one script, and none makes markup of texts or keeps them", wrong)

        status, content = bench.post("/edit", good_edit)
        after = bench.checked(lambda s: s["number"] > state["number"])
        zone = after["site"]["file"]["zones"][5]
        cases.case("an edit is written, and its verdict follows", [] if status == 200 and zone["behaviour"] == "entry" and
                   len(after["report"]["check"]["findings"]) < len(state["report"]["check"]["findings"]) else [content.decode()])
        with open(path, encoding="utf-8") as file, open(SITE, encoding="utf-8") as original:
            now, before = file.read().splitlines(), original.read().splitlines()
        differ = [pair for pair in zip(before, now) if pair[0] != pair[1]]
        cases.case("one line of the file differs, comments and layout are kept",
                   [] if len(now) == len(before) and len(differ) == 1 else [str(differ)])
        status, content = bench.post("/edit", good_edit)
        cases.case("the same edit of the older state is told of the newer",
                   [] if status == 409 and json.loads(content)["result"] == "conflict" else [content.decode()])
        status, content = bench.post("/edit", {"number": after["number"], "edits": [{"path": "zones[5].behaviour", "value": "never"}]})
        cases.case("a value that cannot be is refused with the reason",
                   [] if status == 422 and "never" in json.loads(content)["what"] else [content.decode()])
        bench.post("/undo", {})
        undone = bench.checked(lambda s: s["number"] > after["number"])
        with open(path, encoding="utf-8") as file, open(SITE, encoding="utf-8") as original:
            cases.case("undo gives the file back byte for byte",
                       [] if file.read() == original.read() and undone["steps"][0]["redo"] == 1 else ["it differs"])

        answer, content = bench.ask("GET", "/site.yaml")
        with open(path, "rb") as file:
            cases.case("the site file is exported byte for byte, to those who have the key",
                       [] if content == file.read() and status_of(bench, "GET", "/site.yaml", cookie=False) == 403 else ["it differs"])
        keyed = path + ".keyed.json"
        wrong = [] if bench.ask("GET", "/keyed")[1] == b"{}" and not os.path.exists(keyed) else ["something is keyed in already"]
        status, content = bench.post("/keyed", {"zone 1 behaviour": "entry", "zone 2 behaviour": "follower"})
        wrong += [] if status == 200 and len(json.loads(content)) == 2 else [content.decode()]
        status, content = bench.post("/keyed", {"zone 2 behaviour": None})
        wrong += [] if json.loads(content) == {"zone 1 behaviour": "entry"} == json.load(open(keyed, encoding="utf-8")) else [content.decode()]
        cases.case("what was keyed in is kept beside the site file", wrong)
        bad = [b"", b"[]", b'{"a": 1}', b'{"a": {}}', json.dumps({"a" * 401: "b"}).encode(), json.dumps({"a": "b" * 401}).encode(),
               b'{"a": "b", "a": "c"}', json.dumps({str(i): "x" for i in range(5001)}).encode()]
        wrong = [repr(body[:40]) for body in bad if bench.post("/keyed", body)[0] == 200]
        wrong += [] if bench.post("/keyed", {"a": "b"}, Origin="http://evil.example")[0] == 403 else ["another origin may note"]
        wrong += [] if json.loads(bench.ask("GET", "/keyed")[1]) == {"zone 1 behaviour": "entry"} else ["it is not as it was"]
        with open(keyed, "w", encoding="utf-8") as file:
            file.write("not ours")
        status, content = bench.post("/keyed", {"a": "b"})
        wrong += [] if status == 422 and "mend it" in content.decode() and open(keyed, encoding="utf-8").read() == "not ours" else [content.decode()]
        os.remove(keyed)
        cases.case("what is no such list is refused, and a file that is none of ours is left alone", wrong)

        routine = {"name": "acted", "starts": {"shop": "full"}, "expects": ["siren"], "steps": [{"who": "apprentice", "in": "3 s", "open": "side door"}]}
        with open(path, "rb") as file:
            before = file.read()
        status, content = bench.post("/rehearse", routine)
        told = json.loads(content)
        printed = subprocess.run([LINTEL, "tell", "-", "acted"], input=before.decode().replace("routines:\n", "routines:\n  - " + json.dumps(routine) + "\n", 1),
                                 env=dict(os.environ, LINTEL_DATA=os.path.join(tap.SOURCE, "data")), capture_output=True, text=True, timeout=PATIENCE_S).stdout
        flat = " ".join(printed.split())
        wrong = [line["what"] for line in told["story"] if line["what"] not in flat]
        wrong += [] if status == 200 and any(bar["state"] == "siren" for bar in told["bars"]) and len(told["story"]) > 2 else [content.decode()[:300]]
        bad = [b"", b"[]", b"null", json.dumps(dict(routine, steps=[{"who": "nobody", "open": "side door"}])).encode(),
               json.dumps(dict(routine, steps=[])).encode(), json.dumps({"name": "a\nzones: []"}).encode()]
        wrong += [repr(body[:40]) for body in bad if bench.post("/rehearse", body)[0] == 200]
        with open(path, "rb") as file:
            wrong += [] if file.read() == before else ["the file was changed"]
        cases.case("what is acted is told as lintel tell tells it, and the file is not touched", wrong)

        evil_path = os.path.join(folder, "site.yaml")
        with open(evil_path, encoding="utf-8") as file:
            text = file.read()
        with open(evil_path, "w", encoding="utf-8") as file:
            file.write(text.replace("name: Quayside bakery as found (invented)", "name: " + json.dumps(EVIL), 1)
                       if "name: Quayside bakery as found (invented)" in text else re.sub(r"name: [^,}\n]+", lambda _: "name: " + json.dumps(EVIL), text, count=1))
        seen = bench.checked(lambda s: s["number"] > undone["number"])
        answer, content = bench.ask("GET", "/state")
        cases.case("a change made in the file shows; markup in a name stays a text of JSON",
                   [] if seen["site"]["file"]["site"]["name"] == EVIL and answer.getheader("Content-Type") == "application/json" and
                   EVIL not in bench.ask("GET", "/")[1].decode() else [str(seen["site"]["file"]["site"])])

        with socket.create_connection(("127.0.0.1", bench.port), timeout=PATIENCE_S) as news:
            news.sendall(f"GET /news HTTP/1.1\r\nHost: 127.0.0.1:{bench.port}\r\nCookie: {bench.cookie}\r\n\r\n".encode())
            got = b""
            while b"\n\n" not in got.partition(b"\r\n\r\n")[2]:
                got += news.recv(65536)
            event = re.search(rb"data: (.*)\r?\n", got.partition(b"\r\n\r\n")[2].replace(b"\r\n", b"\n"))
        cases.case("news come as events of one line", [] if b"text/event-stream" in got and event else [repr(got[:300])])
        cases.case("news bring the site once, and end with all of the report", wrong_news(bench))

        garbage = [b"\x00" * 1000, b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 5000 + b"\r\n", b"GET " + b"/" * 70000 + b" HTTP/1.1\r\n\r\n",
                   b"POST /edit HTTP/1.1\r\nHost: x\r\nContent-Length: 99999999999999999999\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n"]
        wrong = [repr(got[:60]) for data in garbage if b" 200 " in (got := bench.raw(data)).partition(b"\r\n")[0]]
        slow = [socket.create_connection(("127.0.0.1", bench.port), timeout=5) for _ in range(100)]
        for link in slow:
            try:
                link.sendall(b"GET / HT")
            except OSError:
                pass
        for link in slow:
            link.close()
        time.sleep(0.5)
        wrong += [] if status_of(bench, "GET", "/state") == 200 else ["it no longer answers"]
        cases.case("garbage, and a hundred connections that never finish, do not end it", wrong)
    cases.case("SIGTERM ends it cleanly", [] if bench.status == 0 and bench.complaints == "" else [f"{bench.status}: {bench.complaints}"])

    taken = socket.socket()
    taken.bind(("127.0.0.1", 0))
    taken.listen()
    ran = subprocess.run([LINTEL, "serve", path, "--port", str(taken.getsockname()[1])], capture_output=True, text=True, timeout=PATIENCE_S)
    taken.close()
    missing = subprocess.run([LINTEL, "serve", os.path.join(folder, "none.yaml")], capture_output=True, text=True, timeout=PATIENCE_S)
    cases.case("a port that is taken and a file that is not there are told, with what to do",
               [] if ran.returncode == 2 and "--port 0" in ran.stderr and missing.returncode == 2 and "none.yaml is not there yet" in missing.stderr and "lintel new" in missing.stderr
               else [ran.stderr, missing.stderr])
cases.end()
