# SPDX-License-Identifier: GPL-3.0-or-later
"""Every session in README and in the manual: its commands are run, what they print is compared.

A session is a fenced block marked `console`. Commands follow "$ " (a backslash at the end of the line
continues them), then comes what they print, byte for byte. They run one after the other in a folder
that holds shop.json, the sample shop, and the sample scenes and programs.

    test_sessions.py --rebuild     writes what the program prints today into the pages
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

PAGES = [tap.ROOT / "README.md", *sorted((tap.ROOT / "docs").glob("*.md"))]
FIXTURES = tap.ROOT / "fixtures"
SAMPLES = [FIXTURES / "shop" / "shop.json", FIXTURES / "shop" / "inch.json",
           *sorted((FIXTURES / "scenes").glob("*.json")),
           *sorted((FIXTURES / "programs").glob("*.ngc")),
           *sorted((FIXTURES / "trials").glob("*.[cj]s*"))]
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.M | re.S)
COMMAND = re.compile(r"^\$ ((?:.*\\\n)*.*)\n((?:(?!\$ ).*\n)*)", re.M)


def run_command(command, folder):
    """What a person would see: both streams, in order."""
    place = pathlib.Path(tap.program()).resolve().parent
    environment = {"PATH": f"{place}:{os.environ['PATH']}", "LC_ALL": "C.UTF-8", "HOME": folder}
    # Sanitizers are told through the environment.
    environment.update({k: v for k, v in os.environ.items() if k.endswith("SAN_OPTIONS")})
    done = subprocess.run(["bash", "-c", command], cwd=folder, env=environment, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False, timeout=120)
    return done.stdout


def sessions(page):
    """[(block's span, [(command, output)])] of a page."""
    text = page.read_text(encoding="utf-8")
    return [(match.span(1), COMMAND.findall(match.group(1))) for match in BLOCK.finditer(text)]


def replay(steps):
    """The steps with what their commands print now."""
    with tempfile.TemporaryDirectory() as folder:
        for path in SAMPLES:
            shutil.copy(path, folder)
        return [(command, run_command(command, folder)) for command, _ in steps]


def holds(steps):
    for (command, expected), (_, found) in zip(steps, replay(steps)):
        if found != expected:
            raise AssertionError(f"$ {command}\nprints\n{found}\nand the page says\n{expected}")


def rebuild():
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        for (start, end), steps in reversed(sessions(page)):
            block = "".join(f"$ {command}\n{output}" for command, output in replay(steps))
            text = text[:start] + block + text[end:]
        page.write_text(text, encoding="utf-8")


if sys.argv[1:] == ["--rebuild"]:
    tap.require_program()
    rebuild()
    sys.exit(0)

for a_page in PAGES:
    for a_number, (_, a_session) in enumerate(sessions(a_page), 1):
        tap.add(f"session {a_number} of {a_page.name} prints what it says", holds, a_session)


@tap.case
def the_readme_has_a_session_that_finds_a_zero():
    commands = [command for _, steps in sessions(tap.ROOT / "README.md") for command, _ in steps]
    tap.equal(any(command.startswith("trueup zero ") for command in commands), True)


tap.run()
