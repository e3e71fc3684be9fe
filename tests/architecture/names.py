#!/usr/bin/env python3
"""No function of ours has the name of one in a library that the program links: the library would call ours. (json_string
once was both ours and jansson's.)"""

import os
import tempfile

import tap

LIBRARIES = ["libc.so.6", "libm.so.6", "libfyaml.so", "libgeos_c.so", "libjansson.so", "libmicrohttpd.so"]


def exported(library):
    path = tap.output_of(os.environ.get("CC", "cc"), f"-print-file-name={library}").strip()
    lines = tap.output_of("nm", "--dynamic", "--defined-only", path).splitlines()
    return {line.split()[-1].split("@")[0] for line in lines if line.split()}


def ours(archive):
    lines = tap.output_of("nm", "--defined-only", "--extern-only", archive).splitlines()
    return {words[2] for words in (line.split() for line in lines) if len(words) == 3}


def clashes(archives, taken):
    return [f"{symbol} of {os.path.basename(archive)} is also in {library}" for archive in archives
            for library, symbols in taken.items() for symbol in sorted(ours(archive) & symbols)]


cases = tap.Cases()
taken = {library: exported(library) for library in LIBRARIES}
shell = os.path.join(tap.BUILD, "shell")
archives = tap.core_archives() + [os.path.join(shell, name) for name in sorted(os.listdir(shell)) if name.endswith(".a")]
with tempfile.TemporaryDirectory() as folder:
    for word in ["json_string", "fy_document_destroy", "qsort"]:
        planted = tap.compile_object(folder, word, f"int {word}(void);\nint {word}(void) {{ return 1; }}\n")
        cases.finds(f"a planted {word} is found", clashes([planted], taken), word)
cases.case("our names are ours alone", clashes(archives, taken))
cases.end()
