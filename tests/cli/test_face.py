#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Fields in the messages of the library against the words that the command line has for them."""
import pathlib
import re
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

SRC = tap.ROOT / "src"
FACES = ("cli", "page")
TEXT = re.compile(r'/\*.*?\*/|"(?:\\.|[^"\\\n])*"', re.S)
FIELD = re.compile(r"\{([a-z][a-z_]*(?:\.[a-z_]+)*)\}")
WORD = re.compile(r'tu_face_word\([^,]*, "([^"]+)"\)')
# What a line template has in braces (docs/device-lines.md) is no field of a request.
TEMPLATE = {"x", "y", "z", "n", "t", "axis", "dir", "series"}


def sources():
    """(shown path, its text literals, its code) of each source below the faces."""
    for path in sorted(SRC.rglob("*.[ch]")):
        if path.relative_to(SRC).parts[0] not in FACES:
            code = path.read_text(encoding="utf-8")
            yield (path.relative_to(tap.ROOT),
                   [t for t in TEXT.findall(code) if t.startswith('"')], code)


def table():
    text = (SRC / "cli" / "face.c").read_text(encoding="utf-8")
    return dict(re.findall(r'\{"([^"]+)", "([^"]+)"\}', text))


def fields_named():
    found = {}
    for path, texts, code in sources():
        for name in [n for t in texts for n in FIELD.findall(t)] + WORD.findall(code):
            if name not in TEMPLATE:
                found.setdefault(name, path)
    return found


@tap.case
def no_message_below_the_faces_names_an_option():
    wrong = [f"{path}: {text}" for path, texts, _ in sources() for text in texts
             if re.search(r"(?<![\w-])--[a-z]", text)]
    tap.equal(wrong, [], "texts with an option")


@tap.case
def the_command_line_has_a_word_for_each_field_and_no_other():
    found = fields_named()
    tap.equal({n: str(p) for n, p in found.items() if n not in table()}, {}, "without a word")
    tap.equal(sorted(set(table()) - set(found)), [], "words for no field")


@tap.case
def each_word_is_an_option_that_some_command_has():
    def help_of(*words):
        return subprocess.run([tap.program(), *words, "--help"], capture_output=True, text=True,
                              check=True).stdout
    text = help_of()
    commands = re.findall(r"^  ([a-z]+) ", text[text.index("Commands:"):], re.M)
    options = {o for c in commands for o in re.findall(r"^  (--[a-z][a-z-]*)", help_of(c), re.M)}
    # The operand, and what is no option but a command.
    words = [w for w in table().values() if w != "TARGET" and not w.startswith("trueup shop ")]
    tap.equal(sorted(w for w in words if w.split()[-1] not in options), [],
              "words that are no option")


tap.run()
