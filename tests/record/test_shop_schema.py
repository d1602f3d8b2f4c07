#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/shop.schema.json and the reader of the shop file say the same.

The schema is applied by an independent validator (python3-jsonschema), the reader speaks through
tests/record/shop_verdict.c (its path: SHOP_VERDICT). The text is read by Python's own JSON module,
made strict. What a schema can't express is listed in SEMANTIC, and the list is held to be tight.
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
SCHEMA = json.loads((ROOT / "docs" / "shop.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
GOOD = sorted((ROOT / "fixtures" / "shop").glob("*.json"))
BAD = sorted((ROOT / "fixtures" / "bad" / "shop").glob("*.json"))

# Bad inputs that the schema lets pass, by the reason. Names are patterns on the whole file name.
SEMANTIC = {
    "one value against another": [
        "bore_smaller_than_cutters", "bore_as_large_as_cutter", "core_too_large",
        "corner_radius_too_large", "run_out_too_large", "tip_as_wide_as_cutter",
        "travel_(reversed|equal)", "thickness_tolerance_.*", "rise_below_touch_depth",
        "extent_(reversed|equal|cuts_bore|off_side)", "flute_length_beyond_stick_out",
        "shank_as_wide_as_nut", "thing_(reversed|flat)", "table_(plate|cutter)_unknown"],
    "the same name twice": ["duplicate_(plate|cutter)_name", "thing_name_taken", "number_taken"],
    "a length in a string, or in inches, against a limit": [
        "thickness_huge", "offset_huge", "offset_tolerance_huge", "travel_too_large",
        "quantity_overflow", "mm_step_inch"],
    "the unit that a bare number probably has": [
        "inch_.*", "mm_(flute_length|rate|step|corner_radius|touch_depth|rise|extent|thickness|offset|bore|bore_centre|diameter|travel|travel_z|stock|stock_z)",
        "quantity_bare_fraction", "tolerance_unit_.*"],
    "bytes, not characters": ["name_long_bytes"],
    "limits of the reader": ["number_too_long"],
    "the text of a template": ["template_(no_z|object_no_z|unknown_field|field_twice|fields_touch|brace_.*|"
                               "sentence|json|two_lines)"],
}
# The same for files made by mutation: what the reader's message then says.
SEMANTIC_MESSAGES = re.compile(
    "unit is probably wrong|only the tolerance names|enters a bore|is taken by|can't be more than|is not smaller than|"
    "more than half the diameter|tolerance is as large|lowest coordinate must be below|"
    "more than the stick-out|is that of|no plate is named|no cutter is named|has no (plate|cutter)|lower to a higher [XYZ]|"
    "ends below the plate's face|must reach from a lower|plate can't reach|beyond the plate|no position field")


def by_schema(data):
    """Whether JSON and schema let the text pass."""
    try:
        return VALIDATOR.is_valid(strict(data))
    except NotJson:
        return False


def by_reader(path):
    run = subprocess.run([VERDICT, path.name], cwd=path.parent, capture_output=True, timeout=60)
    if run.returncode not in (0, 3):
        raise AssertionError(f"exit code {run.returncode}")
    return run.returncode == 0, run.stdout.decode()


def is_semantic(name):
    return any(re.fullmatch(pattern, name) for names in SEMANTIC.values() for pattern in names)


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
def every_entry_of_the_semantic_table_stands_for_a_bad_input():
    stems = [path.stem for path in BAD]
    for pattern in (pattern for names in SEMANTIC.values() for pattern in names):
        if not any(re.fullmatch(pattern, stem) for stem in stems):
            raise AssertionError(pattern)


@tap.case
def three_hundred_changed_files_get_the_same_verdict_from_schema_and_reader():
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
def the_words_for_target_slot_and_frame_are_those_of_the_reader():
    properties = SCHEMA["properties"]["table"]["properties"]
    sides, heights = ["front", "back", "middle", ""], ["top", "bottom", ""]
    made = {"-".join(w for w in (a, b, c) if w) for a in sides for b in ["left", "right", "middle", ""]
            for c in heights} | {"hole", "boss"}
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "target.json"
        for word in sorted(made):
            path.write_text(json.dumps({"unit": "mm", "table": {"target": word}}))
            tap.equal(by_reader(path)[0], word in properties["target"]["enum"], word)
    slots = ["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"]
    tap.equal([s for s in slots + ["G53", "G60", "G59.4", "G54 "]
               if re.search(properties["slot"]["pattern"], s)], slots)
    block = {"name": "b", "from": [0, 0, 0], "to": [1, 1, 1]}
    tables = [{"target": word} for word in properties["target"]["enum"]]
    tables += [{"slot": word} for word in slots]
    tables += [{"things": [{**block, "frame": word}]}
               for word in SCHEMA["$defs"]["thing"]["properties"]["frame"]["enum"]]
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "words.json"
        for table in tables:
            path.write_text(json.dumps({"unit": "mm", "table": table}))
            tap.equal(by_reader(path), (True, "OK\n"), table)


for good in GOOD:
    tap.add(f"{good.name} passes both", check_good, good)
for bad in BAD:
    tap.add(f"{bad.stem.replace('_', ' ')} is refused by the reader, and by the schema where it can", check_bad, bad)
tap.run()
