# SPDX-License-Identifier: GPL-3.0-or-later
"""The script that keeps includes pointing one way: each kind of breach, planted, is found."""
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

SCRIPT = str(tap.ROOT / "tools" / "check-includes")


def check(files):
    """(exit code, output) of the script on a tree with these files."""
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / "src").mkdir()
        for name, text in files.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        done = subprocess.run([SCRIPT, folder], capture_output=True, text=True, check=False)
    return done.returncode, done.stdout


def is_refused(name, code, fragment):
    """Line 3 of the file holds the planted code."""
    status, output = check({name: "/* A file. */\n\n" + code + "\n"})
    tap.equal(status, 1, f"exit code for {code}")
    if f"{name}:3: " not in output or fragment not in output:
        raise AssertionError(f"{code}: printed {output!r}, expected line 3 and {fragment!r}")


def is_accepted(name, code):
    tap.equal(check({name: code + "\n"}), (0, ""), code)


REFUSED = [
    ("a lower folder of the flow", "src/touch/zero.c", '#include "trueup/report.h"', "belongs to report/"),
    ("a lower folder's internal header", "src/base/number.c", '#include "record/json.h"',
     "belongs to record/"),
    ("the command line from the page", "src/page/page.c", '#include "cli/options.h"', "may not use"),
    ("cJSON outside record", "src/report/json.c", "#include <cjson/cJSON.h>",
     "for record/ only"),
    ("the serial library outside port", "src/record/hits.c", "#include <libserialport.h>",
     "for port/ only"),
    ("files in a pure folder", "src/touch/zero.c", "static int show(FILE *out);", "FILE in touch/"),
    ("files in a pure folder, beside the one file that is excused", "src/bed/model.c",
     'FILE *nowhere = fmemopen(NULL, 1, "w");', "FILE in bed/"),
    ("what else the excused file might do", "src/bed/qhull_call.c", "free(p);", "free() in"),
    ("the triangulation library outside bed", "src/report/map.c",
     "#include <libqhull_r/qhull_ra.h>", "for bed/ only"),
    ("printing in a pure folder", "src/touch/zero.c", 'printf("%d", 1);', "printf() in"),
    ("the file system in a pure folder", "src/bed/map.c", "#include <unistd.h>", "does no I/O"),
    ("the clock in a pure folder", "src/trials/warm.c", "#include <time.h>", "no clock"),
    ("the locale in a pure folder", "src/bed/plane.c", "#include <locale.h>", "does no I/O"),
    ("allocation in a pure folder", "src/decode/line.c", "char *p = malloc(10);", "malloc() in"),
    ("GSL's allocation in a pure folder", "src/touch/fit.c", "m = gsl_matrix_alloc(2, 2);",
     "gsl_matrix_alloc() in"),
    ("the environment in a pure folder", "src/bed/plane.c", 'if (getenv("HOME"))', "getenv() in"),
    ("a static that changes in a pure folder", "src/touch/zero.c", "static int calls = 0;",
     "static that can change"),
    ("an include without a folder", "src/cli/zero.c", '#include "options.h"', "neither"),
    ("a public header of no folder", "src/cli/zero.c", '#include "trueup/mystery.h"', "no folder"),
    ("the operating system's room from a pure folder", "src/touch/zero.c",
     '#include "system/clock.h"', "belongs to system/"),
    ("the operating system's room from what is written", "src/report/report_plan.c",
     '#include "system/clock.h"', "belongs to system/"),
    ("a use case from what is written", "src/report/report_plan.c", '#include "task/bed/read.h"',
     "belongs to task/"),
    ("a face from a use case, in rooms too", "src/task/bed/read.c",
     '#include "cli/bed/options.h"', "belongs to cli/"),
    ("another subject's room", "src/report/zero/axis.c", '#include "report/bed/bed_words.h"',
     "room report/bed/"),
    ("a subject's room from what its folder shares", "src/report/figure.c",
     '#include "report/bed/bed_words.h"', "room report/bed/"),
    ("a subject's room from the open one", "src/report/drawing/svg.c",
     '#include "report/bed/bed_map.h"', "room report/bed/"),
    ("a breach of the rules for the folder in its room", "src/touch/wall/face.c", "free(p);",
     "free() in touch/"),
    ("a breach in a public header", "include/trueup/zero.h", '#include "trueup/report.h"',
     "belongs to report/"),
]
ACCEPTED = [
    ("its own folder and base", "src/touch/zero.c", '#include "touch/plate.h"\n#include "trueup/status.h"'),
    ("a folder above it", "src/report/zero_text.c", '#include "trueup/zero.h"\n#include <stdio.h>'),
    ("a room's own header, its folder's, the open room's and a folder above", "src/report/bed/map.c",
     '#include "report/bed/map.h"\n#include "report/figure.h"\n#include "report/drawing/svg.h"\n'
     '#include "touch/plate.h"'),
    ("the open room from what its folder shares", "src/report/word_rows.c",
     '#include "report/drawing/svg.h"'),
    ("a room of a folder above it", "src/cli/bed/rows.c", '#include "task/bed/read.h"'),
    ("the operating system's room from those who may use it", "src/record/hits.c",
     '#include "system/clock.h"'),
    ("JSON in record", "src/record/shop.c", "#include <cjson/cJSON.h>"),
    ("the stream that Qhull prints to, in the one file that is excused", "src/bed/qhull_call.c",
     'FILE *nowhere = fmemopen(NULL, 1, "w");'),
    ("comments and strings that speak of breaches", "src/touch/zero.c",
     '/* malloc(1)\n#include <stdio.h>\n*/\nconst char *t = "free(x)"; // getenv("A")'),
    ("static constants and functions in a pure folder", "src/touch/zero.c",
     "static const int table[] = {1};\nstatic double half(double x);"),
    ("formatting into memory in a pure folder", "src/touch/zero.c",
     '#include <stdio.h>\nsnprintf(text, sizeof text, "%d", 1);'),
]

