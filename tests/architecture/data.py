#!/usr/bin/env python3
"""The core keeps nothing between two calls: no object of it has writable data. (.data.rel.ro is fine: tables of pointers,
read-only once loaded.) Run on the release build: sanitizers add data of their own."""

import re
import tempfile

import tap

WRITABLE = re.compile(r"^\.(t?data|t?bss)(\.(?!rel\.ro\b)\S*)?$")


def writable(objects):
    wrong = []
    seen = 0
    for name in objects:
        member = name
        for line in tap.output_of("size", "-A", name).splitlines():
            words = line.split()
            if line.endswith(":") or " (ex " in line or line.rstrip().endswith(" :"):
                member = words[0]
            elif len(words) == 3 and WRITABLE.match(words[0]):
                seen += 1
                if int(words[1]) > 0:
                    wrong.append(f"{words[0]} of {member} holds {words[1]} bytes")
    return wrong if seen else ["no object was looked at"]


PLANTED = {
    ".data": "int planted = 1;\nint *get(void);\nint *get(void) { return &planted; }\n",
    ".bss": "int *count(void);\nint *count(void) { static int planted; return &planted; }\n",
    ".tbss": "int *count(void);\nint *count(void) { static _Thread_local int planted; return &planted; }\n",
}

cases = tap.Cases()
with tempfile.TemporaryDirectory() as folder:
    for section, text in PLANTED.items():
        planted = tap.compile_object(folder, "planted" + section.replace(".", "_"), text)
        cases.finds(f"a planted {section} is found", writable([planted]), section)
    table = tap.compile_object(folder, "table", "static const char *const names[] = {\"a\", \"b\"};\n"
                               "const char *name(int);\nconst char *name(int index) { return names[index]; }\n")
    cases.case("a table of names is fine", writable([table]))
cases.case("no object of the core has writable data", writable(tap.core_archives()))
cases.end()
