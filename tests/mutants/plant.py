#!/usr/bin/env python3
"""plant.py SOURCE TARGET FROM TO: a copy of a source in which the one place that reads FROM reads TO."""

import sys

source, target, old, new = sys.argv[1:]
with open(source, encoding="utf-8") as file:
    text = file.read()
if text.count(old) != 1:
    sys.exit(f"{source}: '{old}' stands there {text.count(old)} times, not once: name another place for the fault")
with open(target, "w", encoding="utf-8") as file:
    file.write(text.replace(old, new))
