# SPDX-License-Identifier: GPL-3.0-or-later
"""The script that counts test cases: nothing that went wrong may count as passed."""
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

# name -> what the test program prints and does. Each is run by bash.
PROGRAMS = {
    "good": 'echo 1..2; echo "ok 1 - a"; echo "ok 2 - b # SKIP no such device"',
    "bad": 'echo 1..2; echo "ok 1 - a"; echo "not ok 2 - b"',
    "crash": 'echo 1..2; echo "ok 1 - a"; kill -SEGV $$',
    "exits": 'echo 1..1; echo "ok 1 - a"; exit 3',
    "late": 'echo 1..2; echo "ok 1 - a"; sleep 9',
    "silent": "true",
    "empty": "echo 1..0",
    "skipped": 'echo "1..0 # SKIP not here"',
}


def run_meson(folder, names):
    """Builds and runs a project of these tests; the build folder."""
    lines = ["project('sample')", "bash = find_program('bash')"]
    for name in names:
        (folder / f"{name}.sh").write_text(PROGRAMS[name] + "\n", encoding="utf-8")
        lines.append(f"test('{name}', bash, args: files('{name}.sh'), suite: 'one', "
                     "protocol: 'tap', timeout: 1)")
    (folder / "meson.build").write_text("\n".join(lines) + "\n", encoding="utf-8")
    build = folder / "build"
    subprocess.run(["meson", "setup", build, folder], capture_output=True, check=True)
    subprocess.run(["meson", "test", "-C", build], capture_output=True, check=False)
    return build


def count(*names):
    """(exit code, output) for a project of these tests."""
    with tempfile.TemporaryDirectory() as folder:
        build = run_meson(pathlib.Path(folder), names)
        done = subprocess.run([tap.ROOT / "tools" / "count-cases", build], capture_output=True,
                              text=True, check=False)
    return done.returncode, done.stdout.splitlines()


def count_over(folder, *texts):
    """Likewise, for builds in which the one case of the one test says these."""
    builds = []
    for number, text in enumerate(texts):
        top = pathlib.Path(folder) / str(number)
        top.mkdir()
        PROGRAMS["same"] = f'echo 1..1; echo "{text}"'
        builds.append(run_meson(top, ["same"]))
    done = subprocess.run([tap.ROOT / "tools" / "count-cases", *builds], capture_output=True,
                          text=True, check=False)
    return done.returncode, done.stdout.splitlines()


@tap.case
def passed_and_skipped_cases_are_told_apart_and_what_was_skipped_is_named():
    tap.equal(count("good", "skipped"), (0, ["skipped: good: 2 - b: no such device", "skipped: skipped: not here",
                                             "1 0 2"]))


@tap.case
def everything_that_went_wrong_counts_as_failed():
    # Origin: by hand from PROGRAMS. Passed: the "a" of bad, crash, exits, late. Failed: the "b" of
    # bad, and once each for crash, exits, late, silent, empty.
    status, lines = count("bad", "crash", "exits", "late", "silent", "empty")
    tap.equal((status, lines[-1], len(lines)), (1, "4 6 0", 7))


@tap.case
def a_case_that_is_skipped_in_one_of_two_builds_has_passed():
    with tempfile.TemporaryDirectory() as folder:
        tap.equal(count_over(folder, "ok 1 - a", "ok 1 - a # SKIP not here"), (0, ["1 0 0"]))


@tap.case
def a_case_that_fails_in_one_of_two_builds_has_failed():
    with tempfile.TemporaryDirectory() as folder:
        status, lines = count_over(folder, "ok 1 - a", "not ok 1 - a")
        tap.equal((status, lines[-1]), (1, "0 1 0"))


tap.run()
