#!/usr/bin/python3
"""schema.py SCHEMA JSON: does the JSON file follow the schema? 0: yes; 1: no, and every fault is printed."""
import json
import pathlib
import sys

import jsonschema


def read(path):
    return json.loads(pathlib.Path(path).read_text(encoding="utf-8"))


def main(schema_path, json_path):
    schema = read(schema_path)
    jsonschema.Draft202012Validator.check_schema(schema)
    # A schema may refer to the files beside it.
    resolver = jsonschema.RefResolver(pathlib.Path(schema_path).resolve().as_uri(), schema)
    validator = jsonschema.Draft202012Validator(schema, resolver=resolver)
    faults = sorted(validator.iter_errors(read(json_path)), key=lambda fault: list(map(str, fault.absolute_path)))
    for fault in faults:
        place = "/".join(map(str, fault.absolute_path))
        print(f"{json_path}: /{place}: {fault.message[:200]}", file=sys.stderr)
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    sys.exit(main(*sys.argv[1:]))
