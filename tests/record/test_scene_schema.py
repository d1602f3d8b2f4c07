#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/scene.schema.json, docs/scene.md and the reader of scenes say the same.

As test_shop_schema.py: an independent validator (python3-jsonschema) against the reader, which
speaks through tests/record/shop_verdict.c. What a schema can't express is listed in SEMANTIC.
"""
import json
import os
import pathlib
import random
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
sys.path.insert(0, str(ROOT / "tests" / "record"))
import tap  # noqa: E402
from strict_json import NotJson, mutate, strict  # noqa: E402

jsonschema = tap.need("jsonschema", "python3-jsonschema")
VERDICT = os.environ.get("SHOP_VERDICT") or str(ROOT / "build" / "tests" / "record" / "shop_verdict")
PAGE = (ROOT / "docs" / "scene.md").read_text(encoding="utf-8")
SCHEMA = json.loads((ROOT / "docs" / "scene.schema.json").read_text(encoding="utf-8"))
SHOP_SCHEMA = json.loads((ROOT / "docs" / "shop.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
GOOD = sorted((ROOT / "fixtures" / "scenes").glob("*.json"))
BAD = sorted((ROOT / "fixtures" / "bad" / "scene").glob("*.json"))

SEMANTIC = {
    "one value against another": [
        "block_(flat|upside_down)", "start_outside", "plate_on_no_stock", "rows_differ",
        "map_too_large", "angle_without_flutes", "core_too_large"],
    "the same name twice": ["two_blocks_of_a_name"],
    "a length in a string, or in inches, against a limit": ["noise_in_inches", "start_far"],
    "the unit that a bare number probably has": ["traverse_in_inches", "stock_in_inches"],
}
SEMANTIC_MESSAGES = re.compile(
    "unit is probably wrong|is taken by|can't be more than|is not smaller than|"
    "more than half the diameter|tolerance is as large|lowest coordinate must be below|"
    "ends below the plate's face|must reach from a lower|plate can't reach|beyond the plate|"
    "reaches from a lower|outside the machine's travel|lies on the stock, and|this row has|"
    "angle of a cutting edge|rows of [0-9]+ heights")


def by_schema(data):
    try:
        return VALIDATOR.is_valid(strict(data))
    except NotJson:
        return False


def by_reader(path):
    run = subprocess.run([VERDICT, "--scene", path.name], cwd=path.parent, capture_output=True,
                         timeout=60)
    if run.returncode not in (0, 3):
        raise AssertionError(f"exit code {run.returncode}")
    return run.returncode == 0, run.stdout.decode()


def is_semantic(name):
    return any(re.fullmatch(pattern, name) for names in SEMANTIC.values() for pattern in names)


def read_text(text):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "scene.json"
        path.write_text(text, encoding="utf-8")
        return by_reader(path)


def check_good(path):
    tap.equal(by_reader(path), (True, "OK\n"), "reader")
    VALIDATOR.validate(strict(path.read_bytes()))


def check_bad(path):
    tap.equal(by_reader(path)[0], False, "reader accepts")
    tap.equal(by_schema(path.read_bytes()), is_semantic(path.stem), "schema accepts")


@tap.case
def the_schema_itself_is_a_valid_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@tap.case
def what_a_shop_file_has_too_is_the_same_in_both_schemas():
    tap.equal(SCHEMA["properties"]["machine"], SHOP_SCHEMA["properties"]["machine"], "machine")
    shared = set(SCHEMA["$defs"]) & set(SHOP_SCHEMA["$defs"])
    tap.equal({"plate", "cutter", "wall", "bore"} <= shared, True, "shared forms")
    for name in sorted(shared):
        tap.equal(SCHEMA["$defs"][name], SHOP_SCHEMA["$defs"][name], name)


@tap.case
def every_entry_of_the_semantic_table_stands_for_a_bad_input():
    for pattern in (pattern for names in SEMANTIC.values() for pattern in names):
        if not any(re.fullmatch(pattern, path.stem) for path in BAD):
            raise AssertionError(pattern)


@tap.case
def three_hundred_changed_scenes_get_the_same_verdict_from_schema_and_reader():
    rng = random.Random(20261125)
    start = [strict(path.read_bytes()) for path in GOOD]
    agreed = {True: 0, False: 0}
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "changed.json"
        for _ in range(300):
            data = json.dumps(mutate(rng.choice(start), rng)).encode()
            path.write_bytes(data)
            accepted, message = by_reader(path)
            schema = by_schema(data)
            if accepted != schema and not (schema and SEMANTIC_MESSAGES.search(message)):
                raise AssertionError(f"schema {schema}, reader {message}{data.decode()}")
            agreed[accepted] += 1
    if min(agreed.values()) < 30:  # or the changes say nothing
        raise AssertionError(f"one-sided: {agreed}")


@tap.case
def the_scene_of_the_page_is_read():
    block = re.search(r"```json\n(.*?)```", PAGE, re.S).group(1)
    tap.equal(read_text(block), (True, "OK\n"))


@tap.case
def every_key_of_a_scene_has_its_place_on_the_page():
    def keys(schema):
        for name, inner in schema.get("properties", {}).items():
            yield name
            if name not in ("machine", "plate", "cutter"):  # the shop file's page
                yield from keys(inner)
    for key in sorted(set(keys(SCHEMA))):
        if f"`{key}`" not in PAGE and not re.fullmatch(r"G5[5-9](\.[12])?", key):
            raise AssertionError(key)


for good in GOOD:
    tap.add(f"{good.name} passes both", check_good, good)
for bad in BAD:
    tap.add(f"{bad.stem.replace('_', ' ')} is refused by the reader, and by the schema where it can",
            check_bad, bad)
tap.run()
