#!/usr/bin/env python3
"""A source that no meson.build names is never built, and a test never run: every .c is a source of a target of this build."""

import json
import os

import tap


def forgotten(names, compiled):
    return [f"{name} is in no meson.build" for name in names if name.endswith(".c") and name not in compiled]


def compiled_in(build):
    with open(os.path.join(build, "meson-info", "intro-targets.json"), encoding="utf-8") as file:
        targets = json.load(file)
    return {os.path.relpath(source, tap.SOURCE) for target in targets for group in target["target_sources"]
            for source in group.get("sources", [])}


cases = tap.Cases()
compiled = compiled_in(tap.BUILD)
names = [name for name in tap.sources("core", "shell", "tests") if not name.startswith("tests/fuzz/")]
cases.finds("a planted file is found", forgotten(["core/base/text.c", "core/base/planted.c"], compiled), "planted.c")
cases.case("every source is built", forgotten(names, compiled))
cases.end()
