#!/usr/bin/env python3
"""Bad input as a person meets it: `lintel check` says where and what, in words that help, gives exit 2, prints nothing as
a result, and writes nothing. The files of bad-input say in their first line what must be told; others are made here."""

import os
import tempfile

from program import HERE, run, tap

FILES = os.path.join(HERE, "bad-input")
GOOD = b"site: {name: a}\npanel: {profile: halyard-28}\nareas: [{name: b}]\n"
MADE = {
    "empty file": (b"", "the file is empty"),
    "binary": (bytes(range(256)) * 16, ":1:1: byte 1 (0x00) is a control character"),
    "50 MB": (None, "52428800 bytes; at most 4 MiB"),
    "a thousand deep": (b"a: " + b"[" * 1000 + b"]" * 1000 + b"\n", "too many brackets are open here"),
    "not UTF-8": (b"site: {name: caf\xe9}\n", ":1:17: byte 17 (0xE9) is not UTF-8"),
    "UTF-16": ("\ufeffsite: {}".encode("utf-16-le"), "this is UTF-16"),
    "130 zones": (GOOD + b"zones:\n" + b"".join(b"- {number: %d}\n" % n for n in range(1, 131)), "130 entries; at most 128"),
}


def state_of(folder):
    return sorted((name, os.stat(os.path.join(folder, name)).st_mtime_ns) for name in os.listdir(folder))


def faults_of(path, told):
    folder = os.path.dirname(path)
    before = state_of(folder)
    done = run("check", path)
    faults = []
    if done.returncode != 2:
        faults.append(f"exit {done.returncode}, wanted 2")
    if told not in done.stderr:
        faults.append(f"wanted: {told}; told: {done.stderr[:400]}")
    if done.stdout != "":
        faults.append(f"printed: {done.stdout[:200]}")
    if state_of(folder) != before:
        faults.append("something was written")
    return faults


cases = tap.Cases()
for name in sorted(os.listdir(FILES)):
    path = os.path.join(FILES, name)
    with open(path, encoding="utf-8") as file:
        told = file.readline().removeprefix("# told: ").rstrip("\n")
    cases.case(f"told of {name}", faults_of(path, told))
with tempfile.TemporaryDirectory() as folder:
    path = os.path.join(folder, "site.yaml")
    for name, (content, told) in MADE.items():
        with open(path, "wb") as file:
            file.write(content or b"")
            if content is None:
                file.truncate(50 * 1024 * 1024)
        cases.case(f"told of {name}", faults_of(path, told))
    os.remove(path)
    os.mkfifo(path)
    cases.case("told of a pipe", faults_of(path, "a pipe or a device, not a file"))
    os.mkdir(os.path.join(folder, "house"))
    cases.case("told of a folder", faults_of(os.path.join(folder, "house"), "no site file there"))
cases.end()
