#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Golden runs of the program: golden/NAME.cmd beside its expected .out, .err and .exit.

The form is in tests/README.md.

  test_golden.py                      runs all, prints TAP
  test_golden.py --rebuild [NAME...]  writes what the program says now as expected, of all or of
                                      those named; the commit that changes a golden says why
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

GOLDEN = pathlib.Path(__file__).resolve().parent / "golden"
FIXTURES = tap.ROOT / "fixtures"
LOCALES = ("C", "de_DE.UTF-8")


SAMPLES = sorted(path for folder in (*(FIXTURES / name for name in ("shop", "hits", "scenes", "programs", "trials")),
                                     GOLDEN / "files") for path in folder.glob("*") if path.is_file())


class Folder:
    """A folder that is as fresh before each case: most cases change nothing, and copying costs more than they."""

    def __init__(self):
        self.place = tempfile.TemporaryDirectory()
        self.path = pathlib.Path(self.place.name)
        self.known = {}

    def look(self):
        """{name: what changes when it is written to, replaced, or given other rights}"""
        with os.scandir(self.path) as found:
            return {entry.name: (stat.st_ino, stat.st_ctime_ns, stat.st_size) for entry in found
                    for stat in (entry.stat(follow_symlinks=False),)}

    def make_fresh(self):
        now = self.look()
        for name in now.keys() - self.known.keys():
            path = self.path / name
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path)
            else:
                path.unlink()
        changed = [path for path in SAMPLES if path.name not in now or now[path.name] != self.known.get(path.name)]
        for path in changed:
            (self.path / path.name).unlink(missing_ok=True)
            shutil.copy(path, self.path)
        if changed:
            self.known = self.look()


FOLDER = Folder()


def run(case, locale):
    """The streams and the exit code of a case."""
    text = case.read_text()
    if re.search(r"\bjq\b", text):
        tap.tool("jq", "jq")
    tap.need_locale(locale)
    FOLDER.make_fresh()
    program = pathlib.Path(tap.program()).resolve()
    path = f"{program.parent}:{os.environ['PATH']}"
    done = subprocess.run(["bash", "-c", text], cwd=FOLDER.path, timeout=60,
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
            try:
                rebuild(GOLDEN / f"{name}.cmd")
            except tap.Skip as reason:
                sys.exit(f"{name} {reason}; it was not rebuilt")
        return
    for case in cases:
        for locale in LOCALES:
            tap.add(f"{case.stem.replace('-', ' ')}, locale {locale}", check, case, locale)
    tap.add("no expectation is left without its command",
            no_expectation_is_left_without_its_command)
    tap.run()


if __name__ == "__main__":
    main()
