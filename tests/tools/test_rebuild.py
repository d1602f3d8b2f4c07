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


# A copy of tests/ and docs/, so that a script that fails this test spoils nothing.
PLACE = tempfile.TemporaryDirectory()
COPY = pathlib.Path(PLACE.name)


def contents():
    return {path: path.read_bytes() for path in COPY.rglob("*")
            if path.is_file() and "__pycache__" not in path.parts}


for name in ("tests", "docs"):
    shutil.copytree(tap.ROOT / name, COPY / name, ignore=shutil.ignore_patterns("__pycache__"))
shutil.copy(tap.ROOT / "README.md", COPY)
(COPY / "fixtures").symlink_to(tap.ROOT / "fixtures")
BEFORE = contents()


def refuses(script, program, part, *names):
    """The script, told to rebuild, says so and leaves every file as it was."""
    done = subprocess.run([sys.executable, COPY / "tests" / script, "--rebuild", *names],
                          env={**os.environ, "TRUEUP": program}, capture_output=True, text=True)
    tap.equal(done.returncode, 1, "exit code")
    if part not in done.stderr:
        raise AssertionError(f"printed {done.stderr!r}")
    tap.equal(contents() == BEFORE, True, "every file is as it was")


for a_script in SCRIPTS:
    for a_state, a_program in (("is not there", "/nowhere/trueup"), ("fails", "/bin/false")):
        tap.add(f"{a_script} rebuilds nothing from a program that {a_state}", refuses, a_script, a_program,
                f"{a_program} does not run")
tap.add("a golden that is not there is not rebuilt and no other either", refuses, "cli/test_golden.py",
        tap.program(), "no-such-golden", "help", "no-such-golden")
tap.run()
