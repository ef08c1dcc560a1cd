"""Prints `protocol.json`: what the messages of the Language Server Protocol 3.17 are made of.

The types come from the package `lsprotocol`, version 2023.0.1, which its publisher makes of the meta model of the protocol:

    pip install lsprotocol==2023.0.1 && python3 tests/server/protocol.py > tests/server/protocol.json

A type is a name (a basic one in small letters, else one of `structures` or `enumerations`) or an object of one key:
`array`, `map`, `or`, `tuple`, `one of`. What was added to the protocol after 3.17 is left out.
"""

import ast
import enum
import inspect
import json
import types as python
import typing

import attrs
from lsprotocol import types, validators

LATER = "@since 3.18"
# Both nothing and not there, which the package does not tell apart (specification, `InitializeParams`).
MAY_MISS = {"root_path", "workspace_folders"}
BASIC = {str: "string", bool: "boolean", float: "decimal", int: "uinteger", object: "any", type(None): "null"}


def later_fields(cls):
    """The fields of a class whose comment says that they came later; the fields stand before their comments."""
    body = ast.parse(inspect.getsource(cls)).body[0].body
    return {
        field.target.id
        for field, note in zip(body, body[1:])
        if isinstance(field, ast.AnnAssign) and isinstance(note, ast.Expr) and LATER in note.value.value
    }


def is_later(cls):
    return LATER in (cls.__doc__ or "")


def type_of(hint):
    origin, arguments = typing.get_origin(hint), typing.get_args(hint)
    if hint in BASIC:
        return BASIC[hint]
    if hint in (typing.Any, types.LSPAny, types.LSPObject):
        return "any"
    if origin in (typing.Union, python.UnionType):
        kinds = [kind for kind in map(type_of, arguments) if kind is not None]
        # Beside a name a number may be any.
        kinds = ["integer" if kind == "uinteger" and "string" in kinds else kind for kind in kinds]
        return kinds[0] if len(kinds) == 1 else {"or": kinds}
    if origin is list:
        return {"array": type_of(arguments[0])}
    if origin is dict:
        return {"map": type_of(arguments[1])}
    if origin is tuple:
        return {"tuple": [type_of(argument) for argument in arguments]}
    return None if is_later(hint) else hint.__name__


def property_of(cls, field):
    kind = type_of(field.type)
    validator = getattr(field.validator, "validator", field.validator)
    if hasattr(validator, "options"):
        kind = {"one of": sorted(validator.options)}
    elif validator is validators.integer_validator:
        kind = json.loads(json.dumps(kind).replace("uinteger", "integer"))
    may_miss = field.default is None
    # What must be said even where it is nothing may not be left out.
    always = types.is_special_property(cls, field.name) and field.name not in MAY_MISS
    if may_miss and not types.is_special_property(cls, field.name) and isinstance(kind, dict) and "null" in kind.get("or", []):
        kind = {"or": [one for one in kind["or"] if one != "null"]}
        kind = kind["or"][0] if len(kind["or"]) == 1 else kind
    return {"type": kind} | ({"optional": True} if may_miss and not always else {})


def camel(name):
    first, *rest = name.rstrip("_").split("_")
    return first + "".join(word.capitalize() for word in rest)


def structure(cls):
    attrs.resolve_types(cls, globalns=vars(types))
    later = later_fields(cls)
    return {camel(it.name): property_of(cls, it) for it in attrs.fields(cls) if it.name not in later}


def message(name, request, response, params):
    attrs.resolve_types(request, globalns=vars(types))
    kind = type_of(attrs.fields_dict(request)["params"].type) if "params" in attrs.fields_dict(request) else None
    told = {"direction": types.message_direction(name)}
    if kind not in (None, "null"):
        told["params"] = kind
    if response is not None:
        attrs.resolve_types(response, globalns=vars(types))
        told["result"] = type_of(attrs.fields_dict(response)["result"].type)
    return told


def is_message(cls):
    return "jsonrpc" in attrs.fields_dict(cls)


def lines(entries):
    return ",\n".join(f"{json.dumps(name)}: {json.dumps(what)}" for name, what in sorted(entries.items()))


named = {name: cls for name, cls in vars(types).items() if isinstance(cls, type) and cls.__module__ == types.__name__}
messages = {
    name: message(name, request, response, params)
    for name, (request, response, params, _) in types.METHOD_TO_TYPES.items()
    if not (params is not None and attrs.has(params) and is_later(params))
}
structures = {
    name: structure(cls)
    for name, cls in named.items()
    if attrs.has(cls) and not is_message(cls) and not is_later(cls)
}
enumerations = {
    name: [value.value for value in cls] for name, cls in named.items() if issubclass(cls, enum.Enum) and not is_later(cls)
}
for part, entries in [("messages", messages), ("structures", structures), ("enumerations", enumerations)]:
    print("{" if part == "messages" else "},", f'"{part}": {{', lines(entries), sep="\n")
print("}\n}")
