"""Judges files by their schema: `judge.py SCHEMA FILE...`, where a schema is JSON or XSD. Says what does not hold."""

import json
import sys

import jsonschema
from lxml import etree


def faults(schema, path):
    if schema.endswith(".xsd"):
        xsd = etree.XMLSchema(etree.parse(schema))
        return [] if xsd.validate(etree.parse(path)) else [str(fault) for fault in xsd.error_log]
    with open(schema, encoding="utf-8") as file:
        validator = jsonschema.Draft7Validator(json.load(file))
    with open(path, encoding="utf-8") as file:
        return [f"{list(fault.path)}: {fault.message}" for fault in validator.iter_errors(json.load(file))]


def main(schema, *paths):
    found = [f"{path}: {fault}" for path in paths for fault in faults(schema, path)]
    print("\n".join(found))
    return 1 if found else 0


sys.exit(main(*sys.argv[1:]))
