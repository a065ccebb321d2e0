"""Write the types of the scripts from the structs of `webapp.wire`: `python -m tests.vectors.wire`."""

import sys
from pathlib import Path
from typing import get_args

import msgspec
from msgspec import inspect

from webapp.wire import (
    activities,
    arriving,
    bundle,
    day,
    entries,
    finishing,
    letters,
    releases,
    returning,
    sessions,
    sync,
    way,
)

WRITTEN = Path(__file__).parents[2] / "pwa_assets" / "js" / "wire.d.ts"
HEAD = "/** What goes between phone and server, written from webapp/wire by `python -m tests.vectors.wire`. */\n"
PLAIN = {
    inspect.StrType: "string",
    inspect.IntType: "number",
    inspect.FloatType: "number",
    inspect.BoolType: "boolean",
    inspect.NoneType: "null",
    inspect.AnyType: "unknown",
}


def type_text(kind):
    """Return one msgspec type as TypeScript."""
    match kind:
        case inspect.Metadata(extra={"shape": shape}):
            text = type_text(inspect.type_info(shape))
        case inspect.Metadata(extra={"text": text}):
            pass
        case inspect.StructType(cls=cls):
            text = cls.__name__
        case inspect.UnionType(types=types):
            text = " | ".join(sorted(map(type_text, types), key="null".__eq__))
        case inspect.LiteralType(values=values):
            text = " | ".join(f'"{value}"' for value in values)
        case inspect.ListType(item_type=item):
            text = f"Array<{type_text(item)}>"
        case inspect.TupleType(item_types=items):
            text = f"[{', '.join(map(type_text, items))}]"
        case inspect.DictType(key_type=key, value_type=value):
            text = f"Record<{type_text(key)}, {type_text(value)}>"
        case _:
            text = PLAIN[type(kind)]
    return text


def field_text(cls, field):
    """Return one field of a struct; one that may be left out has a question mark."""
    hints = {each.name: each.type for each in msgspec.structs.fields(cls)}
    mark = "?" if msgspec.UnsetType in get_args(hints[field.name]) else ""
    return f"  {field.encode_name}{mark}: {type_text(field.type)};"


def interface_text(cls):
    """Return one struct as an interface, its docstring's first line above it."""
    info, base = inspect.type_info(cls), cls.__base__
    inherited = base.__struct_fields__ if base is not msgspec.Struct else ()
    fields = [field_text(cls, each) for each in info.fields if each.name not in inherited]
    tag = [f'  {info.tag_field}: "{info.tag}";'] if inherited and info.tag else []
    extends = f" extends {base.__name__}" if inherited else ""
    says = cls.__doc__.splitlines()[0]
    return "\n".join([f"/** {says} */", f"export interface {cls.__name__}{extends} {{", *tag, *fields, "}", ""])


def structs_of(module):
    """Return the structs that a module defines, in their order."""
    found = [each for each in vars(module).values() if isinstance(each, type) and issubclass(each, msgspec.Struct)]
    return [each for each in found if each.__module__ == module.__name__]


def declarations():
    """Return the whole file."""
    kinds = type_text(inspect.type_info(entries.AnyEntry))
    modules = (sessions, arriving, letters, activities, finishing, day, releases, returning, entries, way, bundle, sync)
    interfaces = [interface_text(cls) for module in modules for cls in structs_of(module)]
    text = "\n".join([HEAD, *interfaces]).replace("None", "null")
    written = text.replace(kinds, "AnyEntry")
    each = "".join(f"\n  | {kind}" for kind in kinds.split(" | "))
    return f"{written}\n/** Every kind of entry that is known. */\nexport type AnyEntry ={each};\n"


if __name__ == "__main__":
    WRITTEN.write_text(declarations(), encoding="utf-8")
    sys.stdout.write(f"{WRITTEN.name} is written\n")
