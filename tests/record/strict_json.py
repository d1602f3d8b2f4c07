# SPDX-License-Identifier: GPL-3.0-or-later
"""Strict JSON by Python's own reader, and structural changes: for the tests of the schemas."""
import copy
import json
import math


class NotJson(ValueError):
    pass


def no_duplicates(pairs):
    if len({key for key, _ in pairs}) != len(pairs):
        raise NotJson("duplicate key")
    return dict(pairs)


def finite(text):
    value = float(text)
    if not math.isfinite(value):
        raise NotJson("not finite")
    return value


def refuse(text):
    raise NotJson(text)


def strict(data):
    """The value of a JSON text, or NotJson: Python's reader without its leniences."""
    try:
        text = data.decode("utf-8")
        value = json.loads(text, object_pairs_hook=no_duplicates, parse_float=finite,
                           parse_constant=refuse)
        json.dumps(value, ensure_ascii=False).encode("utf-8")  # half surrogates can't
    except (UnicodeError, ValueError, RecursionError) as error:
        raise NotJson(str(error)) from None
    if "\0" in json.dumps(value, ensure_ascii=False) or "\\u0000" in json.dumps(value):
        raise NotJson("NUL")
    return value


def containers(value):
    """Every object and array inside a value, itself included."""
    if isinstance(value, (dict, list)):
        yield value
        for item in value.values() if isinstance(value, dict) else value:
            yield from containers(item)


OTHER_VALUES = [None, True, 0, -1, 1, 2.5, 75, "", "x", "flat", "vee", "bull", "outward", "5mm",
                "-5+-0.1mm", "0.5 in \u00b1 0.1mm", "1-1/2in", "1e2mm", "3.mm", ".5in", "+4mm", "++4mm",
                "4mm\n", " 4 mm ", [], {}, [1, 2], {"a": 1}, 1e-3, 12, 13]


def mutate(value, rng):
    """One structural change: a key or entry lost, renamed, or given another value."""
    changed = copy.deepcopy(value)
    place = rng.choice([c for c in containers(changed) if c])
    key = rng.choice(list(place) if isinstance(place, dict) else range(len(place)))
    deed = rng.randrange(3)
    if deed == 0:
        del place[key]
    elif deed == 1 and isinstance(place, dict):
        place[rng.choice(["a", "b", "x", "tip", "notes", "walls", "bore", "flutes", "Name"])] = place.pop(key)
    else:
        place[key] = copy.deepcopy(rng.choice(OTHER_VALUES))
    return changed
