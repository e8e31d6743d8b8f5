"""Files of one mebibyte, each made to cost as much as it can before it is refused: jobs, journals and checklists."""

import hashlib
import json
from collections.abc import Callable
from pathlib import Path

from tests.checklist.small import HIPPED

MIB = 1 << 20
HEADING = '{"job":{"1":{"format":1,"id":"x","title":"t","place":"p","units":"metric","seals":{}}},"entries":{'


def filled(head: str, one: Callable[[int], str], tail: str, between: str = ",") -> str:
    """As many of them as there is room for."""
    made: list[str] = []
    room = MIB - len(head) - len(tail)
    while (room := room - len(row := one(len(made))) - len(between)) >= 0:
        made.append(row)
    return head + between.join(made) + tail


def _entry(number: int) -> str:
    chain = f'"device":"abcd1234","seq":{number},"prev":"","act":"note","part":"main","check":"","value":{{}}'
    when = f'"id":"{1_700_000_000_000 + number:013d}-abcd1234-{number:06d}","at":"2026-11-25T07:00:00Z"'
    return f'"{number}":{{{when},"offset":0,"by":"a",{chain},"note":"x","done":""}}'


JOBS: dict[str, str] = {
    "lists in lists": "[" * (MIB // 2) + "]" * (MIB // 2),
    "tables in tables": '{"a":' * (MIB // 6) + "1" + "}" * (MIB // 6),
    "a number of a million digits": '{"job":{"1":{"format":' + "9" * (MIB - 40) + "}}}",
    "an exponent of a million digits": '{"job":{"1":{"format":1e' + "9" * (MIB - 40) + "}}}",
    "one string": '{"job":{"1":{"title":"' + "x" * (MIB - 40) + '"}}}',
    "one letter under all marks": '{"job":{"1":{"title":"' + "\u0301\u0323" * ((MIB - 40) // 4) + '"}}}',
    "one name again and again": filled("{", lambda _: '"a":1', "}"),
    "names that fall on one place": filled("{", lambda n: f'"{n * ((1 << 61) - 1)}":{{}}', "}"),
    "tables without end": filled("{", lambda n: f'"t{n}":{{}}', "}"),
    "empty entries": filled('{"job":{"1":{"format":1}},"entries":{', lambda n: f'"{n}":{{}}', "}}"),
    "entries that follow nothing": filled(HEADING, _entry, "}}"),
}
JOURNALS: dict[str, bytes] = {
    "empty lines": b"\n" * MIB,
    "lists in lists": b"[" * MIB,
    "a number of a million digits": b'{"journal":' + b"9" * (MIB - 20) + b"}",
}
LISTS: dict[str, str] = {
    "lists in lists": "x = " + "[\n" * (MIB // 2 - 4),
    "digits": "x = " + "9" * (MIB - 10),
    "keys without end": filled("", lambda n: f"k{n} = 1", "", "\n"),
    "tables without end": filled(HIPPED, lambda n: f"[t{n}]", "", "\n"),
    "keys of many parts": filled("", lambda n: f"k{n}" + ".a" * 99 + " = 1", "", "\n"),
    "facts without end": filled(HIPPED, lambda _: "[[fact]]", "", "\n"),
}


def journal_of(job: Path, raw: bytes) -> bytes:
    """Those bytes after a first line that the job would go on from."""
    found = json.loads(job.read_bytes())["job"]["1"]
    first = json.dumps({"journal": 1, "job": found["id"], "seals": found["seals"]}).encode()
    return first + b" " + hashlib.sha256(first).hexdigest()[:16].encode() + b"\n" + raw
