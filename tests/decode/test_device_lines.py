# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/device-lines.md against the source and the program: every reason, every sample line."""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import streams  # noqa: E402
import tap  # noqa: E402

DUMP = os.environ.get("DECODE_DUMP") or str(tap.ROOT / "build" / "tests" / "decode" / "decode_dump")
PAGE = (tap.ROOT / "docs" / "device-lines.md").read_text(encoding="utf-8")
TEXTS = re.compile(r'"(?:\\.|[^"\\\n])*"(?:\s*"(?:\\.|[^"\\\n])*")*')
FAILURES = re.compile(r"\btu_fail\s*\(((?:\"(?:\\.|[^\"\\])*\"|[^;\"])*);", re.S)
# The texts of template.c and template_work_out.c are for people at the command line.
FILES = ["decoder.c", "json_line.c", "line.c", "sentence.c", "template_read.c"]


def reasons():
    """Every reason that the source gives: its texts of three words and more."""
    for name in FILES:
        code = (tap.ROOT / "src" / "decode" / name).read_text(encoding="utf-8")
        code = FAILURES.sub("", re.sub(r"/\*.*?\*/", "", code, flags=re.S))
        for texts in TEXTS.findall(code):
            text = "".join(re.findall(r'"((?:\\.|[^"\\\n])*)"', texts)).replace('\\"', '"')
            if text.count(" ") >= 2:
                yield text


def decode(data, *options):
    with tempfile.NamedTemporaryFile() as file:
        file.write(data)
        file.flush()
        return subprocess.run([DUMP, file.name, "0", *options], capture_output=True, text=True,
                              check=True).stdout.splitlines()


@tap.case
def the_table_of_reasons_is_that_of_the_source():
    table = PAGE[PAGE.index("| reason | means |"):].splitlines()[2:]
    listed = [line.split("|")[1].strip() for line in table if line.startswith("|")]
    tap.equal(sorted(listed), sorted(set(reasons())))


@tap.case
def every_reason_is_in_a_golden_stream():
    told = {record for *_, parts in streams.STREAMS for _, records in parts for record in records}
    missing = [reason for reason in set(reasons())
               if not any(record.endswith(f'" {reason}') for record in told)]
    tap.equal(missing, [])


@tap.case
def the_sample_sentences_are_read():
    lines = re.findall(r"^\$TU.*\*[0-9A-F]{2}$", PAGE, re.M)
    tap.equal(len(lines), 3, "sentences on the page")
    found = [decode(line.encode() + b"\r\n", "steps=80:80:400")[0] for line in lines]
    tap.equal(found, ["hit x=100 y=80 z=-40.12 axis=z dir=- seq=41 us=6000137 bounces=3 bounce_us=412",
                      "hit x=100 y=80 z=-8.025 axis=z dir=- seq=42 us=7250011 bounces=2 bounce_us=388 boot=17",
                      'hello "bench probe 1.0" seq=0 boot=17'])


@tap.case
def the_sample_of_json_is_read():
    line = re.search(r'^\{"x".*\}$', PAGE, re.M)[0]
    tap.equal(decode(line.encode() + b"\n")[0], "hit x=100 y=80 z=-40.12 axis=z dir=- seq=41 us=6000137")


@tap.case
def the_sample_template_reads_columns_that_shift():
    template = re.search(r"^    (touch x=.*)$", PAGE, re.M)[1]
    tap.equal(decode(b"touch x= 1 y=2.5 z=  -3 n=7\n", f"template={template}")[0],
              "hit x=1 y=2.5 z=-3 seq=7")


tap.run()
