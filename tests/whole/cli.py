#!/usr/bin/env python3
"""The command line from outside: exit status, what goes to which stream, wording, JSON, colour, progress, Ctrl-C."""

import json
import os
import pty
import re
import select
import signal
import subprocess
import tempfile
import time

from program import LINTEL, run, tap

CLEAN = "demo/quayside.yaml"
FOUND = "demo/quayside-as-found.yaml"
ESCAPE = "\033["


def crowd(people):
    """A site that takes long: everybody comes and goes within two hours, in every order."""
    numbers = range(people)
    lines = ["site: {name: Crowd, invented: yes}", "panel: {profile: halyard-28, entry-delays: {yard: 30 s}}",
             "areas: [{name: shop}]", "keypads: [{name: pad}]", "doors:"]
    lines += [f"  - {{name: door {i}, outside: yes}}" for i in numbers]
    lines += ["devices:"] + [f"  - {{name: contact {i}, profile: slim-contact, on: door {i}}}" for i in numbers]
    lines += ["zones:"] + [f"  - {{number: {i + 1}, says: [d{i}], device: contact {i}, behaviour: entry, delay: yard}}"
                           for i in numbers]
    lines += ["people:"] + [f"  - {{name: person {i}}}" for i in numbers]
    lines += ["routines:", "  - name: crowd", "    steps:"]
    for i in numbers:
        lines += [f"      - {{who: person {i}, in: 0..2 h, open: door {i}}}",
                  f"      - {{who: person {i}, in: 1..50 min, close: door {i}}}",
                  f"      - {{who: person {i}, in: 1..50 min, if: not ready, set: full}}"]
    return "\n".join(lines) + "\n"


def unlike(ran, status, out=None, err=None):
    """What differs from: this status; these words on stdout and on stderr ("" = nothing at all there)."""
    wrong = [] if ran.returncode == status else [f"exit {ran.returncode}, not {status}: {ran.stderr[:200]}"]
    for name, got, expected in (("stdout", ran.stdout, out), ("stderr", ran.stderr, err)):
        if expected == "" and got:
            wrong.append(f"{name} is not empty: {got[:200]}")
        elif expected and not re.search(expected, got):
            wrong.append(f"{name} does not say /{expected}/: {got[:300]}")
    return wrong


def wide_lines(text):
    return [f"{len(line)} columns: {line}" for line in text.splitlines() if len(line) > 80]


def on_terminal(arguments, environment=None, interrupt_after_s=None, columns=None):
    """Runs with a terminal for stdout and stderr, as (status, what was shown)."""
    master, slave = pty.openpty()
    if columns:
        import fcntl
        import struct
        import termios
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 40, columns, 0, 0))
    values = dict(os.environ, TERM="xterm", LC_ALL="C.UTF-8")
    values.pop("NO_COLOR", None)
    values.pop("LINTEL_DATA", None)
    values.update(environment or {})
    child = subprocess.Popen([LINTEL, *arguments], cwd=tap.SOURCE, env=values, stdin=subprocess.DEVNULL, stdout=slave,
                             stderr=slave)
    os.close(slave)
    shown = b""
    began = time.monotonic()
    interrupted = False
    while True:
        wait_s = 0.05 if interrupt_after_s and not interrupted else 60
        readable, _, _ = select.select([master], [], [], wait_s)
        if interrupt_after_s and not interrupted and time.monotonic() - began > interrupt_after_s:
            child.send_signal(signal.SIGINT)
            interrupted = True
        if not readable:
            if interrupt_after_s:
                continue
            break
        try:
            part = os.read(master, 65536)
        except OSError:
            break
        if not part:
            break
        shown += part
    os.close(master)
    return child.wait(timeout=60), shown.decode("utf-8", "replace")


