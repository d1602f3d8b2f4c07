# SPDX-License-Identifier: GPL-3.0-or-later
"""tools/check and its words; .ci/run beside a tools/check that is played: what it sums up, and how it ends."""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402


CHECK = tap.ROOT / "tools" / "check"


def run(check):
    """(last line, exit status) where tools/check --all is this shell command."""
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / ".ci").mkdir()
        (root / "tools").mkdir()
        shutil.copy(tap.ROOT / ".ci" / "run", root / ".ci")
        played = root / "tools" / "check"
        played.write_text(f'#!/bin/sh\n[ "$*" = --all ] || exit 9\n{check}\n', encoding="utf-8")
        played.chmod(0o755)
        done = subprocess.run([root / ".ci" / "run"], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                              text=True, check=False)
    return done.stdout.splitlines()[-1], done.returncode


@tap.case
def all_that_passed_is_told_and_what_was_skipped():
    tap.equal(run("echo 1500 passed, 0 failed"), ("1500 passed, 0 failed", 0))
    tap.equal(run("echo 10 passed, 0 failed, 3 skipped"), ("10 passed, 0 failed, 3 skipped", 0))


@tap.case
def a_failure_fails_the_run():
    tap.equal(run("echo 8 passed, 2 failed; exit 1"), ("8 passed, 2 failed", 1))
    tap.equal(run("echo 8 passed, 2 failed, 1 skipped"), ("8 passed, 2 failed, 1 skipped", 1))


@tap.case
def one_that_ends_without_its_counts_has_failed():
    for check in ("echo broken >&2; exit 4", "kill -9 $$", "true", "echo 5 passed, 0 failed; echo more"):
        tap.equal(run(check), ("0 passed, 1 failed", 1), check)


@tap.case
def a_bad_status_counts_even_where_nothing_was_counted_as_failed():
    tap.equal(run("echo 5 passed, 0 failed; exit 1"), ("5 passed, 1 failed", 1))
    tap.equal(run("echo 5 passed, 0 failed, 2 skipped; exit 1"), ("5 passed, 1 failed, 2 skipped", 1))


@tap.case
def counts_in_the_middle_of_what_it_says_are_not_taken():
    tap.equal(run("echo 700 passed, 9 failed; echo 5 passed, 0 failed"), ("5 passed, 0 failed", 0))


@tap.case
def it_is_given_nothing_to_read():
    tap.equal(run("if read line; then exit 1; fi; echo 1 passed, 0 failed"), ("1 passed, 0 failed", 0))


@tap.case
def a_word_that_check_does_not_know_does_nothing_but_show_its_usage():
    for words in (["--al"], ["all"], ["--all", "--rigs"], [""], ["--help", "me"]):
        done = subprocess.run([CHECK, *words], capture_output=True, text=True)
        tap.equal((done.returncode, done.stdout, done.stderr),
                  (2, "", "usage: tools/check [--all | --rigs | --help]\n"), str(words))


@tap.case
def the_help_of_check_names_each_of_its_words():
    done = subprocess.run([CHECK, "--help"], capture_output=True, text=True)
    tap.equal((done.returncode, done.stderr), (0, ""))
    for word in ("tools/check --all", "tools/check --rigs", "Exit code"):
        tap.equal(word in done.stdout, True, word)
    tap.equal("#" in done.stdout or "pipefail" in done.stdout, False, "only the manual")


# A step that fails, a test that is skipped, a rig that lacks its packages; each of the tools is played.
PLAYED = {
    "setup": "exit 0", "format": "exit 0", "check-sizes": "exit 0", "check-includes": "exit 0",
    "check-install": "exit 0", "fuzz": "exit 0", "count-cases": "echo 'skipped: a: needs b'; echo 5 0 1",
    "rigs/micro/check": "echo 'ok 1 - a'; echo 'ok 2 - b'", "rigs/usb/check": "echo 'ok 1 - c'",
    "bin/meson": 'echo "$*" "long=$TRUEUP_LONG" >>said; for w; do case $w in build-check-*)'
                 " mkdir -p $w/meson-logs; touch $w/build.ninja $w/meson-logs/testlog.json;; esac; done",
    "bin/ninja": "exit 0",
}


def checked(*words, **changed):
    """(exit status, lines, calls of meson) of tools/check where its tools are these shell commands."""
    # These tests may themselves run where simulations are long.
    plain = {name: value for name, value in os.environ.items() if name != "TRUEUP_LONG"}
    with tempfile.TemporaryDirectory() as folder:
        tools = pathlib.Path(folder) / "tools"
        for name, text in {**PLAYED, **changed}.items():
            (tools / name).parent.mkdir(parents=True, exist_ok=True)
            (tools / name).write_text(f"#!/bin/sh\n{text}\n", encoding="utf-8")
            (tools / name).chmod(0o755)
        shutil.copy(CHECK, tools)
        done = subprocess.run([tools / "check", *words], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                              env={**plain, "PATH": f"{tools / 'bin'}:{os.environ['PATH']}"})
        said = pathlib.Path(folder) / "said"
        calls = said.read_text().splitlines() if said.exists() else []
    return done.returncode, done.stdout.splitlines(), calls


@tap.case
def check_builds_once_and_says_what_was_skipped():
    status, lines, calls = checked()
    # five steps before the tests' five cases, the installed copy after them
    tap.equal((status, lines[-1], "skipped: a: needs b" in lines), (0, "11 passed, 0 failed, 1 skipped", True))
    tap.equal([call.split()[0] for call in calls], ["setup", "test"], "calls of meson")
    tap.equal("long=1" in calls[1], False, "simulations are sampled")


@tap.case
def all_builds_three_ways_tests_two_and_takes_the_full_counts_once():
    status, lines, calls = checked("--all")
    # 6 steps, 5 cases of tests; packages of the rigs, clang, sanitizers, fuzz; 3 cases of rigs
    tap.equal((status, lines[-1]), (0, "18 passed, 0 failed, 1 skipped"))
    tests = [call for call in calls if call.startswith("test")]
    tap.equal([(call.split()[2], call.split()[-1]) for call in tests],
              [("build-check-gcc", "long=1"), ("build-check-asan", "long=")])
    tap.equal(sum(call.startswith("setup") for call in calls), 3, "builds by meson")


@tap.case
def a_rig_that_lacks_a_package_is_skipped_by_itself_and_fails_all():
    lacks = {"rigs/usb/check": "echo '1..0 # SKIP not installed: qemu'; exit 77"}
    status, lines, _ = checked("--rigs", **lacks)
    tap.equal((status, lines[-1]), (0, "2 passed, 0 failed, 1 skipped"))
    status, lines, _ = checked("--all", **lacks)
    tap.equal((status, lines[-1]), (1, "17 passed, 1 failed, 1 skipped"))
    tap.equal(any("not installed: qemu" in line for line in lines), True, "why")


@tap.case
def a_step_that_fails_is_shown_and_the_others_are_run_still():
    status, lines, _ = checked(**{"check-sizes": "echo too long; exit 1"})
    tap.equal((status, lines[-1], "too long" in lines), (1, "10 passed, 1 failed, 1 skipped", True))
    status, lines, _ = checked(**{"bin/ninja": "echo no compiler; exit 1"})
    # neither tests nor a copy of half a build; no test at all is a second failure
    tap.equal((status, lines[-1]), (1, "4 passed, 2 failed"))


tap.run()
