# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/mistakes.md against the source: no message is listed that nobody says, none of src/touch is missing."""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

ELLIPSIS = "…"
# The pages are of the command line, so fields stand there as it calls them.
FIELD = re.compile(r"\{([a-z_.]+)\}")
WORDS = dict(re.findall(r'\{"([^"]+)", "([^"]+)"\}',
                        (tap.ROOT / "src" / "cli" / "face.c").read_text(encoding="utf-8")))
TEXT = re.compile(r'"((?:\\.|[^"\\\n])*)"')
# Texts that stand next to each other are one text to the compiler.
TEXTS = re.compile(r'"(?:\\.|[^"\\\n])*"(?:\s*"(?:\\.|[^"\\\n])*")*')
FORMAT = re.compile(r"%[-+ #0]*(?:\*|\d+)?(?:\.(?:\*|\d+))?(?:hh|h|ll|l|z)?[a-zA-Z]")
CALL = re.compile(r"\btu_(?:fail|warn)\s*\(((?:\"(?:\\.|[^\"\\])*\"|[^;\"])*);", re.S)


def plain(texts):
    """The text of C literals side by side, with an ellipsis for each conversion."""
    joined = FIELD.sub(lambda m: WORDS.get(m[1], m[0]), "".join(TEXT.findall(texts)))
    return FORMAT.sub(ELLIPSIS, joined).replace("%%", "%").replace('\\"', '"')


def literals(path):
    return [plain(texts) for texts in TEXTS.findall(path.read_text(encoding="utf-8"))]


def messages(path):
    """The texts of each tu_fail and tu_warn call that has a message of its own."""
    for call in CALL.findall(path.read_text(encoding="utf-8")):
        texts = [plain(t) for t in TEXTS.findall(call)]
        if any(len(text.replace(ELLIPSIS, "").strip(" :%")) > 8 for text in texts):
            yield texts


def rows():
    """The first cells of the tables of messages."""
    text = (tap.ROOT / "docs" / "mistakes.md").read_text(encoding="utf-8")
    for table in re.findall(r"^\| the message says \|.*\n\|[-|]+\n((?:\|.*\n)+)", text, re.M):
        for line in table.splitlines():
            yield line.split("|")[1].strip()


@tap.case
def every_message_of_the_list_is_in_the_source():
    said = [t for path in sorted((tap.ROOT / "src").rglob("*.c")) for t in literals(path)]
    tap.equal(len(list(rows())) > 60, True, "rows found")
    tap.equal([row for row in rows() if not any(row in text for text in said)], [])


@tap.case
def every_refusal_and_warning_about_touches_is_in_the_list():
    listed = list(rows())
    found = [(path.name, texts) for path in sorted((tap.ROOT / "src" / "touch").rglob("*.c"))
             for texts in messages(path)]
    tap.equal(len(found) > 60, True, "messages found")
    tap.equal([(name, texts) for name, texts in found
               if not any(row in text for row in listed for text in texts)], [])


tap.run()