def streams(cases):
    cases.case("check: a clean site: exit 0, all on stdout", unlike(run("check", CLEAN), 0, "46 go well|go well", ""))
    cases.case("check: faults: exit 1, all on stdout", unlike(run("check", FOUND), 1, "FAULT  .*\n(.*\n)*.*exit 1\n$", ""))
    cases.case("check: no such file: exit 2, all on stderr", unlike(run("check", "nowhere.yaml"), 2, "", "nowhere.yaml"))
    cases.case("check: a folder: a total", unlike(run("check", "--no-usual", "demo"), 1, r"\d+ sites: .*exit 1", ""))
    cases.case("check: no file named: exit 2", unlike(run("check"), 2, "", "which site file"))
    cases.case("check: - reads standard input",
               unlike(run("check", "-", text=tap.read(CLEAN)), 0, "go well", ""))
    cases.case("check: problems name file, line and column",
               unlike(run("check", "-", text="site: {name: X}\nzoness: []\n"), 2, "", r"^standard input:1:1: (.*\n)+standard input:2:1: .*zones"))
    ran = run("check", "--classes", "3", "--no-usual", CLEAN)
    cases.case("check: a bound that is hit is not settled: exit 3",
               unlike(ran, 3, r"is not settled\n(.*\n)*.*not settled(.*\n)*.*exit 3\n$", ""))
    cases.case("no command: exit 2", unlike(run(), 2, "", "--help"))
    cases.case("an unknown command: exit 2, the nearest is named", unlike(run("chekc"), 2, "", "did you mean check"))
    cases.case("an unknown option: exit 2, the nearest is named",
               unlike(run("check", "--jsn", CLEAN), 2, "", "did you mean --json"))
    cases.case("an unknown letter: exit 2", unlike(run("check", "-z", CLEAN), 2, "", 'no option "-z"'))
    cases.case("an option without its value: exit 2", unlike(run("check", CLEAN, "--jobs"), 2, "", "wants a value"))
    for value in ("0", "x", "17", "-1", "99999999999999999999"):
        cases.case(f"--jobs {value}: exit 2", unlike(run("check", "--jobs", value, CLEAN), 2, "", "whole number"))
    with open("/dev/full", "w", encoding="utf-8") as full:
        ran = subprocess.run([LINTEL, "check", CLEAN], cwd=tap.SOURCE, stdout=full, stderr=subprocess.PIPE, text=True,
                             check=False)
    cases.case("a full disk is said: exit 2", [] if ran.returncode == 2 and "could not be written" in ran.stderr else
               [f"exit {ran.returncode}: {ran.stderr}"])


def help_pages(cases):
    overview = run("--help")
    cases.case("--help: exit 0, on stdout", unlike(overview, 0, "usage: lintel COMMAND", ""))
    commands = re.findall(r"^  lintel (\w+)", overview.stdout, re.MULTILINE)
    known = [command for command in commands if command != "COMMAND"]
    cases.case("help: the same overview", unlike(run("help"), 0, "usage: lintel COMMAND", ""))
    cases.case("--help lists only what exists", [f"{command}: {run(command, '--help').stderr}" for command in known
                                                 if run(command, "--help").returncode != 0])
    cases.case("--help lists every command, 80 columns", [
        name for name in ("new", "check", "tell", "sheet", "why", "keys", "panel") if name not in known]
        + wide_lines(overview.stdout))
    for command in known:
        page = run(command, "--help").stdout
        options = set(re.findall(r"--([a-z][a-z-]*)", page)) - {"help"}
        unknown = [option for option in sorted(options)
                   if "no option" in run(command, "--" + option, "--help").stderr]
        cases.case(f"{command} --help: every option exists, 80 columns", unknown + wide_lines(page))
    cases.case("--version", unlike(run("--version"), 0, r"^lintel \d+\.\d+\.\d+\n$", ""))


def telling(cases):
    names = run("tell", CLEAN)
    cases.case("tell: without a name: the list", unlike(names, 0, "^first batch\n", "") + wide_lines(names.stdout))
    well = run("tell", CLEAN, "first batch")
    cases.case("tell: goes well: exit 0", unlike(well, 0, "goes well at every timing", "") + wide_lines(well.stdout))
    wrong = run("tell", FOUND, "apprentice opens")
    cases.case("tell: goes wrong: exit 1", unlike(wrong, 1, "goes wrong every time\n(.*\n)*.*siren", "") +
               wide_lines(wrong.stdout))
    safe = run("tell", CLEAN, "safe")
    cases.case("tell: a protected thing that is heard in time: exit 0",
               unlike(safe, 0, "^safe: heard in time, ", "") + wide_lines(safe.stdout))
    pans = run("tell", FOUND, "copper pans")
    cases.case("tell: one that is not: exit 1", unlike(pans, 1, "nobody hears|no signal ever leaves", "") + wide_lines(pans.stdout))
    as_json = json.loads(run("tell", "--json", FOUND, "panel").stdout)["break_in"]
    cases.case("tell --json: a panel that is smashed first",
               [] if as_json["verdict"] == "heard too late" and as_json["to_spare_s"] < 0 and as_json["story"] else [str(as_json)[:200]])
    cases.case("tell: capitals do not matter", unlike(run("tell", CLEAN, "First Batch"), 0, "^first batch", ""))
    cases.case("tell: a slip of the pen: exit 2, the nearest is named",
               unlike(run("tell", CLEAN, "frist batch"), 2, "", 'did you mean "first batch"'))
    cases.case("tell: part of a name: exit 2, those that have it",
               unlike(run("tell", CLEAN, "forgotten keys"), 2, "", '"forgotten keys by yard way"'))
    cases.case("tell: nothing like it: exit 2", unlike(run("tell", CLEAN, "qqqqqqqqq"), 2, "", "lists them all"))
    cases.case("tell: not applied: says why", unlike(run("tell", CLEAN, "duress at opening"), 0, "not applied here .no ", ""))
    same = [run("tell", CLEAN, name) for name in ("mains outage at night", "AC outage at night")]
    cases.case("tell: a usual routine's name in the other word set",
               unlike(same[1], same[0].returncode, "^mains outage at night", "")
               + ([] if same[0].stdout == same[1].stdout else ["another story"]))
    cases.case("tell: an unknown pace: exit 2", unlike(run("tell", CLEAN, "first batch", "--pace", "fast"), 2, "", "quick, middling or slow"))
    paces = [run("tell", CLEAN, "first batch", "--pace", pace).stdout for pace in ("quick", "middling", "slow")]
    cases.case("tell: paces differ", [] if len(set(paces)) == 3 else ["they are alike"])
    every = run("tell", CLEAN, "first batch", "--all").stdout
    cases.case("tell: --all tells more", [] if len(every.splitlines()) > len(well.stdout.splitlines()) else ["it does not"])
    american = tap.read(FOUND).replace("words: uk", "words: us")
    said = run("tell", "-", "apprentice opens", "--all", text=american)
    cases.case("tell: us words", unlike(said, 1, "unless disarmed before", "") +
               ([] if not re.search(r"\b(set|sets|setting|unset|mains)\b", said.stdout.split("\n", 2)[2]) else
                ["a uk word: " + said.stdout]))


