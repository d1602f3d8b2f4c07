# SPDX-License-Identifier: GPL-3.0-or-later
"""What is rebuilt: nothing, when the program that would say it does not run."""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

SCRIPTS = ("cli/test_golden.py", "docs/test_sessions.py", "docs/test_pictures.py")


def tests_copy(folder):
    """A copy of tests/ and docs/, so that a script that fails this test spoils nothing."""
    root = pathlib.Path(folder)
    for name in ("tests", "docs"):
        shutil.copytree(tap.ROOT / name, root / name)
    shutil.copy(tap.ROOT / "README.md", root)
    (root / "fixtures").symlink_to(tap.ROOT / "fixtures")
    return root


def contents(root):
    return {path: path.read_bytes() for path in root.rglob("*")
            if path.is_file() and "__pycache__" not in path.parts}


def refuses(script, program):
    with tempfile.TemporaryDirectory() as folder:
        root = tests_copy(folder)
        before = contents(root)
        done = subprocess.run([sys.executable, root / "tests" / script, "--rebuild"],
                              env={**os.environ, "TRUEUP": program}, capture_output=True, text=True)
        tap.equal(done.returncode, 1, "exit code")
        if f"{program} does not run" not in done.stderr:
            raise AssertionError(f"printed {done.stderr!r}")
        tap.equal(contents(root) == before, True, "every file is as it was")


for a_script in SCRIPTS:
    tap.add(f"{a_script} rebuilds nothing from a program that is not there", refuses, a_script,
            "/nowhere/trueup")
    tap.add(f"{a_script} rebuilds nothing from a program that fails", refuses, a_script, "/bin/false")


@tap.case
def a_golden_that_is_not_there_is_not_rebuilt_and_no_other_either():
    with tempfile.TemporaryDirectory() as folder:
        root = tests_copy(folder)
        before = contents(root)
        done = subprocess.run([sys.executable, root / "tests/cli/test_golden.py", "--rebuild",
                               "help", "no-such-golden"], capture_output=True, text=True)
        tap.equal(done.returncode, 1, "exit code")
        if "no-such-golden" not in done.stderr:
            raise AssertionError(f"printed {done.stderr!r}")
        tap.equal(contents(root) == before, True, "every file is as it was")


tap.run()