for what, file_name, planted, expected in REFUSED:
    tap.add(f"{what}: refused with file and line", is_refused, file_name, planted, expected)
for what, file_name, planted in ACCEPTED:
    tap.add(f"{what}: accepted", is_accepted, file_name, planted)


@tap.case
def a_folder_that_nobody_planned_is_refused():
    status, output = check({"src/misc/odds.c": "int x;\n"})
    tap.equal((status, "ORDER" in output), (1, True))


@tap.case
def a_room_in_a_room_is_refused():
    status, output = check({"src/report/zero/side/face.c": "int x;\n"})
    tap.equal((status, "one floor of rooms" in output), (1, True))


SHARED = {"src/report/rows.c": '#include "report/rows.h"\n', "src/report/rows.h": "\n",
          "src/report/bed/map.c": '#include "report/rows.h"\n'}


@tap.case
def a_shared_header_that_only_one_room_uses_is_sent_there():
    for place in ("report", "report/drawing"):
        files = {name.replace("report/rows", f"{place}/rows"):
                 text.replace("report/rows", f"{place}/rows") for name, text in SHARED.items()}
        status, output = check(files)
        tap.equal((status, f"src/{place}/rows.h:1: only report/bed/ uses it" in output), (1, True))


@tap.case
def a_shared_header_stays_where_it_is_while_others_use_it():
    users = ("src/report/zero/axis.c", "src/report/report_plan.c", "src/cli/command_bed.c",
             "src/report/drawing/sheet.c")
    for user in users:
        tap.equal(check(SHARED | {user: '#include "report/rows.h"\n'}), (0, ""), user)


@tap.case
def the_tree_itself_keeps_its_order():
    done = subprocess.run([SCRIPT, str(tap.ROOT)], capture_output=True, text=True, check=False)
    tap.equal((done.returncode, done.stdout), (0, ""))


tap.run()
