#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The bash completion against the program's own help: every option, every choice, nothing else."""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

SCRIPT = tap.ROOT / "src" / "cli" / "completion" / "trueup.bash"
SLOTS = ["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"]


def complete(*words, folder="."):
    """What bash offers for the last word of a command line."""
    ask = ('source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _trueup; '
           'printf "%s\\n" "${COMPREPLY[@]}"')
    path = f"{pathlib.Path(tap.program()).resolve().parent}:{os.environ['PATH']}"
    done = subprocess.run(["bash", "-c", ask, "bash", str(SCRIPT), "trueup", *words], cwd=folder,
                          capture_output=True, text=True, env={**os.environ, "PATH": path})
    tap.equal(done.stderr, "", "stderr of the completion")
    return sorted(done.stdout.split())


def help_of(*words):
    return subprocess.run([tap.program(), *words, "--help"], capture_output=True, text=True,
                          check=True).stdout


def commands():
    text = help_of()
    return re.findall(r"^  ([a-z]+) ", text[text.index("Commands:"):], re.M)


def options(command):
    """The options of a command by its help: name -> argument or ""."""
    text = help_of(command)
    return dict(re.findall(r"^  (--[a-z-]+)(?: ([^ \n]+))?", text, re.M))


@tap.case
def the_commands_are_those_of_the_help():
    found = commands()
    if "zero" not in found:
        raise AssertionError(f"zero is not among {found}")
    tap.equal(complete(""), sorted([*found, "help", "--help", "--version"]))
    tap.equal(complete("help", ""), sorted(found))
    tap.equal(complete("--help", "ze"), ["zero"])
    tap.equal(complete("ze"), ["zero"])


@tap.case
def each_command_offers_exactly_its_options():
    for command in commands():
        expected = sorted(options(command))
        if "--help" not in expected or len(expected) < 2:
            raise AssertionError(f"the help of {command} shows only {expected}")
        tap.equal(complete(command, "--"), expected, command)


@tap.case
def options_that_begin_so_are_offered():
    tap.equal(complete("zero", "left", "--st"), ["--stock-thickness"])


@tap.case
def choices_are_those_of_the_help():
    tap.equal(complete("zero", "left", "--seat", ""), ["bed", "stock"])
    tap.equal(complete("zero", "left", "--wall", ""), ["a", "b"])
    tap.equal(complete("zero", "left", "--unit", "i"), ["in"])
    for command in commands():
        for option, argument in options(command).items():
            if "|" in argument:
                tap.equal(complete(command, option, ""), sorted(argument.split("|")), option)


@tap.case
def slots_are_those_that_the_program_takes():
    tap.equal(complete("zero", "left", "--slot", ""), SLOTS)
    for slot in SLOTS:
        done = subprocess.run([tap.program(), "zero", "top", "--slot", slot], capture_output=True,
                              text=True)
        if "--slot" in done.stderr:
            raise AssertionError(done.stderr)


@tap.case
def targets_are_those_that_the_program_takes():
    targets = complete("zero", "")
    tap.equal(len(targets), 14, "targets")
    for target in targets:
        done = subprocess.run([tap.program(), "zero", target], capture_output=True, text=True)
        if "TARGET" in done.stderr.splitlines()[0]:
            raise AssertionError(done.stderr)


@tap.case
def an_option_that_takes_a_target_offers_them_and_a_program_is_a_file():
    tap.equal(complete("rehearse", "p.ngc", "--target", ""), complete("zero", ""))
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "p.ngc").touch()
        tap.equal(complete("rehearse", "p", folder=folder), ["p.ngc"])


@tap.case
def what_can_be_planned_is_what_the_program_takes():
    words = complete("plan", "")
    tap.equal(words, ["corner", "grid", "surface", "trials"])
    for word in words:
        done = subprocess.run([tap.program(), "plan", word], capture_output=True, text=True)
        if "WHAT" in done.stderr.splitlines()[0]:
            raise AssertionError(done.stderr)
    tap.equal(complete("plan", "corner", "front-left-t"), ["front-left-top"])


@tap.case
def files_are_offered_where_a_file_is_due():
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "shop.json").touch()
        pathlib.Path(folder, "other.svg").touch()
        tap.equal(complete("zero", "left", "--shop", "sh", folder=folder), ["shop.json"])


@tap.case
def a_port_is_one_that_is_there_or_standard_input():
    listed = subprocess.run([tap.program(), "ports", "--json"], capture_output=True, text=True)
    names = [port["name"] for port in json.loads(listed.stdout)["ports"]]
    tap.equal(complete("log", "--port", ""), sorted(["-", *names]))


@tap.case
def nothing_is_offered_for_a_number():
    tap.equal(complete("zero", "left", "--x", ""), [])


if __name__ == "__main__":
    tap.run()
