#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Golden runs of the program: golden/NAME.cmd beside its expected .out, .err and .exit.

A .cmd is a line of shell (lines that start with # say why it is there). It runs in a fresh folder
that holds the sample shop files, logs, scenes and programs and every file of golden/files. A stream
without a file beside the .cmd must stay empty. Every case also runs under a locale with a decimal comma and must
say the same.

  test_golden.py                      runs all, prints TAP
  test_golden.py --rebuild [NAME...]  writes what the program says now as expected, of all or of
                                      those named; the commit that changes a golden says why
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

GOLDEN = pathlib.Path(__file__).resolve().parent / "golden"
FIXTURES = tap.ROOT / "fixtures"
LOCALES = ("C", "de_DE.UTF-8")


def run(case, locale):
    """The streams and the exit code of a case."""
    program = pathlib.Path(tap.program()).resolve()
    with tempfile.TemporaryDirectory() as folder:
        for source in (FIXTURES / "shop", FIXTURES / "hits", FIXTURES / "scenes",
                       FIXTURES / "programs", FIXTURES / "trials", GOLDEN / "files"):
            for path in sorted(source.glob("*")):
                if path.is_file():
                    shutil.copy(path, folder)
        path = f"{program.parent}:{os.environ['PATH']}"
        done = subprocess.run(["bash", "-c", case.read_text()], cwd=folder, timeout=60,
                              stdin=subprocess.DEVNULL, capture_output=True,
                              env={**os.environ, "PATH": path, "LC_ALL": locale})
    return {"out": done.stdout.decode(), "err": done.stderr.decode(),
            "exit": f"{done.returncode}\n"}


def expected(case):
    texts = {}
    for kind in ("out", "err", "exit"):
        path = case.with_suffix("." + kind)
        texts[kind] = path.read_text() if path.exists() else ""
    return texts


def check(case, locale):
    found, wanted = run(case, locale), expected(case)
    for kind in ("exit", "err", "out"):
        tap.equal(found[kind], wanted[kind], f"{case.name} {kind}")


def rebuild(case):
    for kind, text in run(case, "C").items():
        path = case.with_suffix("." + kind)
        if text:
            path.write_text(text)
        else:
            path.unlink(missing_ok=True)


def no_expectation_is_left_without_its_command():
    known = {case.stem for case in GOLDEN.glob("*.cmd")}
    for path in GOLDEN.iterdir():
        if path.is_file() and path.stem not in known:
            raise AssertionError(f"{path.name} belongs to no .cmd")


def main():
    cases = sorted(GOLDEN.glob("*.cmd"))
    if sys.argv[1:2] == ["--rebuild"]:
        tap.require_program()
        names = sys.argv[2:] or [case.stem for case in cases]
        unknown = set(names) - {case.stem for case in cases}
        if unknown:
            sys.exit(f"no golden has the name {' or '.join(sorted(unknown))}; nothing was rebuilt")
        for name in names:
            rebuild(GOLDEN / f"{name}.cmd")
        return
    for case in cases:
        for locale in LOCALES:
            tap.add(f"{case.stem.replace('-', ' ')}, locale {locale}", check, case, locale)
    tap.add("no expectation is left without its command",
            no_expectation_is_left_without_its_command)
    tap.run()


if __name__ == "__main__":
    main()
