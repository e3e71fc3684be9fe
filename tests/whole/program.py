"""The program, run as a person runs it: from the repository's folder, with the profiles that lie there."""

import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(os.path.dirname(HERE), "architecture"))

import tap  # noqa: E402

LINTEL = os.path.join(tap.BUILD, "shell", "cli", "lintel")


def run(*arguments, text=None):
    environment = dict(os.environ, LC_ALL="C.UTF-8")
    environment.pop("LINTEL_DATA", None)
    return subprocess.run([LINTEL, *arguments], cwd=tap.SOURCE, env=environment, input=text, capture_output=True,
                          encoding="utf-8", errors="replace", timeout=240, check=False)
