#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup rehearse` fails once: the
whole answer and the exit code of the verdict, or exit code 4 with a line that says why and no
answer; the drawing is the old one or the new one, and there is a whole log or none.

The failures come from tests/support/fail_preload.c. Without FAIL_PRELOAD (a build with a sanitizer,
which wants to be loaded first) the cases are skipped.
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 100000  # a run that still fails after so many calls is itself a fault
FILES = [tap.ROOT / "fixtures" / "programs" / "front-left.ngc",
         tap.ROOT / "fixtures" / "scenes" / "front-left.json"]
OLD_DRAWING = "the old drawing\n"
ARGUMENTS = ["rehearse", "front-left.ngc", "--scene", "front-left.json", "--svg", "path.svg",
             "--log", "t.hits.jsonl"]


def run(folder, options, call="", how="", at=0):
    """A run in the folder with a failure planned; whether it came to pass, and the process."""
    mark = folder / "mark"
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark), "SOURCE_DATE_EPOCH": "0"}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    (folder / "path.svg").write_text(OLD_DRAWING)
    (folder / "t.hits.jsonl").unlink(missing_ok=True)
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), *ARGUMENTS, *options],
                          cwd=folder, env=environment, capture_output=True, text=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    log = folder / "t.hits.jsonl"
    return failed, done, (folder / "path.svg").read_text(), log.read_text() if log.exists() else None


def judge(found, good, what):
    """One run in which a call failed, against the one in which none did."""
    _, done, drawing, log = found
    _, whole, new_drawing, new_log = good
    if done.returncode == 0:
        tap.equal((done.stdout, drawing, log), (whole.stdout, new_drawing, new_log), what)
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    if what.startswith(("write", "close")):  # the answer itself may have been cut
        if not whole.stdout.startswith(done.stdout):
            raise AssertionError(f"{what}: {done.stdout!r}")
    else:
        tap.equal(done.stdout, "", f"answer after an error, {what}")
    if drawing not in (OLD_DRAWING, new_drawing):
        raise AssertionError(f"{what}: a torn drawing, {len(drawing)} bytes")
    if log not in (None, new_log):
        raise AssertionError(f"{what}: a torn log, {len(log)} bytes")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    # When standard error itself cannot be written there is nobody to tell.
    if not what.startswith("write") and not last.startswith("trueup rehearse: "):
        raise AssertionError(f"{what}: {done.stderr!r}")


def fail_each(call, how, *options):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for path in FILES:
            shutil.copy(path, folder)
        good = run(folder, options)
        tap.equal(good[1].returncode, 0, good[1].stderr)
        tap.equal(good[3].count("\n"), 7, "lines of the log")
        # A drawing has hundreds of writes alike: each of the first, then ever fewer.
        at = 0
        while at < LIMIT:
            at += 1 + at // 60
            found = run(folder, options, call, how, at)
            if not found[0]:
                tap.equal(found[1].returncode, 0, f"no failure, {call} {at}: {found[1].stderr}")
                break
            judge(found, good, f"{call} {at}")
        if at == 1 or at >= LIMIT:
            raise AssertionError(f"{call}: {at - 1} calls failed")
        left = sorted(path.name for path in folder.iterdir())
        tap.equal(left, ["front-left.json", "front-left.ngc", "path.svg", "t.hits.jsonl"],
                  "files left")


for a_call, a_how in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"),
                      ("write", "SHORT"), ("sync", "EIO"), ("rename", "EACCES"),
                      ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{a_call} failing with {a_how}", fail_each, a_call, a_how)
tap.add("memory failing while JSON is written", fail_each, "memory", "ENOMEM", "--json")

if __name__ == "__main__":
    tap.run()
