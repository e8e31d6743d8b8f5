"""`sitelog schema`: the shape of what `--json` prints, as JSON Schema made from the shapes themselves."""

import argparse
from typing import Any

from sitelog.cli.script.shapes import SHAPES
from sitelog.cli.script.tell import print_json
from sitelog.near import closest, did_you_mean
from sitelog.refusal import DONE, Refusal

CHOOSE = f"type one of: {', '.join(SHAPES)}"
DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema(options: argparse.Namespace) -> int:
    """Print that of one command, or of all by their names. Refusal for what is no command with --json."""
    if not options.of:
        print_json({name: schema_of(name) for name in SHAPES})
        return DONE
    if options.of not in SHAPES:
        near = closest(options.of, SHAPES, 0.5)
        raise Refusal(f"No shape called {options.of!r}: {did_you_mean(near, CHOOSE)}")
    print_json(schema_of(options.of))
    return DONE


def schema_of(command: str) -> dict[str, Any]:
    """The JSON Schema of what a command prints with --json."""
    import msgspec

    shapes, parts = msgspec.json.schema_components(SHAPES[command], ref_template="#/$defs/{name}")
    any_of = shapes[0] if len(shapes) == 1 else {"anyOf": list(shapes)}
    return {"$schema": DRAFT, "title": f"sitelog {command} --json", **any_of, "$defs": parts}
