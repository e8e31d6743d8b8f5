"""What kind of picture a file is, by its first bytes and never by its name, and what of it is kept.

Left out: Exif, XMP and IPTC with the time and the place of the picture, who took it and with what; comments; small
pictures inside it, and whatever stands after its end. Kept, byte for byte: the picture, its colours, and which way up
it is.
"""

from sitelog.job.photos.picture.broken import Broken
from sitelog.job.photos.picture.jpeg import bare_jpeg
from sitelog.job.photos.picture.names import Kind
from sitelog.job.photos.picture.png import SIGNATURE, bare_png
from sitelog.job.photos.picture.webp import bare_webp

TAKEN = "a JPEG, PNG or WebP photo"

_BARE = {"jpeg": bare_jpeg, "png": bare_png, "webp": bare_webp}
# What people do try, so that they are told what it is: by the first bytes, and from where on.
_OTHERS = (
    (0, b"%PDF-", "a PDF"),
    (0, b"GIF8", "a GIF"),
    (0, b"II*\0", "a TIFF or raw photo"),
    (0, b"MM\0*", "a TIFF or raw photo"),
    (0, b"BM", "a BMP"),
    (0, b"PK\3\4", "a ZIP archive or a document"),
    (4, b"ftyphei", "a HEIC photo"),
    (4, b"ftypmif1", "a HEIC photo"),
    (4, b"ftyphev", "a HEIC photo"),
    (4, b"ftypavif", "an AVIF photo"),
    (4, b"ftyp", "a video"),
)


def kind_of(raw: bytes) -> Kind | None:
    """The kind by the first bytes; None if it is none that is taken."""
    if raw.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if raw.startswith(SIGNATURE):
        return "png"
    if raw[:4] == b"RIFF" and raw[8:12] == b"WEBP":
        return "webp"
    return None


def bare(raw: bytes) -> tuple[Kind, bytes]:
    """The kind, and the picture without its time and place. Raises Broken if it is none, or is not whole."""
    kind = kind_of(raw)
    if kind is None:
        other = next((says for at, sign, says in _OTHERS if raw[at:].startswith(sign)), "")
        raise Broken(f"{f'is {other}, not' if other else 'is not'} {TAKEN}")
    return kind, _BARE[kind](raw)
