#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of a command fails once.

    test_failures.py COMMAND    as zero, bed, plan: the rows of the table below

Then there is the whole answer, every file new, and exit code 0; or exit code 4, a line that says why, a part of
the answer at most, and each file as it was or new: never torn, and nothing left beside it. A row says more.

Calls by the hundred are alike: each of the first fails, then ever fewer. The failures come from
tests/support/fail_preload.c. Without FAIL_PRELOAD (a build with a sanitizer, which wants to be loaded first) the
cases are skipped.
"""
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 100000  # a run that still fails after so many calls is itself a fault
FIXTURES = tap.ROOT / "fixtures"
OLD = b"what was there\n"
ALL = (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"), ("sync", "EIO"),
       ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO"))
MEMORY = (("memory", "ENOMEM"),)
PLATE = b"""{"unit": "mm",
 "plates": [{"name": "offcut", "thickness": "9.53+-0.02",
             "walls": {"a": {"offset": "6.35+-0.02", "faces": "outward", "touch_depth": 5}},
             "extent": {"a": [-60, 6.35], "b": [-60, 0]}}],
 "cutters": [{"name": "pin", "shape": "flat", "diameter": "6+-0.3"}]}
"""
LINE = "touch 7 at X:100.000 Y:80.000 Z:-40.120 ok:1"


def bed(scattered):
    """Two series over a bed with a chip; scattered: its places stand in no rows and are triangulated."""
    lines = ["x,y,z,series"]
    for i in range(6):
        for j in range(5):
            shift = 9 * ((3 * i + 5 * j) % 7) if scattered else 0
            z = -60 - 0.01 * i + 0.004 * i * j + (i == j == 2)
            lines.append(f"{100 * i + shift},{100 * j + 2 * shift},{z:.3f},{'ab'[i // 3]}")
    return "\n".join(lines).encode() + b"\n"


class Row:
    """A command line, and what it reads and writes.

    given    {name: bytes} of the files it reads; those among `written` are what it changes.
    written  the files it writes. One that is not given is there before with OLD in it, but for those in `absent`.
    calls    (class of call, how it fails)
    early    classes of calls after whose failure every file is as it was.
    silent   classes of calls after whose failure there is no answer, not even a part.
    told     words, one of which the message or the answer has where the shop file was changed after all.
    """

    def __init__(self, words, given, written=(), calls=MEMORY, what="", absent=(), early=(), silent=(), told=(),
                 stdin=""):
        self.words, self.given, self.written, self.calls = words.split(), given, written, calls
        self.early, self.silent, self.told, self.stdin, self.what = early, silent, told, stdin, what
        self.before = {name: given.get(name, None if name in absent else OLD) for name in written}


ZERO = "zero front-left-top --shop shop.json --x 100 --z -40 --svg setup.svg"
BED = "bed bed.csv --shop shop.json --svg map.svg --re-touch again.ngc --active 0,0,0"
PLAN = "--shop shop.json --out touch.ngc"
GRID = f"plan grid --area 0,0,30,30 --columns 2 --rows 2 --keep-out 9,9,20,20 {PLAN}"
PLATE_SAVE = ("plate --shop shop.json --block-x 60+-0.01 --save --touch left/a/pin=100.000,100.002"
              " --touch right/a/pin=178.700,178.702 --touch left/bare=106.350,106.352"
              " --touch face=-40.470,-40.472 --touch seat=-50.000,-50.002")
REHEARSE = "rehearse front-left.ngc --scene front-left.json --svg path.svg --log t.hits.jsonl"
TEMPLATE = "template --shop shop.json --save touch --x 100 --y 80 --z -40.12"
SHOP = {"shop.json": PLATE}
FLAT = {**SHOP, "bed.csv": bed(False)}
PROGRAM = {path.name: path.read_bytes() for path in (FIXTURES / "programs" / "front-left.ngc",
                                                     FIXTURES / "scenes" / "front-left.json")}
NO_ANSWER = ("memory", "read", "sync", "rename", "open")
SAVED = {"told": ("saved", "Saved in")}
TEMPLATES = {"shop.json": b'{"unit": "mm",\n "templates": {"older": "at {x} {y} {z}"}}\n'}
# Two seats, few touches each: every path of the figures, few calls.
TRIALS = {"shop.json": b'{"unit": "mm", "machine": {"step": 0.0025}}\n',
          "a.csv": b"t,z,seat,dir\n0,1.0025,a,-\n20,1,b,-\n40,1.005,a,-\n60,1.0025,b,-\n80,0.9975,a,-\n",
          "m.hits.jsonl": (FIXTURES / "trials" / "morning.hits.jsonl").read_bytes()}
TABLE = {"shop.json": b"""{"unit": "mm",
 "plates": [{"name": "p", "thickness": "9+-0.01"}],
 "table": {"things": [{"name": "clamp", "from": [0, 0, 0], "to": [9, 9, 9]}]}}
