#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close of `trueup zero` fails once: the whole
answer and exit code 0, or exit code 4 with a line that says why, no answer, and the drawing as it
was before.

The failures come from tests/support/fail_preload.c. Without FAIL_PRELOAD (a build with a sanitizer,
which wants to be loaded first) the cases are skipped.
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
SHOP = """{"unit": "mm",
 "plates": [{"name": "offcut", "thickness": "9.53+-0.02",
             "walls": {"a": {"offset": 6, "faces": "outward", "touch_depth": 5}}}],
 "cutters": [{"name": "pin", "shape": "flat", "diameter": 6}]}
"""
OLD_DRAWING = "the old drawing\n"


def run(folder, arguments, call="", how="", at=0):
    """A run in the folder with a failure planned; whether it came to pass, and the process."""
    mark = folder / "mark"
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), "zero", "front-left-top",
                           *arguments], cwd=folder, env=environment, capture_output=True, text=True,
                          timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def judge(folder, done, whole, drawing, what):
    """One run in which a call failed."""
    found = (folder / "setup.svg").read_text()
    if done.returncode == 0:
        tap.equal(done.stdout, whole, f"answer, {what}")
        tap.equal(found, drawing, f"drawing, {what}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    if what.startswith(("write", "close")):  # the answer itself may have been cut
        if not whole.startswith(done.stdout):
            raise AssertionError(f"{what}: {done.stdout!r}")
    else:
        tap.equal(done.stdout, "", f"answer after an error, {what}")
    # The answer was cut, so the drawing must be the old one again; at a close all of it is out.
    if found != OLD_DRAWING and not (what.startswith("close") and found == drawing):
        raise AssertionError(f"{what}: another drawing, {len(found)} bytes")
    # When standard error itself cannot be written there is nobody to tell.
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup zero: "):
        raise AssertionError(f"{what}: {done.stderr!r}")


def fail_each(call, how, *format_options):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    arguments = ["--shop", "shop.json", "--x", "100", "--z", "-40", "--svg", "setup.svg",
                 *format_options]
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "shop.json").write_text(SHOP)
        _, done = run(folder, arguments)
        tap.equal(done.returncode, 0, done.stderr)
        whole, drawing = done.stdout, (folder / "setup.svg").read_text()
        # A drawing has thousands of writes alike: each of the first, then ever fewer.
        at = 0
        while at < LIMIT:
            at += 1 + at // 60
            (folder / "setup.svg").write_text(OLD_DRAWING)
            failed, done = run(folder, arguments, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, f"no failure, {call} {at}: {done.stderr}")
                break
            judge(folder, done, whole, drawing, f"{call} {at}")
        if at == 1 or at >= LIMIT:
            raise AssertionError(f"{call}: {at - 1} calls failed")
        left = sorted(path.name for path in folder.iterdir())
        tap.equal(left, ["setup.svg", "shop.json"], "files left")


for call, how in (("memory", "ENOMEM"), ("read", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"),
                  ("sync", "EIO"), ("rename", "EACCES"), ("open", "EMFILE"), ("close", "EIO")):
    tap.add(f"{call} failing with {how}", fail_each, call, how)
tap.add("memory failing while JSON is written", fail_each, "memory", "ENOMEM", "--json")

if __name__ == "__main__":
    tap.run()
