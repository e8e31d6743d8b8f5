"""The brief's points as a form that works with no network: each is accepted or sent back, and one reply is made."""

import hashlib
import re
from base64 import b64encode
from collections.abc import Callable, Iterator
from functools import cache
from html import escape
from importlib.resources import files

from sitelog.job.replies.points import print_of
from sitelog.reports.model import Pack, Points
from sitelog.text import clean

MOST_WHY = 300  # letters of why a point is sent back
MOST_NAME = 80
MOST_FILE = 60  # letters of the job's title in the name of the reply's file
CHOICES = (("yes", "Accept"), ("back", "Send back"), ("", "Not yet"))

STYLE = """
form:not(.live) .ask { display: none; }
form.live .paper { display: none; }
.point { border: 2px solid #000; margin: 0 0 .7rem; padding: .3rem .4rem .5rem; min-width: 0; break-inside: avoid; }
.point legend { font-weight: 700; padding: 0 .3rem; }
.point p { margin: .2rem 0; }
.choices { display: flex; flex-wrap: wrap; gap: .4rem; }
.choices label { display: flex; align-items: center; gap: .35rem; min-height: 3rem; padding: 0 .3rem;
  border: 2px solid #000; white-space: nowrap; }
.choices input { width: 1.4rem; height: 1.4rem; margin: 0; accent-color: #003a8c; }
.choices label:has(input:checked:not([value=""])) { background: #003a8c; border-color: #003a8c; color: #fff; }
#reply [hidden] { display: none; }
#reply :focus-visible, .choices label:focus-within { outline: 4px solid #003a8c; outline-offset: 3px; }
#answer { border: 3px solid #000; padding: .7rem; }
#reply .why { margin-top: .6rem; }
#answer label, .why label { display: block; font-weight: 700; }
#answer input, #answer button, #reply textarea { font: inherit; min-height: 3rem; padding: .4rem .6rem; color: #000;
  background: #fff; border: 2px solid #000; border-radius: 0; }
#answer input, #reply textarea { display: block; width: 100%; max-width: 34rem; }
#answer button { background: #000; color: #fff; font-weight: 700; margin: 0 .5rem .5rem 0; padding: 0 1.2rem; }
#text { font: .85rem/1.4 monospace; }
#said { font-weight: 700; min-height: 1.4rem; }
@media print {
  .point { border: 0; border-bottom: 1px solid #555; margin: 0; padding: .5mm 0; font-size: 7.5pt; }
  .point legend { float: left; width: 38%; padding: 0 2mm 0 0; }
  .point p { margin: 0; }
  .choices { float: right; margin-left: 2mm; }
  .choices label { min-height: 0; border: 0; padding: 0; background: none !important; color: #000 !important; }
  .choices label:last-child { display: none; }
  .choices input { width: 3mm; height: 3mm; }
  .why { clear: both; }
  #reply textarea { min-height: 0; height: 9mm; border-width: 1px; max-width: none; }
  #answer { break-inside: avoid; }
  #answer button, #answer [role], #made, #answer p:last-child { display: none; }
}
"""


@cache
def script() -> str:
    """The form's own script, the only one that the page's policy lets run."""
    return files("sitelog.reports.formats").joinpath("reply_form.js").read_text(encoding="utf-8")


def policy() -> str:
    """What the page may do, on top of showing itself: run that script, and send nothing anywhere."""
    digest = b64encode(hashlib.sha256(script().encode()).digest()).decode()
    return f"script-src 'sha256-{digest}'; form-action 'none'; base-uri 'none'"


def opening(pack: Pack) -> str:
    """The start of the form, with what its reply has to name."""
    told = {
        "job": pack.job,
        "title": pack.title,
        "code": pack.head,
        "to": pack.to,
        "count": str(len(pack.points)),
        "print": print_of(pack.points),
        "file": _file_name(pack),
    }
    data = "".join(f' data-{name}="{_text(words)}"' for name, words in told.items())
    how = "Answer each numbered point. Then save or copy your reply at the end of this page: it works with no signal."
    return f'<form id="reply" autocomplete="off"{data}><p class="ask"><strong>{how}</strong></p>'


def points(block: Points, tell: Callable[[str], str]) -> Iterator[str]:
    """Each point with its number and its choices; what has no number is only told. `tell` makes a text of the page."""
    for number, ask, found, state, *_ in (*block.rows, *block.rest):
        pairs = zip(block.heads[2:4], (found, state), strict=True)
        told = " ".join(f"<b>{_text(head)}:</b> {tell(words)}" for head, words in pairs if words)
        if number:
            yield _point(number, ask, told)
        else:
            yield f"<p><b>{_text(ask)}</b> {told}</p>"


def _point(number: str, ask: str, told: str) -> str:
    choices = "".join(
        f'<label><input type="radio" name="p{number}" value="{value}"{" checked" * (not value)}> {words}</label>'
        for value, words in CHOICES
    )
    return (
        f'<fieldset class="point" id="p{number}" data-number="{number}"><legend>{number}. {_text(ask)}</legend>'
        f'<p>{told}</p><p class="paper">☐ Accept &nbsp; ☐ Send back, because:</p>'
        f'<div class="ask choices">{choices}</div>'
        f'<div class="ask why" hidden><label>Point {number}: why do you send it back?'
        f'<textarea rows="2" maxlength="{MOST_WHY}"></textarea></label></div></fieldset>'
    )


def closing(pack: Pack) -> str:
    """Who answers and when, the two ways to send it, the script, and the end of the form."""
    return (
        '<section class="ask" id="answer"><h2>Your answer</h2><p id="count" role="status"></p>'
        f'<p><label>Your name<input id="by" maxlength="{MOST_NAME}" autocomplete="name"></label></p>'
        '<p><label>Date<input id="on" type="date"></label></p>'
        '<p><button type="button" id="save">Save the reply file</button>'
        '<button type="button" id="copy">Copy the reply as text</button></p>'
        '<p id="said" role="alert"></p>'
        '<p id="made" hidden><label>Your reply<textarea id="text" rows="12" readonly></textarea></label></p>'
        "<p>This page sends nothing. Send the file, or paste the text into a message, to whoever handed the job over. "
        "A typed name shows who typed it, and no more.</p></section>"
        '<p class="paper">To answer on a screen, open this page in a web browser. '
        "On paper: tick each point, write why for those you send back, then your name and the date. "
        f"Record code {_text(pack.head)}.</p></form><script>{script()}</script>"
    )


def _file_name(pack: Pack) -> str:
    """A name that any system takes, with `reply` in it: so it is found beside the job."""
    job = re.sub(r"[^a-z0-9]+", "-", pack.title.casefold()).strip("-")[:MOST_FILE].strip("-") or "job"
    to = re.sub(r"[^a-z0-9]+", "-", pack.to.casefold()).strip("-") or "trade"
    return f"{job}-reply-{to}.txt"


def _text(text: str) -> str:
    return escape(clean(text, most=4_000, lines=True), quote=True)
