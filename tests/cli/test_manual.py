#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The manual page against the program's own help: every command and option, with its argument, and
nothing else; and whether it formats without a complaint."""
import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PAGE = tap.ROOT / "docs" / "trueup.1"


def help_of(*words):
    return subprocess.run([tap.program(), *words, "--help"], capture_output=True, text=True,
                          check=True).stdout


def commands():
    text = help_of()
    return re.findall(r"^  ([a-z]+) ", text[text.index("Commands:"):], re.M)


def section(name):
    """The source of a section, escapes resolved."""
    text = PAGE.read_text().replace("\\-", "-")
    return re.search(rf"^\.SH {name}\n(.*?)(?=^\.SH |\Z)", text, re.M | re.S)[1]


def documented(command):
    """Options of a command's section: name -> argument or ""."""
    pattern = r'^\.TP\n(?:\.B (--[a-z-]+)|\.BI (--[a-z-]+) " ([^"]+)")$'
    return {flag or name: argument
            for flag, name, argument in re.findall(pattern, section(f"TRUEUP {command.upper()}"),
                                                   re.M)}


@tap.case
def every_command_has_its_section():
    found = [title.lower() for title in re.findall(r"^\.SH TRUEUP ([A-Z]+)$", PAGE.read_text(),
                                                   re.M)]
    tap.equal(sorted(found), sorted(commands()))


@tap.case
def options_and_their_arguments_are_those_of_the_help():
    for command in commands():
        shown = dict(re.findall(r"^  (--[a-z-]+)(?: ([^ \n]+))?(?:  .*)?$", help_of(command), re.M))
        if len(shown) < 2:
            raise AssertionError(f"the help of {command} shows only {shown}")
        tap.equal(sorted(documented(command).items()), sorted(shown.items()), command)


@tap.case
def the_exit_status_is_that_of_the_help():
    text = help_of()
    told = re.findall(r"\b([0-9]) [a-z]", text[text.index("Exit status"):])
    tap.equal(re.findall(r"^\.B ([0-9])$", section("EXIT STATUS"), re.M), told)


@tap.case
def the_version_is_that_of_the_program():
    version = subprocess.run([tap.program(), "--version"], capture_output=True, text=True).stdout
    tap.equal(re.search(r'^\.TH TRUEUP 1 "" "([^"]+)"', PAGE.read_text(), re.M)[1], version.strip())


@tap.case
def it_formats_without_a_complaint():
    man = tap.tool("man", "man-db")
    done = subprocess.run([man, "--warnings", "-E", "UTF-8", "-l", "-Tutf8", "-Z", str(PAGE)],
                          capture_output=True, text=True, env={"MANWIDTH": "80", "PATH": "/usr/bin:/bin"})
    tap.equal(done.stderr, "")
    tap.equal(done.returncode, 0)


if __name__ == "__main__":
    tap.run()
