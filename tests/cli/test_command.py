#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The frame around each command: an answer and its files stand or fall together."""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

FIXTURES = tap.ROOT / "fixtures"
# Each command that writes a file beside its answer: its line, the option of the file.
WRITERS = [
    ("zero front-left-top --shop shop.json --plate offcut --cutter quarter --x 100 --y 80 --z -40",
     "--svg"),
    ("plan corner front-left-top --shop shop.json --plate offcut --cutter quarter", "--out"),
    ("rehearse corner.ngc --scene front-left.json", "--svg"),
    ("rehearse corner.ngc --scene front-left.json", "--log"),
    ("bed bed.csv", "--svg"),
    ("bed bed.csv --shop shop.json --active 0,0,-60 --cutter quarter", "--re-touch"),
    ("trials morning.hits.jsonl", "--svg"),
    ("shop show", "--svg"),
]


def trueup(words, folder, **streams):
    return subprocess.run([str(pathlib.Path(tap.program()).resolve()), *words.split()], cwd=folder,
                          stdin=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False,
                          **{"stdout": subprocess.PIPE, **streams})


def prepare(folder):
    for part in ("shop", "hits", "scenes", "programs", "trials"):
        for path in (FIXTURES / part).glob("*"):
            if path.is_file():
                shutil.copy(path, folder)
    # Forty places of a flat bed, and a chip on one of them.
    rows = [f"{100 + 50 * i},{100 + 50 * j},{-60 + (0.4 if (i, j) == (3, 2) else 0.001 * (i % 2))}"
            for i in range(8) for j in range(5)]
    (pathlib.Path(folder) / "bed.csv").write_text("\n".join(["x,y,z", *rows, ""]))
    trueup("plan corner front-left-top --shop shop.json --plate offcut --cutter quarter "
           "--out corner.ngc", folder)


def lost_answer_leaves(line, option, before):
    """With a full standard output the command fails and its file is as it was."""
    with tempfile.TemporaryDirectory() as folder:
        prepare(folder)
        path = pathlib.Path(folder) / "written"
        if before is not None:
            path.write_text(before)
        good = trueup(f"{line} {option} good", folder)
        if good.returncode not in (0, 1):
            raise AssertionError(good.stderr.decode())
        tap.equal((pathlib.Path(folder) / "good").exists(), True, "written with its answer")
        with open("/dev/full", "wb") as full:
            lost = trueup(f"{line} {option} written", folder, stdout=full)
        tap.equal(lost.returncode, 4, lost.stderr.decode())
        tap.equal(path.read_text() if path.exists() else None, before, "the file")
        tap.equal(list(pathlib.Path(folder).glob(".trueup-*")), [], "temporary files")


for command, writes in WRITERS:
    name = command.split()[0]
    tap.add(f"{name} {writes} is not left behind by a lost answer", lost_answer_leaves, command,
            writes, None)
    if writes != "--log":  # a log is never written over
        tap.add(f"{name} {writes} replaces nothing where the answer is lost", lost_answer_leaves,
                command, writes, "what was there\n")


@tap.case
def every_command_with_such_a_file_stands_in_the_table():
    def help_of(*words):
        return subprocess.run([tap.program(), *words, "--help"], capture_output=True, text=True,
                              check=True).stdout
    text = help_of()
    commands = re.findall(r"^  ([a-z]+) ", text[text.index("Commands:"):], re.M)
    having = {(c, o) for c in commands for o in ("--svg", "--out", "--log", "--re-touch")
              if re.search(rf"^  {o} FILE", help_of(c), re.M)}
    # zero and plate read their --log; log is what it records, not a file beside an answer.
    having -= {("zero", "--log"), ("plate", "--log"), ("log", "--out")}
    tap.equal(sorted(having - {(c.split()[0], o) for c, o in WRITERS}), [])


tap.run()
