# SPDX-License-Identifier: GPL-3.0-or-later
""".ci/run beside a tools/check that is played: what it sums up, and how it ends."""
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402


def run(checks, rigs):
    """(last line, exit status) where tools/check and tools/check --rigs are these shell commands."""
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / ".ci").mkdir()
        (root / "tools").mkdir()
        shutil.copy(tap.ROOT / ".ci" / "run", root / ".ci")
        played = root / "tools" / "check"
        played.write_text(f'#!/bin/sh\nif [ "$1" = --rigs ]; then {rigs}\nelse {checks}\nfi\n', encoding="utf-8")
        played.chmod(0o755)
        done = subprocess.run([root / ".ci" / "run"], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                              text=True, check=False)
    return done.stdout.splitlines()[-1], done.returncode


@tap.case
def both_are_summed_up():
    tap.equal(run("echo 1500 passed, 0 failed", "echo 22 passed, 0 failed"), ("1522 passed, 0 failed", 0))


@tap.case
def what_could_not_run_is_neither_passed_nor_failed():
    tap.equal(run("echo 10 passed, 0 failed, 3 skipped", "echo 0 passed, 0 failed, 2 skipped"),
              ("10 passed, 0 failed, 5 skipped", 0))


@tap.case
def a_failure_in_either_fails_the_run_and_the_other_is_run_still():
    tap.equal(run("echo 8 passed, 2 failed; exit 1", "echo 5 passed, 0 failed"), ("13 passed, 2 failed", 1))
    tap.equal(run("echo 8 passed, 0 failed", "echo 4 passed, 1 failed; exit 1"), ("12 passed, 1 failed", 1))


@tap.case
def one_that_ends_without_its_counts_has_failed():
    tap.equal(run("echo broken >&2; exit 4", "echo 5 passed, 0 failed"), ("5 passed, 1 failed", 1))
    tap.equal(run("echo 5 passed, 0 failed", "kill -9 $$"), ("5 passed, 1 failed", 1))
    tap.equal(run("true", "true"), ("0 passed, 2 failed", 1))


@tap.case
def a_bad_status_counts_even_where_nothing_was_counted_as_failed():
    tap.equal(run("echo 5 passed, 0 failed; exit 1", "echo 5 passed, 0 failed"), ("10 passed, 1 failed", 1))


@tap.case
def counts_in_the_middle_of_what_it_says_are_not_taken():
    tap.equal(run("echo 700 passed, 9 failed; echo 5 passed, 0 failed", "echo 5 passed, 0 failed"),
              ("10 passed, 0 failed", 0))


tap.run()
