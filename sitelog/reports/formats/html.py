"""The pack as one HTML page: it prints on A4, reads on a phone, runs no code, and needs nothing but its photos."""

import re
from collections.abc import Iterator, Sequence
from html import escape

from sitelog.drawing.model import Drawing, caption
from sitelog.drawing.svg import svg
from sitelog.reports.formats import reply_form
from sitelog.reports.model import PHOTOS, Block, Items, Leaf, Pack, Points, Section, Shot, Shots, Table, Words
from sitelog.text import clean, text_between, text_if

DRAWING_MM = 178.0  # the width of A4 between the margins below
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src 'self' file:"  # its photos stand beside it
NARROW = 14  # letters: a table with no longer cell stays a table on a phone
MOST = 4_000  # letters of one text
# Words of state that must be found by running an eye down the page.
LOUD = re.compile(
    r"\b(OUT OF DATE(?:, not shown)?|OUT|TOO CLOSE|RELEASED|NOT READ|NOT SIGNED|SENT BACK|STOPS THE WORK)\b"
)

STYLE = """
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 62rem; padding: 0 1rem 3rem; background: #fff; color: #000;
  font: 1rem/1.4 "Liberation Sans", Arial, Helvetica, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 1rem 0 .2rem; }
h2 { font-size: 1.2rem; margin: 0; }
h1, h2, b, strong, th { font-weight: 700; }
p { margin: .4rem 0; }
section { margin: 0 0 1.6rem; }
.head { display: flex; flex-wrap: wrap; gap: 0 1rem; align-items: baseline; justify-content: space-between;
  border-bottom: 2px solid #000; padding: .2rem 0; margin-bottom: .5rem; }
.running { margin: 0; font-size: .8rem; }
.standing { border: 3px solid #000; padding: .5rem .7rem; font-size: 1.15rem; font-weight: 700; margin: .7rem 0; }
.code { float: right; width: 24mm; }
.counts { display: flex; flex-wrap: wrap; gap: .3rem; padding: 0; margin: .7rem 0; list-style: none; }
.counts li { border: 1px solid #000; padding: .1rem .5rem; }
.counts .some { border-width: 3px; font-weight: 700; }
nav ol { columns: 15rem; margin: .3rem 0; padding-left: 1.8rem; font-size: .9rem; }
a { color: inherit; }
ul.items { margin: .3rem 0; padding-left: 1.2rem; }
ul.items > li { margin: .3rem 0; break-inside: avoid; }
ul.items > li > b { display: block; }
ul.items span { display: block; }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; font-size: .9rem; }
caption { text-align: left; padding: .2rem 0; }
th, td { border: 1px solid #555; padding: .25rem .4rem; text-align: left; vertical-align: top; }
th { background: #eee; }
tr { break-inside: avoid; }
table.wide { table-layout: fixed; }
table.narrow { width: auto; }
table.narrow td { text-align: right; font-variant-numeric: tabular-nums; }
figure { margin: .7rem 0; break-inside: avoid; }
figure svg { display: block; max-width: 100%; height: auto; }
.shots { display: flex; flex-wrap: wrap; gap: .7rem; }
.shot { width: 15rem; margin: 0; }
.shot img { display: block; max-width: 100%; max-height: 12rem; height: auto; border: 1px solid #555; }
figcaption, .says { font-size: .85rem; }
@media screen and (max-width: 40rem) {
  table.wide thead { display: none; }
  table.wide, table.wide tbody, table.wide tr, table.wide td { display: block; width: 100%; }
  table.wide tr { border: 2px solid #000; margin: 0 0 .6rem; }
  table.wide td { border: 0; border-bottom: 1px solid #bbb; }
  table.wide td:empty { display: none; }
  table.wide td[data-head]::before { content: attr(data-head) ": "; font-weight: 700; }
  table.narrow { font-size: .8rem; }
}
@media print {
  html { font-size: 9pt; }
  body { max-width: none; padding: 0; line-height: 1.3; }
  section { margin-bottom: 5mm; }
  th, td { padding: .7mm 1.2mm; }
  .keep, caption { break-inside: avoid; break-after: avoid; }
  .keep::after { content: ""; display: block; height: 25mm; margin-bottom: -25mm; } /* no heading without a row */
  thead { display: table-header-group; }
  nav { display: none; }
  th { -webkit-print-color-adjust: exact; }
  .first, .leaf { break-after: page; }
  .leaf { margin: 0; }
  .leaf table { font-size: 7.5pt; }
  a { text-decoration: none; }
}
"""


