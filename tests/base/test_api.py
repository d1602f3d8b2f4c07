# SPDX-License-Identifier: GPL-3.0-or-later
"""The library as other programs see it: its headers alone, in C and C++, and what it exports."""
import os
import pathlib
import re
import shutil
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

INCLUDE = tap.ROOT / "include"
HEADERS = sorted((INCLUDE / "trueup").glob("*.h"))
LIBRARY = os.environ.get("TRUEUP_SHARED") or str(tap.ROOT / "build" / "libtrueup.so")
STRICT = ["-Wall", "-Wextra", "-Wpedantic", "-Werror", "-fsyntax-only", f"-I{INCLUDE}"]


def compile_alone(compiler, language, header):
    if not shutil.which(compiler):
        raise tap.Skip(f"no {compiler} here")
    done = subprocess.run([compiler, *STRICT, *language, "-"], text=True, capture_output=True,
                          input=f"#include <trueup/{header.name}>\nint alone;\n", check=False)
    tap.equal((done.returncode, done.stderr), (0, ""))


for path in HEADERS:
    tap.add(f"{path.name} alone is C11", compile_alone, "gcc", ["-xc", "-std=c11"], path)
    tap.add(f"{path.name} alone is C++17", compile_alone, "g++", ["-xc++", "-std=c++17"], path)


def declared():
    """The functions that the headers declare: names before a bracket outside of braces and comments."""
    names = set()
    for path in HEADERS:
        code = re.sub(r"/\*.*?\*/", "", path.read_text(encoding="utf-8"), flags=re.S)
        code = re.sub(r"^#.*(?:\\\n.*)*", "", code, flags=re.M)
        code = re.sub(r"\{[^{}]*\}", "", re.sub(r"\{[^{}]*\}", "", code))
        for statement in code.split(";"):
            found = re.search(r"\b(tu_\w+)\s*\(", statement)
            if found and "typedef" not in statement:
                names.add(found.group(1))
    return names


@tap.case
def the_shared_library_exports_what_the_headers_declare_and_nothing_else():
    listed = subprocess.run(["nm", "-D", "--defined-only", LIBRARY], text=True, check=True,
                            capture_output=True).stdout
    exported = {line.split()[-1].split("@")[0] for line in listed.splitlines()}
    tap.equal(len(declared()) > 150, True, "functions found in the headers")
    tap.equal(sorted(exported - declared()), [], "exported, not declared")
    tap.equal(sorted(declared() - exported), [], "declared, not exported")


@tap.case
def every_global_name_of_the_static_library_begins_with_tu():
    listed = subprocess.run(["nm", "-g", "--defined-only", re.sub(r"\.so.*", ".a", LIBRARY)],
                            text=True, check=True, capture_output=True).stdout
    names = re.findall(r"^[0-9a-f]+ [A-Z] (\S+)$", listed, re.M)
    tap.equal(len(names) > 500, True, "names found")
    tap.equal([name for name in names if not re.match(r"tu_|__?(asan|odr|ubsan)", name)], [])


@tap.case
def the_numbers_of_the_version_are_its_text():
    text = (INCLUDE / "trueup" / "version.h").read_text(encoding="utf-8")
    numbers = re.findall(r"^#define TRUEUP_VERSION_\w+ +(\d+)$", text, re.M)
    tap.equal(re.findall(r'^#define TRUEUP_VERSION +"(.*)"$', text, re.M), [".".join(numbers)])


tap.run()
