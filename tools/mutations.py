# SPDX-License-Identifier: GPL-3.0-or-later
"""Where C code can be changed by a little, for tools/mutate: each change is one a slip of the hand
could make. Comments, texts and preprocessor lines other than a defined number stay as they are."""
import dataclasses
import hashlib
import re

BLANKED = re.compile(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'"
                     r"|^[ \t]*#(?![ \t]*define[ \t]+\w+[ \t]+[(\d])[^\n]*(?:\\\n[^\n]*)*", re.S | re.M)
TOKEN = re.compile(r"(?P<number>(?:0x[\da-fA-F]+(?:p[-+]?\d+)?|(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)[uUlLfF]*)"
                   r"|(?P<word>[A-Za-z_]\w*)"
                   r"|(?P<sign>->|\+\+|--|<<|>>|[-+*/%&|^<>=!]=|&&|\|\||[-+*/%<>!=?:;,(){}\[\].&|^~])")

BOUNDARY = {"<": "<=", "<=": "<", ">": ">=", ">=": ">"}
OPPOSITE = {"<": ">", "<=": ">=", ">": "<", ">=": "<=", "==": "!=", "!=": "=="}
SIGN = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*="}
LOGIC = {"&&": "||", "||": "&&"}
WORDS = {"fmin": "fmax", "fmax": "fmin", "sin": "cos", "cos": "sin", "true": "false",
         "false": "true", "continue": "break"}
STATUS = {"TU_USAGE": "TU_DATA_CONFLICT", "TU_DATA_SYNTAX": "TU_DATA_RANGE",
          "TU_DATA_RANGE": "TU_DATA_CONFLICT", "TU_DATA_UNKNOWN": "TU_DATA_MISSING",
          "TU_DATA_MISSING": "TU_DATA_UNKNOWN", "TU_DATA_CONFLICT": "TU_DATA_RANGE",
          "TU_UNDETERMINED": "TU_NUMERIC", "TU_NUMERIC": "TU_UNDETERMINED"}
DECLARED_SIZE = re.compile(r"^\s*(?:static |const |struct |\w+\()*\w+ \**\w+(?:\[\w*\])*\[$"
                           r"|[(,]\s*(?:const )?\w+ \**\w+(?:\[\w*\])*\[$")


@dataclasses.dataclass(frozen=True)
class Mutation:
    file: str
    line: int       # from 1
    column: int     # from 1
    function: str   # that it is in; empty: in none
    kind: str
    old: str
    new: str
    source: str     # the line's text, stripped
    changed: str

    def key(self):
        """What an entry of tests/mutants-equivalent.txt is found by."""
        return self.file, self.function, self.source, self.changed

    def name(self):
        return f"{self.file}:{self.line}:{self.column} {self.old or 'nothing'} -> {self.new or 'nothing'}"


FUNCTION = re.compile(r"[A-Za-z_][^;={]*?\b(\w+)\(")


def functions_of(code):
    """The function that each line of blanked code is in; clang-format puts its head and its last
    brace into the first column."""
    here, found = "", []
    for line in code.split("\n"):
        head = FUNCTION.match(line)
        here = head[1] if head and not line.endswith(";") else here
        found.append(here)
        if line.startswith("}"):
            here = ""
    return found


def blank(text):
    """The text with what is not code replaced by spaces, places kept."""
    return BLANKED.sub(lambda match: re.sub(r"[^\n]", " ", match[0]), text)


def off_by_a_little(number):
    """A whole number up by one; another one up by a twentieth."""
    bare = number.rstrip("uUlL")
    suffix = number[len(bare):]
    if bare.startswith("0x"):
        return None
    if re.fullmatch(r"\d+", bare):
        return f"{int(bare) + 1}{suffix}"
    value = float(bare.rstrip("fF"))
    return repr(value * 1.05) if value else "0.001"


def changes(tokens, at, before):
    """(kind, new text) of each change of one token. before: the line's code up to it."""
    kind, text = tokens[at]
    last = tokens[at - 1] if at else ("sign", ";")
    after = tokens[at + 1][1] if at + 1 < len(tokens) else ""
    if kind == "number":
        new = off_by_a_little(text)
        if new and not DECLARED_SIZE.search(before):
            yield "constant", new
    elif kind == "word":
        if text in WORDS and (after == "(" or text in ("true", "false", "continue")):
            yield "word", WORDS[text]
        if text in STATUS and (last[1] in ("return", ",", "?", ":")):
            yield "status", STATUS[text]
        if text == "status" and last[1] == "return" and after == ";":
            yield "status", "TU_OK"
    elif text in LOGIC:
        yield "logic", LOGIC[text]
    elif text == "!":
        yield "negation", ""
    elif text in OPPOSITE:
        if text in BOUNDARY:
            yield "boundary", BOUNDARY[text]
        yield "relation", OPPOSITE[text]
    elif text in SIGN:
        two_sided = last[0] in ("word", "number") and last[1] not in ("return", "case") or last[1] in (")", "]")
        if text in "+-" and not two_sided:
            yield "sign", "" if text == "-" else "-"
        elif text in "+-" or (before.endswith(" ") and two_sided):
            yield "sign", SIGN[text]


def find(file, text):
    """All mutations of a file's text, in the order of the text."""
    lines, code = text.split("\n"), blank(text)
    matches = list(TOKEN.finditer(code))
    tokens = [(match.lastgroup, match[0]) for match in matches]
    functions = functions_of(code)
    for at, match in enumerate(matches):
        start = code.rfind("\n", 0, match.start()) + 1
        number, column = code.count("\n", 0, start), match.start() - start
        for kind, new in changes(tokens, at, code[start:match.start()]):
            line = lines[number]
            # a * that names a pointer, a space apart from nothing
            if match[0] in ("*", "/") and code[match.end():match.end() + 1] not in (" ", "\n"):
                continue
            changed = line[:column] + new + line[column + len(match[0]):]
            yield Mutation(file, number + 1, column + 1, functions[number], kind, match[0], new,
                           line.strip(), changed.strip())


def sample(mutations, count, seed):
    """count of them by chance, as many of each kind as there are, in the order of files. Which ones
    hangs on their own text and the seed: a change elsewhere in the code leaves most of them."""
    kinds = {}
    for mutation in mutations:
        kinds.setdefault(mutation.kind, []).append(mutation)
    for own in kinds.values():
        own.sort(key=lambda m: hashlib.sha1(repr((seed, m.key(), m.column)).encode()).digest())
    taken = []
    while len(taken) < count and any(kinds.values()):
        for kind in sorted(kinds):
            if kinds[kind] and len(taken) < count:
                taken.append(kinds[kind].pop())
    return sorted(taken, key=lambda m: (m.file, m.line, m.column, m.new))


def read_equivalents(text):
    """{(file, function, line, changed line): reason} from tests/mutants-equivalent.txt."""
    found, place, old, new = {}, None, None, None
    for number, line in enumerate(text.split("\n"), 1):
        if not line.strip() or line.startswith("#"):
            continue
        if line.startswith("src/"):
            place = (line.split() + [""])[:2]
        elif line.startswith("  - "):
            old = line[4:].strip()
        elif line.startswith("  + "):
            new = line[4:].strip()
        elif line.startswith("    because ") and place and old and new:
            last = (*place, old, new)
            found[last] = line.strip()
            new = None
        elif line.startswith("      ") and found:
            found[last] += " " + line.strip()
        else:
            raise SystemExit(f"mutants-equivalent.txt:{number}: not in the form that the head of the "
                             "file describes")
    return found
