#!/usr/bin/env python3
"""Single-field mutations: one value of a clean demo is changed, and what the check says more or less than before must be
what the table says: a finding, a problem, or nothing.

tests/whole/mutations.txt has one mutation a line:

    demo | place | value | what must come of it

place: `zones[hall].hold`; a member of a list is named by its `name`, its spoken words joined by blanks, or its place in
the list, counted from 0. value: YAML; `-` takes the key (or the member) out. What must come of it, any of, after commas:
`ID` a finding more of this id; `no ID` one less; `silence` no finding more or less; `problem WORDS` the file is refused
and the words stand in what is said. `+`: further findings may come, all others may not.

The file is changed by PyYAML, a reader that is not ours, node by node, so that every other value stays as written."""

import concurrent.futures
import copy
import json
import os

import yaml

from program import HERE, run, tap


def parsed(name):
    with open(os.path.join(tap.SOURCE, "demo", name + ".yaml"), encoding="utf-8") as file:
        return yaml.compose(file, Loader=yaml.BaseLoader)


def key_of(node, key):
    for index, (name, _) in enumerate(node.value):
        if name.value == key:
            return index
    return None


def called(node):
    """What a member of a list is called: its name, or its spoken words."""
    if not isinstance(node, yaml.MappingNode):
        return node.value
    for key, value in node.value:
        if key.value in ("name", "says", "routine", "pass") and node.value:
            if isinstance(value, yaml.SequenceNode):
                return " ".join(word.value for word in value.value)
            if key.value != "says" or key_of(node, "name") is None:
                return value.value
    return None


def parts_of(place):
    """zones[hall].hold → zones, [hall], hold. Names may have dots and blanks within the brackets."""
    parts = []
    word = ""
    inside = False
    for letter in place:
        if letter == "]":
            parts.append((True, word))
            word = ""
            inside = False
        elif not inside and letter in ".[":
            if word:
                parts.append((False, word))
            word = ""
            inside = letter == "["
        else:
            word += letter
    return parts + ([(False, word)] if word else [])


def member(node, name):
    for index, child in enumerate(node.value):
        if called(child) == name:
            return index
    if name.isdigit() and int(name) < len(node.value):
        return int(name)
    if name == "new":
        return None
    raise KeyError(f"no [{name}]")


def mutated(root, place, value):
    """The text of the changed file."""
    root = copy.deepcopy(root)
    node = root
    parts = parts_of(place)
    new = None if value == "-" else yaml.compose(value, Loader=yaml.BaseLoader)
    for depth, (in_list, name) in enumerate(parts):
        last = depth == len(parts) - 1
        if in_list:
            index = member(node, name)
            if not last:
                node = node.value[index]
            elif new is None:
                del node.value[index]
            elif index is None:
                node.value.append(new)
            else:
                node.value[index] = new
            continue
        index = key_of(node, name)
        if not last:
            if index is None:
                raise KeyError(f"no {name}")
            node = node.value[index][1]
        elif new is None:
            del node.value[index]
        elif index is None:
            node.value.append((yaml.ScalarNode("tag:yaml.org,2002:str", name), new))
        else:
            node.value[index] = (node.value[index][0], new)
    return yaml.serialize(root, Dumper=yaml.BaseDumper, allow_unicode=True, width=10000)


def checked(text):
    """The exit status, the ids of the findings, one each, and what stood on stderr."""
    ran = run("check", "--json", "-", text=text)
    ids = []
    if ran.returncode in (0, 1, 3):
        ids = [finding["id"] for finding in json.loads(ran.stdout)["findings"]]
    return ran.returncode, ids, ran.stderr


def difference(before, after):
    more = list(after)
    less = []
    for identity in before:
        if identity in more:
            more.remove(identity)
        else:
            less.append(identity)
    return more, less


def wrong_with(row, base):
    demo, place, value, expected = row
    root, ids_before = base[demo]
    try:
        text = mutated(root, place, value)
    except (KeyError, TypeError, yaml.YAMLError) as error:
        return [f"the table is wrong: {error}"]
    status, ids, errors = checked(text)
    wanted = [part.strip() for part in expected.split(",")]
    if wanted[0].startswith("problem "):
        words = expected[len("problem "):].strip()
        return [] if status == 2 and words in errors else [f"exit {status}: {errors.strip()[:300] or ids}"]
    if status == 2:
        return [f"refused: {errors.strip()[:300]}"]
    more, less = difference(ids_before, ids)
    wrong = []
    for part in wanted:
        if part in ("silence", "+"):
            continue
        kind = less if part.startswith("no ") else more
        identity = part.removeprefix("no ")
        if identity in kind:
            kind.remove(identity)
        else:
            wrong.append(f"did not come: {part}")
    if "+" not in wanted:
        # A clean site may lose a note on the way; whatever comes must be in the table.
        wrong += [f"came as well: {identity}" for identity in more]
        wrong += [f"went as well: {identity}" for identity in less]
    return wrong


def rows_of(lines):
    rows = []
    for line in lines:
        if line.strip() and not line.startswith("#"):
            rows.append([part.strip() for part in line.split("|")])
    return rows


def read_rows():
    with open(os.path.join(HERE, "mutations.txt"), encoding="utf-8") as file:
        return rows_of(file)


cases = tap.Cases()
rows = read_rows()
base = {}
for name in sorted({row[0] for row in rows}):
    root = parsed(name)
    status, ids, errors = checked(yaml.serialize(root, Dumper=yaml.BaseDumper, allow_unicode=True, width=10000))
    base[name] = (root, ids)
    cases.case(f"{name} as it is has no fault", [] if status == 0 else [f"exit {status}", errors[:300]])
cases.finds("a finding that does not come is missed",
            wrong_with(rows_of(["ropewalk | site.words | us | routine.false-alarm"])[0], base), "routine.false-alarm")
cases.finds("a finding that is not in the table is seen",
            wrong_with(rows_of(["ropewalk | zones[garden door].behaviour | perimeter | silence"])[0], base), "came as well")
with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
    for row, wrong in zip(rows, pool.map(lambda row: wrong_with(row, base), rows)):
        cases.case(" | ".join(row[:3]), wrong)
cases.end()