"""}
CHANGED = {"told": ("all the same",)}
COMPARE = "trials m.hits.jsonl --series warm --against cold --json"

ROWS = {
    "zero": [
        Row(ZERO, SHOP, ["setup.svg"], ALL, early=(*NO_ANSWER, "write", "close"), silent=NO_ANSWER),
        Row(f"{ZERO} --json", SHOP, ["setup.svg"], what="while JSON is written", early=NO_ANSWER, silent=NO_ANSWER)],
    "bed": [
        Row(BED, FLAT, ["map.svg", "again.ngc"], ALL, early=("memory", "read", "write")),
        Row(BED, {**SHOP, "bed.csv": bed(True)}, ["map.svg", "again.ngc"], early=("memory",),
            what="while scattered places are triangulated"),
        Row(f"{BED} --json --overcut 0.1", FLAT, ["map.svg", "again.ngc"], early=("memory",),
            what="while JSON is written")],
    "plan": [
        Row(f"plan corner left {PLAN}", SHOP, ["touch.ngc"], ALL),
        Row(GRID, SHOP, ["touch.ngc"], what="for a grid"),
        Row(f"plan corner left {PLAN} --json", SHOP, ["touch.ngc"], what="while JSON is written")],
    "plate": [
        Row(PLATE_SAVE, SHOP, ["shop.json"], ALL, **SAVED),
        Row(f"{PLATE_SAVE} --json", SHOP, ["shop.json"], what="while JSON is written", **SAVED)],
    "rehearse": [
        Row(REHEARSE, PROGRAM, ["path.svg", "t.hits.jsonl"], ALL, absent=["t.hits.jsonl"], silent=NO_ANSWER),
        Row(f"{REHEARSE} --json", PROGRAM, ["path.svg", "t.hits.jsonl"], absent=["t.hits.jsonl"], silent=NO_ANSWER,
            what="while JSON is written")],
    "shop": [
        Row("shop add cutter eight shape=flat diameter=8+-0.01", TABLE, ["shop.json"], ALL, what="while adding",
            **CHANGED),
        Row("shop remove thing clamp --json", TABLE, ["shop.json"], ALL, what="while removing", **CHANGED),
        # It reads nothing, and a new file takes its name by a link.
        Row("shop new unit=mm machine.step=0.01", {}, ["shop.json"], absent=["shop.json"], what="while making",
            calls=[row for row in ALL if row[0] not in ("read", "rename")], **CHANGED),
        Row("shop show --svg t.svg", TABLE, ["t.svg"], ALL, absent=["t.svg"], what="while drawing",
            early=("memory", "read", "write", "sync", "rename", "open", "close"))],
    "template": [
        Row(TEMPLATE, TEMPLATES, ["shop.json"], ALL, stdin=LINE + "\n", **SAVED),
        Row(TEMPLATE, TEMPLATES, ["shop.json"], what="with the line as an option", **SAVED)],
    "trials": [
        Row("trials a.csv --shop shop.json --keep --svg a.svg --chart", TRIALS, ["shop.json", "a.svg"], ALL,
            absent=["a.svg"], told=("kept", "Kept in"), what="while a repeatability is kept"),
        Row("trials a.csv --shop shop.json --by seat --svg a.svg --json", TRIALS, ["a.svg"], absent=["a.svg"],
            what="in a gauge study"),
        Row(COMPARE, TRIALS, calls=(*MEMORY, ("read", "EIO")), what="in a comparison out of a log"),
        Row("trials m.hits.jsonl a.csv --axis z --one-pass", TRIALS,
            calls=(*MEMORY, ("read", "EIO"), ("open", "EMFILE")), what="in one pass")],
}
ROWS["template"][1].words += ["--line", LINE]  # it has blanks


def look(folder, row):
    return {name: (folder / name).read_bytes() if (folder / name).exists() else None for name in row.written}


def run(folder, row, call="", how="", at=0):
    """A run with a failure planned; whether it came to pass, the process, and the files it writes."""
    mark = folder / "mark"
    for name, text in row.before.items():
        if text is None:
            (folder / name).unlink(missing_ok=True)
        else:
            (folder / name).write_bytes(text)
    environment = {**os.environ, "TRUEUP_SHOP": "", "SOURCE_DATE_EPOCH": "0", "FAIL_CALL": call, "FAIL_HOW": how,
                   "FAIL_AT": str(at), "FAIL_MARK": str(mark), **({"LD_PRELOAD": PRELOAD} if call else {})}
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), *row.words], cwd=folder, env=environment,
                          capture_output=True, text=True, timeout=60, input=row.stdin)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done, look(folder, row)


def judge(row, call, done, found, whole, new):
    """A run in which a call failed, against the one in which none did."""
    for name in row.written:
        if found[name] not in (row.before[name], new[name]):
            raise AssertionError(f"{name} is torn: {found[name]!r:.400}")
    if done.returncode == 0:
        tap.equal((done.stdout, found == new), (whole, True), "answer, every file new")
        return
    tap.equal(done.returncode, 4, f"exit code: {done.stderr}")
    if call in row.early and not (call == "close" and done.stdout == whole):  # the answer is out
        tap.equal(found == row.before, True, "every file as it was")
    # An answer that tells of what is saved differs where that failed.
    if not (row.told or whole.startswith(done.stdout)) or done.stdout and call in row.silent:
        raise AssertionError(f"answer after an error: {done.stdout!r}")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    # When standard error itself cannot be written there is nobody to tell.
    if call != "write" and not last.startswith(f"trueup {row.words[0]}: "):
        raise AssertionError(f"the message is {done.stderr!r}")
    changed = found.get("shop.json") != row.before.get("shop.json") and done.stdout != whole
    if changed and row.told and last and not any(word in last + done.stdout for word in row.told):
        raise AssertionError(f"the file was changed, and nobody says so: {done.stderr!r}")


def fail_each(row, call, how):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for name, text in row.given.items():
            (folder / name).write_bytes(text)
        _, done, new = run(folder, row)
        whole = done.stdout
        tap.equal(done.returncode, 0, done.stderr)
        unchanged = [name for name in row.written if new[name] == row.before[name]]
        tap.equal(unchanged, [], "files that a good run does not write")
        # TRUEUP_LONG=1: each but the thousands of writes
        dense = tap.runs(20, 200) if call == "write" else tap.runs(60, LIMIT)
        at, failures = 0, 0
        while at < LIMIT:
            at += 1 + at // dense
            failed, done, found = run(folder, row, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            failures += 1
            try:
                judge(row, call, done, found, whole, new)
            except AssertionError as fault:
                raise AssertionError(f"{call} {at}: {fault}") from None
            left = {path.name for path in folder.iterdir()}
            tap.equal(left | set(row.written), {*row.given, *row.written}, f"files, {call} {at}")
        for name in set(row.given) - set(row.written):
            tap.equal((folder / name).read_bytes(), row.given[name], f"{name}, which is only read")
        if not failures or failed:
            raise AssertionError(f"{call}: {failures} calls failed")
        print(f"# {failures} of {at - 1} calls")


for a_row in ROWS[sys.argv[1]]:
    for a_call, a_how in a_row.calls:
        tap.add(f"{a_call} failing with {a_how} {a_row.what}".strip(), fail_each, a_row, a_call, a_how)
tap.run()