def hours_and_faults(cases):
    plain = tap.read(CLEAN)
    baker = 'name: baker, hours: "05:00..20:00",'
    early = run("tell", "-", "first batch", "--pace", "quick", text=plain.replace("name: baker,", baker))
    cases.case("tell: a code before its hours", unlike(early, 1, "outside the hours of the baker +05:00 to 20:00\n(.*\n)*"
                                                       " +the keypad shows: this code is not valid at this hour\n", "") +
               wide_lines(early.stdout))
    timeless = plain.replace("name: baker,", baker).replace(
        "\nroutines:\n", "\nroutines:\n  - {name: some day, who: baker, starts: {shop: full}, "
        "steps: [{come: yard way}, {unset: passage keypad}]}\n")
    cases.case("tell: no time of day: hours are left out, and it says so",
               unlike(run("tell", "-", "some day", text=timeless), 0,
                      "hours of people not applied:\\s+no\\s+step\\s+is\\s+at\\s+a\\s+time\\s+of\\s+day", ""))
    faulty = plain.replace("panel:\n", "panel:\n  faults: ignore\n") + (
        "  - {routine: mains outage at night, reason: tested}\n")
    faulty = faulty.replace("\nroutines:\n", "\nroutines:\n  - {name: dark, who: baker, expects: [trouble], steps: "
                            "[{mains: lost}, {in: 5 s, set: full, keypad: passage keypad}, {go: yard way}]}\n")
    cases.case("tell: what is written to the log",
               unlike(run("tell", "-", "dark", text=faulty), 0,
                      'written to the log: "mains power lost"\n +no fault stands in the way of setting here', ""))


def wrong_with_json(ran, status, *keys):
    wrong = unlike(ran, status, None, "")
    try:
        value = json.loads(ran.stdout)
    except json.JSONDecodeError as error:
        return wrong + [str(error)]
    return wrong + [f"no {key}" for key in keys if key not in value]


def as_json(cases):
    keys = ("format", "file", "site", "findings", "routines", "absent", "counts", "stopped", "exit")
    for name, status in ((CLEAN, 0), (FOUND, 1)):
        ran = run("check", "--json", name)
        cases.case(f"check --json {name}", wrong_with_json(ran, status, *keys))
        report = json.loads(ran.stdout)
        text = run("check", name).stdout
        missing = [finding["headline"] for finding in report["findings"]
                   if finding["headline"] not in re.sub(r"\s+", " ", text)]
        cases.case(f"{name}: text and JSON have the same findings", missing)
        cases.case(f"{name}: 80 columns", wide_lines(text))
        cases.case(f"{name}: counts agree", [] if report["counts"]["routines"] == len(report["routines"]) and
                   report["counts"]["faults"] == sum(f["weight"] == "fault" for f in report["findings"]) else
                   [str(report["counts"])])
    ran = run("tell", "--json", FOUND, "apprentice opens")
    cases.case("tell --json", wrong_with_json(ran, 1, "format", "site", "routine", "course", "story", "finding"))
    documented = tap.read("docs/json.md")
    found = set()

    def gather(value):
        if isinstance(value, dict):
            found.update(value)
            for part in value.values():
                gather(part)
        elif isinstance(value, list):
            for part in value:
                gather(part)

    gather(json.loads(run("check", "--json", FOUND).stdout))
    gather(json.loads(ran.stdout))
    cases.case("docs/json.md names every key", sorted(key for key in found if f"`{key}`" not in documented))