def brief_html(pack: Pack) -> str:
    """The brief: a printed page for each leaf. The same pack gives the same bytes."""
    title = _text(f"{pack.title}: brief for the {pack.to}")
    return "\n".join(
        [
            *_opening(pack, title, _running(pack), form=True),
            f"<header>{_square(pack)}<h1>{title}</h1>",
            f"<p>{_text(', '.join(pack.parts))}</p>",
            f"<p>{_text(_made(pack))}</p>",
            f'<p class="standing">{_text(pack.standing)}</p>',
            f"<p>{_text(pack.notice)}</p></header><main>{reply_form.opening(pack)}",
            *(_leaf(leaf, number) for number, leaf in enumerate(pack.brief, 1)),
            f"{reply_form.closing(pack)}</main></body></html>",
            "",
        ]
    )


def _square(pack: Pack) -> str:
    """The square code as a drawing of its own; nothing where the library for it is not installed."""
    try:
        import segno
    except ImportError:
        return ""
    code = segno.make(pack.code, error="m", micro=False)
    return f'<div class="code">{code.svg_inline(border=2, svgclass=None, lineclass=None, omitsize=True)}</div>'


def sheet_html(pack: Pack, name: str, leaves: Sequence[Leaf]) -> str:
    """A sheet by itself: its leaves on one page of HTML."""
    title = _text(f"{pack.title}: {name}")
    head = [
        *_opening(pack, title, name),
        f"<header><h1>{title}</h1>",
        f"<p>{_text(_made(pack))}</p></header><main>",
    ]
    return "\n".join(
        [*head, *(_leaf(leaf, number) for number, leaf in enumerate(leaves, 1)), "</main></body></html>", ""]
    )


def _leaf(leaf: Leaf, number: int) -> str:
    blocks = "".join(part for block in _whole(leaf) for part in _block(block))
    return f'<section class="leaf" id="l{number}"><h2>{_text(leaf.title)}</h2>{blocks}</section>'


def _whole(leaf: Leaf) -> Iterator[Block]:
    """Its blocks, without the line that leaves points to the record: a page has room for all of them."""
    before: Block | None = None
    for block in leaf.blocks:
        if not (isinstance(before, Points) and before.rest):
            yield block
        before = block


def _opening(pack: Pack, title: str, running: str, *, form: bool = False) -> list[str]:
    policy, style = (f"{POLICY}; {reply_form.policy()}", STYLE + reply_form.STYLE) if form else (POLICY, STYLE)
    return [
        "<!DOCTYPE html>",
        '<html lang="en-GB"><head><meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{title}</title>",
        f"<style>{style}{_page_rule(pack, running)}</style></head><body>",
    ]


def html(pack: Pack) -> str:
    """The whole record. Every text of the job is cleaned and escaped; the same pack gives the same bytes."""
    running = _running(pack)
    sections = [*pack.first, *pack.rest]
    title = _text(f"{pack.title}: record")
    return "\n".join(
        [
            *_opening(pack, title, running),
            '<div class="first"><header>',
            f"<h1>{title}</h1>",
            f"<p>{_text(_made(pack))}</p>",
            f'<p class="standing">{_text(pack.standing)}</p>',
            f"<p><strong>{_text(pack.notice)}</strong></p>",
            _counts(pack),
            "</header>",
            *(_section(section, number, "") for number, section in enumerate(pack.first, 1)),
            _contents(sections),
            "</div><main>",
            *(_section(section, number, running) for number, section in enumerate(pack.rest, len(pack.first) + 1)),
            "</main></body></html>",
            "",
        ]
    )


def _made(pack: Pack) -> str:
    place = text_between("", pack.place, ". ")
    return f"{place}Made {pack.made} after {pack.entries} entries. Record code {pack.head}."


def _running(pack: Pack) -> str:
    """What is told again beside every heading: whether it is signed, and what stands open."""
    counts = [f"{what} {count}" for what, count in pack.counts if count]
    return " · ".join(["SIGNED" if pack.signed else "NOT SIGNED", *counts])


