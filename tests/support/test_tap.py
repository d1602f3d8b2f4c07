# SPDX-License-Identifier: GPL-3.0-or-later
"""What the scripts share: a package that is not installed gives a skip that names it, never a traceback."""
import ast
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import tap

TESTS = tap.ROOT / "tests"


def printed(text):
    """(exit code, output) of a script of this text."""
    with tempfile.TemporaryDirectory() as folder:
        script = pathlib.Path(folder) / "script.py"
        script.write_text(f"import sys\nsys.path.insert(0, {str(TESTS / 'support')!r})\nimport tap\n{text}")
        done = subprocess.run([sys.executable, script], stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT, text=True)
    return done.returncode, done.stdout


@tap.case
def a_module_that_is_not_installed_leaves_out_the_script_and_names_the_package():
    tap.equal(printed('tap.need("no_such_module", "python3-none")\nraise ValueError'),
              (0, "1..0 # SKIP needs the Debian package python3-none\n"))


@tap.case
def a_module_that_is_installed_is_handed_over():
    tap.equal(printed('print(tap.need("xml.dom", "libpython3-stdlib").__name__)'), (0, "xml.dom\n"))


@tap.case
def a_module_that_is_broken_is_no_skip():
    with tempfile.TemporaryDirectory() as folder:
        (pathlib.Path(folder) / "broken_module.py").write_text("1 / 0\n")
        code, text = printed(f'sys.path.append({folder!r})\ntap.need("broken_module", "python3-none")')
    tap.equal((code, "ZeroDivisionError" in text), (1, True))


@tap.case
def a_program_that_is_not_installed_skips_the_case_and_names_the_package():
    tap.equal(printed('tap.add("a", tap.tool, "no-such-tool", "nothing")\n'
                      'tap.add("b", lambda: None)\ntap.run()'),
              (0, "1..2\nok 1 - a # SKIP needs the Debian package nothing\nok 2 - b\n"))


@tap.case
def a_locale_that_is_not_installed_skips_the_case():
    code, text = printed('tap.add("a", tap.need_locale, "xx_XX.UTF-8")\ntap.run()')
    tap.equal((code, text), (0, "1..1\nok 1 - a # SKIP needs the Debian package locales-all\n"))


def imported(script):
    """The modules that a script imports by itself."""
    for node in ast.walk(ast.parse(script.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name.partition(".")[0] for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module.partition(".")[0]


@tap.case
def no_test_imports_a_package_past_need():
    scripts = [*TESTS.rglob("*.py"), *TESTS.glob("../tools/rigs/**/*.py")]
    own = {script.stem for script in [*scripts, *TESTS.glob("../tools/*.py")]}
    past = [f"{script.name}: {name}" for script in sorted(scripts) if script.name != "volcano_reference.py"
            for name in imported(script) if name not in sys.stdlib_module_names | own]
    tap.equal(past, [], "imported past tap.need")


tap.run()
