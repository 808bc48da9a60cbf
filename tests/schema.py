#!/usr/bin/python3
"""schema.py SCHEMA JSON: does the JSON file follow the schema? 0: yes; 1: no, and every fault is printed."""
import functools
import json
import pathlib
import sys

import jsonschema


def read(path):
    return json.loads(pathlib.Path(path).read_text(encoding="utf-8"))


@functools.lru_cache
def validator(schema_path):
    schema = read(schema_path)
    jsonschema.Draft202012Validator.check_schema(schema)
    # A schema may refer to the files beside it.
    resolver = jsonschema.RefResolver(pathlib.Path(schema_path).resolve().as_uri(), schema)
    return jsonschema.Draft202012Validator(schema, resolver=resolver)


def faults(schema_path, value):
    """One line for each, with its place in the value."""
    found = sorted(validator(schema_path).iter_errors(value), key=lambda fault: list(map(str, fault.absolute_path)))
    return [f"/{'/'.join(map(str, fault.absolute_path))}: {fault.message[:200]}" for fault in found]


def main(schema_path, json_path):
    found = faults(schema_path, read(json_path))
    for fault in found:
        print(f"{json_path}: {fault}", file=sys.stderr)
    return 1 if found else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))