def same_whatever_the_jobs(cases):
    reports = {run("check", "--json", "--jobs", str(jobs), FOUND).stdout for jobs in (1, 2, 5)}
    cases.case("the same report with 1, 2 and 5 jobs", [] if len(reports) == 1 else [f"{len(reports)} different ones"])
    quick = run("check", "--no-remedy", FOUND)
    cases.case("--no-remedy has none", unlike(quick, 1, "FAULT", "") + ([] if "behaviour entry" not in quick.stdout else ["it has"]))
    few = json.loads(run("check", "--json", "--no-usual", CLEAN).stdout)
    cases.case("--no-usual has only described ones", [] if few["counts"]["usual"] == 0 and few["counts"]["described"] > 0 else [str(few["counts"])])
    margins = run("check", "--margins", CLEAN).stdout
    names = [routine["name"] for routine in json.loads(run("check", "--json", CLEAN).stdout)["routines"]]
    cases.case("--margins lists every routine", [name for name in names if name not in margins] + wide_lines(margins))


def terminals(cases):
    _, shown = on_terminal(["check", FOUND])
    cases.case("colour on a terminal", [] if ESCAPE in shown else ["none"])
    for name, environment in (("NO_COLOR", {"NO_COLOR": "1"}), ("TERM=dumb", {"TERM": "dumb"})):
        _, shown = on_terminal(["check", FOUND, "--no-remedy"], environment)
        cases.case(f"no colour with {name}", [] if ESCAPE + "1;" not in shown and ESCAPE + "3" not in shown else [shown[:200]])
    cases.case("no colour into a file", [] if "\033" not in run("check", FOUND).stdout else ["there is"])
    _, wide = on_terminal(["check", FOUND, "--no-remedy"], {"NO_COLOR": "1"}, columns=100)
    longest = max(len(line) for line in re.sub(r"\r\033\[K[^\r\n]*", "", wide).splitlines())
    cases.case("a terminal of 100 columns is used", [] if 80 < longest <= 100 else [f"longest line: {longest}"])
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as file:
        file.write(crowd(8))
        file.flush()
        began = time.monotonic()
        status, shown = on_terminal(["check", "--no-usual", "--jobs", "1", file.name], interrupt_after_s=1.0)
        took_s = time.monotonic() - began
        cases.case("progress on a terminal", [] if "Ctrl-C stops" in shown else [shown[:300]])
        cases.case("Ctrl-C: exit 130, what is known so far is shown",
                   [] if status == 130 and "stopped early: 1 of 1 routines" in shown and "exit 130" in shown else
                   [f"exit {status}: {shown[-400:]}"])
        cases.case("Ctrl-C stops soon", [] if took_s < 10 else [f"{took_s:.1f} s"])


def other_commands(cases):
    graph = run("panel", "--graph")
    cases.case("panel --graph", unlike(graph, 0, r'^digraph panel \{\n(.*\n)*.*"unset" -> "exit time runs"', ""))
    cases.case("panel: exit 2 without --graph", unlike(run("panel"), 2, "", "--graph"))
    cases.case("keys prints docs/site-file.md", [] if run("keys").stdout == tap.read("docs/site-file.md") else ["it differs"])


def long_names(cases):
    """Names have up to 60 characters, and a character up to four bytes (RFC 3629, 3): a path is as long as that makes it. At
    and over what once was the most, the finding still says where it stands."""
    wrong = []
    for name in ("n" * 60, "\u00e9" * 60, "\U0001D11E" * 35, "\U0001D11E" * 36, "\U0001D11E" * 60):
        site = ("site: {name: Kiosk (invented), invented: yes}\npanel:\n  profile: halyard-28\n  entry-delays:\n    front: 30 s\n"
                f"    {name}: 40 s\nareas: [{{name: kiosk}}]\nkeypads: [{{name: pad}}]\ndoors: [{{name: front door, outside: yes}}]\n"
                "devices: [{name: contact, profile: slim-contact, on: front door}]\n"
                "zones: [{number: 1, says: front door, device: contact, behaviour: entry, delay: front}]\n")
        findings = json.loads(run("check", "--json", "-", text=site).stdout)["findings"]
        at = [finding["place"]["line"] for finding in findings if finding["id"] == "delays.unused"]
        wrong += [] if at == [6] else [f"{len(name.encode())} bytes: line {at}"]
    cases.case("a finding about a long name says where it stands", wrong)


cases = tap.Cases()
cases.finds("a wrong status is found", unlike(run("--version"), 1), "exit 0, not 1")
for part in (streams, help_pages, telling, hours_and_faults, as_json, same_whatever_the_jobs, terminals, other_commands, long_names):
    part(cases)
cases.end()
