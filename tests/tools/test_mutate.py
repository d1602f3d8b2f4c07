#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Where tools/mutate changes the code and where it does not, and whether the changes that are judged
to make no difference (tests/mutants-equivalent.txt) are still ones that it makes."""
import pathlib
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
sys.path.insert(0, str(ROOT / "tools"))
import mutations  # noqa: E402
import tap  # noqa: E402

SAMPLE = """\
/* a < b && c */
#include "a-b.h"
#define SHARE 0.5 /* of 2 */
static bool ends_before(const double *a, size_t n, char text[40])
{
    // 1 + 1
    if (!a || n <= 3)
        return tu_fail(error, TU_DATA_RANGE, "a < b", '+');
    return a[n - 1] * 2.0 < -limit;
}
"""


def changed():
    return [(m.kind, m.changed) for m in mutations.find("src/a/b.c", SAMPLE)]


@tap.case
def code_is_changed_and_neither_comment_nor_text_nor_include():
    tap.equal(sorted(changed()), sorted([
        ("constant", "#define SHARE 0.525 /* of 2 */"),
        ("negation", "if (a || n <= 3)"),
        ("logic", "if (!a && n <= 3)"),
        ("boundary", "if (!a || n < 3)"),
        ("relation", "if (!a || n >= 3)"),
        ("constant", "if (!a || n <= 4)"),
        ("status", "return tu_fail(error, TU_DATA_CONFLICT, \"a < b\", '+');"),
        ("sign", "return a[n + 1] * 2.0 < -limit;"),
        ("constant", "return a[n - 2] * 2.0 < -limit;"),
        ("sign", "return a[n - 1] / 2.0 < -limit;"),
        ("constant", "return a[n - 1] * 2.1 < -limit;"),
        ("boundary", "return a[n - 1] * 2.0 <= -limit;"),
        ("relation", "return a[n - 1] * 2.0 > -limit;"),
        ("sign", "return a[n - 1] * 2.0 < limit;"),
    ]))


@tap.case
def a_change_knows_its_function():
    functions = {m.line: m.function for m in mutations.find("src/a/b.c", SAMPLE)}
    tap.equal((functions[3], functions[7], functions[9]), ("", "ends_before", "ends_before"))


@tap.case
def the_same_seed_takes_the_same_changes():
    every = list(mutations.find("src/a/b.c", SAMPLE))
    first, again = (mutations.sample(every, 6, 3) for _ in range(2))
    tap.equal(first, again)
    tap.equal(len(first), 6)
    if len({m.kind for m in first}) < 6:
        raise AssertionError("six changes of fewer than six kinds")


@tap.case
def what_is_judged_to_make_no_difference_is_still_made_and_has_a_reason():
    text = (ROOT / "tests" / "mutants-equivalent.txt").read_text()
    equivalents = mutations.read_equivalents(text)
    tap.equal(len(equivalents), text.count("\n  - "), "entries")
    made = {m.key() for file in {key[0] for key in equivalents}
            for m in mutations.find(file, (ROOT / file).read_text())}
    tap.equal([key for key in equivalents if key not in made], [], "entries that are stale")
    for reason in equivalents.values():
        if len(reason.split()) < 5:
            raise AssertionError(f"no reason: {reason}")


tap.run()
