"""Cases of a check, printed as TAP. A check is a function that gives a list of what is wrong; each is shown first to find
a fault that was planted, so that it cannot pass by looking at nothing."""

import os
import subprocess
import sys

SOURCE = os.environ.get("LINTEL_SOURCE") or os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
BUILD = os.environ.get("LINTEL_BUILD") or os.path.join(SOURCE, "build", "release")


class Cases:
    def __init__(self):
        self.count = 0
        self.failed = 0

    def case(self, name, wrong):
        """Passes where nothing is wrong."""
        self.count += 1
        self.failed += bool(wrong)
        print(f"{'not ok' if wrong else 'ok'} {self.count} - {name}")
        for line in wrong:
            print(f"# {line}")

    def finds(self, name, wrong, word):
        """Passes where the planted fault, named by the word, was found, and nothing else."""
        missed = [] if any(word in line for line in wrong) else [f"{word} was planted and not found"]
        other = [f"not planted, yet found: {line}" for line in wrong if word not in line]
        self.case(name, missed + other)

    def end(self):
        print(f"1..{self.count}")
        sys.exit(1 if self.failed else 0)


def output_of(*command):
    """What a command prints, in English whatever the locale."""
    return subprocess.run(command, check=True, capture_output=True, text=True,
                          env=dict(os.environ, LC_ALL="C")).stdout


def compile_object(folder, name, text):
    """The object of a few lines of C."""
    source = os.path.join(folder, name + ".c")
    target = os.path.join(folder, name + ".o")
    with open(source, "w", encoding="utf-8") as file:
        file.write(text)
    subprocess.run([os.environ.get("CC", "cc"), "-std=c17", "-O2", "-fPIC", "-c", source, "-o", target], check=True)
    return target


def core_archives():
    folder = os.path.join(BUILD, "core")
    return sorted(os.path.join(folder, name) for name in os.listdir(folder) if name.endswith(".a"))


def sources(*folders):
    """Names, relative to the repository, of all .c and .h under the folders."""
    names = []
    for folder in folders:
        for path, below, files in os.walk(os.path.join(SOURCE, folder)):
            below.sort()
            names += [os.path.relpath(os.path.join(path, name), SOURCE) for name in sorted(files)
                      if name.endswith((".c", ".h"))]
    return names


def read(name):
    with open(os.path.join(SOURCE, name), encoding="utf-8") as file:
        return file.read()
