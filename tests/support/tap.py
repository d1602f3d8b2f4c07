# SPDX-License-Identifier: GPL-3.0-or-later
"""A few lines of TAP for the tests that are scripts: a sentence a case, in the order of the file."""
import importlib
import locale
import os
import pathlib
import shutil
import subprocess
import sys
import traceback

ROOT = pathlib.Path(__file__).resolve().parents[2]
CASES = []


class Skip(Exception):
    """Raised by a case that cannot run here; the text says why."""


def case(function):
    """Marks a test case; its name, read as a sentence, is what the log shows."""
    CASES.append((function.__name__.replace("_", " "), function))
    return function


def add(sentence, function, *arguments):
    """A case made from data."""
    CASES.append((sentence, lambda: function(*arguments)))


def runs(sample, full):
    """How much of a simulation: TRUEUP_RUNS=N so many, TRUEUP_LONG=1 full, else the sample."""
    return int(os.environ.get("TRUEUP_RUNS") or (full if os.environ.get("TRUEUP_LONG") else sample))


def need(module, package):
    """A module of a Debian package. Where that is not installed the whole script is left out, and says so."""
    try:
        return importlib.import_module(module)
    except ModuleNotFoundError:
        print(f"1..0 # SKIP needs the Debian package {package}")
        sys.exit(0)


def tool(name, package):
    """The path of a program of a Debian package; skips the case where that is not installed."""
    path = shutil.which(name)
    if not path:
        raise Skip(f"needs the Debian package {package}")
    return path


def need_locale(name):
    """Skips the case where the locale is not installed: programs would silently take another."""
    before = locale.setlocale(locale.LC_ALL)
    try:
        locale.setlocale(locale.LC_ALL, name)
    except locale.Error:
        raise Skip("needs the Debian package locales-all") from None
    locale.setlocale(locale.LC_ALL, before)


def program():
    """The program under test, as the build passes it."""
    return os.environ.get("TRUEUP") or str(ROOT / "build" / "trueup")


def require_program():
    """Ends the script unless the program runs: what is rebuilt from a missing program is rubbish."""
    try:
        done = subprocess.run([program(), "--help"], stdin=subprocess.DEVNULL, capture_output=True)
        why = "" if done.returncode == 0 and done.stdout else f"exit {done.returncode}"
    except OSError as fault:
        why = fault.strerror
    if why:
        sys.exit(f"{program()} does not run ({why}); nothing was rebuilt. Build it, or set TRUEUP")


def equal(found, expected, what=""):
    if found != expected:
        raise AssertionError(f"{what}: found {found!r}, expected {expected!r}")


def near(found, expected, tolerance, what=""):
    if not abs(found - expected) <= tolerance:
        raise AssertionError(f"{what}: found {found}, expected {expected} within {tolerance}")


def run():
    """Runs the cases, prints TAP, exits with 1 if any failed."""
    print(f"1..{len(CASES)}")
    failed = 0
    for number, (name, function) in enumerate(CASES, 1):
        try:
            function()
            print(f"ok {number} - {name}")
        except Skip as reason:
            print(f"ok {number} - {name} # SKIP {reason}")
        except Exception:  # whatever goes wrong in a case is that case's failure
            failed += 1
            print(f"not ok {number} - {name}")
            print("".join("# " + line + "\n" for line in traceback.format_exc().split("\n")), end="")
        sys.stdout.flush()
    sys.exit(1 if failed else 0)