def _page_rule(pack: Pack, running: str) -> str:
    """Margins, and a line on every printed page: our own words and the head code's digits, no text of the job."""
    head = re.sub(r"[^0-9a-f]", "", pack.head)
    return (
        "@page { size: A4; margin: 17mm 16mm 16mm;\n"
        f'  @top-left {{ content: "{running}"; font: 7.5pt sans-serif; }}\n'
        f'  @bottom-left {{ content: "record code {head}"; font: 7.5pt sans-serif; }}\n'
        '  @bottom-right { content: counter(page) " of " counter(pages); font: 7.5pt sans-serif; } }\n'
    )


def _counts(pack: Pack) -> str:
    rows = (f"<li{_class(count)}>{_text(what)} {count}</li>" for what, count in pack.counts)
    return f'<ul class="counts">{"".join(rows)}</ul>'


def _class(count: int) -> str:
    return text_if(count, ' class="some"')


def _contents(sections: list[Section]) -> str:
    rows = (f'<li><a href="#s{number}">{_text(section.title)}</a></li>' for number, section in enumerate(sections, 1))
    return f"<nav><ol>{''.join(rows)}</ol></nav>"


def _section(section: Section, number: int, running: str) -> str:
    again = f'<p class="running">{_text(running)}</p>' if running else ""
    head = f'<div class="keep"><div class="head"><h2>{_text(section.title)}</h2>{again}</div></div>'
    return (
        f'<section id="s{number}">{head}{"".join(part for block in section.blocks for part in _block(block))}</section>'
    )


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Words):
        words = _lines(block.text)
        yield f"<p><strong>{words}</strong></p>" if block.strong else f"<p>{words}</p>"
    elif isinstance(block, Items):
        rows = (
            f"<li><b>{_lines(head)}</b>{''.join(f'<span>{_lines(x)}</span>' for x in more)}</li>"
            for head, more in block.rows
        )
        yield f'<ul class="items">{"".join(rows)}</ul>'
    elif isinstance(block, Drawing):
        yield f"<figure>{svg(block, width_mm=DRAWING_MM)}<figcaption>{_text(caption(block))} Not to scale."
        yield f'<p class="says">{_text("; ".join(block.says))}.</p></figcaption></figure>'
    elif isinstance(block, Shots):
        yield f'<div class="shots">{"".join(map(_shot, block.rows))}</div>'
    elif isinstance(block, Points):
        yield from reply_form.points(block, _lines)
    else:
        yield _table(block)


def _shot(shot: Shot) -> str:
    """The photo itself, no wider than its place: its file's name is made of its hash, and of nothing that was typed."""
    file = f"{PHOTOS}/{shot.file}"
    return (
        f'<figure class="shot"><a href="{file}"><img src="{file}" alt="{_text(shot.alt)}" loading="lazy"></a>'
        f"<figcaption><b>{_text(shot.alt)}</b><br>{_text(shot.says)}</figcaption></figure>"
    )


def _table(table: Table) -> str:
    narrow = all(len(line) <= NARROW for row in (table.heads, *table.rows) for cell in row for line in cell.split("\n"))
    caption = f"<caption>{_text(table.caption)}</caption>" if table.caption else ""
    heads = "".join(f'<th scope="col">{_text(head)}</th>' for head in table.heads)
    rows = "".join(f"<tr>{''.join(map(_cell, row, table.heads))}</tr>" for row in table.rows)
    return (
        f'<table class="{"narrow" if narrow else "wide"}">{caption}{"" if narrow else _widths(table)}'
        f"<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
    )


def _widths(table: Table) -> str:
    shares = table.shares or (1,) * len(table.heads)
    columns = (f'<col style="width:{100 * share / sum(shares):.1f}%">' for share in shares)
    return f"<colgroup>{''.join(columns)}</colgroup>"


def _cell(cell: str, head: str) -> str:
    named = f' data-head="{_text(head)}"' if head else ""
    return f"<td{named}>{_lines(cell)}</td>"


def _lines(text: str) -> str:
    """A text with its line breaks, and its words of state in bold."""
    told = escape(clean(text, lines=True, most=MOST), quote=True)
    return LOUD.sub(r"<b>\1</b>", told).replace("\n", "<br>")


def _text(text: str) -> str:
    return escape(clean(text, most=MOST), quote=True)
