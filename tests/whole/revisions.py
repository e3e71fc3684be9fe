#!/usr/bin/env python3
"""The revisions of a served site from outside: kept beside the file, compared as `lintel check --against` compares, and
brought back as one step of undo; no name leads out of their folder, and none is ever changed."""

import json
import os
import re
import shutil
import tempfile
import time

from program import run, tap
from served import Bench

AS_FOUND = os.path.join(tap.SOURCE, "demo", "quayside-as-found.yaml")


def content(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def kept(folder):
    """What lies in the folder of revisions, the latest first."""
    there = os.path.join(folder, "house.yaml.revisions")
    return sorted(os.listdir(there), reverse=True) if os.path.isdir(there) else []


def listed(bench):
    return json.loads(bench.ask("GET", "/revisions")[1])["revisions"]


def known(bench, path, more):
    """Posts what is about the newest text: what is shown may be one behind for a moment after an edit."""
    status = 409
    for _ in range(300):
        status, _ = bench.post(path, more | {"number": bench.checked()["number"]})
        if status != 409:
            break
        time.sleep(0.1)
    return status


def change(bench, path, value):
    return known(bench, "/edit", {"edits": [{"path": path, "value": value}]})


def wrong_first(bench, folder, site):
    """Before the first change nothing is kept; with it the file as it was."""
    before = content(site)
    wrong = [] if listed(bench) == [] and kept(folder) == [] else ["something is kept before a change"]
    wrong += [] if change(bench, "zones[0].chime", "no") == 200 and content(site) != before else ["no change"]
    names = kept(folder)
    if len(names) != 1 or not re.fullmatch(r"\d{4}-\d\d-\d\d \d\d\.\d\d\.\d\d as found\.yaml", names[0]):
        return wrong + [str(names)]
    wrong += [] if content(os.path.join(folder, "house.yaml.revisions", names[0])) == before else ["not what it was"]
    wrong += [] if change(bench, "zones[0].chime", "yes") == 200 else ["no second change"]
    return wrong + ([] if kept(folder) == names else ["a second one by itself"])


def wrong_names(bench, folder):
    """What is no name is refused with a reason; whatever else is one stays in the folder."""
    wrong = []
    for name in ("", "   ", "a/b", "..\\up", "line\nbreak", "x" * 81, "\u007f"):
        status, answer = bench.post("/revise", {"name": name})
        wrong += [] if status == 422 and json.loads(answer)["what"] else [f"{name!r}: {status}"]
    for body in ({}, {"name": 7}, [], "no json"):
        wrong += [] if bench.post("/revise", body)[0] == 400 else [str(body)]
    for name, shown in ((" Zoë’s <b>handover ", "Zoë’s <b>handover"), ("..", ".."), ("x", "x"), ("x", None)):
        status, answer = bench.post("/revise", {"name": name})
        names = [one["name"] for one in json.loads(answer)["revisions"]] if status == 200 else [status]
        wrong += [] if shown in names or (shown is None and len(names) == 5) else [f"{name!r}: {names}"]
    wrong += [] if sorted(os.listdir(folder)) == ["house.yaml", "house.yaml.revisions"] else [str(os.listdir(folder))]
    return wrong + ([] if len(kept(folder)) == 5 else [str(kept(folder))])


def wrong_ids(bench, folder):
    """Only what is listed can be asked for."""
    with open(os.path.join(folder, "secret.yaml"), "w", encoding="utf-8") as file:
        file.write("codes")
    shutil.copy(os.path.join(folder, "secret.yaml"), os.path.join(folder, "house.yaml.revisions", "stranger.yaml"))
    wrong = []
    for path in ("/revision", "/compare"):
        for name in ("../secret.yaml", "secret.yaml", "stranger.yaml", "..", "", "/etc/passwd", kept(folder)[0] + "\u0000"):
            status, answer = bench.post(path, {"revision": name})
            wrong += [] if status in (400, 422) and b"codes" not in answer else [f"{path} {name!r}: {status}"]
        wrong += [] if bench.post(path, {"revision": 3})[0] == 400 else [f"{path}: a number"]
        wrong += [] if bench.post(path, {"revision": "x"}, Origin="http://evil.example")[0] == 403 else [f"{path}: from elsewhere"]
    return wrong


def wrong_comparison(bench, folder, site):
    """Better and worse, as the command has it for the same two files."""
    if change(bench, "zones[0].behaviour", "perimeter") != 200:
        return ["no change"]
    first = listed(bench)[-1]
    status, answer = bench.post("/compare", {"revision": first["id"]})
    older = os.path.join(folder, "older.yaml")
    shutil.copy(os.path.join(folder, "house.yaml.revisions", first["id"]), older)
    wanted = json.loads(run("check", "--json", "--no-remedy", "--against", older, site).stdout)["against"]
    if status != 200:
        return [f"{status}: {answer}"]
    got = json.loads(answer)["against"]

    def bare(against):
        """Without the names of the two files, which differ, and what is told of the place."""
        def of(finding):
            return [finding["id"], finding["about"], finding["headline"], finding["weight"]]
        return [[of(one) for one in against["new"]], [of(one) for one in against["gone"]],
                [[of(pair["before"]), of(pair["now"])] for pair in against["changed"]], against["as_before"], against["routines"]]
    wrong = [] if bare(got) == bare(wanted) else ["not what lintel check --against says"]
    return wrong + ([] if wanted["new"] and got["file"] == first["id"] else ["nothing to compare"])


def wrong_return(bench, folder, site):
    """The text of a revision, put back as one step of undo; and the revision stays as it was."""
    first = listed(bench)[-1]
    present = content(site)
    text = json.loads(bench.post("/revision", {"revision": first["id"]})[1])["text"]
    status = known(bench, "/import", {"text": text})
    wrong = [] if status == 200 and content(site) == text != present else [f"{status}"]
    bench.post("/undo", {})
    wrong += [] if content(site) == present else ["one undo does not take it back"]
    return wrong + ([] if content(os.path.join(folder, "house.yaml.revisions", first["id"])) == text else ["it was changed"])


def wrong_keying(bench, folder):
    """The first line that is keyed in keeps what was keyed; the second does not."""
    for line in ("zone 1 yard door behaviour", "zone 2 passage behaviour"):
        bench.post("/keyed", {line: "entry"})
    names = [one["name"] for one in listed(bench)]
    return [] if names.count("before keying in") == 1 else [str(names)]


def wrong_unwritable(folder):
    """Where nothing can be kept the edit is made all the same, and keeping by hand says why not."""
    site = os.path.join(folder, "house.yaml")
    shutil.copy(AS_FOUND, site)
    with open(site + ".revisions", "w", encoding="utf-8") as file:
        file.write("a file is in the way")
    with Bench(site) as bench:
        wrong = [] if change(bench, "zones[0].chime", "no") == 200 else ["no edit"]
        status, answer = bench.post("/revise", {"name": "handed over"})
        wrong += [] if status == 422 and "house.yaml.revisions" in json.loads(answer)["what"] else [str(answer)]
    return wrong


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    site = os.path.join(folder, "house.yaml")
    shutil.copy(AS_FOUND, site)
    with Bench(site) as bench:
        cases.case("the first change keeps what was found, once", wrong_first(bench, folder, site))
        cases.case("names that are none are refused, others stay in the folder", wrong_names(bench, folder))
        cases.case("nothing else can be asked for", wrong_ids(bench, folder))
        cases.case("what got better and worse is what the command says", wrong_comparison(bench, folder, site))
        cases.case("it comes back as one step of undo", wrong_return(bench, folder, site))
        cases.case("keying in keeps what is keyed, once", wrong_keying(bench, folder))
    cases.case("the bench ends well", [] if bench.status == 0 and bench.complaints == "" else [bench.complaints])
with tempfile.TemporaryDirectory() as folder:
    cases.case("where nothing can be kept, an edit is made all the same", wrong_unwritable(folder))
cases.end()
