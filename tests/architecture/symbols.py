#!/usr/bin/env python3
"""The core is pure: what its archives leave undefined is defined in the core, or on this short list. A malloc, a clock, a
file or a random number is none of these. Run on the release build: sanitizers add symbols of their own."""

import re
import tempfile

import tap

ALLOWED = re.compile(r"""^(
    mem(chr|cmp|cpy|move|set) | str(len|cmp|ncmp|chr|rchr|str) |   # bytes and strings
    v?snprintf |                                                    # printing into memory
    (sqrt|cbrt|hypot|exp|exp2|log|log2|log10|log1p|pow|sin|cos|sincos|tan|asin|acos|atan|atan2|erfc|
     floor|ceil|round|trunc|fabs|fmod|fmin|fmax|lround|llround)f? | # libm, without its global state
    GEOS\w*_r |                                                     # the one file of core/plan
    __assert_fail | __stack_chk_fail | _GLOBAL_OFFSET_TABLE_        # the compiler's own
)$""", re.VERBOSE)


def symbols(archive, *options):
    """Last word of each line of nm; head lines of archive members end in a colon."""
    lines = tap.output_of("nm", *options, archive).splitlines()
    return {line.split()[-1] for line in lines if line.split() and not line.endswith(":")}


def impure(objects):
    defined = set()
    for name in objects:
        defined |= symbols(name, "--defined-only", "--extern-only")
    wrong = []
    for name in objects:
        for symbol in sorted(symbols(name, "--undefined-only") - defined):
            if not ALLOWED.match(symbol):
                wrong.append(f"{symbol} is wanted by {name.rsplit('/', 1)[-1]}")
    return wrong


PLANTED = {
    "malloc": "#include <stdlib.h>\nvoid *planted(void);\nvoid *planted(void) { return malloc(8); }\n",
    "time": "#include <time.h>\nlong planted(void);\nlong planted(void) { return (long)time(NULL); }\n",
    "fopen": "#include <stdio.h>\nvoid *planted(void);\nvoid *planted(void) { return fopen(\"x\", \"r\"); }\n",
    "rand": "#include <stdlib.h>\nint planted(void);\nint planted(void) { return rand(); }\n",
    "setlocale": "#include <locale.h>\nvoid *planted(void);\nvoid *planted(void) { return setlocale(0, \"\"); }\n",
}

cases = tap.Cases()
archives = tap.core_archives()
cases.case("the core's archives are there", [] if len(archives) > 1 else [f"only {archives} in the build"])
with tempfile.TemporaryDirectory() as folder:
    for word, text in PLANTED.items():
        planted = tap.compile_object(folder, word, text)
        cases.finds(f"a planted {word} is found", impure([planted]), word)
    clean = tap.compile_object(folder, "clean", "#include <string.h>\nunsigned long clean(const char *);\n"
                               "unsigned long clean(const char *text) { return strlen(text); }\n")
    cases.case("strlen is fine", impure([clean]))
cases.case("the core wants nothing else from outside", impure(archives))
cases.end()
