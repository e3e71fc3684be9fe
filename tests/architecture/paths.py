#!/usr/bin/env python3
"""What is delivered does not carry the folder it was built in (asserts and problems name files relative to the
repository)."""

import os
import tempfile

import tap


def carriers(files, folder):
    needle = folder.encode()
    wrong = []
    for name in files:
        with open(name, "rb") as file:
            if needle in file.read():
                wrong.append(f"{name.rsplit('/', 1)[-1]} carries {folder}")
    return wrong


def objects_of(build):
    found = []
    for top in ["core", "shell"]:
        for path, _, names in os.walk(os.path.join(build, top)):
            found += [os.path.join(path, name) for name in names
                      if name.endswith(".o") and not path.endswith("-test.p") or name == "lintel"]
    return sorted(name for name in found if os.path.isfile(name))


cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    planted = tap.compile_object(folder, "planted", "const char *where(void);\n"
                                 "const char *where(void) { return __FILE__; }\n")
    cases.finds("a planted path is found", carriers([planted], folder), folder)
objects = objects_of(tap.BUILD)
cases.case("there is something to look at", [] if len(objects) > 5 else [f"{len(objects)} files"])
cases.case("nothing carries the folder of the repository", carriers(objects, tap.SOURCE + "/"))
cases.end()
