#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every bad input in fixtures/bad gives exactly the message beside it (NAME.expected).

    /usr/bin/python3 tests/record/test_bad_inputs.py               compares (TAP, a case a file)
    /usr/bin/python3 tests/record/test_bad_inputs.py --rebuild     writes the .expected files anew

The verdicts come from tests/record/shop_verdict.c, whose path is in SHOP_VERDICT; by default that
of build/. After --rebuild, read the difference before committing it, and give its reason.
"""
import os
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
import tap  # noqa: E402

VERDICT = os.environ.get("SHOP_VERDICT") or str(ROOT / "build" / "tests" / "record" / "shop_verdict")
FOLDERS = {"shop": ".json", "hits": ".jsonl", "scene": ".json", "table": ".csv"}
LEAST = 200  # fewer files than this, and some were lost


def inputs():
    """The bad files, in order, each with its golden."""
    for folder, suffix in FOLDERS.items():
        for path in sorted((ROOT / "fixtures" / "bad" / folder).glob("*" + suffix)):
            yield path, path.with_name(path.name.split(".")[0] + ".expected")


def verdict(path):
    """What the reader says of a file, run beside it so that messages hold no folder."""
    kind = ["--scene"] if path.parent.name == "scene" else []
    run = subprocess.run([VERDICT, *kind, path.name], cwd=path.parent, capture_output=True, timeout=60)
    return run.returncode, run.stdout, run.stderr


def check(path, golden):
    code, out, err = verdict(path)
    tap.equal(err, b"", "standard error")
    tap.equal(code, 3, "exit code (bad data)")
    tap.equal(out.decode(), golden.read_text(encoding="utf-8"), "message")
    tap.equal(out.count(b"\n"), 1, "lines of the message")


@tap.case
def no_bad_input_was_lost_and_no_golden_is_left_over():
    goldens = {golden for _, golden in inputs()}
    there = {path for folder in FOLDERS for path in (ROOT / "fixtures/bad" / folder).glob("*.expected")}
    tap.equal(there - goldens, set(), "goldens without an input")
    if len(goldens) < LEAST:
        raise AssertionError(f"only {len(goldens)} bad inputs")


def rebuild():
    if not os.path.exists(VERDICT):
        sys.exit(f"{VERDICT} is not there; build first: ninja -C build")
    for path, golden in inputs():
        code, out, _ = verdict(path)
        if code != 3:
            sys.exit(f"{path}: exit code {code}, not a bad input: {out.decode()}")
        golden.write_bytes(out)
    print(f"{len(list(inputs()))} goldens written; now read the difference")


if __name__ == "__main__":
    if sys.argv[1:] == ["--rebuild"]:
        rebuild()
    else:
        for bad, expected in inputs():
            tap.add(f"{bad.parent.name}: {bad.name.split('.')[0].replace('_', ' ')}", check, bad, expected)
        tap.run()
