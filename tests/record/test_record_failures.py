#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every allocation, read, write, sync, rename, open and close fails once: a clear error or success,
never a crash; the shop file is as before or completely new; no temporary file is left.

The failures come from tests/support/fail_preload.c (its README is the manual). Paths come from the
build: SHOP_VERDICT, SHOP_CHANGE, FAIL_PRELOAD; without FAIL_PRELOAD (a build with a sanitizer,
which wants to be loaded first) the cases are skipped.
"""
import os
import pathlib
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
import tap  # noqa: E402

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
HELPERS = ROOT / "build" / "tests" / "record"
VERDICT = os.environ.get("SHOP_VERDICT") or str(HELPERS / "shop_verdict")
CHANGE = os.environ.get("SHOP_CHANGE") or str(HELPERS / "shop_change")

# Small, so that every single call can fail: what is tested is the path, not the amount.
OLD = b"""{"unit": "mm",
 "notes": "kept  as it is",
 "plates": [{"name": "offcut", "thickness": "9.53+-0.02", "walls": {"a": {"offset": 6, "faces": "outward"}}}]
}
"""
EDIT = ["plates[0].thickness", '"9.5181+-0.0042mm"', "plates[0].turned", "false"]
NEW = OLD.replace(b'"9.53+-0.02"', b'"9.5181+-0.0042mm"').replace(
    b'"outward"}}}', b'"outward"}}, "turned": false}')
LIMIT = 3000  # a run that still fails after so many calls is itself a fault


def run(command, folder, call, how, at, mode="once"):
    """One run with a failure planned; whether it came to pass, and the finished process."""
    mark = folder / "mark"
    environment = dict(os.environ, LD_PRELOAD=PRELOAD, FAIL_CALL=call, FAIL_HOW=how,
                       FAIL_AT=str(at), FAIL_MODE=mode, FAIL_MARK=str(mark))
    done = subprocess.run(command, env=environment, capture_output=True, timeout=60)
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def runs(command, folder, call, how, mode="once"):
    """Runs with the 1st, 2nd, ... call failing, until none is left to fail."""
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    # one by one; a memory that stays exhausted is only sampled
    for at in range(1, LIMIT, 7 if (call, mode) == ("memory", "onwards") else 1):
        failed, done = run(command, folder, call, how, at, mode)
        if not failed:
            tap.equal(done.returncode, 0, f"exit code without a failure: {done.stderr}")
            if at == 1:
                raise AssertionError(f"the program makes no call of class {call}: nothing was tested")
            return
        yield at, done


def check_error(done, at, text):
    """A failure is exit code 4 with one line that says what and where."""
    what = f"call {at}: {done.returncode} {done.stderr!r} {done.stdout!r}"
    if done.returncode != 4 or text.count(b"\n") != 1 or b": " not in text:
        raise AssertionError(what)


def check_change(call, how, mode="once"):
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        shop = folder / "shop.json"
        shop.write_bytes(OLD)
        shop.chmod(0o640)
        outcomes = set()
        for at, done in runs([CHANGE, str(shop), *EDIT], folder, call, how, mode):
            text = shop.read_bytes()
            if done.returncode == 0:
                tap.equal(text, NEW, f"file after success in spite of call {at}")
            else:
                # with every write failing, the message can't be written either
                if not (call == "write" and mode == "onwards"):
                    check_error(done, at, done.stderr)
                tap.equal(done.returncode, 4, f"exit code, call {at}: {done.stderr}")
                tap.equal(text, OLD, f"file after failure of call {at}")
            tap.equal([p.name for p in folder.iterdir()], ["shop.json"], f"folder, call {at}")
            tap.equal(shop.stat().st_mode & 0o7777, 0o640, "permissions")
            outcomes.add(done.returncode)
            shop.write_bytes(OLD)
        tap.equal(shop.read_bytes() in (OLD, NEW), True, "file at the end")
        return outcomes


def change_fails_cleanly(call, how, mode):
    if 4 not in check_change(call, how, mode):
        raise AssertionError("no failure ever reached the program")


def change_succeeds(call, how):
    tap.equal(check_change(call, how), {0}, "exit codes")


def reading_fails_cleanly(path, lines, call, how):
    with tempfile.TemporaryDirectory() as name:
        codes = set()
        part = pathlib.Path(name) / path.name
        part.write_bytes(b"".join(path.read_bytes().splitlines(True)[:lines]))
        for at, done in runs([VERDICT, str(part)], pathlib.Path(name), call, how):
            codes.add(done.returncode)
            if done.returncode != 0:
                check_error(done, at, done.stdout)
        if 4 not in codes:
            raise AssertionError("no failure ever reached the program")


for call, how in (("memory", "ENOMEM"), ("write", "ENOSPC"), ("write", "EIO"),
                  ("read", "EIO"), ("sync", "EIO"), ("rename", "EACCES"), ("open", "EACCES"),
                  ("open", "EMFILE"), ("close", "EIO")):
    for mode in ("once", "onwards"):
        tap.add(f"a change meets {how} in one call of class {call}, {mode}", change_fails_cleanly,
                call, how, mode)
for call, how in (("write", "SHORT"), ("write", "EINTR"), ("read", "SHORT"), ("read", "EINTR")):
    tap.add(f"a change takes {how} in any one call of class {call} in its stride", change_succeeds, call, how)
for kind, path, lines in (("a shop file", ROOT / "fixtures/shop/smallest.json", None),
                          ("a hit log", ROOT / "fixtures/hits/front_left.hits.jsonl", 3)):
    for call, how in (("memory", "ENOMEM"), ("read", "EIO"), ("open", "EMFILE")):
        tap.add(f"reading {kind} meets {how} in one call of class {call}", reading_fails_cleanly, path, lines, call, how)
tap.run()
