#!/usr/bin/env python3
"""Random zone loops and cable trees against ngspice, a circuit simulator that is not ours: what `lintel power loop` and
`lintel power tree` say is what the simulated circuit shows. Prints its seed; another may be given."""

import json
import os
import random
import re
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(os.path.dirname(HERE), "whole"))

from program import run, tap  # noqa: E402

SEED = int(sys.argv[1]) if sys.argv[1:] else 19940
LOOPS, TREES = 24, 16
dice = random.Random(SEED)
print(f"# seed {SEED}")


def answer(*words):
    ran = run(*words, "--json")
    return json.loads(ran.stdout) if ran.stdout else {"refused": ran.stderr}


class Bench:
    """One netlist for many circuits, simulated in one run."""

    def __init__(self):
        self.lines, self.nodes, self.parts = ["random circuits"], [], 0

    def part(self, kind, a, b, value):
        self.parts += 1
        self.lines.append(f"{kind}{self.parts} {a} {b} {value!r}")

    def node(self):
        self.nodes.append(f"n{len(self.nodes)}")
        return self.nodes[-1]

    def simulate(self):
        with tempfile.TemporaryDirectory() as folder:
            path = os.path.join(folder, "circuits.cir")
            shown = "\n".join(f"print v({node})" for node in self.nodes)
            with open(path, "w", encoding="utf-8") as file:
                file.write("\n".join(self.lines) + f"\n.options reltol=1e-9 gmin=1e-15\n.control\nset numdgt=9\nop\n{shown}\n.endc\n.end\n")
            ran = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True, timeout=100, check=False)
        return {name: float(value) for name, value in re.findall(r"^v\((\w+)\) = (\S+)$", ran.stdout, re.MULTILINE)}


RESISTORS = {"normal": ["end"], "alarm": ["end", "alarm"], "masked": ["end", "mask"],
             "masked and alarm": ["end", "alarm", "mask"], "short": [], "open": None}
STATES = {"double": ["short", "normal", "alarm", "open"], "single": ["short", "normal", "open"],
          "single-open": ["short", "normal", "open"],
          "triple": ["short", "normal", "alarm", "masked", "masked and alarm", "open"]}
NAMES = {("single", "open"): "alarm, or a cut", ("single-open", "short"): "alarm, or a short"}


def build_loop(bench, loop, state, sign):
    """The loop in this state at one corner: -1: every value that lowers the voltage, +1: every one that raises it; else each
    by dice. Gives the panel's node."""
    corner = (lambda: sign) if sign else (lambda: dice.choice([-1, 1]))
    panel, rail = bench.node(), bench.node()
    bench.part("V", rail, 0, loop["supply"])
    bench.part("R", rail, panel, loop["pull"] * (1 - corner() * loop["pull_tolerance"]))
    if loop["leak"] and (corner() < 0):
        bench.part("R", panel, 0, loop["leak"])
    if RESISTORS[state] is None:
        bench.part("R", panel, 0, 1e13)  # a node without any way to ground is none
        return panel
    at = panel
    for name in RESISTORS[state]:
        beyond = bench.node()
        bench.part("R", at, beyond, loop[name] * (1 + corner() * loop["tolerance"]))
        at = beyond
    bench.part("R", at, 0, loop["wire"] if corner() > 0 else 1e-9)
    return panel


def random_loop():
    return {"wiring": dice.choice(sorted(STATES)), "end": dice.randrange(1000, 10000, 100),
            "alarm": dice.randrange(1000, 10000, 100), "mask": dice.randrange(1000, 10000, 100),
            "tolerance": dice.choice([0, 0.01, 0.05]), "wire": dice.randrange(0, 300),
            "leak": dice.choice([0, 0, 10000, 100000]), "supply": dice.choice([3.3, 5, 12]),
            "pull": dice.randrange(500, 10000, 10), "pull_tolerance": dice.choice([0, 0.01, 0.1])}


def asked(loop):
    words = ["power", "loop", "--wiring", loop["wiring"], "--resistor", f"{loop['end']}ohm", "--alarm-resistor", f"{loop['alarm']}ohm",
             "--mask-resistor", f"{loop['mask']}ohm", "--tolerance", f"{loop['tolerance'] * 100:g}%", "--contacts", f"{loop['wire']}ohm",
             "--supply", f"{loop['supply']}V", "--pull-up", f"{loop['pull']}ohm", "--pull-up-tolerance", f"{loop['pull_tolerance'] * 100:g}%"]
    return answer(*words, *(["--leak", f"{loop['leak']}ohm"] if loop["leak"] else []))


def loops(bench):
    """[(what, node, check of its volts)]"""
    checks = []
    for _ in range(LOOPS):
        loop = random_loop()
        said = {state["item"]: state["volts"] for state in asked(loop).get("states", [])}
        for state in STATES[loop["wiring"]]:
            window = said.get(NAMES.get((loop["wiring"], state), state), {"low": 1e9, "high": -1e9})
            what = f"{loop} {state} {window}"
            checks.append((what, build_loop(bench, loop, state, -1), lambda v, w=window: abs(v - w["low"]) < 0.0006))
            checks.append((what, build_loop(bench, loop, state, +1), lambda v, w=window: abs(v - w["high"]) < 0.0006))
            for _ in range(3):
                checks.append((what, build_loop(bench, loop, state, 0),
                               lambda v, w=window: w["low"] - 0.0006 < v < w["high"] + 0.0006))
    return checks


def trees(bench):
    checks = []
    for _ in range(TREES):
        supply, words, nodes = 13.8, [], []
        rail = bench.node()
        bench.part("V", rail, 0, supply)
        for i in range(dice.randrange(1, 9)):
            from_ = dice.randrange(-1, i)
            metres, section, load = dice.randrange(1, 40), dice.choice([0.22, 0.5, 1.5]), dice.randrange(0, 120)
            words.append(f"d{i}:{'supply' if from_ < 0 else f'd{from_}'}:{section}mm2:{metres}m:{load}mA")
            nodes.append(bench.node())
            bench.part("R", rail if from_ < 0 else nodes[from_], nodes[i], 2 * metres * 0.017241 / section)
            bench.part("I", nodes[i], 0, load / 1000)
        said = answer("power", "tree", *words, "--supply", f"{supply}V")
        volts = {place["item"]: place["volts"] for place in said.get("places", [])}
        checks += [(f"{words} {said.get('refused', volts)}", node, lambda v, w=volts.get(f"d{i}", -9): abs(max(0, v) - w) < 0.0051)
                   for i, node in enumerate(nodes)]
    return checks


cases = tap.Cases()
for name, make in (("loops", loops), ("trees", trees)):
    bench = Bench()
    checks = make(bench)
    measured = bench.simulate()
    cases.case(f"random {name}: ngspice shows the same volts, {len(checks)} of them",
               [f"{what}: ngspice {measured.get(node)}" for what, node, good in checks
                if node not in measured or not good(measured[node])][:5] + ([] if checks else ["none"]))
    cases.case(f"random {name}: a volt too many would be noticed",
               ["it is not"] if any(node in measured and good(measured[node] + 20) for _, node, good in checks) else [])
cases.end()
