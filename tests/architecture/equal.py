#!/usr/bin/env python3
"""Same site, same result, bit for bit: the release build says of each demo site what the sanitized build and the other
compiler's build say, and itself again in another locale and time zone. Builds that are not there are left out."""

import glob
import os
import subprocess

import tap

# Named, as "today" is the day where one stands: elsewhere it may already be the next one.
TODAY = "2027-03-31"


def say(build, site, *options, **environment):
    program = os.path.join(build, "shell", "cli", "lintel")
    result = subprocess.run([program, "check", site, "--today", TODAY, *options], cwd=tap.SOURCE,
                            stdin=subprocess.DEVNULL, capture_output=True, check=False,
                            env=dict(os.environ, **environment))
    return result.returncode, result.stdout, result.stderr


def differences(first, second):
    return [f"{name} differs: {one[:200]!r}, {other[:200]!r}" for name, one, other
            in zip(["exit code", "output", "errors"], map(str, first), map(str, second)) if one != other]


cases = tap.Cases()
sites = sorted(os.path.relpath(path, tap.SOURCE) for path in glob.glob(os.path.join(tap.SOURCE, "demo", "*.yaml")))
others = [build for build in (os.path.join(os.path.dirname(tap.BUILD), name) for name in ["test", "clang"])
          if os.path.exists(os.path.join(build, "shell", "cli", "lintel"))]
cases.case("there are sites to check", [] if sites else ["no demo/*.yaml"])
cases.finds("a planted difference is found", differences((0, b"a", b""), (0, b"b", b"")), "output")
for site in sites:
    for options in [[], ["--json"]]:
        said = say(tap.BUILD, site, *options)
        name = " ".join([site, *options])
        cases.case(f"{name}: something is said, by a program that did not crash",
                   [] if said[1] and said[0] in range(4) else [f"exit {said[0]}: {said[2].decode('utf-8', 'replace')}"])
        cases.case(f"{name}: again, elsewhere", differences(said, say(tap.BUILD, site, *options, LC_ALL="de_DE.UTF-8",
                                                                        TZ="Asia/Kathmandu")))
        for build in others:
            cases.case(f"{name}: as in {os.path.basename(build)}", differences(said, say(build, site, *options)))
cases.end()
