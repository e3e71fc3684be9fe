#!/usr/bin/env python3
"""Reads every #include of core and shell against includes.txt. Tests (_test.c, and test_ headers) may include everything."""

import os
import re

import tap

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^">]+)[">]', re.MULTILINE)


def read_table(text):
    table = {}
    for line in text.splitlines():
        line = line.split("#", 1)[0]
        if line.strip():
            name, _, allowed = line.partition(":")
            table.setdefault(name.strip(), set()).update(allowed.split())
    return table


def is_test(name):
    base = os.path.basename(name)
    return base.endswith("_test.c") or base.startswith("test_")


def wrong_include(table, name, quote, header):
    """What is wrong with one include, or nothing."""
    layer, module = name.split("/")[:2]
    allowed = table[f"{layer}/{module}"] | table.get(name, set())
    bracketed = f"<{header}>"
    if quote == "<":
        if layer == "core" and bracketed not in table["headers of core"] | allowed:
            return f"{bracketed} is not for the core"
        if bracketed in table["libraries"] and bracketed not in allowed and "all" not in allowed:
            return f"{bracketed} is not for {layer}/{module}"
        return None
    target = header.split("/", 1)[0]
    if "/" not in header:
        return f'"{header}": write the module too: "{module}/{header}"'
    if ".." in header.split("/"):
        return f'"{header}" leaves its folder'
    if target == module or target in allowed or "all" in allowed:
        return None
    if "core" in allowed and f"core/{target}" in table:
        return None
    return f'"{header}" is not for {layer}/{module}'


def wrong_in(table, name, text):
    if is_test(name):
        return []
    layer, module = name.split("/")[:2]
    if f"{layer}/{module}" not in table:
        return [f"{name}: {layer}/{module} has no line in includes.txt"]
    wrong = []
    for quote, header in INCLUDE.findall(text):
        reason = wrong_include(table, name, quote, header)
        if reason:
            wrong.append(f"{name}: {reason}")
    return wrong


PLANTED = [
    ("core/base/x.c", '#include "site/site.h"\n', "site/site.h"),
    ("core/explore/x.c", '#include "panel/panel.h"\n', "panel/panel.h"),
    ("core/panel/x.h", '#  include "explore/explore.h"\n', "explore/explore.h"),
    ("core/check/x.c", '#include "host/host.h"\n', "host/host.h"),
    ("core/site/x.c", "#include <stdlib.h>\n", "<stdlib.h>"),
    ("core/site/x.c", "#include <time.h>\n", "<time.h>"),
    ("core/proof/x.c", "#include <jansson.h>\n", "<jansson.h>"),
    ("core/plan/sight.c", "#include <geos_c.h>\n", "<geos_c.h>"),
    ("shell/host/x.c", "#include <libfyaml.h>\n", "<libfyaml.h>"),
    ("shell/host/x.c", '#include "site/site.h"\n', "site/site.h"),
    ("core/base/x.c", '#include "../site/site.h"\n', "../site/site.h"),
    ("core/base/x.c", '#include "text.h"\n', "text.h"),
    ("core/nobody/x.c", "\n", "core/nobody"),
]

cases = tap.Cases()
table = read_table(tap.read("tests/architecture/includes.txt"))
for name, text, word in PLANTED:
    cases.finds(f"{text.strip() or word} is refused in {name}", wrong_in(table, name, text), word)
FINE = [("core/check/x.c", '#include "proof/proof.h"\n'), ("shell/cli/x.c", '#include "check/check.h"\n#include <jansson.h>\n'),
        ("core/base/x.c", '#include "base/text.h"\n#include <string.h>\n'), ("core/base/x_test.c", "#include <stdlib.h>\n")]
for name, text in FINE:
    cases.case(f"{text.splitlines()[0]} is fine in {name}", wrong_in(table, name, text))
names = tap.sources("core", "shell")
found = [line for name in names for line in wrong_in(table, name, tap.read(name))]
cases.case("there is something to look at", [] if len(names) > 10 else [f"{len(names)} files"])
cases.case("everybody includes only whom they may", found)
cases.end()
